// SPDX-License-Identifier: MIT
#include "cli/standin.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>
#include <utility>

#include "advise/standin.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/student_range.h"
#include "cli/table.h"
#include "colour/css.h"
#include "colour/words.h"

namespace kithue {
namespace {

struct StandinAnswer {
  std::vector<NamedColour> missing;
  std::vector<std::vector<StandIn>>
      standins;  ///< for each missing colour, nearest first; at most one of several
  std::vector<const Swatch*> left_out;
  double limit = 0.0;
  Bands bands;
};

nlohmann::ordered_json standin_json(const StandIn& standin) {
  nlohmann::ordered_json json = match_json(standin.match);
  json["near_misses"] = standin.near_misses;
  json["good"] = standin.good;
  return json;
}

ExitStatus print_json(Session& session, const StandinAnswer& found) {
  nlohmann::ordered_json data;
  data["missing"] = nlohmann::ordered_json::array();
  for (const NamedColour& one : found.missing) {
    data["missing"].push_back({{"name", one.name}, {"lab", lab_json(one.lab)}});
  }
  data["limit"] = found.limit;
  data["standins"] = nlohmann::ordered_json::array();
  for (std::size_t i = 0; i < found.missing.size(); ++i) {
    for (const StandIn& standin : found.standins[i]) {
      data["standins"].push_back(standin_json(standin));
      data["standins"].back()["for"] = found.missing[i].name;
    }
    if (found.standins[i].empty()) {
      data["standins"].push_back({{"name", nullptr},
                                  {"good", false},
                                  {"near_misses", nlohmann::ordered_json::array()},
                                  {"for", found.missing[i].name}});
    }
  }
  data["left_out"] = left_out_json(found.left_out);
  return answer(session, "standin", data);
}

void print_plain(Session& session, const StandinAnswer& found) {
  Table table{
      {"for", "name", "kind", "method", "id", "lab", "de00", "verdict", "words", "near_misses", "good"}, {}};
  for (std::size_t i = 0; i < found.missing.size(); ++i) {
    const std::string& name = found.missing[i].name;
    for (const StandIn& one : found.standins[i]) {
      const Match& match = one.match;
      table.rows.push_back(
          {cell(name), cell(match.swatch->name), cell(std::string(word_for(match.swatch->kind))),
           cell(match.swatch->method), cell(std::to_string(match.swatch->id)), cell(css_lab(match.lab)),
           cell(exact_number(match.de00)), cell(std::string(word_for(match.verdict))), cell(match.words),
           cell(joined(one.near_misses, "; ")), cell(one.good ? "yes" : "no")});
    }
    if (found.standins[i].empty()) {
      table.rows.push_back({cell(name), cell(""), cell(""), cell(""), cell(""), cell(""), cell(""), cell(""),
                            cell(""), cell(""), cell("no")});
    }
  }
  print_table(session, table);
}

/// One line a missing colour, for several.
void print_pairs(Session& session, const StandinAnswer& found) {
  Table table{{"in place of", "use", "kind", "dE00", "how it differs", "would clash with"}, {}};
  for (std::size_t i = 0; i < found.missing.size(); ++i) {
    const Cell gone = colour_cell(found.missing[i].lab, found.missing[i].name);
    if (found.standins[i].empty() || !found.standins[i].front().good) {
      const std::string near =
          found.standins[i].empty() ? "" : "nearest: " + found.standins[i].front().match.swatch->name;
      table.rows.push_back(
          {gone, cell("no good stand-in"), cell(""),
           number_cell(found.standins[i].empty() ? NAN : found.standins[i].front().match.de00, 2), cell(near),
           cell("")});
      continue;
    }
    const StandIn& one = found.standins[i].front();
    table.rows.push_back({gone, colour_cell(one.match.lab, one.match.swatch->name),
                          cell(kind_and_method(*one.match.swatch)), number_cell(one.match.de00, 2),
                          cell(one.match.words), cell(joined(one.near_misses, ", "))});
  }
  print_table(session, table);
  session.out << '\n';
  print_left_out(session, found.left_out);
}

/// What the numbers leave open between the first two, and what would settle it.
void print_how_sure(Session& session, const std::vector<StandIn>& standins) {
  if (standins.size() < 2) return;
  const Match& first = standins[0].match;
  const Match& second = standins[1].match;
  const double error = std::max(first.uncertainty, second.uncertainty);
  if (second.de00 - first.de00 >= error) return;
  print_wrapped(session,
                first.swatch->name + " and " + second.swatch->name +
                    " are equally near as far as the readings can tell (to about " + fixed_number(error, 1) +
                    "): hold both against it, or read them again.",
                0);
}

void print_text(Session& session, const StandinAnswer& found, bool why) {
  if (found.missing.size() > 1) return print_pairs(session, found);
  const NamedColour& missing = found.missing.front();
  const std::vector<StandIn>& standins = found.standins.front();
  const std::string block = colour_block(session.paint, missing.lab, 4);
  session.out << "In place of " << (block.empty() ? "" : block + " ") << printable(missing.name) << ", "
              << plain_words(missing.lab) << "\n\n";
  if (standins.empty()) {
    session.out << "Nothing else could stand in.\n";
    return print_left_out(session, found.left_out);
  }
  if (!standins.front().good) {
    print_wrapped(
        session,
        "No good stand-in: nothing within " + fixed_number(found.limit, 1) + ". The nearest are:", 0);
  }
  const bool any_clash = std::any_of(standins.begin(), standins.end(),
                                     [](const StandIn& one) { return !one.near_misses.empty(); });
  Table table{{"stand-in", "kind", "dE00", "how it differs"}, {}};
  if (why) table.header.insert(table.header.begin() + 3, {"+-", "light", "chroma", "hue"});
  if (any_clash) table.header.emplace_back("would clash with");
  for (const StandIn& one : standins) {
    std::vector<Cell> row{colour_cell(one.match.lab, one.match.swatch->name),
                          cell(kind_and_method(*one.match.swatch)), number_cell(one.match.de00, 2),
                          cell(one.match.words)};
    if (why) insert_terms(row, missing, one.match);
    if (any_clash) row.push_back(cell(joined(one.near_misses, ", ")));
    table.rows.push_back(std::move(row));
  }
  print_table(session, table);
  session.out << '\n';
  if (standins.front().good && !standins.back().good) {
    print_wrapped(session, "Over " + fixed_number(found.limit, 1) + " it is no good stand-in.", 0);
  }
  print_how_sure(session, standins);
  if (why) print_limits(session, found.bands);
  if (standins.back().match.de00 > kOrdersOnlyAbove) print_orders_only(session);
  print_left_out(session, found.left_out);
}

/// The nearest for each name by itself.
std::vector<std::vector<StandIn>> nearest_each(const Stash& range, const std::vector<NamedColour>& missing,
                                               const std::vector<NamedColour>& kit, const StandInOptions& how,
                                               const Bands& bands) {
  std::vector<std::vector<StandIn>> all;
  for (const NamedColour& one : missing) all.push_back(stand_ins(range, one, kit, how, bands));
  return all;
}

std::vector<std::vector<StandIn>> one_to_one(const Stash& range, const std::vector<NamedColour>& missing,
                                             const std::vector<NamedColour>& kit, const StandInOptions& how,
                                             const Bands& bands) {
  std::vector<std::vector<StandIn>> all;
  for (auto& one : stand_ins_one_to_one(range, missing, kit, how, bands)) {
    all.emplace_back();
    if (one) all.back().push_back(*std::move(one));
  }
  return all;
}

/// The kind that was asked for, else that of the missing swatches when they are all of one.
std::optional<Kind> kind_wanted(const StandInCommandOptions& options,
                                const std::vector<NamedColour>& missing) {
  if (auto kind = kind_from(options.kind)) return kind;
  std::optional<Kind> kind;
  for (const NamedColour& one : missing) {
    if (one.swatch == nullptr || (kind && *kind != one.swatch->kind)) return std::nullopt;
    kind = one.swatch->kind;
  }
  return kind;
}

}  // namespace

ExitStatus run_standin(const StandInCommandOptions& options, Session& session) {
  const auto bands = bands_from(options.bands);
  if (!bands) return fail(session, bands.error());
  std::vector<std::string> named = options.names;
  named.insert(named.end(), options.with.begin(), options.with.end());
  const auto stash = options.list.empty() ? open_stash(session) : open_stash_for(session, named);
  if (!stash) return fail(session, stash.error());
  const auto missing = resolve_colours(*stash, options.names);
  if (!missing) return fail(session, missing.error());
  auto kit = resolve_colours(*stash, options.with);
  if (!kit) return fail(session, kit.error());
  StandInOptions how{options.count, kind_wanted(options, *missing), options.limit};
  std::optional<Stash> student;
  if (!options.list.empty()) {
    auto range = read_student_range(options.list, how.kind.value_or(Kind::ink), options.white, session);
    if (!range) return fail(session, range.error());
    student = *std::move(range);
  }
  const Stash& range = student ? *student : *stash;
  StandinAnswer found{*missing, {}, {}, options.limit, *bands};
  const bool several = missing->size() > 1;
  if (several) how.count = 1;
  found.standins = several && !options.shared ? one_to_one(range, *missing, *kit, how, *bands)
                                              : nearest_each(range, *missing, *kit, how, *bands);
  std::vector<NamedColour> compared = *missing;
  compared.insert(compared.end(), kit->begin(), kit->end());
  for (const auto& offers : found.standins) {
    for (const StandIn& one : offers)
      compared.push_back({one.match.swatch->name, one.match.lab, 0.0, one.match.swatch});
  }
  warn_of_conditions(session, compared);
  found.left_out = left_out_of_match(range, missing->front(), {0, how.kind, false});
  return present(
      session, [&] { return print_json(session, found); }, [&] { print_plain(session, found); },
      [&] { print_text(session, found, options.why); });
}

void add_standin(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<StandInCommandOptions>();
  command.add_option("NAMES", options->names, "The missing swatch by name or id, or a colour; or several")
      ->required()
      ->expected(1, 1000);
  command.add_option("--for", options->list, "A student's range as CSV or CGATS, instead of the stash")
      ->type_name("LIST");
  command.add_option("--white", options->white, "The white of the list's numbers, as in D65/10")
      ->type_name("WHITE");
  command.add_flag("--why", options->why, "Show the parts of the distance");
  command.add_flag("--shared", options->shared, "Several names may have the same stand-in");
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
