// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "image/exif.h"
#include "image/picture.h"

namespace kithue {

struct JpegComponent {
  unsigned id = 0;
  int across = 1;      ///< sampling factor, 1-4
  int down = 1;        ///< sampling factor, 1-4
  unsigned table = 0;  ///< of quantisation
};

/// What the markers of a JPEG say, after every one of them was looked at up to the end of the first picture.
struct JpegFacts {
  int width = 0;
  int height = 0;
  std::vector<JpegComponent> components;  ///< 1 (grey) or 3
  bool progressive = false;
  int scans = 0;
  ExifFacts exif;              ///< of the first EXIF segment
  std::string icc;             ///< joined, or empty
  std::string icc_fault;       ///< why the pieces do not join
  std::size_t data_start = 0;  ///< where the data of the first scan begins
  std::size_t length = 0;      ///< bytes of the first picture: later ones and trailers are no concern of ours
  std::string clean;           ///< the first picture without stray bytes; empty when there are none
  std::vector<std::string> warnings;
};

/// Walks a baseline, extended-sequential or progressive Huffman JPEG of 8 bits. Fill bytes and stray bytes
/// between segments are passed over, as T.81 B.1.1.2 and common decoders allow.
/// Errors (where is "byte 158", or empty when a limit is passed): bad_input for kinds that are not decoded
/// (CMYK, 12-bit, arithmetic, lossless, hierarchical), for damage and for a file that ends too early, the
/// scan data of a picture too short for its size included; impossible over a limit. REQUIRES: starts with the
/// two bytes of SOI.
Result<JpegFacts> walk_jpeg(std::string_view bytes, const PictureLimits& limits);

/// 8 x 8 blocks across and down that a component takes in a scan of its own.
std::array<long long, 2> jpeg_blocks(const JpegFacts& facts, const JpegComponent& component);

}  // namespace kithue
