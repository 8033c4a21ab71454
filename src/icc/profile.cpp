// SPDX-License-Identifier: MIT
#include "icc/profile.h"

#include <lcms2.h>
#include <lcms2_plugin.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <string>
#include <type_traits>
#include <vector>

#include "base/text.h"
#include "colour/difference.h"
#include "colour/lab.h"

namespace kithue {
namespace {

struct DeleteContext {
  void operator()(std::remove_pointer_t<cmsContext>* context) const noexcept { cmsDeleteContext(context); }
};
using Context = std::unique_ptr<std::remove_pointer_t<cmsContext>, DeleteContext>;
struct CloseProfile {
  void operator()(void* profile) const noexcept { cmsCloseProfile(profile); }
};
using Profile = std::unique_ptr<void, CloseProfile>;
struct DeleteTransform {
  void operator()(void* transform) const noexcept { cmsDeleteTransform(transform); }
};
using Transform = std::unique_ptr<void, DeleteTransform>;

constexpr double kGridError = 0.1;  // dE00, the largest over the points tried
// A smooth table is met by the first or second; one with kinks gets the last, and has its kinks outside the
// colours of paper as a rule.
constexpr int kGridSides[] = {33, 65, 97};

// A context here serves one thread, so that its locks need not lock; the locks of Little CMS 2.14 are memory,
// and it crashes when there is none for them.
void* make_lock(cmsContext) {
  static char lock = 0;
  return &lock;
}
void delete_lock(cmsContext, void*) {}
cmsBool lock(cmsContext, void*) {
  return TRUE;
}
void unlock(cmsContext, void*) {}

void keep_quiet(cmsContext, cmsUInt32Number, const char*) {}

/// Where fields stand in a profile (ICC.1:2022, 7.2 and 7.3).
enum Field : int { kSize = 0, kClass = 12, kSpace = 16, kConnection = 20, kSignature = 36, kTags = 128 };

Error unusable(const std::string& why, std::size_t at) {
  return {ErrorKind::bad_input, why, "byte " + std::to_string(at), ""};
}

/// A colour space of a profile's header for people.
std::string space_name(std::string_view space) {
  if (space == "RGB ") return "RGB";
  if (space == "GRAY") return "grey";
  if (space == "CMYK") return "CMYK";
  if (space == "Lab ") return "Lab";
  return "another kind of colour";
}

std::string utf8_from_wide(const std::vector<wchar_t>& wide) {
  std::string out;
  for (const char32_t unit : std::u32string(wide.begin(), wide.end())) {
    const auto code = static_cast<std::uint32_t>(unit);
    if (code == 0) break;
    if (code < 0x20 || (code >= 0x7f && code < 0xa0) || (code >= 0xd800 && code < 0xe000)) continue;
    if (code > 0x10ffff) continue;
    if (code < 0x80) {
      out += static_cast<char>(code);
    } else if (code < 0x800) {
      out += static_cast<char>(0xc0 | code >> 6);
      out += static_cast<char>(0x80 | (code & 0x3f));
    } else if (code < 0x10000) {
      out += static_cast<char>(0xe0 | code >> 12);
      out += static_cast<char>(0x80 | (code >> 6 & 0x3f));
      out += static_cast<char>(0x80 | (code & 0x3f));
    } else {
      out += static_cast<char>(0xf0 | code >> 18);
      out += static_cast<char>(0x80 | (code >> 12 & 0x3f));
      out += static_cast<char>(0x80 | (code >> 6 & 0x3f));
      out += static_cast<char>(0x80 | (code & 0x3f));
    }
  }
  return out;
}

std::string description(cmsHPROFILE profile) {
  const cmsUInt32Number size = cmsGetProfileInfo(profile, cmsInfoDescription, "en", "US", nullptr, 0);
  std::vector<wchar_t> wide(std::min<std::size_t>(size, 4096) / sizeof(wchar_t) + 1, L'\0');
  const auto room = static_cast<cmsUInt32Number>((wide.size() - 1) * sizeof(wchar_t));
  if (room > 0) cmsGetProfileInfo(profile, cmsInfoDescription, "en", "US", wide.data(), room);
  const std::string text(trimmed(utf8_from_wide(wide)));
  return text.empty() ? "a profile without a name" : cut_to_width(text, 60);
}

/// The curve tag as a table. Light over 1 or under 0 has no use here.
bool fill_curve(cmsHPROFILE profile, cmsTagSignature tag, int bits, std::vector<float>& curve) {
  const auto* tone = static_cast<const cmsToneCurve*>(cmsReadTag(profile, tag));
  if (tone == nullptr) return false;
  const std::size_t count = std::size_t{1} << bits;
  curve.resize(count);
  for (std::size_t i = 0; i < count; ++i) {
    const float light = cmsEvalToneCurveFloat(tone, static_cast<float>(i) / static_cast<float>(count - 1));
    if (!std::isfinite(light)) return false;
    curve[i] = std::clamp(light, 0.0F, 1.0F);
  }
  return true;
}

bool fill_matrix_model(cmsHPROFILE profile, int bits, ColourModel& model) {
  constexpr cmsTagSignature kColumns[] = {cmsSigRedColorantTag, cmsSigGreenColorantTag,
                                          cmsSigBlueColorantTag};
  constexpr cmsTagSignature kCurves[] = {cmsSigRedTRCTag, cmsSigGreenTRCTag, cmsSigBlueTRCTag};
  for (std::size_t i = 0; i < 3; ++i) {
    const auto* column = static_cast<const cmsCIEXYZ*>(cmsReadTag(profile, kColumns[i]));
    if (column == nullptr || !fill_curve(profile, kCurves[i], bits, model.curve[i])) return false;
    model.to_xyz.row[0][i] = column->X;
    model.to_xyz.row[1][i] = column->Y;
    model.to_xyz.row[2][i] = column->Z;
  }
  return std::fabs(determinant(model.to_xyz)) > 1e-6;
}

Transform xyz_transform(cmsContext context, cmsHPROFILE profile, cmsUInt32Number format) {
  const Profile xyz(cmsCreateXYZProfileTHR(context));
  if (!xyz) return {};
  return Transform(cmsCreateTransformTHR(context, profile, format, xyz.get(), TYPE_XYZ_DBL,
                                         INTENT_RELATIVE_COLORIMETRIC,
                                         cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE));
}

/// Grey: the luminance of every level. What tint a grey profile may have is left out.
bool fill_grey_model(cmsContext context, cmsHPROFILE profile, int bits, ColourModel& model) {
  const Transform transform = xyz_transform(context, profile, TYPE_GRAY_DBL);
  if (!transform) return false;
  const std::size_t count = std::size_t{1} << bits;
  std::vector<float> curve(count);
  for (std::size_t i = 0; i < count; ++i) {
    // Little CMS counts floating-point grey in 0-1.
    const double coded = static_cast<double>(i) / static_cast<double>(count - 1);
    cmsCIEXYZ xyz{};
    cmsDoTransform(transform.get(), &coded, &xyz, 1);
    if (!std::isfinite(xyz.Y)) return false;
    curve[i] = std::clamp(static_cast<float>(xyz.Y), 0.0F, 1.0F);
  }
  model.curve = {curve, curve, curve};
  model.to_xyz = Matrix3{{{{kD50.X, 0, 0}, {0, kD50.Y, 0}, {0, 0, kD50.Z}}}};
  return true;
}

using Light = std::array<double, 3>;  // XYZ divided by the D50 white

std::vector<Light> exact_light(cmsHTRANSFORM transform, const std::vector<std::array<double, 3>>& coded) {
  std::vector<cmsCIEXYZ> xyz(coded.size());
  cmsDoTransform(transform, coded.data(), xyz.data(), static_cast<cmsUInt32Number>(coded.size()));
  std::vector<Light> out(coded.size());
  for (std::size_t i = 0; i < xyz.size(); ++i) {
    out[i] = {xyz[i].X / kD50.X, xyz[i].Y / kD50.Y, xyz[i].Z / kD50.Z};
  }
  return out;
}

std::shared_ptr<const LightGrid> sample_grid(cmsHTRANSFORM transform, int side) {
  const auto points = static_cast<std::size_t>(side);
  std::vector<float> samples;
  samples.reserve(points * points * points * 3);
  std::vector<std::array<double, 3>> coded(points * points);
  for (std::size_t r = 0; r < points; ++r) {
    for (std::size_t i = 0; i < coded.size(); ++i) {
      const double top = side - 1;
      const std::size_t green = i / points;
      coded[i] = {static_cast<double>(r) / top, static_cast<double>(green) / top,
                  static_cast<double>(i % points) / top};
    }
    for (const Light& light : exact_light(transform, coded)) {
      for (const double value : light) {
        if (!std::isfinite(value)) return nullptr;
        samples.push_back(static_cast<float>(LightGrid::root(std::clamp(value, -1.0, 4.0))));
      }
    }
  }
  return std::make_shared<LightGrid>(side, std::move(samples));
}

/// The largest dE00 of the grid against the profile itself at 4096 points spread evenly (a Kronecker
/// sequence on the plastic-number constants) and along the grey axis.
double grid_error(cmsHTRANSFORM transform, const LightGrid& grid) {
  std::vector<std::array<double, 3>> coded;
  for (int i = 1; i <= 4096; ++i) {
    const auto spread = [i](double step) { return std::fmod(i * step, 1.0); };
    coded.push_back({spread(0.8191725134), spread(0.6710436067), spread(0.5497004779)});
  }
  for (int i = 0; i < 256; ++i) coded.push_back({i / 255.0, i / 255.0, i / 255.0});
  const auto exact = exact_light(transform, coded);
  const auto lab = [](double x, double y, double z) {
    return lab_from_xyz({x * kD50.X, y * kD50.Y, z * kD50.Z});
  };
  double worst = 0.0;
  for (std::size_t i = 0; i < coded.size(); ++i) {
    std::array<float, 3> found{};
    grid.light(static_cast<float>(coded[i][0]), static_cast<float>(coded[i][1]),
               static_cast<float>(coded[i][2]), found.data());
    worst = std::max(worst, ciede2000(lab(exact[i][0], exact[i][1], exact[i][2]),
                                      lab(static_cast<double>(found[0]), static_cast<double>(found[1]),
                                          static_cast<double>(found[2]))));
  }
  return worst;
}

bool fill_grid_model(cmsContext context, cmsHPROFILE profile, ColourModel& model) {
  const Transform transform = xyz_transform(context, profile, TYPE_RGB_DBL);
  if (!transform) return false;
  double error = 0.0;
  for (const int side : kGridSides) {
    if (side == 65 && error > 4 * kGridError) continue;  // halving the step quarters the error at best
    model.grid = sample_grid(transform.get(), side);
    if (!model.grid) return false;
    error = grid_error(transform.get(), *model.grid);
    if (error <= kGridError) break;
  }
  model.to_xyz = Matrix3{{{{kD50.X, 0, 0}, {0, kD50.Y, 0}, {0, 0, kD50.Z}}}};
  return true;
}

/// White must be a white and black darker than it: anything else is damage, whatever its form. A table need
/// not have its white at the corner, but somewhere it must be light.
bool sensible(const ColourModel& model) {
  if (model.grid) return model.grid->brightest() > 0.5F && model.grid->brightest() < 2.0F;
  const auto ends = [&model](auto pick) {
    return times(model.to_xyz,
                 {static_cast<double>(pick(model.curve[0])), static_cast<double>(pick(model.curve[1])),
                  static_cast<double>(pick(model.curve[2]))});
  };
  const auto white = ends([](const std::vector<float>& curve) { return curve.back(); });
  const auto black = ends([](const std::vector<float>& curve) { return curve.front(); });
  const Lab lab = lab_from_xyz({white[0], white[1], white[2]});
  return white[1] > 0.7 && white[1] < 1.3 && chroma(lab) < 40.0 && black[1] < 0.4;
}

/// Little CMS takes sizes and offsets that lie outside as if the tag were absent; what remains of such a
/// profile is not to be trusted.
MaybeError check_layout(std::string_view icc) {
  const auto number = [icc](std::size_t at) {
    std::size_t value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value << 8 | static_cast<unsigned char>(icc[at + i]);
    return value;
  };
  if (icc.size() < 132 || icc.substr(36, 4) != "acsp")
    return unusable("it is not a colour profile", kSignature);
  if (number(0) > icc.size()) return unusable("it is cut short", kSize);
  const std::size_t tags = number(128);
  if (tags == 0 || tags > (icc.size() - 132) / 12)
    return unusable("it is damaged: its table of contents is wrong", kTags);
  for (std::size_t i = 0; i < tags; ++i) {
    const std::size_t offset = number(132 + 12 * i + 4);
    const std::size_t size = number(132 + 12 * i + 8);
    if (offset > icc.size() || size > icc.size() - offset) {
      return unusable("it is damaged: a part lies outside it", 132 + 12 * i);
    }
  }
  return {};
}

/// Reads the signatures from the bytes: Little CMS gives them as enumerators, and a file may hold none of
/// them.
MaybeError check_kind(std::string_view icc, int channels) {
  const std::string_view device_class = icc.substr(kClass, 4);
  if (device_class != "scnr" && device_class != "mntr" && device_class != "prtr" && device_class != "spac")
    return unusable("it is not the profile of a device or colour space", kClass);
  const std::string_view space = icc.substr(kSpace, 4);
  if (space != (channels == 1 ? "GRAY" : "RGB ")) {
    return unusable("it is for " + space_name(space) + ", the picture is " + (channels == 1 ? "grey" : "RGB"),
                    kSpace);
  }
  const std::string_view connection = icc.substr(kConnection, 4);
  if (connection != "XYZ " && connection != "Lab ") return unusable("it is damaged", kConnection);
  return {};
}

/// XYZ of the device's white under one intent; the scale of its channels does not matter to ratios.
std::optional<cmsCIEXYZ> white_under(cmsContext context, cmsHPROFILE profile, int channels, int intent) {
  const Profile xyz(cmsCreateXYZProfileTHR(context));
  if (!xyz) return std::nullopt;
  const cmsUInt32Number format = channels == 1 ? TYPE_GRAY_DBL : TYPE_RGB_DBL;
  const Transform transform(cmsCreateTransformTHR(context, profile, format, xyz.get(), TYPE_XYZ_DBL,
                                                  static_cast<cmsUInt32Number>(intent),
                                                  cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE));
  if (!transform) return std::nullopt;
  constexpr std::array<double, 3> kWhite{1.0, 1.0, 1.0};
  cmsCIEXYZ out{};
  cmsDoTransform(transform.get(), kWhite.data(), &out, 1);
  return out;
}

/// From media-relative to ICC-absolute: XYZ times the medium's white over D50 (ICC.1:2022, 6.3.2), which
/// Little CMS knows for every version and class of profile.
MaybeError make_absolute(cmsContext context, cmsHPROFILE profile, int channels, ColourModel& model) {
  const auto relative = white_under(context, profile, channels, INTENT_RELATIVE_COLORIMETRIC);
  const auto absolute = white_under(context, profile, channels, INTENT_ABSOLUTE_COLORIMETRIC);
  if (!relative || !absolute) return unusable("it is damaged or incomplete", kTags);
  const std::array<double, 3> factor{absolute->X / relative->X, absolute->Y / relative->Y,
                                     absolute->Z / relative->Z};
  for (std::size_t i = 0; i < 3; ++i) {
    if (!(factor[i] > 0.1 && factor[i] < 2.0)) return unusable("its white makes no sense", kTags);
    for (double& entry : model.to_xyz.row[i]) entry *= factor[i];
  }
  return {};
}

Result<ColourModel> model_of(std::string_view icc, int channels, int bits, bool absolute) {
  if (auto wrong = check_layout(icc)) return *wrong;
  cmsPluginMutex locks{
      {cmsPluginMagicNumber, 2060, cmsPluginMutexSig, nullptr}, make_lock, delete_lock, lock, unlock};
  const Context context(cmsCreateContext(&locks, nullptr));
  if (!context) return unusable("there is not enough memory", 0);
  cmsSetLogErrorHandlerTHR(context.get(), keep_quiet);
  const Profile profile(
      cmsOpenProfileFromMemTHR(context.get(), icc.data(), static_cast<cmsUInt32Number>(icc.size())));
  if (!profile) return unusable("it is damaged", 0);
  if (auto wrong = check_kind(icc, channels)) return *wrong;

  ColourModel model;
  model.name = description(profile.get());
  const auto has = [&profile](cmsTagSignature tag) { return cmsIsTag(profile.get(), tag) != 0; };
  const bool tables = has(cmsSigDToB1Tag) || has(cmsSigAToB1Tag) || has(cmsSigAToB0Tag);
  const bool made = channels == 1 ? fill_grey_model(context.get(), profile.get(), bits, model)
                    : tables      ? fill_grid_model(context.get(), profile.get(), model)
                                  : fill_matrix_model(profile.get(), bits, model);
  if (!made) return unusable("it is damaged or incomplete", kTags);
  if (!sensible(model)) return unusable("its white or black makes no sense", kTags);
  if (absolute) {
    if (auto wrong = make_absolute(context.get(), profile.get(), channels, model)) return *wrong;
  }
  return model;
}

}  // namespace

Result<ColourModel> model_from_profile(std::string_view icc, int channels, int bits) {
  return model_of(icc, channels, bits, false);
}

Result<ColourModel> model_for_measuring(std::string_view icc, int channels, int bits) {
  return model_of(icc, channels, bits, true);
}

}  // namespace kithue
