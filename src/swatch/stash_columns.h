// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <string_view>

#include "base/text.h"
#include "swatch/swatch.h"

/// What the writer and the reader of the stash file must agree on.
namespace kithue {

inline constexpr std::string_view kTrailer = "# checksum xxh3-128 ";
inline constexpr std::size_t kChecksumDigits = 32;
inline constexpr std::string_view kNone = "-";

inline constexpr std::array<std::string_view, 8> kSwatchColumns{
    "SWATCH_KIND",    "SWATCH_METHOD",   "SWATCH_SURFACE", "SWATCH_FINISH",
    "SWATCH_RETIRED", "SWATCH_IN_STOCK", "SWATCH_BATCH",   "SWATCH_NOTE"};
inline constexpr std::array<std::string_view, 10> kReadingColumns{
    "READING_WHITE",   "READING_ADAPTED", "READING_SOURCE",    "READING_DATE", "READING_BATCH",
    "READING_SURFACE", "READING_DRYNESS", "READING_CONDITION", "READING_NOTE", "READING_ERROR_DE00"};
inline constexpr std::array<std::string_view, 3> kSpectrumColumns{"READING_START_NM", "READING_STEP_NM",
                                                                  "READING_BANDS"};

/// "SPECTRAL_400": the column of one value of a spectrum.
inline std::string wavelength_column(const Reading& reading, std::size_t band) {
  return "SPECTRAL_" + exact_number(reading.start_nm + static_cast<double>(band) * reading.step_nm);
}

}  // namespace kithue
