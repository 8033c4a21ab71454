// SPDX-License-Identifier: MIT
#pragma once

#include <zlib.h>

#include <cstddef>
#include <cstdint>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

#include "places.h"

/// Pictures put together byte by byte, for tests.
namespace made {

inline std::string file(const std::string& name) {
  std::ifstream in(std::string(kithue::tests::kTestData) + "/photo/" + name, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

inline std::string big32(std::uint32_t value) {
  std::string out;
  for (int shift = 24; shift >= 0; shift -= 8) out += static_cast<char>(value >> shift & 0xff);
  return out;
}
inline std::string big16(unsigned value) {
  return big32(value).substr(2);
}

inline std::string deflated(std::string_view bytes) {
  uLongf size = compressBound(static_cast<uLong>(bytes.size()));
  std::string out(size, '\0');
  compress2(reinterpret_cast<Bytef*>(out.data()), &size, reinterpret_cast<const Bytef*>(bytes.data()),
            static_cast<uLong>(bytes.size()), 6);
  out.resize(size);
  return out;
}

/// A PNG chunk with its checksum.
inline std::string chunk(const std::string& type, const std::string& body) {
  const std::string checked = type + body;
  const auto sum =
      crc32(0, reinterpret_cast<const Bytef*>(checked.data()), static_cast<uInt>(checked.size()));
  return big32(static_cast<std::uint32_t>(body.size())) + checked + big32(static_cast<std::uint32_t>(sum));
}

inline const std::string kSignature = "\x89PNG\r\n\x1a\n";

inline std::string ihdr(std::uint32_t width, std::uint32_t height, int depth, int type, int interlace = 0) {
  return chunk("IHDR", big32(width) + big32(height) + static_cast<char>(depth) + static_cast<char>(type) +
                           std::string(2, '\0') + static_cast<char>(interlace));
}

/// A PNG of the given samples (big-endian when depth is 16, packed below 8), unfiltered. `between` goes
/// between header and data.
inline std::string png(std::uint32_t width, std::uint32_t height, int depth, int type,
                       const std::string& samples, const std::string& between = "") {
  std::string raw;
  const std::size_t row = samples.size() / height;
  for (std::size_t y = 0; y < height; ++y) raw += '\0' + samples.substr(y * row, row);
  return kSignature + ihdr(width, height, depth, type) + between + chunk("IDAT", deflated(raw)) +
         chunk("IEND", "");
}

inline std::string iccp(const std::string& profile) {
  return chunk("iCCP", std::string("p\0\0", 3) + deflated(profile));
}
inline std::string gama(double gamma) {
  return chunk("gAMA", big32(static_cast<std::uint32_t>(gamma * 100000 + 0.5)));
}
inline std::string chrm(const std::vector<double>& chroma) {
  std::string body;
  for (const double value : chroma) body += big32(static_cast<std::uint32_t>(value * 100000 + 0.5));
  return chunk("cHRM", body);
}

/// A TIFF structure with one orientation entry.
inline std::string tiff(unsigned orientation, bool little = false, bool as_long = false,
                        std::uint32_t count = 1) {
  const auto number = [little](std::uint32_t value, int size) {
    std::string out = big32(value).substr(static_cast<std::size_t>(4 - size));
    return little ? std::string(out.rbegin(), out.rend()) : out;
  };
  std::string entry = number(274, 2) + number(as_long ? 4 : 3, 2) + number(count, 4);
  entry += as_long ? number(orientation, 4) : number(orientation, 2) + number(0, 2);
  return std::string(little ? "II" : "MM") + number(42, 2) + number(8, 4) + number(1, 2) + entry +
         number(0, 4);
}

/// A JPEG segment.
inline std::string segment(unsigned marker, const std::string& body) {
  return '\xff' + std::string(1, static_cast<char>(marker)) + big16(static_cast<unsigned>(body.size() + 2)) +
         body;
}
inline std::string exif(const std::string& tiff) {
  return segment(0xe1, std::string("Exif\0\0", 6) + tiff);
}
inline std::string icc_piece(int number, int count, const std::string& part) {
  return segment(
      0xe2, std::string("ICC_PROFILE\0", 12) + static_cast<char>(number) + static_cast<char>(count) + part);
}
/// A JPEG with something put in behind its first marker.
inline std::string jpeg_with(const std::string& jpeg, const std::string& inserted) {
  return jpeg.substr(0, 2) + inserted + jpeg.substr(2);
}

}  // namespace made
