// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <random>
#include <set>
#include <string>

#include "colour/srgb.h"
#include "colour/words.h"

using namespace kithue;

namespace {

std::string words_for_bytes(int r, int g, int b) {
  return plain_words(
      lab_from_rgb({light_from_coded(r / 255.0), light_from_coded(g / 255.0), light_from_coded(b / 255.0)}));
}

}  // namespace

// No published table lists words for these colours: they are the ones a person would agree with.
TEST_CASE("plain_words: obvious colours get obvious names") {
  CHECK(plain_words({45, 65, 40}) == "vivid red");
  CHECK(plain_words({75, 28, 79}) == "vivid orange yellow");
  CHECK(plain_words({85, 5, 85}) == "vivid yellow");
  CHECK(plain_words({60, -50, 40}) == "vivid yellowish green");
  CHECK(plain_words({40, 0, -55}) == "strong blue");
  CHECK(plain_words({40, 15, 20}) == "moderate brown");
  CHECK(plain_words({65, 8, 22}) == "light yellowish brown");  // kraft
  CHECK(plain_words({94, 0, 8}) == "yellowish white");         // cream paper
  CHECK(plain_words({93, 4, 2}) == "pinkish white");
  CHECK(plain_words({93, 0, -4}) == "bluish white");
}

TEST_CASE("plain_words: a centre of the table has its own name") {
  // Kelly & Judd (1976), NBS Special Publication 440, as sRGB bytes; a few of each family.
  CHECK(words_for_bytes(0xbe, 0x00, 0x32) == "vivid red");
  CHECK(words_for_bytes(0x53, 0x68, 0x78) == "greyish blue");
  CHECK(words_for_bytes(0xae, 0x9b, 0x82) == "light greyish yellowish brown");
  CHECK(words_for_bytes(0xf2, 0xf3, 0xf4) == "white");
  CHECK(words_for_bytes(0xea, 0xe3, 0xe1) == "pinkish white");
  CHECK(words_for_bytes(0xf0, 0xea, 0xd6) == "yellowish white");
  CHECK(words_for_bytes(0x81, 0x87, 0x8b) == "bluish grey");
  CHECK(words_for_bytes(0x22, 0x22, 0x22) == "black");
  CHECK(words_for_bytes(0x1a, 0x24, 0x21) == "blackish green");
}

TEST_CASE("plain_words: exact greys are white, grey or black from end to end") {
  std::string steps;
  std::string last;
  for (int tenth = 0; tenth <= 1000; ++tenth) {
    const std::string words = plain_words({tenth / 10.0, 0, 0});
    if (words != last) steps += words + "; ";
    last = words;
  }
  CHECK(steps == "black; dark grey; medium grey; light grey; white; ");
}

TEST_CASE("plain_words: a colour beside the neutral axis is a white, a grey or a black") {
  for (int L = 0; L <= 100; ++L) {
    for (int degrees = 0; degrees < 360; degrees += 15) {
      const std::string words = plain_words(lab_from_lch({static_cast<double>(L), 3.0, 1.0 * degrees}));
      CAPTURE(L);
      CAPTURE(degrees);
      CAPTURE(words);
      CHECK((words.ends_with("white") || words.ends_with("grey") || words.ends_with("black")));
    }
  }
}

TEST_CASE("plain_words: all 267 names are within reach, lower case and British") {
  std::set<std::string> seen;
  for (int r = 0; r < 256; r += 12) {
    for (int g = 0; g < 256; g += 12) {
      for (int b = 0; b < 256; b += 12) seen.insert(words_for_bytes(r, g, b));
    }
  }
  for (const std::string& name : seen) {
    CAPTURE(name);
    CHECK(name.find_first_not_of("abcdefghijklmnopqrstuvwxyz ") == std::string::npos);
    CHECK(name.find("gray") == std::string::npos);
  }
  CHECK(seen.size() >= 240);  // small blocks may fall between the steps
  CHECK(seen.size() <= 267);
}

TEST_CASE("plain_words: every finite colour has a name, however absurd; a NaN or an infinity has none") {
  const double most = std::numeric_limits<double>::max();
  CHECK_FALSE(plain_words({most, -most, most}).empty());
  CHECK_FALSE(plain_words({-5, 300, 0}).empty());
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> L(-20, 120);
  std::uniform_real_distribution<double> ab(-200, 200);
  for (int i = 0; i < 2000; ++i) CHECK_FALSE(plain_words({L(random), ab(random), ab(random)}).empty());
  CHECK(plain_words({std::nan(""), 0, 0}).empty());
  CHECK(plain_words({50, std::nan(""), 0}).empty());
  CHECK(plain_words({50, 0, std::numeric_limits<double>::infinity()}).empty());
}
