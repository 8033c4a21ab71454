// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cstring>
#include <filesystem>

#include "image/check_picture.h"
#include "image/picture.h"
#include "image/stb.h"
#include "photo/made.h"
#include "places.h"

using namespace kithue;
using kithue_test::pixel_bytes;
using kithue_test::same_pixels;

namespace {

Result<Picture> decoded_png(const std::string& bytes, const PictureLimits& limits = {}) {
  return decode_picture(bytes, "scan.png", limits);
}

void check_png_refused(const std::string& bytes, const std::string& word,
                       ErrorKind kind = ErrorKind::bad_input) {
  kithue_test::check_refused("scan.png", bytes, word, kind);
}

const std::string kGrey4(16, '\x50');  // 4 x 4 grey pixels

/// IHDR of 4 x 4 grey, then the chunks given, then IEND.
std::string around(const std::string& chunks) {
  return made::kSignature + made::ihdr(4, 4, 8, 0) + chunks + made::chunk("IEND", "");
}
std::string data(std::size_t zeros) {
  return made::chunk("IDAT", made::deflated(std::string(zeros, '\0')));
}

}  // namespace

TEST_CASE("decode_picture: every valid picture of PngSuite is accepted, every broken one refused") {
  int accepted = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(tests::kTestData) + "/photo/pngsuite")) {
    const std::string name = entry.path().filename().string();
    CAPTURE(name);
    const auto picture = decoded_png(made::file("pngsuite/" + name));
    CHECK(picture.has_value() == (name[0] != 'x'));
    accepted += picture ? 1 : 0;
  }
  CHECK(accepted == 168);
}

TEST_CASE("decode_picture: every valid picture of PngSuite has the pixels that stb_image finds") {
  // PngSuite by Willem van Schaik (SOURCES beside the files); stb_image is the second reader.
  int compared = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(tests::kTestData) + "/photo/pngsuite")) {
    const std::string name = entry.path().filename().string();
    if (name[0] == 'x') continue;
    CAPTURE(name);
    const std::string bytes = made::file("pngsuite/" + name);
    const auto picture = decoded_png(bytes);
    REQUIRE(picture.has_value());
    const StbPixels other = stb_decode(bytes, picture->bits == 16);
    if (!other.pixels) continue;
    CHECK(picture->width == other.width);
    CHECK(picture->height == other.height);
    REQUIRE(picture->channels == other.channels);
    CHECK(std::memcmp(picture->pixels.get(), other.pixels.get(), pixel_bytes(*picture)) == 0);
    ++compared;
  }
  CHECK(compared == 168);
}

TEST_CASE("decode_picture: interlaced pictures of PngSuite equal their plain twins") {
  for (const char* tail : {"0g01", "0g02", "0g04", "0g08", "0g16", "2c08", "2c16", "3p01", "3p02", "3p04",
                           "3p08", "6a08", "6a16"}) {
    CAPTURE(tail);
    const auto plain = decoded_png(made::file(std::string("pngsuite/basn") + tail + ".png"));
    const auto interlaced = decoded_png(made::file(std::string("pngsuite/basi") + tail + ".png"));
    REQUIRE(plain.has_value());
    REQUIRE(interlaced.has_value());
    CHECK(same_pixels(*plain, *interlaced));
    CHECK(plain->bits == (std::string(tail).ends_with("16") ? 16 : 8));
  }
}

TEST_CASE("decode_picture: filters, compression levels and split data of PngSuite change no pixel") {
  const char* const groups[][4] = {{"z00n2c08", "z03n2c08", "z06n2c08", "z09n2c08"},
                                   {"basn0g16", "oi2n0g16", "oi4n0g16", "oi9n0g16"},
                                   {"basn2c16", "oi2n2c16", "oi4n2c16", "oi9n2c16"}};
  for (const auto& group : groups) {
    const auto first = decoded_png(made::file(std::string("pngsuite/") + group[0] + ".png"));
    REQUIRE(first.has_value());
    for (const char* name : group) {
      CAPTURE(name);
      const auto other = decoded_png(made::file(std::string("pngsuite/") + name + ".png"));
      REQUIRE(other.has_value());
      CHECK(same_pixels(*first, *other));
    }
  }
}

TEST_CASE("decode_picture: 16 bits stay 16 bits") {
  std::string ramp;
  for (unsigned i = 0; i < 65536; ++i) ramp += made::big16(i);
  const auto picture = decoded_png(made::png(256, 256, 16, 0, ramp));
  REQUIRE(picture.has_value());
  CHECK(picture->bits == 16);
  const auto* samples = reinterpret_cast<const std::uint16_t*>(picture->pixels.get());
  bool exact = true;
  for (unsigned i = 0; i < 65536; ++i) exact = exact && samples[i] == i;
  CHECK(exact);
}

TEST_CASE("decode_picture: a PNG cut at any byte is refused") {
  const std::string whole = made::file("pngsuite/basn3p08.png");
  for (std::size_t size = 8; size < whole.size(); ++size) {
    CAPTURE(size);
    REQUIRE_FALSE(decoded_png(whole.substr(0, size)).has_value());
  }
  check_png_refused(whole.substr(0, 700), "cut short");
}

TEST_CASE("decode_picture: a wrong byte anywhere in the parts that matter is noticed") {
  const std::string whole = made::png(4, 4, 8, 0, kGrey4);
  for (std::size_t at = 8; at < whole.size(); ++at) {
    CAPTURE(at);
    std::string wrong = whole;
    wrong[at] = static_cast<char>(wrong[at] ^ 0x10);
    CHECK_FALSE(decoded_png(wrong).has_value());
  }
}

TEST_CASE("decode_picture: damaged PNG is refused by what is wrong") {
  check_png_refused(around(""), "no picture data");
  check_png_refused(around(made::ihdr(9, 9, 8, 0) + data(20)), "two headers");
  check_png_refused(around(data(19)), "too early");
  check_png_refused(around(data(70000)), "far more data");
  check_png_refused(around(made::chunk("IDAT", "not zlib")), "does not unpack");
  check_png_refused(around(data(20) + made::chunk("tEXt", "k") + data(20)), "in pieces");
  check_png_refused(around(made::chunk("PLTE", "abc") + data(20)), "grey picture has a palette");
  check_png_refused(around(made::chunk("ABCD", "") + data(20)), "ABCD");
  check_png_refused(made::kSignature + made::chunk("IDAT", ""), "header is missing");
  check_png_refused(made::kSignature + made::chunk("CgBI", "\x50\x20\x20\x02"), "private form");
  check_png_refused(made::kSignature + made::ihdr(0, 0, 8, 0) + data(0), "0 pixels");
  check_png_refused(made::kSignature + made::ihdr(4, 4, 3, 0) + data(20), "do not exist");
  check_png_refused(made::kSignature + made::ihdr(4, 4, 8, 1) + data(20), "do not exist");
  check_png_refused(made::kSignature + made::ihdr(4, 4, 8, 0, 2) + data(20), "methods");
  check_png_refused(made::kSignature + made::ihdr(4, 4, 8, 3) + data(20), "palette is missing");
  check_png_refused(made::kSignature + made::ihdr(4, 4, 8, 0) + made::big32(0x7fffffff) + "IDAT" + "abcdefgh",
                    "cut short");
  check_png_refused(around(made::chunk("IDAT", made::deflated(std::string(20, '\x07')))), "filtered");
}

TEST_CASE("decode_picture: a pixel outside the palette is refused, at every depth") {
  const std::string palette = made::chunk("PLTE", "abcdef");
  CHECK(decoded_png(made::png(4, 1, 8, 3, std::string("\0\1\0\1", 4), palette)).has_value());
  check_png_refused(made::png(4, 1, 8, 3, std::string("\0\1\2\1", 4), palette), "palette");
  CHECK(decoded_png(made::png(4, 1, 2, 3, "\x11", palette)).has_value());
  check_png_refused(made::png(4, 1, 2, 3, "\x12", palette), "palette");
  CHECK(decoded_png(made::png(8, 1, 1, 3, "\xff", palette)).has_value());
}

TEST_CASE("decode_picture: data after the picture's last row is passed over with a warning") {
  const auto picture = decoded_png(around(data(25)));
  REQUIRE(picture.has_value());
  CHECK(picture->warnings.size() == 1);
}

TEST_CASE("decode_picture: a damaged part that the picture can do without is left out with a warning") {
  std::string text = made::chunk("tEXt", "Title");
  text[text.size() - 1] = static_cast<char>(text[text.size() - 1] ^ 1);
  const auto picture = decoded_png(made::png(4, 4, 8, 0, kGrey4, text));
  REQUIRE(picture.has_value());
  CHECK(picture->warnings.size() == 1);
  std::string profile = made::iccp(made::file("profiles/sGrey-v4.icc"));
  profile[profile.size() - 1] = static_cast<char>(profile[profile.size() - 1] ^ 1);
  const auto other = decoded_png(made::png(4, 4, 8, 0, kGrey4, profile));
  REQUIRE(other.has_value());
  CHECK(other->colour.icc.empty());
  CHECK_FALSE(other->colour.icc_fault.empty());
}

TEST_CASE("decode_picture: a profile that unpacks to 200 MB or not at all is a fault, not a picture lost") {
  const auto bomb = decoded_png(made::png(4, 4, 8, 0, kGrey4, made::iccp(std::string(200'000'000, '\0'))));
  REQUIRE(bomb.has_value());
  CHECK(bomb->colour.icc.empty());
  CHECK_FALSE(bomb->colour.icc_fault.empty());
  const auto junk =
      decoded_png(made::png(4, 4, 8, 0, kGrey4, made::chunk("iCCP", std::string("p\0\0junk", 7))));
  REQUIRE(junk.has_value());
  CHECK_FALSE(junk->colour.icc_fault.empty());
}

TEST_CASE("decode_picture: a PNG over a limit is refused from its header alone") {
  check_png_refused(made::kSignature + made::ihdr(0x7fffffff, 0x7fffffff, 8, 6), "a side",
                    ErrorKind::impossible);
  check_png_refused(made::kSignature + made::ihdr(16000, 16000, 8, 6), "200 megapixels",
                    ErrorKind::impossible);
  // Within the pixel limit, but not within the memory that decoding may take.
  check_png_refused(made::kSignature + made::ihdr(12000, 12000, 8, 6) + data(100) + made::chunk("IEND", ""),
                    "megapixels", ErrorKind::impossible);
  // Within both; rows that are missing cost no memory, for pixels are written as they unpack.
  check_png_refused(made::kSignature + made::ihdr(7000, 7000, 8, 2) + data(100) + made::chunk("IEND", ""),
                    "too early");
  PictureLimits small;
  small.most_pixels = 15;
  CHECK(decoded_png(made::png(4, 4, 8, 0, kGrey4), small).error().kind == ErrorKind::impossible);
}

TEST_CASE("decode_picture: transparency of palette, grey and RGB becomes alpha") {
  const auto keyed =
      decoded_png(made::png(2, 1, 8, 0, "\x10\x20", made::chunk("tRNS", std::string("\0\x20", 2))));
  REQUIRE(keyed.has_value());
  CHECK(keyed->channels == 2);
  CHECK(keyed->pixels[1] == 255);
  CHECK(keyed->pixels[3] == 0);
  const auto palette = decoded_png(made::png(2, 1, 8, 3, std::string("\0\1", 2),
                                             made::chunk("PLTE", "abcdef") + made::chunk("tRNS", "\x40")));
  REQUIRE(palette.has_value());
  CHECK(palette->channels == 4);
  CHECK(palette->pixels[3] == 0x40);
  CHECK(palette->pixels[7] == 255);
}

TEST_CASE("decode_picture: orientation from a PNG's eXIf chunk") {
  const auto picture = decoded_png(made::png(4, 4, 8, 0, kGrey4, made::chunk("eXIf", made::tiff(8))));
  REQUIRE(picture.has_value());
  CHECK(picture->orientation == 8);
}
