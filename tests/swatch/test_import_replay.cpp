// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <lcms2.h>

#include <cmath>
#include <filesystem>
#include <string>

#include "advise/dice.h"
#include "advise/swatches.h"
#include "base/files.h"
#include "base/text.h"
#include "fuzz/readings.h"
#include "places.h"

using namespace kithue;

namespace {

void feed(const std::string& bytes) {
  fuzz::readings(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
}

}  // namespace

TEST_CASE("import: every seed, whole and with 400 seeded faults each, is read or refused and never lost") {
  std::size_t seeds = 0;
  for (const auto& file : std::filesystem::directory_iterator(std::string(tests::kTestData) + "/cgats")) {
    const auto bytes = read_file(file.path().string(), 1 << 24);
    REQUIRE(bytes);
    feed(*bytes);
    Dice dice(++seeds);
    for (int i = 0; i < 400 && !bytes->empty(); ++i) {
      std::string broken = *bytes;
      for (int j = dice.whole(1, 4); j > 0 && !broken.empty(); --j) {
        const std::size_t at = dice.index(broken.size());
        const int way = dice.whole(0, 2);
        if (way == 0) broken[at] = static_cast<char>(dice.whole(0, 255));
        if (way == 1) broken.erase(at, dice.index(12));
        if (way == 2) broken.insert(at, broken.substr(dice.index(broken.size()), 12));
      }
      feed(broken);
    }
  }
  CHECK(seeds >= 20);
}

TEST_CASE("stash file: Little CMS loads spectra, and we read them back to the digit") {
  Stash stash;
  Dice dice(3);
  for (int id = 1; id <= 20; ++id) {
    Swatch swatch = swatch_with(id, "Paper " + std::to_string(id), Kind::stock, dice.lab());
    Reading& reading = swatch.readings.front();
    reading.start_nm = 380.0;
    reading.step_nm = 10.0;
    for (int i = 0; i < 36; ++i) reading.spectrum.push_back(dice.between(0.0, 1.1));
    stash.swatches.push_back(swatch);
  }
  stash.next_id = 21;
  const std::string text = stash_text(stash);
  const auto back = parse_stash(text, "stash");
  REQUIRE(back);
  CHECK(*back == stash);
  const cmsHANDLE it8 = cmsIT8LoadFromMem(nullptr, text.data(), static_cast<cmsUInt32Number>(text.size()));
  REQUIRE(it8 != nullptr);
  REQUIRE(cmsIT8TableCount(it8) == 2);
  cmsIT8SetTable(it8, 1);
  int column = -1;
  for (int i = 0; i < 80; ++i) {
    const char* given = cmsIT8GetDataRowCol(it8, 0, i);
    if (given == nullptr) break;
    if (std::fabs(cmsIT8GetDataRowColDbl(it8, 0, i) - stash.swatches[0].readings[0].spectrum[0]) < 1e-9)
      column = i;
  }
  REQUIRE(column > 0);
  for (int row = 0; row < 20; ++row) {
    for (int band = 0; band < 36; ++band) {
      const double held =
          stash.swatches[static_cast<std::size_t>(row)].readings[0].spectrum[static_cast<std::size_t>(band)];
      CHECK(std::fabs(cmsIT8GetDataRowColDbl(it8, row, column + band) - held) < 1e-9);
    }
  }
  cmsIT8Free(it8);
}
