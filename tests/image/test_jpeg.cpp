// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <cstring>
#include <string>
#include <vector>

#include "colour/difference.h"
#include "colour/srgb.h"
#include "image/check_picture.h"
#include "image/jpeg_walk.h"
#include "image/picture.h"
#include "image/stb.h"
#include "image/turbo.h"
#include "paper/camera.h"
#include "photo/made.h"

using namespace kithue;
using kithue_test::same_pixels;

namespace {

Result<Picture> decoded_jpeg(const std::string& bytes) {
  return decode_picture(bytes, "photo.jpg", {});
}

void check_jpeg_refused(const std::string& bytes, const std::string& word,
                        ErrorKind kind = ErrorKind::bad_input) {
  kithue_test::check_refused("photo.jpg", bytes, word, kind);
}

/// SOI and a frame header alone.
std::string frame_only(unsigned marker, int bits, unsigned height, unsigned width, int components) {
  std::string body = std::string(1, static_cast<char>(bits)) + made::big16(height) + made::big16(width) +
                     static_cast<char>(components);
  for (int i = 0; i < components; ++i) body += std::string{static_cast<char>(i + 1), '\x11', '\0'};
  return "\xff\xd8" + made::segment(marker, body);
}

}  // namespace

TEST_CASE("decode_picture: an ordinary JPEG") {
  const auto picture = decoded_jpeg(made::file("jpeg/scene.jpg"));
  REQUIRE(picture.has_value());
  CHECK(picture->width == 160);
  CHECK(picture->height == 120);
  CHECK(picture->channels == 3);
  CHECK(picture->warnings.empty());
}

TEST_CASE("decode_picture: kinds of JPEG that are not decoded are named") {
  check_jpeg_refused(frame_only(0xc0, 8, 10, 10, 4), "CMYK");
  check_jpeg_refused(frame_only(0xc0, 8, 10, 10, 5), "5 colour channels");
  check_jpeg_refused(frame_only(0xc0, 8, 10, 10, 2), "2 colour channels");
  check_jpeg_refused(frame_only(0xc1, 12, 10, 10, 3), "12 bits");
  check_jpeg_refused(frame_only(0xc1, 16, 10, 10, 3), "16 bits");
  check_jpeg_refused(frame_only(0xc3, 8, 10, 10, 3), "lossless");
  check_jpeg_refused(frame_only(0xc5, 8, 10, 10, 3), "hierarchical");
  check_jpeg_refused(frame_only(0xc9, 8, 10, 10, 3), "arithmetic");
  check_jpeg_refused(frame_only(0xf7, 8, 10, 10, 3), "lossless");
  check_jpeg_refused(frame_only(0xc0, 8, 0, 10, 3), "0 pixels");
  check_jpeg_refused(made::file("jpeg/ljt_testorig12.jpg"), "12 bits");
  check_jpeg_refused(made::file("jpeg/ljt_testimgari.jpg"), "arithmetic");
}

TEST_CASE("decode_picture: a JPEG over a limit is refused from its header alone") {
  check_jpeg_refused(frame_only(0xc0, 8, 65535, 20, 3), "65500 a side", ErrorKind::impossible);
  check_jpeg_refused(frame_only(0xc2, 8, 15000, 15000, 3), "200 megapixels", ErrorKind::impossible);
  check_jpeg_refused(frame_only(0xc0, 8, 10000, 10000, 3), "holds no picture");
}

TEST_CASE("decode_picture: a JPEG cut at any byte is refused") {
  const std::string whole = made::file("jpeg/scene.jpg");
  for (std::size_t size = 2; size < whole.size(); ++size) {
    const auto picture = decoded_jpeg(whole.substr(0, size));
    CAPTURE(size);
    REQUIRE_FALSE(picture.has_value());
    CHECK(picture.error().kind == ErrorKind::bad_input);
  }
  check_jpeg_refused(whole.substr(0, 5000), "cut short");
  check_jpeg_refused(made::file("jpeg/wuffs_peacock.default.truncated.jpeg"), "cut short");
  check_jpeg_refused(made::file("jpeg/wuffs_peacock.progressive.truncated.jpeg"), "cut short");
}

TEST_CASE("decode_picture: a cut JPEG with an end marker put on is refused too") {
  const std::string whole = made::file("jpeg/scene.jpg");
  const std::string end = "\xff\xd9";
  // By either decoder: no scan has fewer than two bits a block.
  check_jpeg_refused(whole.substr(0, whole.find("\xff\xda") + 20) + end, "cut short");
  if (!turbo_decode(whole, 160, 120, 3)) return;  // stb_image does not say when it ran out of data
  for (std::size_t size = 1000; size < whole.size() - 100; size += 500) {
    CAPTURE(size);
    CHECK_FALSE(decoded_jpeg(whole.substr(0, size) + end).has_value());
  }
}

TEST_CASE("decode_picture: replaced bytes in the scan give no false colours") {
  if (!turbo_decode(made::file("jpeg/scene.jpg"), 160, 120, 3)) return;
  for (const char* name : {"jpeg/syn_bitrot_0.jpg", "jpeg/syn_bitrot_1.jpg", "jpeg/syn_bitrot_2.jpg"}) {
    CAPTURE(name);
    CHECK_FALSE(decoded_jpeg(made::file(name)).has_value());
  }
}

TEST_CASE("decode_picture: fill bytes and stray bytes before markers change no pixel") {
  const std::string plain = made::file("jpeg/scene.jpg");
  const auto expected = decoded_jpeg(plain);
  REQUIRE(expected.has_value());
  const auto filled = decoded_jpeg(made::jpeg_with(plain, std::string(70000, '\xff')));
  REQUIRE(filled.has_value());
  CHECK(same_pixels(*expected, *filled));
  CHECK(filled->warnings.empty());
  for (const std::string& stray : {std::string("stray"), std::string("\xff\0\0\2", 4)}) {
    const auto picture = decoded_jpeg(made::jpeg_with(plain, stray));
    REQUIRE(picture.has_value());
    CHECK(same_pixels(*expected, *picture));
    CHECK(picture->warnings.size() == 1);
  }
}

TEST_CASE("decode_picture: what follows the first picture of a JPEG is no matter") {
  const std::string plain = made::file("jpeg/scene.jpg");
  const auto expected = decoded_jpeg(plain);
  const auto followed = decoded_jpeg(plain + plain.substr(0, 3000));
  REQUIRE(followed.has_value());
  CHECK(same_pixels(*expected, *followed));
}

TEST_CASE("decode_picture: damaged segments of a JPEG") {
  const std::string plain = made::file("jpeg/scene.jpg");
  check_jpeg_refused(made::jpeg_with(plain, std::string("\xff\xe5\0\0", 4)), "impossible length");
  check_jpeg_refused(made::jpeg_with(plain, "\xff\xe5\xff\xff"), "cut short");
  check_jpeg_refused(made::jpeg_with(plain, "\xff\xd8"), "second picture");
  check_jpeg_refused("\xff\xd8\xff\xd9", "holds no picture");
  check_jpeg_refused(made::file("jpeg/wuffs_hippopotamus-bad-comment-length.jpeg"), "damaged");
}

TEST_CASE("decode_picture: far too many scans are refused before they are decoded") {
  const std::string plain = made::file("jpeg/wuffs_peacock.progressive.scan003.jpeg");
  REQUIRE(decoded_jpeg(plain).has_value());
  const std::size_t scan = plain.find("\xff\xda");
  std::string bomb = plain.substr(0, plain.size() - 2);
  for (int i = 0; i < 100; ++i) bomb += plain.substr(scan, plain.size() - 2 - scan);
  check_jpeg_refused(bomb + "\xff\xd9", "too many scans");
}

TEST_CASE("decode_picture: odd sampling, grey and reordered segments are decoded") {
  struct Row {
    const char* name;
    int width, height, channels;
  };
  for (const Row& row :
       {Row{"jpeg/wuffs_peacock.s-very-weird.jpeg", 100, 75, 3},
        Row{"jpeg/wuffs_peacock.s1x3.jpeg", 100, 75, 3}, Row{"jpeg/wuffs_peacock.grayscale.jpeg", 100, 75, 1},
        Row{"jpeg/wuffs_hippopotamus-sof-dht-swap.jpeg", 36, 28, 3},
        Row{"jpeg/ljt_testimgint.jpg", 227, 149, 3}}) {
    CAPTURE(row.name);
    const auto picture = decoded_jpeg(made::file(row.name));
    REQUIRE(picture.has_value());
    CHECK(picture->width == row.width);
    CHECK(picture->height == row.height);
    CHECK(picture->channels == row.channels);
  }
}

TEST_CASE("decode_picture: the first EXIF segment of a JPEG counts") {
  const std::string plain = made::file("jpeg/scene.jpg");
  const auto picture =
      decoded_jpeg(made::jpeg_with(plain, made::exif(made::tiff(6)) + made::exif(made::tiff(1))));
  REQUIRE(picture.has_value());
  CHECK(picture->orientation == 6);
}

TEST_CASE("walk_jpeg: a picture whose quantisation table is missing is refused whatever the decoder") {
  std::string bytes = made::file("jpeg/scene.jpg");
  int tables = 0;
  for (std::size_t at = bytes.find("\xff\xdb"); at != std::string::npos; at = bytes.find("\xff\xdb", at)) {
    bytes[at + 1] = '\xfe';  // a comment (T.81, table B.1)
    ++tables;
  }
  REQUIRE(tables > 0);
  check_jpeg_refused(bytes, "quantisation table is missing");
}

TEST_CASE("walk_jpeg: pieces of a profile join in any order, and a missing one is named") {
  const std::string plain = made::file("jpeg/scene.jpg");
  const std::string icc = made::file("profiles/DisplayP3-v4.icc");
  const std::string one = made::icc_piece(1, 3, icc.substr(0, 100));
  const std::string two = made::icc_piece(2, 3, icc.substr(100, 200));
  const std::string three = made::icc_piece(3, 3, icc.substr(300));
  const auto icc_of = [&](const std::string& pieces) { return decoded_jpeg(made::jpeg_with(plain, pieces)); };
  CHECK(icc_of(one + two + three)->colour.icc == icc);
  CHECK(icc_of(three + two + one)->colour.icc == icc);
  const auto missing = icc_of(one + three);
  CHECK(missing->colour.icc.empty());
  CHECK(missing->colour.icc_fault == "piece 2 of 3 is missing");
  CHECK_FALSE(icc_of(one + one + three)->colour.icc_fault.empty());
  CHECK_FALSE(icc_of(made::icc_piece(0, 0, icc))->colour.icc_fault.empty());
  CHECK(icc_of("")->colour.icc_fault.empty());
}

TEST_CASE("turbo_decode and stb_decode: the same colours within 0.3 dE00 on average") {
  for (const char* name : {"jpeg/scene.jpg", "jpeg/ljt_testimgint.jpg"}) {
    CAPTURE(name);
    const std::string bytes = made::file(name);
    const StbPixels stb = stb_decode(bytes, false);
    REQUIRE(stb.pixels != nullptr);
    const auto turbo = turbo_decode(bytes, stb.width, stb.height, 3);
    if (!turbo) return;  // built without libjpeg-turbo
    REQUIRE(turbo->pixels != nullptr);
    const auto lab = [](const unsigned char* p) {
      return lab_from_rgb(
          {light_from_coded(p[0] / 255.0), light_from_coded(p[1] / 255.0), light_from_coded(p[2] / 255.0)});
    };
    double sum = 0.0;
    const int count = stb.width * stb.height;
    for (int i = 0; i < count; ++i)
      sum += ciede2000(lab(stb.pixels.get() + 3 * i), lab(turbo->pixels.get() + 3 * i));
    CHECK(sum / count < 0.3);
  }
}

TEST_CASE("stb_planes: to the bit those of libjpeg-turbo, whatever size, quality and sampling") {
  // libjpeg-turbo is the reference: another program, whose accurate transform is that of libjpeg (IJG).
  std::vector<std::string> files{made::file("jpeg/scene.jpg"), made::file("jpeg/ljt_testimgint.jpg")};
  for (const int width : {33, 64, 97}) {
    for (const int quality : {20, 75, 100}) {
      paper::Face face{1.0, 0.73, {{{90, 2, 8}}, {{40, 60, 30}}, {{35, 10, -50}}}, {}};
      for (int i = 0; i < 12; ++i) paper::add_circle(face, 1 + i % 2, {0.08 * i, 0.06 * i}, 0.05);
      paper::Camera camera;
      camera.width = width;
      SerialExecutor serial;
      files.push_back(paper::jpeg_bytes(paper::photograph(face, camera, serial), quality));
    }
  }
  for (const std::string& bytes : files) {
    CAPTURE(bytes.size());
    const auto picture = decode_picture(bytes, "a.jpg", {});
    REQUIRE(picture.has_value());
    const auto stb = stb_planes(bytes, picture->width, picture->height);
    REQUIRE(stb != nullptr);
    const YccPlanes mine = stb->room();
    REQUIRE_FALSE(stb->fill({}).has_value());
    const auto turbo = turbo_planes(bytes, picture->width, picture->height);
    if (!turbo) return;  // built without libjpeg-turbo
    const YccPlanes other = turbo->room();
    REQUIRE_FALSE(turbo->fill({}).has_value());
    REQUIRE(mine.across == other.across);
    REQUIRE(mine.down == other.down);
    const auto differing = [](const LargeBlock& p, int p_stride, const LargeBlock& q, int q_stride, int width,
                              int height) {
      int count = 0;
      for (int y = 0; y < height; ++y) {
        const unsigned char* const a = p.data() + static_cast<std::ptrdiff_t>(y) * p_stride;
        const unsigned char* const b = q.data() + static_cast<std::ptrdiff_t>(y) * q_stride;
        for (int x = 0; x < width; ++x) count += a[x] != b[x] ? 1 : 0;
      }
      return count;
    };
    const int columns = (picture->width + mine.across - 1) / mine.across;
    const int rows = (picture->height + mine.down - 1) / mine.down;
    CHECK(differing(mine.y, mine.bright_stride, other.y, other.bright_stride, columns * mine.across,
                    rows * mine.down) == 0);
    CHECK(differing(mine.cb, mine.stride, other.cb, other.stride, columns, rows) == 0);
    CHECK(differing(mine.cr, mine.stride, other.cr, other.stride, columns, rows) == 0);
  }
}

TEST_CASE("stb_planes: none for grey, RGB or rarer sampling, nor for another size than the file's") {
  CHECK(stb_planes(made::file("jpeg/wuffs_peacock.grayscale.jpeg"), 100, 75) == nullptr);
  CHECK(stb_planes(made::file("jpeg/wuffs_peacock.s1x3.jpeg"), 100, 75) == nullptr);
  CHECK(stb_planes(made::file("jpeg/scene.jpg"), 161, 120) == nullptr);
  REQUIRE(stb_planes(made::file("jpeg/scene.jpg"), 160, 120) != nullptr);
  // The same with components named R, G and B, as libjpeg reads such names.
  std::string named = made::file("jpeg/scene.jpg");
  const std::size_t frame = named.find("\xff\xc0");
  const std::size_t scan = named.find("\xff\xda");
  REQUIRE(frame != std::string::npos);
  REQUIRE(scan != std::string::npos);
  for (std::size_t c = 0; c < 3; ++c) named[frame + 10 + 3 * c] = named[scan + 5 + 2 * c] = "RGB"[c];
  CHECK(stb_planes(named, 160, 120) == nullptr);
}
