// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/executor.h"
#include "base/result.h"
#include "colour/light_rows.h"

namespace kithue {

/// What is known about how a photo's numbers became colours.
enum class ProfileState {
  embedded,  ///< an ICC profile or PNG colour chunks said so
  assumed,   ///< nothing said: sRGB assumed
  broken     ///< something was there and could not be used: sRGB assumed
};

/// A decoded photo: upright, opaque, linear light.
struct Photo {
  std::unique_ptr<LightRows> light;  ///< never null
  int width = 0;                     ///< upright pixels
  int height = 0;
  std::string format;   ///< "JPEG" or "PNG"
  int bits = 8;         ///< a channel
  bool lossy = false;   ///< JPEG
  int orientation = 1;  ///< the EXIF value that was applied, 1-8
  ProfileState profile_state = ProfileState::assumed;
  std::string profile;                ///< for people: "Display P3", "sRGB (assumed)"; the user's file's text
  bool had_alpha = false;             ///< composed on white
  double clipped_share = 0.0;         ///< pixels with a channel at the top end, 0-1
  std::string day;                    ///< ISO 8601 day on which EXIF says it was taken, or empty
  std::vector<std::string> warnings;  ///< each lowers the trust: broken profile, odd chunks
};

/// Limits on what is decoded. Above them: impossible, after reading the header only.
struct PhotoLimits {
  std::size_t most_bytes = std::size_t{256} << 20;  ///< of the file
  long long most_pixels = 200'000'000;
  int most_side = 65'500;
};

/// Decodes JPEG or PNG, told by content. EXIF orientation applied, embedded ICC profile (matrix and LUT RGB,
/// grey) or PNG colour chunks honoured by the PNG standard's precedence (cICP, iCCP, sRGB, gAMA/cHRM),
/// 16-bit PNG as 16-bit, alpha composed on white in linear light.
/// Errors: bad_input (not a picture, truncated, damaged, HEIC and other formats, CMYK), impossible (too
/// large); `where` is `name`, the advice says what to do.
Result<Photo> decode_photo(std::string_view bytes, const std::string& name, const PhotoLimits& limits = {});

/// The same; `taker` gets the rows, where possible while the rest is still being decoded. After an error what
/// it took means nothing.
Result<Photo> decode_photo(std::string_view bytes, const std::string& name, const PhotoLimits& limits,
                           RowsTaker& taker, Executor& executor);

/// The same for a scan that is measured: `icc` is the profile of the scanner, whatever the picture itself
/// says, and colours are absolute (model_for_measuring). Errors: also bad_input for a profile that cannot be
/// used, with `profile_name` as `where`.
Result<Photo> decode_scan(std::string_view bytes, const std::string& name, std::string_view icc,
                          const std::string& profile_name, const PhotoLimits& limits = {});

}  // namespace kithue
