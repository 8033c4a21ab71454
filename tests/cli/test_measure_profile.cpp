// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <random>

#include "cli/advice_run.h"
#include "colour/difference.h"
#include "icc/lab_by_lcms.h"
#include "photo/made.h"
#include "samples/table_profile.h"

using namespace kithue;

namespace {

constexpr std::size_t kColumns = 6;
constexpr std::size_t kRows = 4;
constexpr std::size_t kCell = 30;  // pixels

using Device = std::array<unsigned char, 3>;

/// What a scanner makes of 24 flat patches, edge to edge.
std::string scan_of(const std::vector<Device>& patches) {
  std::string samples;
  for (std::size_t y = 0; y < kRows * kCell; ++y) {
    for (std::size_t x = 0; x < kColumns * kCell; ++x) {
      for (const unsigned char value : patches[y / kCell * kColumns + x / kCell])
        samples += static_cast<char>(value);
    }
  }
  return made::png(kColumns * kCell, kRows * kCell, 8, 2, samples);
}

}  // namespace

// Profiles: tests/data/photo/SOURCES.md, and one with a table that Little CMS makes.
TEST_CASE("measure: a scan read through the scanner's profile has the Lab of Little CMS") {
  std::mt19937 random(5);
  std::vector<Device> patches(kColumns * kRows);
  for (Device& patch : patches) {
    for (unsigned char& value : patch) value = static_cast<unsigned char>(20 + random() % 220);
  }
  std::vector<std::array<double, 3>> device;
  for (const Device& patch : patches)
    device.push_back({patch[0] / 255.0, patch[1] / 255.0, patch[2] / 255.0});
  const AdviceRun run{Stash{}};
  const std::string scan = run.write("scan.png", scan_of(patches));
  for (const std::string& icc :
       {made::file("profiles/AdobeCompat-v4.icc"), made::file("profiles/DisplayP3-v2-magic.icc"),
        made::file("profiles/ProPhoto-v4.icc"), samples::table_profile(17)}) {
    const auto outcome = run({"measure", scan, "--grid", "6x4", "--profile", run.write("scanner.icc", icc),
                              "--name", "7=Dune", "--kind", "stock", "--json"});
    CAPTURE(outcome.err);
    REQUIRE(outcome.status == 0);
    const std::vector<Lab> truth = lab_by_lcms(icc, device, INTENT_ABSOLUTE_COLORIMETRIC);
    const auto data = outcome.data();
    REQUIRE(data["chips"].size() == truth.size());
    double worst = 0.0;
    for (std::size_t i = 0; i < truth.size(); ++i) {
      const auto& lab = data["chips"][i]["lab"];
      worst = std::max(worst, ciede2000({lab[0], lab[1], lab[2]}, truth[i]));
    }
    MESSAGE("worst dE00: " << worst);
    CHECK(worst < 0.1);
    CHECK(data["stored"]["new_readings"] == 1);
  }
}
