// SPDX-License-Identifier: MIT
#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/stash_commands.h"
#include "cli/table.h"

namespace kithue {
namespace {

struct Listed {
  const Swatch* swatch;
  std::string key;
};

/// Those that pass every filter, by name, then by id.
std::vector<Listed> listed(const Stash& stash, const StashListOptions& options, std::optional<Kind> kind) {
  std::vector<Listed> rows;
  rows.reserve(stash.swatches.size());
  const std::string like = folded(options.like);
  const std::string method = folded(options.method);
  for (const Swatch& swatch : stash.swatches) {
    if (kind && swatch.kind != *kind) continue;
    if (!method.empty() && folded(swatch.method) != method) continue;
    if (!options.batch.empty() && swatch.batch != options.batch) continue;
    if ((options.retired && !swatch.retired) || (options.in_use && swatch.retired)) continue;
    std::string key = folded(swatch.name);
    if (!like.empty() && key.find(like) == std::string::npos) continue;
    rows.push_back({&swatch, std::move(key)});
  }
  std::stable_sort(rows.begin(), rows.end(), [](const Listed& x, const Listed& y) { return x.key < y.key; });
  return rows;
}

std::string state_of(const Swatch& swatch) {
  std::vector<std::string> words;
  if (swatch.retired) words.emplace_back("retired");
  if (!swatch.in_stock) words.emplace_back("used up");
  if (swatch.finish == Finish::unmeasurable) words.emplace_back("not measurable");
  if (swatch.finish == Finish::plain && swatch.readings.empty()) words.emplace_back("no reading");
  return joined(words, ", ");
}

std::vector<Cell> row_of(const Swatch& swatch) {
  const auto lab = colour_of(swatch);
  const auto number = [](std::optional<double> value, int decimals) {
    if (value) return number_cell(*value, decimals);
    Cell none = cell("-");
    none.right = true;
    return none;
  };
  Cell id = cell(std::to_string(swatch.id));
  id.right = true;
  Cell readings = cell(std::to_string(swatch.readings.size()));
  readings.right = true;
  const bool scattered = lab && swatch.readings.size() > 1;
  return {id,
          lab ? colour_cell(*lab, swatch.name) : cell(swatch.name),
          cell(std::string(word_for(swatch.kind))),
          cell(swatch.method),
          number(lab ? std::optional<double>(lab->L) : std::nullopt, 1),
          number(lab ? std::optional<double>(lab->a) : std::nullopt, 1),
          number(lab ? std::optional<double>(lab->b) : std::nullopt, 1),
          readings,
          number(scattered ? std::optional<double>(spread_of(swatch)) : std::nullopt, 2),
          cell(swatch.batch),
          cell(state_of(swatch))};
}

}  // namespace

ExitStatus run_stash_list(const StashListOptions& options, Session& session) {
  std::optional<Kind> kind;
  if (!options.kind.empty()) {
    kind = kind_from(folded(options.kind));
    if (!kind)
      return fail(session,
                  {ErrorKind::bad_usage, "no such kind: " + options.kind, "", "stock, ink or other"});
  }
  const auto stash = open_stash(session);
  if (!stash) return fail(session, stash.error());
  const auto rows = listed(*stash, options, kind);
  if (session.mode == Mode::json) {
    auto swatches = nlohmann::ordered_json::array();
    for (const Listed& row : rows) swatches.push_back(swatch_json(*row.swatch));
    nlohmann::ordered_json data;
    data["swatches"] = std::move(swatches);
    return answer(session, "stash list", data);
  }
  if (rows.empty() && session.mode == Mode::text) {
    if (!stash->swatches.empty()) hint(session, "no swatch is like that; 'kithue stash list' shows all");
    return ExitStatus::done;
  }
  Table table{{"id", "name", "kind", "method", "L", "a", "b", "readings", "spread", "batch", "state"}, {}};
  for (const Listed& row : rows) table.rows.push_back(row_of(*row.swatch));
  print_table(session, table);
  hint(session, std::to_string(rows.size()) + (rows.size() == 1 ? " swatch" : " swatches"));
  return ExitStatus::done;
}

void add_stash_list(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<StashListOptions>();
  command.add_option("--kind", options->kind, "Only stock, ink or other")->type_name("KIND");
  command.add_option("--method", options->method, "Only inks put on this way")->type_name("TEXT");
  command.add_option("--batch", options->batch, "Only this dye lot or delivery")->type_name("TEXT");
  command.add_option("--like", options->like, "Only names with this in them")->type_name("TEXT");
  CLI::Option* const retired = command.add_flag("--retired", options->retired, "Only retired ones");
  command.add_flag("--in-use", options->in_use, "Only those not retired")->excludes(retired);
  call.run = [options](Session& session) { return run_stash_list(*options, session); };
}

}  // namespace kithue
