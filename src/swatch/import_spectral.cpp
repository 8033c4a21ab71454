// SPDX-License-Identifier: MIT
#include "swatch/import_spectral.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "base/text.h"
#include "colour/spectrum.h"

namespace kithue {
namespace {

bool is_number_part(char c) {
  return (c >= '0' && c <= '9') || c == '.';
}

/// What stands before or after the number in the name of a spectral column.
bool is_spectral_word(std::string_view word) {
  constexpr std::array<std::string_view, 12> kWords{"nm",         "spectral",    "spectralnm", "spec",
                                                    "r",          "refl",        "wl",         "lambda",
                                                    "wavelength", "reflectance", "specnm",     "spectraldec"};
  return std::find(kWords.begin(), kWords.end(), word) != kWords.end();
}

double least_gap(const std::vector<std::pair<double, std::size_t>>& bands) {
  double least = 1e9;
  for (std::size_t i = 1; i < bands.size(); ++i) least = std::min(least, bands[i].first - bands[i - 1].first);
  return least;
}

std::string gap_words(const std::vector<std::pair<double, std::size_t>>& bands) {
  const double gap = least_gap(bands);
  for (std::size_t i = 1; i < bands.size(); ++i) {
    if (bands[i].first - bands[i - 1].first > gap * 1.5)
      return "the spectrum has no column for " + exact_number(bands[i - 1].first + gap) + " nm";
  }
  return "the wavelengths are not evenly apart";
}

}  // namespace

std::optional<double> wavelength_in(std::string_view name) {
  std::string key;
  for (const char c : folded(name)) {
    if ((c >= 'a' && c <= 'z') || is_number_part(c)) key += c;
  }
  const auto first = std::find_if(key.begin(), key.end(), is_number_part);
  const auto last = std::find_if_not(first, key.end(), is_number_part);
  const std::string before(key.begin(), first);
  const std::string after(last, key.end());
  const auto value = parse_number(std::string(first, last));
  if (!value || *value < 200.0 || *value > 2500.0) return std::nullopt;
  const bool named =
      (is_spectral_word(before) && (after.empty() || after == "nm")) || (before.empty() && after == "nm");
  return named ? value : std::nullopt;
}

SpectralColumns spectral_columns(const std::vector<std::string>& names,
                                 const std::vector<std::size_t>& columns) {
  SpectralColumns made;
  std::vector<std::pair<double, std::size_t>> bands;
  for (const std::size_t column : columns) {
    const auto named = wavelength_in(names[column]);
    bands.emplace_back(named ? *named : parse_number(trimmed(names[column])).value_or(0.0), column);
  }
  std::sort(bands.begin(), bands.end());
  for (const auto& band : bands) made.columns.push_back(band.second);
  if (bands.size() < 3) {
    made.trouble = "fewer than three wavelengths make no spectrum";
    return made;
  }
  if (least_gap(bands) <= 0.0) {
    made.trouble = "two columns for one wavelength";
    return made;
  }
  made.start_nm = bands.front().first;
  made.step_nm = (bands.back().first - bands.front().first) / static_cast<double>(bands.size() - 1);
  for (std::size_t i = 0; i < bands.size(); ++i) {
    const double even = made.start_nm + made.step_nm * static_cast<double>(i);
    // Names rounded to whole nanometres may be half of one off.
    const bool rounded = bands[i].first == std::round(bands[i].first) && made.step_nm < 6.0;
    if (std::fabs(bands[i].first - even) > (rounded ? 0.51 : 0.06)) {
      made.trouble = gap_words(bands);
      return made;
    }
  }
  if (made.step_nm < kLeastStepNm - 1e-9 || made.step_nm > kMostStepNm + 1e-9)
    made.trouble = "a step of " + fixed_number(made.step_nm, 1) + " nm; 1 to 20 nm can be read";
  return made;
}

std::string range_words(const Reading& reading) {
  const Spectrum spectrum{reading.spectrum, reading.start_nm, reading.step_nm};
  return exact_number(reading.start_nm) + " to " + exact_number(std::round(spectrum.end_nm() * 10.0) / 10.0) +
         " nm";
}

void integrate(Reading& reading) {
  const Spectrum spectrum{reading.spectrum, reading.start_nm, reading.step_nm};
  reading.lab = lab_from_spectrum(spectrum);
  reading.adapted = "ASTM E308 from the spectrum";
  if (share_beyond(spectrum) > 0.0) reading.adapted += ", " + range_words(reading) + " and level beyond";
}

}  // namespace kithue
