// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/large_block.h"
#include "base/result.h"

namespace kithue {

enum class PictureFormat { jpeg, png };

/// Above these a picture is refused from its header, before any decoder sees it.
struct PictureLimits {
  long long most_pixels = 200'000'000;
  int most_side = 65'500;
  std::size_t most_memory = std::size_t{440} << 20;  ///< bytes at the peak of decoding, the file included
};

/// Gives pixels back to the C allocator that the decoders use.
struct FreePixels {
  void operator()(unsigned char* pixels) const noexcept;
};
using PixelBytes = std::unique_ptr<unsigned char[], FreePixels>;

/// A colour JPEG as it is stored: brightness, and two colour differences that may be at half size. Half the
/// bytes of RGB, and no time spent on making RGB of what is averaged anyway.
struct YccPlanes {
  int across = 1;         ///< pixels across that share a sample of the differences: 1 or 2
  int down = 1;           ///< and down
  LargeBlock cb, cr;      ///< rows from the top, at least the picture's sides over these, rounded up
  LargeBlock y;           ///< at least as many pixels as the samples cover: one column or row too many
  int stride = 0;         ///< bytes from one row of cb or cr to the next
  int bright_stride = 0;  ///< and of y
};

/// Told how many rows of pixels, from the top, are there by now.
using RowsTold = std::function<void(int)>;

/// What a file says about its colours, as found: nothing is interpreted or believed yet.
struct ColourNotes {
  std::string icc;        ///< the embedded ICC profile, whole, or empty
  std::string icc_fault;  ///< why a profile that is there could not be taken out: "piece 2 of 3 is missing"
  std::optional<std::array<unsigned, 4>> cicp;  ///< primaries, transfer, matrix, full range (ITU-T H.273)
  bool srgb = false;                            ///< a PNG sRGB chunk
  std::optional<double> gamma;                  ///< PNG gAMA: coded = light ^ gamma
  std::optional<std::array<double, 8>> chroma;  ///< PNG cHRM: x and y of white, red, green, blue
  bool exif_adobe_rgb = false;  ///< EXIF says "uncalibrated" and its interoperability index is R03 (DCF 2.0)
};

/// A decoded picture: coded pixels as the file stores them, not turned, colours not interpreted.
struct Picture {
  PictureFormat format = PictureFormat::jpeg;
  int width = 0;      ///< stored pixels, before orientation
  int height = 0;     ///< stored pixels, before orientation
  int channels = 3;   ///< 1 grey, 2 grey and alpha, 3 RGB, 4 RGB and alpha (alpha not premultiplied)
  int bits = 8;       ///< 8, or 16 in the machine's byte order
  int across = 1;     ///< pixels across that share a sample of a JPEG's colour differences: 1 or 2
  int down = 1;       ///< and down
  PixelBytes pixels;  ///< width * height * channels samples, rows from the top, no padding
  std::optional<YccPlanes> ycc;  ///< instead of pixels (then null), where asked for and possible
  /// Set where asked for: decodes into the planes, which are empty until then and may be moved elsewhere.
  /// To be called once, while the file's bytes are still there. Errors as decode_picture's, without where.
  std::function<MaybeError(const RowsTold&)> fill;
  int orientation = 1;  ///< EXIF, 1-8; anything else in the file reads as 1
  ColourNotes colour;
  std::string day;                    ///< on which it was taken, as EXIF says: "2026-03-14", or empty
  std::vector<std::string> warnings;  ///< harmless faults that were passed over, for people
};

/// What a colour JPEG is wanted as.
enum class JpegForm { rgb, ycc_where_possible, ycc_later };

/// Decodes JPEG or PNG, told by content. The headers are walked by our own reader first: sizes, markers and
/// chunks, checksums, truncation; only then does a decoder see the bytes.
/// Errors: bad_input (other formats, damaged, cut short, CMYK and other kinds that are not decoded),
/// impossible (over a limit); `where` is `name`, the advice says what to do.
/// Sources: ITU-T T.81 (JPEG), JFIF 1.02, PNG third edition (W3C), CIPA DC-008 (EXIF), ICC.1:2022 Annex B.
Result<Picture> decode_picture(std::string_view bytes, const std::string& name, const PictureLimits& limits,
                               JpegForm form = JpegForm::rgb);

}  // namespace kithue
