// SPDX-License-Identifier: MIT
// How often the stated error covers the true one: faces under simulated lights and cameras, with nothing
// known in the frame, with a white card, and with 4, 8, 16 and 24 chips. The lights and cameras are random
// linear models (white balance left over, exposure, crosstalk between channels), no spectra; then the same
// cameras with a tone curve that lifts or deepens contrast, as phones do and no profile says.
// Usage: kithue_trust [faces]
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include "accuracy/colours.h"
#include "cli/threads.h"
#include "colour/difference.h"
#include "extract/correction.h"
#include "extract/palette.h"
#include "paper/camera.h"

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

}  // namespace

int main(int argc, char** argv) {
  const int faces = argc > 1 ? std::stoi(argv[1]) : 100;
  ThreadExecutor executor(0);
  print("linear cameras", counts_of(faces, 0.0, executor));
  print("cameras with tone curves (slope in the middle up to 30 % more or less)",
        counts_of(faces, 0.3, executor));
}
