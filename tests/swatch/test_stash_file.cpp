// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <lcms2.h>

#include <memory>
#include <random>
#include <string>

#include "base/checksum.h"
#include "base/text.h"
#include "swatch/random_stash.h"
#include "swatch/stash_file.h"

namespace {

using kithue::ErrorKind;
using kithue::Stash;
using kithue::testing::RandomStash;

struct FreeIt8 {
  void operator()(void* table) const { cmsIT8Free(table); }
};
using It8 = std::unique_ptr<void, FreeIt8>;

void ignore_message(cmsContext, cmsUInt32Number, const char*) {}

It8 load_it8(const std::string& text) {
  cmsSetLogErrorHandler(ignore_message);
  return It8(cmsIT8LoadFromMem(nullptr, text.data(), static_cast<cmsUInt32Number>(text.size())));
}

Stash small_stash() {
  RandomStash random(11);
  for (;;) {
    Stash stash = random.make(6);
    if (stash.swatches.size() >= 4) return stash;
  }
}

/// The text with another checksum line, one that fits.
std::string resealed(std::string text) {
  text.resize(text.rfind("# checksum"));
  return text + "# checksum xxh3-128 " + kithue::checksum(text) + "\n";
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("stash file: 10000 random stashes with hostile names read back the same") {
  RandomStash random(1);
  std::size_t swatches = 0;
  for (int i = 0; i < 10000; ++i) {
    const Stash stash = random.make(5);
    swatches += stash.swatches.size();
    const std::string text = stash_text(stash);
    const auto back = kithue::parse_stash(text, "s.cgats");
    REQUIRE(back.has_value());
    REQUIRE(*back == stash);
    REQUIRE(stash_text(*back) == text);
  }
  CHECK(swatches > 20000);
}

TEST_CASE("stash file: escapes read back, whatever the text") {
  std::mt19937 random(5);
  for (int i = 0; i < 20000; ++i) {
    std::string text;
    for (std::size_t n = random() % 12; n > 0; --n) text += "\\u0022n\"\n\t\x7f# abc00"[random() % 18];
    const std::string safe = kithue::escaped_text(text);
    REQUIRE(kithue::unescaped_text(safe) == text);
    REQUIRE(safe.find('"') == std::string::npos);
    REQUIRE(safe.find('\n') == std::string::npos);
  }
}

TEST_CASE("stash file: every truncation of a small stash is detected") {
  const std::string text = stash_text(small_stash());
  REQUIRE(text.size() > 2000);
  for (std::size_t size = 0; size < text.size(); ++size) {
    const auto back = kithue::parse_stash(text.substr(0, size), "s.cgats");
    REQUIRE_FALSE(back.has_value());
    REQUIRE(back.error().kind == ErrorKind::damaged);
    REQUIRE(back.error().where.starts_with("s.cgats"));
  }
}

TEST_CASE("stash file: every flipped bit of a small stash is detected") {
  const std::string text = stash_text(small_stash());
  for (std::size_t bit = 0; bit < text.size() * 8; ++bit) {
    std::string flipped = text;
    flipped[bit / 8] = static_cast<char>(flipped[bit / 8] ^ (1 << (bit % 8)));
    const auto back = kithue::parse_stash(flipped, "s.cgats");
    REQUIRE_FALSE(back.has_value());
    REQUIRE(back.error().kind == ErrorKind::damaged);
  }
}

TEST_CASE("stash file: a later version is refused, two glued stashes and wrong counts are damage") {
  const std::string text = stash_text(small_stash());
  const auto kind_of = [](const std::string& bytes) {
    const auto back = kithue::parse_stash(bytes, "s.cgats");
    REQUIRE_FALSE(back.has_value());
    return back.error().kind;
  };
  CHECK(kind_of(resealed(replaced(text, "KITHUE_STASH_VERSION \"1\"", "KITHUE_STASH_VERSION \"2\""))) ==
        ErrorKind::too_new);
  CHECK(kind_of(text + text) == ErrorKind::damaged);
  CHECK(kind_of(resealed(replaced(text, "NUMBER_OF_SETS ", "NUMBER_OF_SETS 1"))) == ErrorKind::damaged);
  CHECK(kind_of(resealed(replaced(text, "NUMBER_OF_FIELDS ", "NUMBER_OF_FIELDS 9"))) == ErrorKind::damaged);
  CHECK(kind_of(resealed(replaced(text, "LAB_L LAB_A", "LAB_X LAB_A"))) == ErrorKind::damaged);
  CHECK(kind_of(std::string(3000, '\0')) == ErrorKind::damaged);
}

TEST_CASE("stash file: Little CMS reads the same names and the same Lab to the last of its digits") {
  RandomStash random(21);
  std::size_t compared = 0;
  for (int i = 0; i < 300; ++i) {
    const Stash stash = random.make(8);
    // Little CMS loads no table without rows.
    std::size_t readings = 0;
    for (const kithue::Swatch& swatch : stash.swatches) readings += swatch.readings.size();
    if (readings == 0) continue;
    const It8 it8 = load_it8(stash_text(stash));
    REQUIRE(it8 != nullptr);
    REQUIRE(cmsIT8TableCount(it8.get()) == 2);
    for (std::size_t row = 0; row < stash.swatches.size(); ++row) {
      const kithue::Swatch& swatch = stash.swatches[row];
      REQUIRE(cmsIT8GetDataRowColDbl(it8.get(), static_cast<int>(row), 0) == swatch.id);
      const char* name = cmsIT8GetDataRowCol(it8.get(), static_cast<int>(row), 1);
      REQUIRE(name != nullptr);
      REQUIRE(kithue::unescaped_text(name) == swatch.name);
      const auto lab = colour_of(swatch);
      if (!lab) continue;
      ++compared;
      // Little CMS keeps numbers as text of ten significant digits.
      const double expected[] = {lab->L, lab->a, lab->b};
      for (int column = 0; column < 3; ++column) {
        const double seen = cmsIT8GetDataRowColDbl(it8.get(), static_cast<int>(row), 2 + column);
        REQUIRE(std::abs(seen - expected[column]) < 1e-7);
      }
    }
  }
  CHECK(compared > 300);
}
