// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "fuzz/targets.h"
#include "places.h"

namespace fs = std::filesystem;

TEST_CASE("fuzz corpus: 50 seeds or more for each of the eight targets keep every promise") {
  CHECK(kithue::fuzz::targets().size() == 8);
  for (const kithue::fuzz::Target& target : kithue::fuzz::targets()) {
    CAPTURE(target.name);
    const auto seeds = kithue::fuzz::seeds_for(target);
    CHECK(seeds.size() >= 50);
    for (const std::string& seed : seeds) target.run(seed);
  }
}

TEST_CASE("fuzz corpus: what was found once, and what reaches the rarer lines, keeps every promise") {
  std::size_t files = 0;
  for (const kithue::fuzz::Target& target : kithue::fuzz::targets()) {
    const fs::path place = fs::path(kithue::tests::kTestData) / "fuzz" / target.name;
    if (!fs::is_directory(place)) continue;
    for (const auto& entry : fs::directory_iterator(place)) {
      CAPTURE(entry.path().string());
      std::ifstream in(entry.path(), std::ios::binary);
      target.run(std::string(std::istreambuf_iterator<char>(in), {}));
      ++files;
    }
  }
  MESSAGE("files: " << files);
}
