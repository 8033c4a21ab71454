// SPDX-License-Identifier: MIT
#include "cli/standin.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "advise/standin.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/table.h"
#include "colour/css.h"
#include "colour/words.h"

namespace kithue {
namespace {

struct Answer {
  NamedColour missing;
  std::vector<StandIn> standins;
  std::vector<const Swatch*> left_out;
  double limit = 0.0;
};

nlohmann::ordered_json standin_json(const StandIn& standin) {
  nlohmann::ordered_json json = match_json(standin.match);
  json["near_misses"] = standin.near_misses;
  json["good"] = standin.good;
  return json;
}

ExitStatus print_json(Session& session, const Answer& found) {
  nlohmann::ordered_json data;
  data["missing"] = {{"name", found.missing.name}, {"lab", lab_json(found.missing.lab)}};
  data["limit"] = found.limit;
  data["standins"] = nlohmann::ordered_json::array();
  for (const StandIn& standin : found.standins) data["standins"].push_back(standin_json(standin));
  data["left_out"] = left_out_json(found.left_out);
  return answer(session, "standin", data);
}

void print_plain(Session& session, const Answer& found) {
  Table table{{"name", "kind", "method", "id", "lab", "de00", "verdict", "words", "near_misses", "good"}, {}};
  for (const StandIn& one : found.standins) {
    const Match& match = one.match;
    table.rows.push_back({cell(match.swatch->name), cell(std::string(word_for(match.swatch->kind))),
                          cell(match.swatch->method), cell(std::to_string(match.swatch->id)),
                          cell(css_lab(match.lab)), cell(exact_number(match.de00)),
                          cell(std::string(word_for(match.verdict))), cell(match.words),
                          cell(joined(one.near_misses, "; ")), cell(one.good ? "yes" : "no")});
  }
  print_table(session, table);
}

void print_text(Session& session, const Answer& found) {
  const std::string block = colour_block(session.paint, found.missing.lab, 4);
  session.out << "In place of " << (block.empty() ? "" : block + " ") << printable(found.missing.name) << ", "
              << plain_words(found.missing.lab) << "\n\n";
  if (found.standins.empty()) {
    session.out << "Nothing else in the stash could stand in.\n";
    return print_left_out(session, found.left_out);
  }
  if (!found.standins.front().good) {
    print_wrapped(
        session,
        "No good stand-in: nothing within " + fixed_number(found.limit, 1) + ". The nearest are:", 0);
  }
  const bool any_clash = std::any_of(found.standins.begin(), found.standins.end(),
                                     [](const StandIn& one) { return !one.near_misses.empty(); });
  Table table{{"stand-in", "kind", "dE00", "how it differs"}, {}};
  if (any_clash) table.header.emplace_back("would clash with");
  for (const StandIn& one : found.standins) {
    std::vector<Cell> row{colour_cell(one.match.lab, one.match.swatch->name),
                          cell(kind_and_method(*one.match.swatch)), number_cell(one.match.de00, 2),
                          cell(one.match.words)};
    if (any_clash) row.push_back(cell(joined(one.near_misses, ", ")));
    table.rows.push_back(std::move(row));
  }
  print_table(session, table);
  session.out << '\n';
  if (found.standins.back().match.de00 > kOrdersOnlyAbove) print_orders_only(session);
  print_left_out(session, found.left_out);
}

}  // namespace

ExitStatus run_standin(const StandInCommandOptions& options, Session& session) {
  const auto bands = bands_from(options.bands);
  if (!bands) return fail(session, bands.error());
  const auto stash = open_stash(session);
  if (!stash) return fail(session, stash.error());
  const auto missing = resolve_colour(*stash, options.name);
  if (!missing) return fail(session, missing.error());
  const auto kit = resolve_colours(*stash, options.with);
  if (!kit) return fail(session, kit.error());
  StandInOptions how{options.count, kind_from(options.kind), options.limit};
  if (!how.kind && missing->swatch != nullptr) how.kind = missing->swatch->kind;
  Answer found{*missing, stand_ins(*stash, *missing, *kit, how, *bands), {}, options.limit};
  found.left_out = left_out_of_match(*stash, *missing, {0, how.kind, false});
  if (session.mode == Mode::json) return print_json(session, found);
  if (session.mode == Mode::plain) {
    print_plain(session, found);
  } else {
    print_text(session, found);
  }
  return ExitStatus::done;
}

void add_standin(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<StandInCommandOptions>();
  command.add_option("NAME", options->name, "The missing swatch by name or id, or a colour")->required();
  command.add_option("-n,--count", options->count, "How many to show")
      ->type_name("N")
      ->check(CLI::Range(1, 1000000))
      ->capture_default_str();
  command.add_option("--with", options->with, "The kit's other colours: marks what would clash with them")
      ->type_name("NAME")
      ->allow_extra_args(false);
  command.add_option("--kind", options->kind, "Only this kind (else the kind of the missing swatch)")
      ->type_name("KIND")
      ->check(CLI::IsMember({"stock", "ink", "other"}));
  command.add_option("--limit", options->limit, "Above this distance there is no good stand-in")
      ->type_name("DE00")
      ->check(CLI::Range(0.0, 1000.0))
      ->capture_default_str();
  add_band_option(command, options->bands);
  command.final_callback([options, &call] {
    call.run = [options](Session& session) { return run_standin(*options, session); };
  });
}

}  // namespace kithue
