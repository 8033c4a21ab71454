// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "colour/lab.h"

namespace kithue {

enum class Kind {
  stock,  ///< a plain cardstock or paper
  ink,    ///< a colouring thing with its method
  other   ///< ribbon, embellishment
};
std::string_view word_for(Kind kind) noexcept;  ///< "stock", "ink", "other"
std::optional<Kind> kind_from(std::string_view word);

enum class Finish {
  plain,        ///< one Lab describes it
  unmeasurable  ///< metallic, glitter, pearl, foil: it has no number and takes part in no distance
};

enum class Dryness { dry, wet, unknown };
std::string_view word_for(Dryness dryness) noexcept;  ///< "dry", "wet", "" when unknown
std::optional<Dryness> dryness_from(std::string_view word);

/// One measurement of a swatch. `lab` is the stored form: D50, 2 degree. Text fields are the user's.
struct Reading {
  Lab lab;
  std::string white = "D50/2";  ///< the white the value was given under, as in known_whites()
  std::string adapted;          ///< how it came to D50/2 ("Bradford from D65/10"), empty when it was given so
  std::vector<double> spectrum;  ///< reflectance factors, 0-1 (a little over with brightener), or empty
  double start_nm = 0.0;         ///< wavelength of the first; 0 without a spectrum
  double step_nm = 0.0;          ///< between neighbours; 0 without a spectrum
  std::string source;            ///< instrument, scan or photo
  std::string date;              ///< ISO 8601 day, or empty
  std::string batch;             ///< dye lot or delivery
  std::string surface;           ///< what it was made on: the stock an ink was stamped on
  Dryness dryness = Dryness::unknown;
  std::string condition;    ///< M0, M1, M2, M3 when the file said so
  std::string note;         ///< extra columns kept, "name=value; ..."
  double error_de00 = 0.0;  ///< stated error of the method that made it; 0 = not stated
  friend bool operator==(const Reading&, const Reading&) = default;
};

/// The record of one stock, ink or other thing.
struct Swatch {
  int id = 0;        ///< 1 or more, never used again
  std::string name;  ///< the user's text, UTF-8, 1 to 200 code points, no control characters
  Kind kind = Kind::stock;
  std::string
      method;  ///< inks: pad, marker, wash, embossing powder ...; same name, other method = other swatch
  std::string surface;  ///< inks: the stock it was stamped on for its readings; empty = white
  Finish finish = Finish::plain;
  bool retired = false;
  bool in_stock = true;
  std::string batch;  ///< the batch on the shelf now
  std::string note;
  std::vector<Reading> readings;
  friend bool operator==(const Swatch&, const Swatch&) = default;
};

/// The readings that make a swatch's colour: those on its own surface, or without one. Readings of an ink on
/// other stocks are overprints and leave its colour alone, unless there are no others.
std::vector<const Reading*> own_readings(const Swatch& swatch);

/// The colour of a swatch, from own_readings(): the one reading, the mean of two, the component-wise median
/// of three or more. Nothing for an unmeasurable finish or without readings.
std::optional<Lab> colour_of(const Swatch& swatch);

/// Mean CIEDE2000 of the readings from colour_of(): how far they scatter. 0 with fewer than two readings.
double spread_of(const Swatch& swatch);

/// Half-width of what is known about the colour, in dE00: the larger of the spread and the readings' stated
/// error.
double uncertainty_of(const Swatch& swatch);

/// "#17".
std::string id_text(const Swatch& swatch);

}  // namespace kithue
