// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "image/exif.h"
#include "photo/made.h"

using namespace kithue;

TEST_CASE("read_exif: every orientation, in both byte orders, as short or long") {
  for (unsigned o = 1; o <= 8; ++o) {
    CAPTURE(o);
    for (const bool little : {false, true}) {
      CHECK(read_exif(made::tiff(o, little, false)).orientation == static_cast<int>(o));
      CHECK(read_exif(made::tiff(o, little, true)).orientation == static_cast<int>(o));
    }
  }
}

TEST_CASE("read_exif: what is out of range or malformed reads as upright") {
  CHECK(read_exif(made::tiff(0)).orientation == 1);
  CHECK(read_exif(made::tiff(9)).orientation == 1);
  CHECK(read_exif(made::tiff(6, false, false, 0xffffffff)).orientation == 1);
  CHECK(read_exif("").orientation == 1);
  std::string far = made::tiff(6);
  far.replace(4, 4, made::big32(0xfffffff0));
  CHECK(read_exif(far).orientation == 1);
  std::string many = made::tiff(6);
  many.replace(8, 2, "\xff\xff");
  CHECK(read_exif(many).orientation == 6);
}

TEST_CASE("read_exif: damage is told with its place, and sound data is not") {
  CHECK(read_exif(made::tiff(6)).fault.empty());
  CHECK(read_exif("").fault == "the EXIF data is damaged at its byte 0: it does not begin as it must");
  CHECK(read_exif(made::tiff(9)).fault ==
        "the EXIF data is damaged at its byte 10: there is no orientation 9");
  std::string far = made::tiff(6);
  far.replace(4, 4, made::big32(0xfffffff0));
  CHECK(read_exif(far).fault == "the EXIF data is damaged at its byte 4: a part of it lies outside");
}

TEST_CASE("read_exif: cut anywhere, it never reads outside") {
  const std::string whole = made::tiff(6, true);
  for (std::size_t size = 0; size < whole.size(); ++size) {
    const std::string cut = whole.substr(0, size);
    CHECK(read_exif(cut).orientation == (size >= 22 ? 6 : 1));
  }
}

TEST_CASE("read_exif: uncalibrated with index R03 is the optional space of DCF") {
  // Header, IFD0 with a pointer to the EXIF directory at 26, that one with ColorSpace and a pointer to the
  // interoperability directory at 56.
  const auto entry = [](unsigned tag, unsigned type, std::uint32_t count, const std::string& value) {
    return made::big16(tag) + made::big16(type) + made::big32(count) + value;
  };
  const auto whole = [&](unsigned space, const std::string& index) {
    return std::string("MM") + made::big16(42) + made::big32(8) + made::big16(1) +
           entry(34665, 4, 1, made::big32(26)) + made::big32(0) + made::big16(2) +
           entry(40961, 3, 1, made::big16(space) + made::big16(0)) + entry(40965, 4, 1, made::big32(56)) +
           made::big32(0) + made::big16(1) + entry(1, 2, 4, index) + made::big32(0);
  };
  CHECK(read_exif(whole(65535, std::string("R03\0", 4))).adobe_rgb);
  CHECK_FALSE(read_exif(whole(65535, std::string("R98\0", 4))).adobe_rgb);
  CHECK_FALSE(read_exif(whole(1, std::string("R03\0", 4))).adobe_rgb);
}
