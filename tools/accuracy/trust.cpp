// SPDX-License-Identifier: MIT
// How often the stated error covers the true one: faces under simulated lights and cameras, with nothing
// known in the frame, with a white card, and with 4, 8, 16 and 24 chips. The lights and cameras are random
// linear models (white balance left over, exposure, crosstalk between channels), no spectra; then the same
// cameras with a tone curve that lifts or deepens contrast, as phones do and no profile says.
// Then real spectra: papers under published lights, seen by cameras whose white balance follows the light
// wholly or in part. And what else makes a photo worse: light that falls off or changes colour, blur,
// overexposure, few pixels, JPEG.
// Usage: kithue_trust [faces] [file of reflectances]
#include "extract/trust.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <string>
#include <utility>
#include <vector>

#include "accuracy/colours.h"
#include "accuracy/lights.h"
#include "cli/threads.h"
#include "colour/difference.h"
#include "colour/srgb.h"
#include "extract/correction.h"
#include "extract/palette.h"
#include "paper/camera.h"
#include "photo/photo.h"

using namespace kithue;
using namespace kithue::accuracy;

namespace {

double bell(paper::Dice& dice) {
  double sum = -6.0;
  for (int i = 0; i < 12; ++i) sum += dice.unit();
  return sum;
}

/// Linear sRGB as this camera sees it under this light.
Matrix3 random_camera(paper::Dice& dice) {
  constexpr double kBalance = 0.06;
  constexpr double kCrosstalk = 0.05;
  Matrix3 m;
  for (std::size_t i = 0; i < 3; ++i) {
    double sum = 0.0;
    for (std::size_t j = 0; j < 3; ++j) {
      if (i == j) continue;
      m.row[i][j] = kCrosstalk * bell(dice);
      sum += m.row[i][j];
    }
    m.row[i][i] = 1.0 - sum;
    const double gain = std::exp(kBalance * bell(dice));
    for (double& one : m.row[i]) one *= gain;
  }
  return m;
}

/// A curve on the coded values that keeps black and white: `contrast` is the slope it adds in the middle.
void tone(paper::Shot& shot, double contrast) {
  constexpr double kPi = 3.14159265358979323846;
  std::array<unsigned char, 256> curve{};
  for (std::size_t i = 0; i < curve.size(); ++i) {
    const double x = static_cast<double>(i) / 255.0;
    const double y = x - contrast * std::sin(2.0 * kPi * x) / (2.0 * kPi);
    curve[i] = static_cast<unsigned char>(std::lround(255.0 * std::clamp(y, 0.0, 1.0)));
  }
  for (unsigned char& one : shot.rgb) one = curve[one];
}

struct Count {
  int colours = 0;
  int covered = 0;
  double sum_true = 0.0;
  double sum_said = 0.0;
};

void tally(const Palette& palette, const std::vector<Lab>& truth, Count& count) {
  for (const Lab& lab : truth) {
    double nearest = 1e9;
    for (const PaletteColour& colour : palette.colours)
      nearest = std::min(nearest, ciede2000(colour.lab, lab));
    ++count.colours;
    count.covered += nearest <= palette.trust.de00 ? 1 : 0;
    count.sum_true += nearest;
    count.sum_said += palette.trust.de00;
  }
}

constexpr std::array<int, 6> kCases{0, 1, 4, 8, 16, 24};
using Counts = std::array<Count, kCases.size()>;

void print(const char* title, const Counts& counts) {
  std::printf("%s\n%-16s %8s %10s %10s %9s\n", title, "in the frame", "colours", "true mean", "said mean",
              "covered");
  for (std::size_t c = 0; c < kCases.size(); ++c) {
    const Count& n = counts[c];
    const std::string name = kCases[c] == 0   ? "nothing"
                             : kCases[c] == 1 ? "white card"
                                              : std::to_string(kCases[c]) + " chips";
    std::printf("%-16s %8d %10.2f %10.2f %7.1f %%\n", name.c_str(), n.colours, n.sum_true / n.colours,
                n.sum_said / n.colours, 100.0 * n.covered / n.colours);
  }
}

/// What else may be wrong with a photo.
enum class Fault { none, falling, mixed, blurred, bright, tiny, lossy };
constexpr std::array<std::pair<Fault, const char*>, 7> kFaults{{{Fault::none, "none"},
                                                                {Fault::falling, "light falls off"},
                                                                {Fault::mixed, "mixed light"},
                                                                {Fault::blurred, "blurred"},
                                                                {Fault::bright, "overexposed"},
                                                                {Fault::tiny, "tiny"},
                                                                {Fault::lossy, "JPEG 80"}}};

/// The light turns from warm on the left to cold on the right: up to 12 % more blue, less red.
void tint(paper::Shot& shot) {
  for (int y = 0; y < shot.height; ++y) {
    for (int x = 0; x < shot.width; ++x) {
      const double part = 0.12 * (2.0 * x / shot.width - 1.0);
      unsigned char* p =
          shot.rgb.data() + 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(shot.width) +
                                 static_cast<std::size_t>(x));
      const auto times = [](unsigned char one, double gain) {
        const double light = gain * light_from_coded(one / 255.0);
        return static_cast<unsigned char>(std::lround(255.0 * coded_from_light(std::clamp(light, 0.0, 1.0))));
      };
      p[0] = times(p[0], 1.0 - part);
      p[2] = times(p[2], 1.0 + part);
    }
  }
}

void faults(int faces, Executor& executor) {
  std::printf("one fault each, nothing known in the frame\n%-16s %8s %10s %10s %9s %8s\n", "fault", "colours",
              "true mean", "said mean", "covered", "told");
  for (const auto& [fault, name] : kFaults) {
    Count count;
    int told = 0;
    for (int seed = 1; seed <= faces; ++seed) {
      paper::Dice dice(static_cast<std::uint64_t>(seed) * 15485867U);
      Chooser choose(dice);
      paper::Face face{1.0, 0.75, {{choose.any(80.0, 92.0, 14.0)}}, {}};
      for (int i = 0; i < 4; ++i) {
        face.colours.push_back({choose.any(25.0, 80.0, 55.0), 0.0});
        for (int k = 0; k < 6; ++k)
          paper::add_circle(face, i + 1, {0.1 + 0.16 * k, 0.09 + 0.18 * i},
                            fault == Fault::blurred ? 0.02 : 0.06);
      }
      paper::Camera camera;
      camera.width = fault == Fault::tiny ? 150 : 800;
      camera.seed = static_cast<std::uint64_t>(seed);
      camera.samples = 2;
      camera.cast = random_camera(dice);
      camera.exposure = 0.85 * std::exp(0.12 * bell(dice)) * (fault == Fault::bright ? 1.5 : 1.0);
      camera.blur = fault == Fault::blurred ? 4.0 : 0.6;
      camera.fall_right = fault == Fault::falling ? 0.2 : 0.0;
      paper::Shot shot = paper::photograph(face, camera, executor);
      if (fault == Fault::mixed) tint(shot);
      const std::string bytes = fault == Fault::lossy ? jpeg_bytes(shot, 80) : png_bytes(shot);
      const auto photo = decode_photo(bytes, name);
      if (!photo) continue;
      const ExtractOptions options{0, {photo->lossy, true, false, photo->clipped_share}};
      const Palette palette = extract_palette(*photo->light, options, executor);
      std::vector<Lab> truth;
      for (const paper::Paint& paint : face.colours) truth.push_back(paint.lab);
      tally(palette, truth, count);
      told += palette.trust.reasons.size() > 1 ? 1 : 0;
    }
    std::printf("%-16s %8d %10.2f %10.2f %7.1f %% %3d of %d\n", name, count.colours,
                count.sum_true / count.colours, count.sum_said / count.colours,
                100.0 * count.covered / count.colours, told, faces);
  }
}

/// The cameras of one kind: with tone curves of at most `most_contrast` (standard deviation half of it).
Counts counts_of(int faces, double most_contrast, Executor& executor) {
  Counts counts;
  for (int seed = 1; seed <= faces; ++seed) {
    paper::Dice dice(static_cast<std::uint64_t>(seed) * 7919U);
    Chooser choose(dice);
    // The face fills the upper three quarters; a white card and 24 chips lie below.
    paper::Face face{1.0, 1.0, {{choose.any(80.0, 92.0, 14.0)}}, {}};
    for (int i = 0; i < 4; ++i) {
      face.colours.push_back({choose.any(25.0, 80.0, 55.0), 0.0});
      for (int k = 0; k < 6; ++k) paper::add_circle(face, i + 1, {0.1 + 0.16 * k, 0.1 + 0.16 * i}, 0.06);
    }
    std::vector<Lab> truth;
    for (const paper::Paint& paint : face.colours) truth.push_back(paint.lab);
    Chooser stocks(dice);
    std::vector<Lab> known{{95.0, 0.0, 0.0}};
    for (int i = 1; i < 25; ++i) known.push_back(stocks.any(22.0, 92.0, 55.0));
    const auto corner = [](int i) {
      return std::array<double, 2>{0.02 + 0.075 * (i % 13), 0.78 + 0.1 * (i / 13)};
    };
    for (int i = 0; i < 25; ++i) {
      face.colours.push_back({known[static_cast<std::size_t>(i)], 0.0});
      const auto [x, y] = corner(i);
      paper::add_polygon(face, 5 + i, paper::rectangle(x, y, x + 0.065, y + 0.09));
    }
    paper::Camera camera;
    camera.width = 800;
    camera.seed = static_cast<std::uint64_t>(seed);
    camera.samples = 2;
    camera.cast = random_camera(dice);
    camera.exposure = 0.85 * std::exp(0.12 * bell(dice));
    paper::Shot shot = paper::photograph(face, camera, executor);
    if (most_contrast > 0.0) tone(shot, std::clamp(0.5 * bell(dice), -1.0, 1.0) * most_contrast);
    const paper::ShotRows rows(shot);
    const CroppedRows upper(rows, 0, 0, 800, 590);
    const Palette plain = extract_palette(upper, {}, executor);
    for (std::size_t c = 0; c < kCases.size(); ++c) {
      Palette palette = plain;
      std::vector<KnownPatch> patches;
      for (int i = kCases[c] == 1 ? 0 : 1; i < (kCases[c] == 1 ? 1 : kCases[c] + 1); ++i) {
        const auto [x, y] = corner(i);
        patches.push_back(patch_at(rows, static_cast<int>(x * 800), static_cast<int>(y * 800), 52, 72, "",
                                   known[static_cast<std::size_t>(i)]));
      }
      if (kCases[c] > 0) correct(palette, fit_correction(patches, rows.to_xyz()), rows.to_xyz());
      tally(palette, truth, counts[c]);
    }
  }
  return counts;
}

/// The numbers of one palette as `extract` would state them when it finds them without error.
Palette palette_of(const std::vector<Lab>& colours) {
  Palette palette;
  for (const Lab& lab : colours)
    palette.colours.push_back({lab, 1.0 / static_cast<double>(colours.size()), Role::motif, ""});
  const paper::Shot shot{400, 400, std::vector<unsigned char>(480000, 128), {}, {}};
  palette.trust = extract::trust_of(paper::ShotRows(shot), {}, {}, 0.0, palette.colours);
  return palette;
}

Lab lab_of(const std::array<double, 3>& xyz) {
  return lab_from_xyz({std::max(0.0, xyz[0]), std::max(0.0, xyz[1]), std::max(0.0, xyz[2])});
}

constexpr std::array kSpectralCases{0, 1, -1, 4, 8, 12, 16};  // -1: a grey card

struct Errors {
  std::vector<double> off;
  int covered = 0;
  double said = 0.0;
};

void add_errors(const Palette& palette, const std::vector<Lab>& truth, Errors& into) {
  for (std::size_t i = 0; i < truth.size(); ++i) {
    into.off.push_back(ciede2000(palette.colours[i].lab, truth[i]));
    into.covered += into.off.back() <= palette.trust.de00 ? 1 : 0;
    into.said += palette.trust.de00;
  }
}

double part_of(std::vector<double> values, double part) {
  std::sort(values.begin(), values.end());
  return values[static_cast<std::size_t>(part * static_cast<double>(values.size() - 1))];
}

/// Six papers are the face, others of them are the chips.
void spectral_faces(const LightAndCamera& look, const std::vector<Power>& papers, paper::Dice& dice,
                    std::array<Errors, kSpectralCases.size()>& errors) {
  std::vector<std::size_t> order(papers.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  for (std::size_t i = order.size(); i-- > 1;)
    std::swap(order[i], order[static_cast<std::size_t>(dice.whole(0, static_cast<int>(i)))]);
  std::vector<Lab> truth;
  std::vector<Lab> seen;
  for (std::size_t i = 0; i < 6; ++i) {
    truth.push_back(true_lab(papers[order[i]]));
    seen.push_back(lab_of(look.seen(papers[order[i]])));
  }
  const Palette plain = palette_of(seen);
  for (std::size_t c = 0; c < kSpectralCases.size(); ++c) {
    Palette palette = plain;
    std::vector<KnownPatch> patches;
    const auto add = [&](const Power& paper) {
      patches.push_back({"", true_lab(paper), look.seen(paper), 0.0});
    };
    Power card{};
    card.fill(kSpectralCases[c] == 1 ? 0.88 : 0.18);
    if (kSpectralCases[c] == 1 || kSpectralCases[c] == -1) add(card);
    for (int i = 0; kSpectralCases[c] > 1 && i < kSpectralCases[c]; ++i)
      add(papers[order[6 + static_cast<std::size_t>(i)]]);
    if (!patches.empty()) correct(palette, fit_correction(patches, Matrix3{}), Matrix3{});
    add_errors(palette, truth, errors[c]);
  }
}

void print_errors(const std::string& title, const std::array<Errors, kSpectralCases.size()>& errors) {
  std::printf("%s\n%-12s %8s %8s %8s %8s %9s\n", title.c_str(), "in the frame", "colours", "median", "95 %",
              "said", "covered");
  for (std::size_t c = 0; c < kSpectralCases.size(); ++c) {
    const Errors& e = errors[c];
    const auto n = static_cast<double>(e.off.size());
    const std::string name = kSpectralCases[c] == 0    ? "nothing"
                             : kSpectralCases[c] == 1  ? "white card"
                             : kSpectralCases[c] == -1 ? "grey card"
                                                       : std::to_string(kSpectralCases[c]) + " chips";
    std::printf("%-12s %8zu %8.2f %8.2f %8.2f %7.1f %%\n", name.c_str(), e.off.size(), part_of(e.off, 0.5),
                part_of(e.off, 0.95), e.said / n, 100.0 * e.covered / n);
  }
}

void spectral(const std::string& path) {
  const auto papers = papers_of(path);
  if (papers.size() < 23) {
    std::printf("no 23 papers in %s\n", path.c_str());
    return;
  }
  const std::vector<SpectralCamera> cameras{{"the eye", true},
                                            {"narrow", false, {600.0, 540.0, 460.0}, {38.0, 42.0, 28.0}},
                                            {"wide", false, {610.0, 530.0, 450.0}, {45.0, 50.0, 35.0}}};
  paper::Dice dice(11);
  std::array<Errors, kSpectralCases.size()> all;
  for (const char* name : {"D50", "D65", "A", "FL2", "FL11", "LED-B1", "LED-B3", "LED-B5"}) {
    std::array<Errors, kSpectralCases.size()> here;
    for (const SpectralCamera& camera : cameras) {
      for (const double balance : {1.0, 0.85, 0.5, 0.0}) {
        const LightAndCamera look(camera, *find_illuminant(name), balance, papers);
        for (int i = 0; i < 12; ++i) spectral_faces(look, papers, dice, here);
      }
    }
    print_errors(std::string("light ") + name, here);
    for (std::size_t c = 0; c < here.size(); ++c) {
      all[c].off.insert(all[c].off.end(), here[c].off.begin(), here[c].off.end());
      all[c].covered += here[c].covered;
      all[c].said += here[c].said;
    }
  }
  print_errors("all lights, three cameras, white balance 1, 0.85, 0.5 and 0", all);
}

}  // namespace

int main(int argc, char** argv) {
  const int faces = argc > 1 ? std::stoi(argv[1]) : 100;
  spectral(argc > 2 ? argv[2] : "tests/data/colour/munsell_colord.csv");
  if (faces == 0) return 0;
  ThreadExecutor executor(0);
  faults(std::max(1, faces / 4), executor);
  print("linear cameras", counts_of(faces, 0.0, executor));
  print("cameras with tone curves (slope in the middle up to 30 % more or less)",
        counts_of(faces, 0.3, executor));
}
