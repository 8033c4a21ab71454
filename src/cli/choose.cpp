// SPDX-License-Identifier: MIT
#include "cli/choose.h"

#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>
#include <utility>

#include "advise/choose.h"
#include "advise/match.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/kit_faces.h"
#include "cli/stash_access.h"
#include "cli/table.h"
#include "kit/coordinate.h"

namespace kithue {
namespace {

Result<std::vector<const Swatch*>> swatches_named(const Stash& stash, const std::vector<std::string>& names,
                                                  Kind kind, const std::string& where) {
  const auto found = named_coordinates(stash, names, kind, where);
  if (!found) return found.error();
  std::vector<const Swatch*> swatches;
  for (const Coordinate& one : *found) swatches.push_back(one.swatch);
  return swatches;
}

Result<std::vector<NamedColour>> base_colours(const Stash& stash, const Kit& kit, const std::string& where) {
  const auto swatches = swatches_named(stash, kit.base, Kind::stock, where);
  if (!swatches) return swatches.error();
  std::vector<NamedColour> bases;
  for (const Swatch* swatch : *swatches) {
    auto colour = named_colour_of(*swatch);
    if (!colour) {
      return Error{ErrorKind::impossible, "the base \"" + swatch->name + "\" has no number to judge by",
                   where, "measure it, or take it out of base"};
    }
    bases.push_back(*std::move(colour));
  }
  return bases;
}

std::vector<ChooseFace> faces_of(const Kit& kit, const std::vector<std::vector<KitColour>>& colours) {
  std::vector<ChooseFace> faces;
  for (std::size_t f = 0; f < kit.faces.size(); ++f) {
    ChooseFace face{kit.faces[f].label, {}};
    for (const KitColour& colour : colours[f]) {
      face.colours.push_back({colour.lab, colour.share, colour.role == "ground", colour.role == "accent"});
    }
    faces.push_back(std::move(face));
  }
  return faces;
}

Result<ChooseRequest> request_for(const ChooseCommandOptions& options, const Kit& kit, const Stash& stash,
                                  Session& session) {
  ChooseRequest request;
  const Kind kind = options.kind == "stock" ? Kind::stock : Kind::ink;
  const KitRange& range = kind == Kind::stock ? kit.stocks : kit.inks;
  const auto play = in_play(stash, range, kind, options.kit);
  if (!play) return play.error();
  request.candidates = play->swatches;
  const auto must = swatches_named(stash, range.must, kind, options.kit);
  if (!must) return must.error();
  request.must = *must;
  const auto never = swatches_named(stash, range.never, kind, options.kit);
  if (!never) return never.error();
  request.never = *never;
  if (kind == Kind::ink) {
    auto bases = base_colours(stash, kit, options.kit);
    if (!bases) return bases.error();
    request.bases = *std::move(bases);
  }
  request.sentiment = options.sentiment == "bold" ? Reads::bold : Reads::fine;
  request.within = options.within;
  request.count = options.count > 0 ? options.count : static_cast<std::size_t>(std::max(range.choose, 0));
  if (options.fewest) request.count = 0;
  const auto colours = face_colours(kit, options.kit, session);
  if (!colours) return colours.error();
  request.faces = faces_of(kit, *colours);
  return request;
}

nlohmann::ordered_json names_json(const std::vector<const Swatch*>& swatches) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const Swatch* swatch : swatches) list.push_back(swatch->name);
  return list;
}

ExitStatus print_json(Session& session, const Choice& choice) {
  nlohmann::ordered_json data;
  data["inks"] = nlohmann::ordered_json::array();
  for (const ChosenOne& one : choice.chosen) data["inks"].push_back(one.swatch->name);
  data["cost"] = choice.cost;
  data["proved"] = choice.proved;
  data["bound"] = choice.bound;
  data["faces"] = nlohmann::ordered_json::array();
  for (const FaceFit& face : choice.faces) {
    data["faces"].push_back({{"label", face.label},
                             {"nearest", face.nearest != nullptr ? face.nearest->name : std::string()},
                             {"de00", face.nearest != nullptr ? nlohmann::ordered_json(face.de00) : nullptr},
                             {"cost", face.cost},
                             {"covered", face.covered}});
  }
  data["runner_up"] = nullptr;
  if (!choice.runner_up.empty()) {
    data["runner_up"] = {{"inks", names_json(choice.runner_up)},
                         {"cost", choice.runner_up_cost},
                         {"proved", choice.runner_up_proved}};
  }
  data["each"] = nlohmann::ordered_json::array();
  for (const ChosenOne& one : choice.chosen) {
    nlohmann::ordered_json json{
        {"id", one.swatch->id},     {"name", one.swatch->name}, {"method", one.swatch->method},
        {"lab", lab_json(one.lab)}, {"must", one.must},         {"nearest_for", one.nearest_for},
        {"reads_on", one.reads_on}};
    json["cost_without"] = one.cost_without ? nlohmann::ordered_json(*one.cost_without) : nullptr;
    data["each"].push_back(std::move(json));
  }
  data["left_out"] = left_out_json(choice.without_number);
  return answer(session, "choose", data);
}

void print_plain(Session& session, const Choice& choice) {
  Table table{{"name", "id", "method", "nearest_for", "reads_on", "cost_without"}, {}};
  for (const ChosenOne& one : choice.chosen) {
    table.rows.push_back({cell(one.swatch->name), cell(std::to_string(one.swatch->id)),
                          cell(one.swatch->method), cell(joined(one.nearest_for, " ")),
                          cell(joined(one.reads_on, "; ")),
                          cell(one.cost_without ? exact_number(*one.cost_without) : "")});
  }
  print_table(session, table);
}

/// "for the words on Sailcloth, and nearest on 1A, 2B".
std::string purpose_of(const ChosenOne& one) {
  std::vector<std::string> parts;
  if (one.must) parts.emplace_back("a must");
  if (!one.reads_on.empty()) parts.push_back("words on " + joined(one.reads_on, ", "));
  if (!one.nearest_for.empty()) parts.push_back("faces " + joined(one.nearest_for, ", "));
  return parts.empty() ? "nothing the others do not do" : joined(parts, "; ");
}

void print_text(Session& session, const Choice& choice) {
  Table table{{"chosen", "kind", "without it", "what it is there for"}, {}};
  for (const ChosenOne& one : choice.chosen) {
    table.rows.push_back({colour_cell(one.lab, one.swatch->name), cell(kind_and_method(*one.swatch)),
                          one.cost_without ? number_cell(*one.cost_without, 2) : cell("-"),
                          cell(purpose_of(one))});
  }
  print_table(session, table);
  session.out << '\n';
  const std::string how = choice.proved ? "Proved: no other set that keeps the rules is nearer."
                                        : "The best found; a better one could reach " +
                                              fixed_number(choice.bound, 2) + " at most.";
  print_wrapped(session, "Mean distance to the pack's colours " + fixed_number(choice.cost, 2) + ". " + how,
                0);
  if (!choice.runner_up.empty()) {
    std::vector<std::string> names;
    for (const Swatch* swatch : choice.runner_up) names.push_back(swatch->name);
    print_wrapped(session,
                  "Runner-up, " + fixed_number(choice.runner_up_cost, 2) + ": " + joined(names, ", ") + ".",
                  0);
  }
  session.out << '\n';
  Table faces{{"face", "nearest", "dE00", "mean"}, {}};
  std::vector<std::string> uncovered;
  for (const FaceFit& face : choice.faces) {
    faces.rows.push_back({cell(face.label), cell(face.nearest != nullptr ? face.nearest->name : "-"),
                          number_cell(face.de00, 2), number_cell(face.cost, 2)});
    if (!face.covered) uncovered.push_back(face.label);
  }
  print_table(session, faces);
  if (!uncovered.empty()) {
    print_wrapped(session, "A colour with nothing near it (over 12) on: " + joined(uncovered, ", ") + ".", 0);
  }
  print_left_out(session, choice.without_number);
}

}  // namespace

ExitStatus run_choose(const ChooseCommandOptions& options, Session& session) {
  const auto kit = open_kit(options.kit, session);
  if (!kit) return fail(session, kit.error());
  const auto bands = bands_from(options.bands, kit->bands);
  if (!bands) return fail(session, bands.error());
  if (kit->faces.empty()) {
    return fail(session, {ErrorKind::bad_input, "the kit has no faces to choose for", options.kit,
                          "add [[face]] tables with a photo or colours"});
  }
  const auto stash = open_stash(session);
  if (!stash) return fail(session, stash.error());
  const auto request = request_for(options, *kit, *stash, session);
  if (!request) return fail(session, request.error());
  const Choice choice = choose_set(*stash, *request, *bands);
  if (!choice.feasible) {
    return fail(session, {ErrorKind::impossible, "no set can do this: " + choice.blocked_by, options.kit,
                          "ease that rule, or widen what may be used"});
  }
  return present(
      session, [&] { return print_json(session, choice); }, [&] { print_plain(session, choice); },
      [&] { print_text(session, choice); });
}

void add_choose(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<ChooseCommandOptions>();
  command.add_option("KIT", options->kit, "The kit file")->required();
  command.add_option("-n,--count", options->count, "How many (else what the kit says under choose)")
      ->type_name("N")
      ->check(CLI::Range(1, 100));
  command.add_flag("--fewest", options->fewest, "The fewest that come within --within")->excludes("--count");
  command.add_option("--within", options->within, "Mean distance to reach with the fewest")
      ->type_name("DE00")
      ->check(CLI::Range(0.0, 100.0))
      ->capture_default_str();
  command
      .add_option("--sentiment", options->sentiment,
                  "How the words are stamped: one of the inks reads so on every base")
      ->type_name("HOW")
      ->check(CLI::IsMember({"fine", "bold"}))
      ->capture_default_str();
  command.add_option("--kind", options->kind, "Choose inks or stocks")
      ->type_name("KIND")
      ->check(CLI::IsMember({"ink", "stock"}))
      ->capture_default_str();
  add_band_option(command, options->bands);
  command.final_callback(
      [options, &call] { call.run = [options](Session& session) { return run_choose(*options, session); }; });
}

}  // namespace kithue
