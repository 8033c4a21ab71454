// SPDX-License-Identifier: MIT
#include "kit/length.h"

#include <array>
#include <cmath>
#include <numeric>
#include <optional>
#include <utility>

#include "base/text.h"

namespace kithue {
namespace {

constexpr std::string_view kAdvice = "write it as in \"140 mm\", \"14 cm\" or \"5 1/2 in\"";

/// Everything that marks a unit, the longest of each first.
struct UnitWord {
  std::string_view word;
  Unit unit;
};
constexpr std::array<UnitWord, 8> kUnitWords{{{"inches", Unit::inch},
                                              {"inch", Unit::inch},
                                              {"in", Unit::inch},
                                              {"\"", Unit::inch},
                                              {"″", Unit::inch},
                                              {"”", Unit::inch},
                                              {"mm", Unit::mm},
                                              {"cm", Unit::cm}}};

std::int64_t nanometres_in(Unit unit) {
  return unit == Unit::mm ? kNanometresPerMm : unit == Unit::cm ? 10 * kNanometresPerMm : kNanometresPerInch;
}

Error fault(std::string what) {
  return {ErrorKind::bad_input, std::move(what), "", std::string(kAdvice)};
}

/// Takes the unit off the end of the text.
std::optional<Unit> take_unit(std::string_view& text) {
  text = trimmed(text);
  for (const UnitWord& one : kUnitWords) {
    if (!text.ends_with(one.word)) continue;
    text = trimmed(text.substr(0, text.size() - one.word.size()));
    return one.unit;
  }
  return std::nullopt;
}

/// The sign for a fraction at the end of the text, taken off.
double take_fraction_sign(std::string_view& text) {
  constexpr std::array<std::pair<std::string_view, double>, 7> kSigns{
      {{"½", 0.5}, {"¼", 0.25}, {"¾", 0.75}, {"⅛", 0.125}, {"⅜", 0.375}, {"⅝", 0.625}, {"⅞", 0.875}}};
  for (const auto& [sign, value] : kSigns) {
    if (!text.ends_with(sign)) continue;
    text = trimmed(text.substr(0, text.size() - sign.size()));
    return value;
  }
  return 0.0;
}

/// "5", "5.5", "1/2": digits with at most one point or one slash.
std::optional<double> part_from(std::string_view text) {
  const auto slash = text.find('/');
  if (slash == std::string_view::npos) {
    if (text.empty() || text.find_first_not_of("0123456789.") != std::string_view::npos) return std::nullopt;
    return parse_number(text);
  }
  const auto over = parse_whole(trimmed(text.substr(0, slash)));
  const auto under = parse_whole(trimmed(text.substr(slash + 1)));
  if (!over || !under || *over < 0 || *under < 1 || *under > 1000) return std::nullopt;
  return static_cast<double>(*over) / static_cast<double>(*under);
}

/// "5 1/2", "5-1/2", "5½", "5.5".
std::optional<double> amount_from(std::string_view text) {
  text = trimmed(text);
  const double sign = take_fraction_sign(text);
  if (sign > 0.0 && text.empty()) return sign;
  const auto gap = text.find_first_of(" -");
  if (gap == std::string_view::npos || sign > 0.0) {
    const auto whole = part_from(text);
    if (!whole) return std::nullopt;
    return *whole + sign;
  }
  const auto whole = parse_whole(text.substr(0, gap));
  const std::string_view rest = trimmed(text.substr(gap + 1));
  const auto fraction = part_from(rest);
  if (!whole || !fraction || rest.find('/') == std::string_view::npos || *whole < 0) return std::nullopt;
  return static_cast<double>(*whole) + *fraction;
}

Result<Length> length_in(std::string_view text, Unit unit) {
  const auto amount = amount_from(text);
  if (!amount) return fault("'" + std::string(text) + "' is not a length");
  if (!(*amount > 0.0)) return fault("a length must be more than nothing");
  const double nm = *amount * static_cast<double>(nanometres_in(unit));
  if (nm > static_cast<double>(kLongest.nm))
    return fault("'" + std::string(text) + " " + std::string(word_for(unit)) + "' is longer than 3 m");
  const Length length{std::llround(nm)};
  if (length.nm < 1000) return fault("a length must be at least 0.001 mm");
  return length;
}

std::string without_zeros(std::string text) {
  while (text.ends_with('0')) text.pop_back();
  if (text.ends_with('.')) text.pop_back();
  return text;
}

/// The amount without its unit.
std::string amount_text(Length length, Unit unit) {
  if (unit != Unit::inch)
    return without_zeros(
        fixed_number(mm_of(length) / (unit == Unit::cm ? 10.0 : 1.0), unit == Unit::cm ? 4 : 3));
  constexpr std::int64_t k64th = kNanometresPerInch / 64;
  if (length.nm % k64th != 0)
    return without_zeros(
        fixed_number(static_cast<double>(length.nm) / static_cast<double>(kNanometresPerInch), 4));
  const std::int64_t parts = length.nm / k64th;
  const std::int64_t whole = parts / 64;
  const std::int64_t rest = parts % 64;
  if (rest == 0) return std::to_string(whole);
  const std::int64_t shared = std::gcd(rest, std::int64_t{64});
  const std::string fraction = std::to_string(rest / shared) + "/" + std::to_string(64 / shared);
  return whole == 0 ? fraction : std::to_string(whole) + " " + fraction;
}

}  // namespace

std::string_view word_for(Unit unit) noexcept {
  switch (unit) {
    case Unit::mm:
      return "mm";
    case Unit::cm:
      return "cm";
    case Unit::inch:
      return "in";
  }
  return "";
}

double mm_of(Length length) noexcept {
  return static_cast<double>(length.nm) / static_cast<double>(kNanometresPerMm);
}

Result<Length> length_from(std::string_view text) {
  std::string_view amount = text;
  const auto unit = take_unit(amount);
  if (!unit) return fault("'" + std::string(text) + "' has no unit that is known (mm, cm or in)");
  return length_in(amount, *unit);
}

Result<Size> size_from(std::string_view text) {
  constexpr std::string_view kBetween = "x";
  constexpr std::string_view kTimes = "×";
  auto at = text.find(kTimes);
  std::size_t width = kTimes.size();
  if (at == std::string_view::npos) {
    at = text.find_first_of("xX");
    width = kBetween.size();
  }
  if (at == std::string_view::npos)
    return Error{ErrorKind::bad_input, "'" + std::string(text) + "' is not a width by a height", "",
                 "write it as in \"4 x 5 1/4 in\" or \"105 x 148 mm\""};
  std::string_view first = text.substr(0, at);
  std::string_view second = text.substr(at + width);
  const auto second_unit = take_unit(second);
  const auto first_unit = take_unit(first);
  if (!second_unit)
    return Error{ErrorKind::bad_input, "'" + std::string(text) + "' has no unit that is known (mm, cm or in)",
                 "", "write it as in \"4 x 5 1/4 in\" or \"105 x 148 mm\""};
  const auto across = length_in(first, first_unit.value_or(*second_unit));
  if (!across) return across.error();
  const auto down = length_in(second, *second_unit);
  if (!down) return down.error();
  return Size{*across, *down};
}

std::string length_text(Length length, Unit unit) {
  return amount_text(length, unit) + " " + std::string(word_for(unit));
}

std::string size_text(const Size& size, Unit unit) {
  return amount_text(size.width, unit) + " x " + length_text(size.height, unit);
}

}  // namespace kithue
