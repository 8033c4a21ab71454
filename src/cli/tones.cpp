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

namespace kithue {
namespace {

ExitStatus print_json(Session& session, const std::vector<TonePair>& pairs) {
  nlohmann::ordered_json data;
  data["pairs"] = nlohmann::ordered_json::array();
  for (const TonePair& pair : pairs) {
    data["pairs"].push_back({{"ink", pair.ink->name},
                             {"stock", pair.stock->name},
                             {"lab", lab_json(pair.print.lab)},
                             {"estimated", pair.print.estimated},
                             {"de00_error", pair.print.error},
                             {"hue_degrees", pair.hue_gap},
                             {"lightness", pair.lightness},
                             {"kind", pair.readable ? "readable" : "soft"}});
  }
  return answer(session, "tones", data);
}

void print_rows(Session& session, const std::vector<TonePair>& pairs, bool why) {
  const bool plain = session.mode == Mode::plain;
  Table table{{"stock", "ink", plain ? "lab" : "print", "hue", "lightness", "kind"}, {}};
  if (why) table.header.insert(table.header.end(), {"+-", "contrast"});
  for (const TonePair& pair : pairs) {
    const std::string mark = pair.print.estimated ? "~ " : "";
    table.rows.push_back({colour_cell(*colour_of(*pair.stock), pair.stock->name), cell(pair.ink->name),
                          colour_cell(pair.print.lab, mark + css_lab(pair.print.lab, plain ? -1 : 0)),
                          number_cell(pair.hue_gap, plain ? 6 : 0),
                          number_cell(pair.lightness, plain ? 6 : 0),
                          cell(pair.readable ? "readable" : "soft")});
    if (why) {
      table.rows.back().push_back(number_cell(pair.print.error, 1));
      table.rows.back().push_back(number_cell(pair.print.contrast, 2));
    }
  }
  print_table(session, table);
  if (plain) return;
  const bool estimated =
      std::any_of(pairs.begin(), pairs.end(), [](const TonePair& pair) { return pair.print.estimated; });
  session.out << '\n';
  print_wrapped(session, "One hue, and a step in lightness that shows without shouting.", 0);
  if (estimated)
    print_wrapped(session, "~ is predicted: stamp it on a scrap and let it dry before you settle on it.", 0);
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
  const std::vector<TonePair> pairs = tone_pairs(*stash, stock, window);
  if (session.mode == Mode::json) return print_json(session, pairs);
  if (pairs.empty() && session.mode == Mode::text) {
    session.out << "No ink and stock of yours make a tone-on-tone texture.\n";
    return ExitStatus::done;
  }
  print_rows(session, pairs, options.why);
  return ExitStatus::done;
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
  command.add_flag("--readable", options->readable, "Only those that words can be read in");
  command.final_callback(
      [options, &call] { call.run = [options](Session& session) { return run_tones(*options, session); }; });
}

}  // namespace kithue
