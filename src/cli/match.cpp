// SPDX-License-Identifier: MIT
#include "cli/match.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "advise/match.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/table.h"
#include "colour/css.h"
#include "colour/words.h"

namespace kithue {
namespace {

struct MatchAnswer {
  NamedColour wanted;
  std::vector<Match> matches;
  std::vector<const Swatch*> left_out;
  Bands bands;
};

ExitStatus print_json(Session& session, const MatchAnswer& found) {
  nlohmann::ordered_json data;
  data["wanted"] = {{"name", found.wanted.name},
                    {"lab", lab_json(found.wanted.lab)},
                    {"words", plain_words(found.wanted.lab)}};
  data["matches"] = nlohmann::ordered_json::array();
  for (const Match& match : found.matches) data["matches"].push_back(match_json(match));
  data["left_out"] = left_out_json(found.left_out);
  return answer(session, "match", data);
}

void print_plain(Session& session, const MatchAnswer& found) {
  Table table{{"name", "kind", "method", "id", "lab", "de00", "verdict", "words"}, {}};
  for (const Match& match : found.matches) {
    table.rows.push_back({cell(match.swatch->name), cell(std::string(word_for(match.swatch->kind))),
                          cell(match.swatch->method), cell(std::to_string(match.swatch->id)),
                          cell(css_lab(match.lab)), cell(exact_number(match.de00)),
                          cell(std::string(word_for(match.verdict))), cell(match.words)});
  }
  print_table(session, table);
}

void print_text(Session& session, const MatchAnswer& found, bool why) {
  const std::string block = colour_block(session.paint, found.wanted.lab, 4);
  session.out << (block.empty() ? "" : block + " ") << printable(found.wanted.name) << ", "
              << plain_words(found.wanted.lab) << "\n\n";
  if (found.matches.empty()) {
    session.out << "Nothing in the stash to match it with.\n";
    return print_left_out(session, found.left_out);
  }
  Table table{{"swatch", "kind", "dE00", "verdict", "how it differs"}, {}};
  if (why) table.header.insert(table.header.begin() + 3, {"+-", "light", "chroma", "hue"});
  for (const Match& match : found.matches) {
    std::vector<Cell> row{colour_cell(match.lab, match.swatch->name), cell(kind_and_method(*match.swatch)),
                          number_cell(match.de00, 2), cell(std::string(word_for(match.verdict))),
                          cell(match.words)};
    if (why) insert_terms(row, found.wanted, match);
    table.rows.push_back(std::move(row));
  }
  print_table(session, table);
  if (why) {
    session.out << '\n';
    print_limits(session, found.bands);
  }
  if (std::any_of(found.matches.begin(), found.matches.end(),
                  [](const Match& match) { return match.de00 > kOrdersOnlyAbove; })) {
    if (!why) session.out << '\n';
    print_orders_only(session);
  }
  if (std::any_of(found.matches.begin(), found.matches.end(),
                  [](const Match& match) { return match.verdict == Verdict::unsure; })) {
    print_wrapped(session, "unsure: the readings are too far apart, or too rough, to say; measure again.", 0);
  }
  print_left_out(session, found.left_out);
}

}  // namespace

ExitStatus run_match(const MatchCommandOptions& options, Session& session) {
  const auto bands = bands_from(options.bands);
  if (!bands) return fail(session, bands.error());
  const auto stash = open_stash(session);
  if (!stash) return fail(session, stash.error());
  MatchAnswer found;
  found.bands = *bands;
  auto wanted = resolve_colour(*stash, options.colour);
  if (!wanted) return fail(session, wanted.error());
  found.wanted = *std::move(wanted);
  const MatchOptions how{options.count, kind_from(options.kind), options.all};
  found.matches = nearest_swatches(*stash, found.wanted, how, *bands);
  found.left_out = left_out_of_match(*stash, found.wanted, how);
  std::vector<const Swatch*> compared{found.wanted.swatch};
  for (const Match& match : found.matches) compared.push_back(match.swatch);
  warn_of_conditions(session, compared, found.wanted.swatch == nullptr);
  return present(
      session, [&] { return print_json(session, found); }, [&] { print_plain(session, found); },
      [&] { print_text(session, found, options.why); });
}

void add_match(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<MatchCommandOptions>();
  command
      .add_option("COLOUR", options->colour, "A swatch by name or id, or a colour such as \"lab(52 43 21)\"")
      ->required();
  command.add_option("-n,--count", options->count, "How many to show")
      ->type_name("N")
      ->check(CLI::Range(1, 1000000))
      ->capture_default_str();
  command.add_option("--kind", options->kind, "Only this kind")
      ->type_name("KIND")
      ->check(CLI::IsMember({"stock", "ink", "other"}));
  command.add_flag("--all", options->all, "Offer retired and out-of-stock swatches too");
  command.add_flag("--why", options->why, "Show the parts of the distance");
  add_band_option(command, options->bands);
  command.final_callback(
      [options, &call] { call.run = [options](Session& session) { return run_match(*options, session); }; });
}

}  // namespace kithue
