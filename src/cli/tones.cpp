// SPDX-License-Identifier: MIT
#include "cli/tones.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "advise/tone.h"
#include "base/text.h"
#include "cli/advice.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/table.h"
#include "colour/css.h"
#include "colour/words.h"

namespace kithue {
namespace {

constexpr std::size_t kInksShown = 3;         // for each stock, where all stocks are asked for
constexpr std::size_t kMostPrints = 200'000;  // 400 stocks with 500 inks

ExitStatus print_json(Session& session, const TonePairs& found) {
  nlohmann::ordered_json data;
  data["pairs"] = nlohmann::ordered_json::array();
  for (const TonePair& pair : found.pairs) {
    data["pairs"].push_back({{"ink", pair.ink->name},
                             {"stock", pair.stock->name},
                             {"lab", lab_json(pair.print.lab)},
                             {"estimated", pair.print.estimated},
                             {"de00_error", pair.print.error},
                             {"hue_degrees", pair.hue_gap},
                             {"lightness", pair.lightness},
                             {"kind", pair.readable ? "readable" : "soft"},
                             {"ink_id", pair.ink->id},
                             {"stock_id", pair.stock->id}});
  }
  data["stocks"] = found.stocks;
  data["stocks_seen"] = found.stocks_seen;
  return answer(session, "tones", data);
}

void print_plain(Session& session, const TonePairs& found) {
  Table table{{"stock", "ink", "lab", "hue", "lightness", "kind", "estimated", "error", "contrast"}, {}};
  for (const TonePair& pair : found.pairs) {
    table.rows.push_back({cell(pair.stock->name), cell(pair.ink->name), cell(css_lab(pair.print.lab)),
                          cell(exact_number(pair.hue_gap)), cell(exact_number(pair.lightness)),
                          cell(pair.readable ? "readable" : "soft"),
                          cell(pair.print.estimated ? "estimated" : "measured"),
                          cell(exact_number(pair.print.error)), cell(exact_number(pair.print.contrast))});
  }
  print_table(session, table);
}

std::vector<Cell> row_of(const TonePair& pair, bool first_of_stock, bool why) {
  const std::string mark = pair.print.estimated ? "~ " : "";
  std::vector<Cell> row{
      first_of_stock ? colour_cell(*colour_of(*pair.stock), pair.stock->name) : cell(""),
      cell(pair.ink->name), colour_cell(pair.print.lab, mark + plain_words(pair.print.lab)),
      cell(fixed_number(std::fabs(pair.lightness), 0) + (pair.lightness < 0.0 ? " darker" : " lighter")),
      cell(pair.readable ? "readable" : "soft")};
  if (why) {
    row.push_back(cell(css_lab(pair.print.lab, 1)));
    row.push_back(number_cell(pair.hue_gap, 0));
    row.push_back(number_cell(pair.print.error, 1));
    row.push_back(number_cell(pair.print.contrast, 2));
  }
  return row;
}

void print_text(Session& session, const TonePairs& found, const TonesCommandOptions& options) {
  if (found.pairs.empty()) {
    print_wrapped(session,
                  "No ink and stock of yours make a tone-on-tone texture: within " +
                      fixed_number(options.hue, 0) + " degrees of hue and " + fixed_number(options.soft, 0) +
                      " to 45 L* apart.",
                  0);
    return;
  }
  Table table{{"stock", "ink", "print", "L* apart", "kind"}, {}};
  if (options.why) table.header.insert(table.header.end(), {"lab", "hue off", "+-", "contrast"});
  const bool all = options.all || !options.stock.empty();
  std::size_t shown = 0;
  std::size_t hidden = 0;
  const Swatch* stock = nullptr;
  for (const TonePair& pair : found.pairs) {
    const bool first = pair.stock != stock;
    shown = first ? 1 : shown + 1;
    stock = pair.stock;
    if (all || shown <= kInksShown)
      table.rows.push_back(row_of(pair, first, options.why));
    else
      ++hidden;
  }
  print_table(session, table);
  session.out << '\n';
  print_wrapped(session, "One hue, and a step in lightness that shows without shouting.", 0);
  const bool estimated = std::any_of(found.pairs.begin(), found.pairs.end(),
                                     [](const TonePair& pair) { return pair.print.estimated; });
  if (estimated)
    print_wrapped(session, "~ is predicted: stamp it on a scrap and let it dry before you settle on it.", 0);
  if (hidden > 0)
    print_wrapped(session,
                  "The " + std::to_string(kInksShown) + " nearest in hue of each stock; " +
                      std::to_string(hidden) + " more pairs with --all, or name a stock.",
                  0);
}

}  // namespace

ExitStatus run_tones(const TonesCommandOptions& options, Session& session) {
  const auto stash = open_stash(session);
  if (!stash) return fail(session, stash.error());
  const Swatch* stock = nullptr;
  if (!options.stock.empty()) {
    const auto found = resolve_colour(*stash, options.stock);
    if (!found) return fail(session, found.error());
    stock = found->swatch;
    if (stock == nullptr || stock->kind != Kind::stock) {
      return fail(session, {ErrorKind::bad_usage, "\"" + options.stock + "\" is not a stock of yours", "",
                            "name a stock, or none to look at all"});
    }
  }
  ToneWindow window;
  window.hue_degrees = options.hue;
  window.soft = options.readable ? window.readable : options.soft;
  const TonePairs found = tone_pairs(*stash, stock, window, options.all ? 0 : kMostPrints, session.executor);
  if (found.stocks_seen < found.stocks) {
    warn(session, "looked at the first " + std::to_string(found.stocks_seen) + " of " +
                      std::to_string(found.stocks) + " stocks by name; name one, or say --all");
  }
  std::vector<const Swatch*> compared;
  for (const TonePair& pair : found.pairs) compared.insert(compared.end(), {pair.ink, pair.stock});
  warn_of_conditions(session, compared);
  return present(
      session, [&] { return print_json(session, found); }, [&] { print_plain(session, found); },
      [&] { print_text(session, found, options); });
}

void add_tones(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<TonesCommandOptions>();
  command.add_option("STOCK", options->stock, "Only this stock");
  command.add_option("--hue", options->hue, "How far the print's hue may be from the stock's")
      ->type_name("DEGREES")
      ->check(CLI::Range(1.0, 90.0))
      ->capture_default_str();
  command.add_option("--soft", options->soft, "From which step in lightness it shows")
      ->type_name("L")
      ->check(CLI::Range(1.0, 45.0))
      ->capture_default_str();
  command.add_flag("--why", options->why, "Show the error and the contrast of each print");
  command.add_flag("--all", options->all, "Every ink of every stock, however many");
  command.add_flag("--readable", options->readable, "Only those that words can be read in");
  command.final_callback(
      [options, &call] { call.run = [options](Session& session) { return run_tones(*options, session); }; });
}

}  // namespace kithue
