// SPDX-License-Identifier: MIT
#include "cli/clash_learn.h"

#include <cstddef>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>
#include <utility>
#include <vector>

#include "advise/learn.h"
#include "base/files.h"
#include "base/text.h"
#include "cli/stash_access.h"
#include "cli/table.h"
#include "swatch/csv.h"

namespace kithue {
namespace {

constexpr std::size_t kMostVerdictBytes = 16 << 20;

struct Columns {
  std::size_t a = 0;
  std::size_t b = 0;
  std::size_t verdict = 0;
};

std::optional<Columns> columns_of(const Csv& csv) {
  if (csv.records.empty()) return std::nullopt;
  const CsvRecord& header = csv.records.front();
  const auto find = [&](std::string_view name) -> std::optional<std::size_t> {
    for (std::size_t i = 0; i < header.count; ++i) {
      if (folded(csv.text(header, i)) == name) return i;
    }
    return std::nullopt;
  };
  const auto a = find("a");
  const auto b = find("b");
  const auto verdict = find("verdict");
  if (!a || !b || !verdict) return std::nullopt;
  return Columns{*a, *b, *verdict};
}

Result<LabelledPair> pair_in(const Csv& csv, const CsvRecord& record, const Columns& columns,
                             const Stash& stash) {
  const auto cell_at = [&](std::size_t i) { return i < record.count ? csv.text(record, i) : std::string(); };
  const std::string verdict = folded(cell_at(columns.verdict));
  if (verdict != "goes" && verdict != "clashes") {
    return Error{ErrorKind::bad_input, "the verdict is \"" + cell_at(columns.verdict) + "\"", "",
                 "write goes or clashes"};
  }
  auto a = resolve_colour(stash, cell_at(columns.a));
  if (!a) return a.error();
  auto b = resolve_colour(stash, cell_at(columns.b));
  if (!b) return b.error();
  return LabelledPair{*std::move(a), *std::move(b), verdict == "clashes"};
}

Result<std::vector<LabelledPair>> pairs_in(const std::string& file, const Stash& stash) {
  auto bytes = read_file(file, kMostVerdictBytes);
  if (!bytes) return bytes.error();
  const auto text = utf8_from(*std::move(bytes), file);
  if (!text) return text.error();
  for (const char separator : {',', ';', '\t'}) {
    const auto csv = parse_csv(*text, separator, 0, file);
    if (!csv) return csv.error();
    const auto columns = columns_of(*csv);
    if (!columns) continue;
    std::vector<LabelledPair> pairs;
    for (std::size_t i = 1; i < csv->records.size(); ++i) {
      auto pair = pair_in(*csv, csv->records[i], *columns, stash);
      if (!pair) {
        Error error = pair.error();
        error.where = file + ":" + std::to_string(csv->records[i].line);
        return error;
      }
      pairs.push_back(*std::move(pair));
    }
    return pairs;
  }
  return Error{ErrorKind::bad_input, "the first line does not name the columns a, b and verdict", file + ":1",
               "as in: a,b,verdict"};
}

std::vector<std::string> limits_of(const Bands& bands) {
  return {exact_number(bands.same), exact_number(bands.match), exact_number(bands.near_miss),
          exact_number(bands.step)};
}

std::string bands_text(const Bands& bands) {
  return joined(limits_of(bands), ",");
}

/// Limits a person would write: two decimals are more than the data can tell.
Bands rounded(Bands bands) {
  const auto two = [](double value) { return *parse_number(fixed_number(value, 2)); };
  bands.same = two(bands.same);
  bands.match = two(bands.match);
  bands.near_miss = two(bands.near_miss);
  bands.step = two(bands.step);
  return bands;
}

}  // namespace

ExitStatus run_clash_learn(const std::string& file, const Bands& start, Session& session) {
  const auto stash = open_stash_for(session, {});  // the pairs may be colours of no stash
  if (!stash) return fail(session, stash.error());
  const auto pairs = pairs_in(file, *stash);
  if (!pairs) return fail(session, pairs.error());
  const LearnedBands learned = learn_bands(*pairs, start);
  if (!learned.too_few.empty()) {
    return fail(session, {ErrorKind::impossible, "too little to learn from: " + learned.too_few, file,
                          "judge more pairs of your own stocks"});
  }
  const Bands bands = rounded(learned.bands);
  const std::string of = " of " + counted(pairs->size(), "pair");
  return present(
      session,
      [&] {
        nlohmann::ordered_json data;
        data["learned"] = {{"pairs", pairs->size()},
                           {"agree_before", learned.agree_before},
                           {"agree_after", learned.agree_after},
                           {"agree_unseen", learned.agree_unseen},
                           {"bands", {bands.same, bands.match, bands.near_miss, bands.step}}};
        return answer(session, "clash", data);
      },
      [&] {
        print_table(session,
                    {{"pairs", "agree_before", "agree_after", "agree_unseen", "bands"},
                     {{cell(std::to_string(pairs->size())), cell(std::to_string(learned.agree_before)),
                       cell(std::to_string(learned.agree_after)), cell(std::to_string(learned.agree_unseen)),
                       cell(bands_text(bands))}}});
      },
      [&] {
        session.out << "Before: agrees with you on " << learned.agree_before << of << ".\n"
                    << "Learned: on " << learned.agree_after << "; on pairs it had not seen, "
                    << learned.agree_unseen << ".\n"
                    << "Use them with --bands " << bands_text(bands) << '\n'
                    << "or in the kit file: bands = [" << joined(limits_of(bands), ", ") << "]\n";
      });
}

}  // namespace kithue
