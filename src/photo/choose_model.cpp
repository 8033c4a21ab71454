// SPDX-License-Identifier: MIT
#include "photo/choose_model.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "base/text.h"
#include "colour/adapt.h"
#include "colour/srgb.h"
#include "icc/profile.h"

namespace kithue {
namespace {

constexpr Chromaticity kD65{0.3127, 0.3290};
constexpr Chromaticity kC{0.310, 0.316};

/// ITU-T H.273 (2021), table 2.
struct Primaries {
  unsigned code;
  Chromaticity red, green, blue, white;
  const char* name;
};
constexpr Primaries kPrimaries[] = {
    {1, {0.640, 0.330}, {0.300, 0.600}, {0.150, 0.060}, kD65, "BT.709"},
    {4, {0.67, 0.33}, {0.21, 0.71}, {0.14, 0.08}, kC, "BT.470 M"},
    {5, {0.64, 0.33}, {0.29, 0.60}, {0.15, 0.06}, kD65, "BT.470 BG"},
    {6, {0.630, 0.340}, {0.310, 0.595}, {0.155, 0.070}, kD65, "BT.601"},
    {7, {0.630, 0.340}, {0.310, 0.595}, {0.155, 0.070}, kD65, "SMPTE 240M"},
    {8, {0.681, 0.319}, {0.243, 0.692}, {0.145, 0.049}, kC, "film"},
    {9, {0.708, 0.292}, {0.170, 0.797}, {0.131, 0.046}, kD65, "BT.2020"},
    {11, {0.680, 0.320}, {0.265, 0.690}, {0.150, 0.060}, {0.314, 0.351}, "DCI P3"},
    {12, {0.680, 0.320}, {0.265, 0.690}, {0.150, 0.060}, kD65, "Display P3"},
    {22, {0.630, 0.340}, {0.295, 0.605}, {0.155, 0.077}, kD65, "EBU 3213"},
};

std::vector<float> curve_of(int bits, const std::function<double(double)>& light) {
  const std::size_t count = std::size_t{1} << bits;
  std::vector<float> curve(count);
  for (std::size_t i = 0; i < count; ++i) {
    curve[i] = static_cast<float>(light(static_cast<double>(i) / static_cast<double>(count - 1)));
  }
  return curve;
}

/// ITU-T H.273 (2021), table 3: the camera curve of BT.709, 601 and 2020 the other way round.
double light_from_camera_coded(double coded) {
  constexpr double kAlpha = 1.09929682680944;
  constexpr double kBeta = 0.018053968510807;
  return coded < 4.5 * kBeta ? coded / 4.5 : std::pow((coded + kAlpha - 1.0) / kAlpha, 1.0 / 0.45);
}

std::function<double(double)> transfer(unsigned code) {
  switch (code) {
    case 1:
    case 6:
    case 14:
    case 15:
      return light_from_camera_coded;
    case 4:
      return [](double coded) { return std::pow(coded, 2.2); };
    case 5:
      return [](double coded) { return std::pow(coded, 2.8); };
    case 8:
      return [](double coded) { return coded; };
    case 13:
      return [](double coded) { return light_from_coded(coded); };
    default:
      return {};
  }
}

Matrix3 to_d50(Chromaticity red, Chromaticity green, Chromaticity blue, Chromaticity white) {
  const Xyz seen{white.x / white.y, 1.0, (1.0 - white.x - white.y) / white.y};
  return product(bradford(seen, kD50), rgb_to_xyz(red, green, blue, white));
}

/// Real chromaticities, primaries that span a triangle with the white inside it.
bool possible(Chromaticity red, Chromaticity green, Chromaticity blue, Chromaticity white) {
  for (const Chromaticity& point : {red, green, blue, white}) {
    if (point.x < 0.0 || point.y < 0.0 || point.x + point.y > 1.0) return false;
  }
  const auto turn = [](Chromaticity a, Chromaticity b, Chromaticity c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
  };
  const double area = turn(red, green, blue);
  const double least = 0.01 * std::fabs(area);
  const double sign = area < 0.0 ? -1.0 : 1.0;
  return std::fabs(area) > 0.01 && white.y > 0.05 && sign * turn(red, green, white) > least &&
         sign * turn(green, blue, white) > least && sign * turn(blue, red, white) > least;
}

/// The space that DCF calls optional and that cameras mark with R03: primaries and curve of Adobe RGB (1998).
ColourModel adobe_rgb_model(int bits) {
  ColourModel model;
  model.name = "Adobe RGB (by EXIF)";
  const auto curve = curve_of(bits, [](double coded) { return std::pow(coded, 563.0 / 256.0); });
  model.curve = {curve, curve, curve};
  model.to_xyz = to_d50({0.64, 0.33}, {0.21, 0.71}, {0.15, 0.06}, kD65);
  return model;
}

bool from_profile(const ColourNotes& notes, int channels, int bits, ChosenModel& chosen) {
  if (notes.icc.empty() && notes.icc_fault.empty()) return false;
  std::string why = notes.icc_fault;
  if (why.empty()) {
    auto model = model_from_profile(notes.icc, channels, bits);
    if (model) {
      chosen.model = std::move(*model);
      return true;
    }
    why = model.error().what + " (its " + model.error().where + ")";
  }
  chosen.warnings.push_back("the embedded colour profile cannot be used: " + why);
  return false;
}

bool from_gamma(const ColourNotes& notes, int bits, ChosenModel& chosen) {
  if (!notes.gamma && !notes.chroma) return false;
  auto model = model_from_gamma(notes.gamma, notes.chroma, bits);
  if (!model && notes.chroma) {
    chosen.warnings.emplace_back("the PNG's chromaticities are impossible and were passed over");
    if (notes.gamma) model = model_from_gamma(notes.gamma, {}, bits);
  }
  if (!model && notes.gamma) {
    chosen.warnings.emplace_back("the PNG's gamma is impossible and was passed over");
    if (notes.chroma) model = model_from_gamma({}, notes.chroma, bits);
  }
  if (!model) return false;
  chosen.model = std::move(*model);
  return true;
}

bool from_cicp(const ColourNotes& notes, int bits, ChosenModel& chosen) {
  if (!notes.cicp) return false;
  if (auto model = model_from_cicp(*notes.cicp, bits)) {
    chosen.model = std::move(*model);
    return true;
  }
  chosen.warnings.push_back("the PNG's colour code points (primaries " + std::to_string((*notes.cicp)[0]) +
                            ", transfer " + std::to_string((*notes.cicp)[1]) + ") are not ones we can use");
  return false;
}

}  // namespace

std::optional<ColourModel> model_from_cicp(const std::array<unsigned, 4>& cicp, int bits) {
  const auto found = std::find_if(std::begin(kPrimaries), std::end(kPrimaries),
                                  [&](const Primaries& row) { return row.code == cicp[0]; });
  const auto light = transfer(cicp[1]);
  if (found == std::end(kPrimaries) || !light || cicp[2] != 0 || cicp[3] != 1) return {};
  ColourModel model;
  const bool srgb_curve = cicp[1] == 13;
  model.name = cicp[0] == 1 && srgb_curve ? "sRGB"
               : srgb_curve               ? found->name
                            : std::string(found->name) + ", transfer " + std::to_string(cicp[1]);
  const auto curve = curve_of(bits, light);
  model.curve = {curve, curve, curve};
  model.to_xyz = to_d50(found->red, found->green, found->blue, found->white);
  return model;
}

std::optional<ColourModel> model_from_gamma(std::optional<double> gamma,
                                            const std::optional<std::array<double, 8>>& chroma, int bits) {
  if (gamma && (*gamma < 0.1 || *gamma > 10.0)) return {};
  ColourModel model;
  const double power = gamma ? 1.0 / *gamma : 0.0;
  const auto curve = gamma ? curve_of(bits, [power](double coded) { return std::pow(coded, power); })
                           : curve_of(bits, light_from_coded);
  model.curve = {curve, curve, curve};
  model.to_xyz = srgb_to_d50();
  model.name = gamma ? "gamma " + fixed_number(power, 2) : "sRGB's curve";
  if (chroma) {
    const auto& c = *chroma;
    const Chromaticity white{c[0], c[1]};
    const Chromaticity red{c[2], c[3]};
    const Chromaticity green{c[4], c[5]};
    const Chromaticity blue{c[6], c[7]};
    if (!possible(red, green, blue, white)) return {};
    model.to_xyz = to_d50(red, green, blue, white);
    model.name += " and stated primaries";
  }
  return model;
}

ChosenModel choose_model(const ColourNotes& notes, int channels, int bits) {
  ChosenModel chosen;
  chosen.state = ProfileState::embedded;
  const auto says = [&] {
    if (from_cicp(notes, bits, chosen) || from_profile(notes, channels, bits, chosen)) return true;
    if (notes.srgb) {
      chosen.model = srgb_model(bits);
      return true;
    }
    if (from_gamma(notes, bits, chosen)) return true;
    if (notes.exif_adobe_rgb) chosen.model = adobe_rgb_model(bits);
    return notes.exif_adobe_rgb;
  };
  if (says()) {
    chosen.name = chosen.model.name;
  } else {
    chosen.model = srgb_model(bits);
    chosen.state = chosen.warnings.empty() ? ProfileState::assumed : ProfileState::broken;
    chosen.name = "sRGB (assumed)";
  }
  return chosen;
}

}  // namespace kithue
