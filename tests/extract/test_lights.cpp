// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <map>
#include <string>
#include <vector>

#include "accuracy/lights.h"
#include "colour/difference.h"
#include "extract/correction.h"
#include "extract/palette.h"
#include "extract/trust.h"
#include "paper/camera.h"
#include "places.h"

using namespace kithue;
using namespace kithue::accuracy;

namespace {

// 23 Nickerson papers (source in the file) under published lights (CIE 015, colour/illuminants.cpp), seen by
// the CIE 1931 observer as a camera that takes every light for D65. Lamps of a home, and daylight.
constexpr const char* kLights[] = {"D50", "D65", "A", "FL11", "LED-B3"};

std::vector<Power> nickerson() {
  return papers_of(std::string(tests::kTestData) + "/colour/munsell_colord.csv");
}

KnownPatch patch_of(const Power& paper, const LightAndCamera& look) {
  return {"", true_lab(paper), look.seen(paper), 0.0};
}

/// Errors of all papers after the correction. The light is XYZ itself.
void add_errors(const std::vector<Power>& papers, const LightAndCamera& look, const Correction& correction,
                std::vector<double>& errors) {
  for (const Power& paper : papers) {
    const auto seen = look.seen(paper);
    const Lab lab = corrected(lab_from_xyz({seen[0], seen[1], seen[2]}), correction, Matrix3{});
    errors.push_back(ciede2000(lab, true_lab(paper)));
  }
  std::sort(errors.begin(), errors.end());
}

constexpr std::size_t kFace = 6;  // papers that are the face; others are the chips

/// What `extract` would state of the face when it finds every colour without error.
Palette face_of(const std::vector<Power>& papers, const LightAndCamera& look) {
  static const paper::Shot grey{400, 400, std::vector<unsigned char>(480000, 128), {}, {}};
  Palette palette;
  for (std::size_t i = 0; i < kFace; ++i) {
    const auto seen = look.seen(papers[i]);
    const Lab lab = lab_from_xyz({std::max(0.0, seen[0]), std::max(0.0, seen[1]), std::max(0.0, seen[2])});
    palette.colours.push_back({lab, 1.0 / kFace, Role::motif, ""});
  }
  palette.trust = extract::trust_of(paper::ShotRows(grey), {}, {}, 0.0, palette.colours);
  return palette;
}

/// A white card, or papers that are not of the face.
std::vector<KnownPatch> in_the_frame(int chips, const std::vector<Power>& papers,
                                     const LightAndCamera& look) {
  Power white{};
  white.fill(0.88);
  if (chips == 1) return {patch_of(white, look)};
  std::vector<KnownPatch> patches;
  for (std::size_t i = 0; i < static_cast<std::size_t>(chips); ++i)
    patches.push_back(patch_of(papers[kFace + i], look));
  return patches;
}

struct Covered {
  int colours = 0;
  int covered = 0;
};

void tally(const std::vector<Power>& papers, const LightAndCamera& look, std::map<int, Covered>& by_chips) {
  const Palette plain = face_of(papers, look);
  for (const int chips : {0, 1, 4, 8, 12, 16}) {
    Palette palette = plain;
    const auto patches = in_the_frame(chips, papers, look);
    if (!patches.empty()) correct(palette, fit_correction(patches, Matrix3{}), Matrix3{});
    for (std::size_t i = 0; i < kFace; ++i) {
      const double off = ciede2000(palette.colours[i].lab, true_lab(papers[i]));
      ++by_chips[chips].colours;
      by_chips[chips].covered += off <= palette.trust.de00 ? 1 : 0;
    }
  }
}

}  // namespace

TEST_CASE("a grey card corrects 23 papers under five lights to a median of 3.0 and 6.0 at 95 %") {
  const auto papers = nickerson();
  REQUIRE(papers.size() == 23);
  Power grey{};
  grey.fill(0.18);
  std::vector<double> errors;
  for (const char* name : kLights) {
    const LightAndCamera look({"eye", true}, *find_illuminant(name), 0.0, papers);
    add_errors(papers, look, fit_correction({patch_of(grey, look)}, Matrix3{}), errors);
  }
  CHECK(errors[errors.size() / 2] < 3.0);
  CHECK(errors[errors.size() * 95 / 100] < 6.0);
}

TEST_CASE("twelve of the papers as chips correct all of them under five lights, by two other cameras too") {
  const auto papers = nickerson();
  REQUIRE(papers.size() == 23);
  for (const SpectralCamera& camera :
       {SpectralCamera{"eye", true}, SpectralCamera{"narrow"},
        SpectralCamera{"wide", false, {610.0, 530.0, 450.0}, {45.0, 50.0, 35.0}}}) {
    CAPTURE(camera.name);
    std::vector<double> errors;
    for (const char* name : kLights) {
      const LightAndCamera look(camera, *find_illuminant(name), 0.0, papers);
      std::vector<KnownPatch> chips;
      for (std::size_t i = 0; i < papers.size(); i += 2) chips.push_back(patch_of(papers[i], look));
      const Correction correction = fit_correction(chips, Matrix3{});
      CHECK(correction.left_out_mean >= 0.0);
      add_errors(papers, look, correction, errors);
    }
    CHECK(errors[errors.size() / 2] < 3.0);
    CHECK(errors[errors.size() * 95 / 100] < 6.0);
  }
}

// The aim is this project's own; the papers, the lights and the observer are published, the two cameras that
// are not the observer are bell curves of ours.
TEST_CASE("the stated error covers nine colours of ten under eight lights, whatever lies in the frame") {
  const auto papers = nickerson();
  REQUIRE(papers.size() == 23);
  std::map<int, Covered> by_chips;
  for (const char* name : {"D50", "D65", "A", "FL2", "FL11", "LED-B1", "LED-B3", "LED-B5"}) {
    for (const SpectralCamera& camera :
         {SpectralCamera{"eye", true}, SpectralCamera{"narrow"},
          SpectralCamera{"wide", false, {610.0, 530.0, 450.0}, {45.0, 50.0, 35.0}}}) {
      for (const double balance : {1.0, 0.85, 0.5, 0.0}) {
        const LightAndCamera look(camera, *find_illuminant(name), balance, papers);
        for (std::size_t first = 0; first < papers.size(); first += 6) {
          std::vector<Power> order;
          for (std::size_t i = 0; i < papers.size(); ++i) order.push_back(papers[(first + 4 * i) % 23]);
          tally(order, look, by_chips);
        }
      }
    }
  }
  REQUIRE(by_chips.size() == 6);
  for (const auto& [chips, count] : by_chips) {
    CAPTURE(chips);
    CAPTURE(count.colours);
    CHECK(count.covered >= count.colours * 9 / 10);
  }
}
