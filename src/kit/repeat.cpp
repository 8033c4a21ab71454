// SPDX-License-Identifier: MIT
#include "kit/repeat.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "base/text.h"
#include "colour/difference.h"
#include "kit/csv_table.h"

namespace kithue {
namespace {

constexpr double kSame = 3.0;
constexpr double kNear = 8.0;

/// Averages of the nearest distances: of `a` in `b` and of `b` in `a`, from each distance worked out once.
double both_ways(const std::vector<KitColour>& a, const std::vector<KitColour>& b) {
  constexpr double kFar = std::numeric_limits<double>::infinity();
  std::vector<double> of_a(a.size(), kFar);
  std::vector<double> of_b(b.size(), kFar);
  for (std::size_t i = 0; i < a.size(); ++i) {
    for (std::size_t j = 0; j < b.size(); ++j) {
      const double apart = ciede2000(a[i].lab, b[j].lab);
      of_a[i] = std::min(of_a[i], apart);
      of_b[j] = std::min(of_b[j], apart);
    }
  }
  const auto average = [](const std::vector<KitColour>& colours, const std::vector<double>& nearest) {
    double sum = 0.0;
    double weights = 0.0;
    const bool shares =
        std::any_of(colours.begin(), colours.end(), [](const KitColour& one) { return one.share > 0.0; });
    for (std::size_t i = 0; i < colours.size(); ++i) {
      const double weight = shares ? std::sqrt(std::max(0.0, colours[i].share)) : 1.0;
      sum += weight * nearest[i];
      weights += weight;
    }
    return sum / weights;
  };
  return (average(a, of_a) + average(b, of_b)) / 2.0;
}

std::optional<double> number_in(const std::string& text, double least, double most) {
  const auto value = parse_number(trimmed(text));
  return value && *value >= least && *value <= most ? value : std::nullopt;
}

}  // namespace

PastKit past_kit(const Kit& kit, const FaceColours& faces) {
  PastKit past{kit.name, kit.date, {}};
  for (const auto& colours : faces) past.colours.insert(past.colours.end(), colours.begin(), colours.end());
  return past;
}

double palette_distance(const std::vector<KitColour>& a, const std::vector<KitColour>& b) {
  if (a.empty() || b.empty()) return std::numeric_limits<double>::quiet_NaN();
  return both_ways(a, b);
}

std::vector<Repeat> nearest_kits(const PastKit& kit, const std::vector<PastKit>& past) {
  std::vector<Repeat> repeats;
  for (std::size_t i = 0; i < past.size(); ++i) {
    const double apart = palette_distance(kit.colours, past[i].colours);
    if (!std::isnan(apart)) repeats.push_back({i, apart});
  }
  std::stable_sort(repeats.begin(), repeats.end(),
                   [](const Repeat& x, const Repeat& y) { return x.de00 < y.de00; });
  return repeats;
}

std::string_view words_for_repeat(double de00) noexcept {
  return de00 <= kSame ? "much the same palette" : de00 <= kNear ? "a near palette" : "another palette";
}

std::string history_csv(const std::vector<PastKit>& past) {
  std::string csv = "kit,date,L,a,b,share,role\r\n";
  for (const PastKit& kit : past) {
    for (const KitColour& colour : kit.colours) {
      csv += csv_cell(kit.name) + "," + csv_cell(kit.date);
      for (const double value : {colour.lab.L, colour.lab.a, colour.lab.b, colour.share})
        csv += "," + exact_number(value);
      csv += "," + csv_cell(colour.role) + "\r\n";
    }
  }
  return csv;
}

Result<std::vector<PastKit>> history_from_csv(std::string_view text, const std::string& name) {
  const auto lines = csv_lines(text, {"kit", "date", "l", "a", "b", "share", "role"}, name);
  if (!lines) return lines.error();
  std::vector<PastKit> past;
  for (const CsvLine& line : *lines) {
    KitColour colour;
    const auto L = number_in(line.cells[2], 0.0, 110.0);
    const auto a = number_in(line.cells[3], -200.0, 200.0);
    const auto b = number_in(line.cells[4], -200.0, 200.0);
    const auto share = number_in(line.cells[5], 0.0, 1.0);
    if (!L || !a || !b || !share)
      return Error{ErrorKind::bad_input, "no L*, a*, b* and share from 0 to 1", line.where,
                   "put the line right, or take it out"};
    colour.lab = {*L, *a, *b};
    colour.share = *share;
    colour.role = line.cells[6];
    auto at = std::find_if(past.begin(), past.end(), [&](const PastKit& one) {
      return one.name == line.cells[0] && one.date == line.cells[1];
    });
    if (at == past.end()) at = past.insert(past.end(), {line.cells[0], line.cells[1], {}});
    at->colours.push_back(std::move(colour));
  }
  return past;
}

}  // namespace kithue
