// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <string>

#include "image/sniff.h"

using namespace kithue;

TEST_CASE("sniff_picture: JPEG and PNG are told by content") {
  CHECK(*sniff_picture(std::string("\xff\xd8\xff\xe0", 4)) == PictureFormat::jpeg);
  CHECK(*sniff_picture(std::string("\x89PNG\r\n\x1a\n", 8)) == PictureFormat::png);
}

TEST_CASE("sniff_picture: other files are refused by what they are, with what to do") {
  const std::string zeros(64, '\0');
  const auto box = [&](const char* kind) {
    std::string bytes("\0\0\0\x18", 4);
    bytes += kind;
    return bytes += zeros;
  };
  std::string profile(36, '\0');
  profile += "acsp";
  profile += zeros;
  struct Row {
    std::string bytes;
    const char* what;
    const char* advice;
  };
  const Row rows[] = {
      {"", "empty", "again"},
      {box("ftypheic"), "HEIC", "most compatible"},
      {box("ftypmif1"), "HEIC", "JPEG"},
      {box("ftypavif"), "AVIF", "JPEG"},
      {box("ftypisom"), "video", "photo"},
      {"GIF89a" + zeros, "GIF", "JPEG"},
      {"RIFF1234WEBPVP8 " + zeros, "WebP", "JPEG"},
      {std::string("II*\0", 4) + zeros, "TIFF", "JPEG"},
      {std::string("MM\0*", 4) + zeros, "TIFF", "JPEG"},
      {"BM1234" + zeros, "BMP", "JPEG"},
      {"8BPS" + zeros, "PSD", "JPEG"},
      {"%PDF-1.7" + zeros, "PDF", "page"},
      {"#?RADIANCE\n" + zeros, "HDR", "JPEG"},
      {"P6\n16000 16000 255\n" + zeros, "PNM", "JPEG"},
      {std::string("\0\0\2\0\0\0\0\0\0\0\0\0\x81\x5a\x81\x5a\x18\0", 18), "TGA", "JPEG"},
      {"Dear teacher, here is the list", "text", "photo"},
      {"\x89PNG\n\x1a\n" + zeros, "PNG's first bytes", "again"},
      {"\x01\x02\x03" + zeros.substr(0, 5), "not a JPEG or PNG", "JPEG"},
      {"x", "not a JPEG or PNG", "JPEG"},
      {profile, "colour profile", "photo"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.what);
    const auto found = sniff_picture(row.bytes);
    REQUIRE_FALSE(found.has_value());
    CHECK(found.error().kind == ErrorKind::bad_input);
    CHECK(found.error().what.find(row.what) != std::string::npos);
    CHECK(found.error().advice.find(row.advice) != std::string::npos);
  }
}
