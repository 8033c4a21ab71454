// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "image/exif.h"
#include "image/picture.h"

namespace kithue {

/// What the chunks of a PNG say, after every chunk up to IEND was looked at.
struct PngFacts {
  int width = 0;
  int height = 0;
  int depth = 8;  ///< bits a sample in the file: 1, 2, 4, 8 or 16
  int type = 0;   ///< 0 grey, 2 RGB, 3 palette, 4 grey and alpha, 6 RGB and alpha
  bool interlaced = false;
  std::size_t palette_size = 0;  ///< colours in PLTE
  std::string_view palette;      ///< its bytes, in the bytes that were walked
  std::string_view key;          ///< the bytes of a tRNS chunk that counts, likewise
  bool transparent_key = false;  ///< a tRNS chunk that counts
  std::size_t data_start = 0;    ///< where the first IDAT chunk begins
  ExifFacts exif;
  ColourNotes colour;
  std::vector<std::string> warnings;

  [[nodiscard]] int samples() const { return type == 2 ? 3 : type == 4 ? 2 : type == 6 ? 4 : 1; }
  /// Channels once the palette and a transparent key are worked out.
  [[nodiscard]] int channels() const;
};

/// The refusal of a PNG that breaks the standard; `what` says how.
Error damaged_png(const std::string& what);

/// Walks all chunks: order, lengths and checksums. A fault in a chunk that the picture cannot do without
/// refuses it; one in another chunk leaves that chunk out, with a warning. Text is not inflated at all, a
/// profile up to 4 MB.
/// Errors: bad_input (where is "byte 33"), impossible (over a limit; where is left empty).
/// Source: PNG third edition (W3C), sections 5, 11 and 13.
/// REQUIRES: starts with the PNG signature.
Result<PngFacts> walk_png(std::string_view bytes, const PictureLimits& limits);

/// Inflates the picture data a row at a time into 8 or 16 bits a channel (`facts.channels()` of them, 16 in
/// the machine's byte order): besides the pixels it takes the memory of two rows. Length, filters, checksum
/// and palette indices are right, or the reason why not, with where the chunk begins ("byte 41"). Adds to the
/// warnings. Source: PNG third edition (W3C), sections 7 to 10 and 11.3.1. REQUIRES: the bytes and facts of
/// walk_png; pixels for width * height * channels samples.
MaybeError read_png_data(std::string_view bytes, PngFacts& facts, unsigned char* pixels);

}  // namespace kithue
