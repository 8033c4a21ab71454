// SPDX-License-Identifier: MIT
#include "swatch/edit.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <optional>
#include <vector>

#include "base/text.h"
#include "colour/adapt.h"
#include "colour/white.h"

namespace kithue {
namespace {

constexpr std::size_t kMostNamePoints = 200;
constexpr std::size_t kMostTextPoints = 2000;

std::size_t points_in(std::string_view utf8) {
  return static_cast<std::size_t>(std::count_if(
      utf8.begin(), utf8.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xc0U) != 0x80U; }));
}

/// C0, DEL and C1 controls; a line end only where it is allowed.
bool has_control(std::string_view utf8, bool line_ends) {
  for (std::size_t i = 0; i < utf8.size(); ++i) {
    const auto byte = static_cast<unsigned char>(utf8[i]);
    if (line_ends && byte == '\n') continue;
    if (byte < 0x20 || byte == 0x7f) return true;
    if (byte == 0xc2 && i + 1 < utf8.size() && static_cast<unsigned char>(utf8[i + 1]) < 0xa0) return true;
  }
  return false;
}

Error bad(std::string what, std::string advice = {}) {
  return {ErrorKind::bad_input, std::move(what), "", std::move(advice)};
}

std::vector<std::string_view> triple_parts(std::string_view text) {
  const char separator = text.find(';') != std::string_view::npos   ? ';'
                         : text.find(',') != std::string_view::npos ? ','
                                                                    : ' ';
  std::vector<std::string_view> parts;
  for (const std::string_view part : split(text, separator)) {
    if (separator == ' ' && part.empty()) continue;
    parts.push_back(trimmed(part));
  }
  return parts;
}

}  // namespace

Result<std::string> valid_name(std::string_view text) {
  const std::string_view name = trimmed(text);
  if (name.empty()) return bad("the name is empty", "give it a name");
  if (!is_utf8(name))
    return bad("the name is not UTF-8 text: \"" + std::string(name) + "\"", "save the file as UTF-8");
  if (points_in(name) > kMostNamePoints) return bad("the name is longer than 200 characters", "shorten it");
  if (has_control(name, false))
    return bad("the name has a line end or a control character in it: \"" + std::string(name) + "\"",
               "take it out");
  return std::string(name);
}

Result<std::string> valid_text(std::string_view text, std::string_view what) {
  const std::string_view kept = trimmed(text);
  const std::string subject = "the " + std::string(what);
  if (!is_utf8(kept))
    return bad(subject + " is not UTF-8 text: \"" + std::string(kept) + "\"", "save the file as UTF-8");
  if (points_in(kept) > kMostTextPoints)
    return bad(subject + " is longer than 2000 characters", "shorten it");
  if (has_control(kept, true)) return bad(subject + " has a control character in it", "take it out");
  return std::string(kept);
}

Result<std::string> valid_date(std::string_view text) {
  const std::string_view date = trimmed(text);
  if (date.empty()) return std::string();
  const Error wrong = bad("not a day: \"" + std::string(date) + "\"", "write it as 2026-03-14");
  if (date.size() != 10 || date[4] != '-' || date[7] != '-') return wrong;
  const auto digits = [](std::string_view part) {
    return std::all_of(part.begin(), part.end(), [](char c) { return c >= '0' && c <= '9'; });
  };
  if (!digits(date.substr(0, 4)) || !digits(date.substr(5, 2)) || !digits(date.substr(8, 2))) return wrong;
  const auto year = *parse_whole(date.substr(0, 4));
  const auto month = *parse_whole(date.substr(5, 2));
  const auto day = *parse_whole(date.substr(8, 2));
  if (month < 1 || month > 12) return wrong;
  constexpr std::array<int, 12> kDays{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  const bool leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
  const int most = kDays[static_cast<std::size_t>(month - 1)] + (leap && month == 2 ? 1 : 0);
  if (day < 1 || day > most) return wrong;
  return std::string(date);
}

MaybeError check_lab(const Lab& lab) {
  constexpr double kMostL = 100.5;  // a bright paper may read a little over the white
  constexpr double kMostAb = 200.0;
  if (!std::isfinite(lab.L) || !std::isfinite(lab.a) || !std::isfinite(lab.b))
    return bad("L, a and b must be numbers");
  if (lab.L < 0.0 || lab.L > kMostL) {
    const bool eight_bit =
        lab.L > kMostL && lab.L <= 255.0 && lab.a >= 0.0 && lab.b >= 0.0 && lab.a <= 255.0 && lab.b <= 255.0;
    return bad("L is " + exact_number(lab.L) + ", outside 0 to 100",
               eight_bit ? "these look like 8-bit codes (0 to 255); export CIE L*a*b* values"
                         : "L* runs from 0 (black) to 100 (white)");
  }
  for (const double value : {lab.a, lab.b}) {
    if (std::abs(value) > kMostAb) {
      return bad("a or b is " + exact_number(value) + ", further than 200 from neutral",
                 "is this CIE L*a*b*? papers and inks stay within about 120");
    }
  }
  return std::nullopt;
}

Result<Lab> lab_from_triple(std::string_view text) {
  const auto parts = triple_parts(trimmed(text));
  const Error wrong = bad("expected L, a and b as three numbers, found \"" + std::string(text) + "\"",
                          "write 78.2,4.1,18.5 with points for decimals");
  if (parts.size() != 3) return wrong;
  const auto L = parse_number(parts[0]);
  const auto a = parse_number(parts[1]);
  const auto b = parse_number(parts[2]);
  if (!L || !a || !b) return wrong;
  return Lab{*L, *a, *b};
}

Result<Reading> reading_under(const Lab& given, std::string_view white_name) {
  const auto white = find_white(white_name);
  if (!white) {
    if (const auto two = find_white(std::string(white_name) + "/2")) {
      const std::string light(two->name.substr(0, two->name.find('/')));
      return bad("the white \"" + std::string(white_name) + "\" does not say for which observer",
                 "write " + light + "/2 or " + light + "/10, as the instrument's settings say");
    }
    std::vector<std::string> known;
    for (const White& one : known_whites()) known.emplace_back(one.name);
    return bad("the white \"" + std::string(white_name) + "\" is not known", "one of " + joined(known, ", "));
  }
  if (auto fault = check_lab(given)) return std::move(*fault);
  Reading reading;
  reading.lab = given;
  reading.white = std::string(white->name);
  if (white->name != "D50/2") {
    reading.lab = lab_d50_from(given, white->xyz);
    reading.adapted = "Bradford from " + reading.white;
    if (auto fault = check_lab(reading.lab)) return std::move(*fault);
  }
  return reading;
}

Swatch* same_swatch(Stash& stash, std::string_view name, Kind kind, std::string_view method) {
  for (Swatch& swatch : stash.swatches) {
    if (swatch.kind == kind && swatch.name == name && swatch.method == method) return &swatch;
  }
  return nullptr;
}

Swatch& append_swatch(Stash& stash, Swatch swatch) {
  swatch.id = stash.next_id++;
  stash.swatches.push_back(std::move(swatch));
  return stash.swatches.back();
}

Swatch& swatch_at(Stash& stash, int id) {
  const auto at = std::find_if(stash.swatches.begin(), stash.swatches.end(),
                               [&](const Swatch& swatch) { return swatch.id == id; });
  assert(at != stash.swatches.end());
  return *at;
}

void erase_swatch(Stash& stash, int id) {
  std::erase_if(stash.swatches, [&](const Swatch& swatch) { return swatch.id == id; });
}

}  // namespace kithue
