// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

#include "accuracy/lights.h"
#include "colour/difference.h"
#include "extract/correction.h"
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
