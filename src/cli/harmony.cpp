// SPDX-License-Identifier: MIT
#include "cli/harmony.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <numbers>
#include <ostream>

#include "advise/harmony.h"
#include "advise/match.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/pictures.h"
#include "cli/stash_access.h"
#include "cli/table.h"
#include "colour/css.h"
#include "colour/words.h"

namespace kithue {
namespace {

nlohmann::ordered_json set_json(const HarmonySet& set) {
  nlohmann::ordered_json json;
  json["scheme"] = word_for(set.scheme);
  json["members"] = nlohmann::ordered_json::array();
  for (const HarmonyMember& member : set.members) {
    nlohmann::ordered_json one;
    one["name"] = member.colour.name;
    one["id"] = member.colour.swatch != nullptr ? nlohmann::ordered_json(member.colour.swatch->id) : nullptr;
    one["part"] = member.part;
    one["lab"] = lab_json(member.colour.lab);
    one["wanted_degrees"] = member.wanted;
    one["off_degrees"] = member.off;
    one["harmony"] = member.harmony;
    json["members"].push_back(std::move(one));
  }
  json["has_light"] = set.has_light;
  json["has_dark"] = set.has_dark;
  json["lightness_spread"] = set.lightness_spread;
  return json;
}

void print_plain(Session& session, const std::vector<HarmonySet>& sets) {
  Table table{{"scheme", "part", "name", "id", "lab", "off_degrees"}, {}};
  for (const HarmonySet& set : sets) {
    for (const HarmonyMember& member : set.members) {
      const Swatch* swatch = member.colour.swatch;
      table.rows.push_back({cell(std::string(word_for(set.scheme))), cell(member.part),
                            cell(member.colour.name),
                            cell(swatch != nullptr ? std::to_string(swatch->id) : ""),
                            cell(css_lab(member.colour.lab)), cell(exact_number(member.off))});
    }
  }
  print_table(session, table);
}

/// How far the hue may be off by what is not known of the colour, degrees.
double hue_error(const NamedColour& colour) {
  const double C = chroma(colour.lab);
  if (colour.uncertainty <= 0.0 || C <= 0.0) return 0.0;
  return std::asin(std::min(1.0, colour.uncertainty / C)) * 180.0 / std::numbers::pi;
}

/// A member that is inside the tolerance only if its reading is right.
void print_doubtful(Session& session, const HarmonySet& set, double tolerance) {
  for (const HarmonyMember& member : set.members) {
    if (member.part == "anchor" || member.part == "neutral") continue;
    const double error = hue_error(member.colour);
    if (member.off + error <= tolerance) continue;
    print_wrapped(session,
                  member.colour.name + ": its hue is good to " + fixed_number(error, 0) +
                      " degrees only, so it may miss its place; read it again to settle it.",
                  2);
  }
}

struct HarmonyAnswer {
  NamedColour anchor;
  std::vector<HarmonySet> sets;
  std::vector<const Swatch*> left_out;
};

ExitStatus print_json(Session& session, const HarmonyAnswer& found, const std::string& circle) {
  nlohmann::ordered_json data{{"anchor", {{"name", found.anchor.name}, {"lab", lab_json(found.anchor.lab)}}}};
  data["circle"] = circle;
  data["sets"] = nlohmann::ordered_json::array();
  for (const HarmonySet& set : found.sets) data["sets"].push_back(set_json(set));
  data["left_out"] = left_out_json(found.left_out);
  return answer(session, "harmony", data);
}

void print_set(Session& session, const HarmonySet& set, const HarmonyCommandOptions& options) {
  session.out << '\n' << sentence_for(set.scheme);
  if (!set.has_light) session.out << " (none light enough for a base)";
  if (!set.has_dark) session.out << " (none dark enough for words)";
  session.out << '\n';
  Table table{{"", "part", "hue off"}, {}};
  if (options.why) table.header.insert(table.header.end(), {"place", "+-", "harmony"});
  for (const HarmonyMember& member : set.members) {
    const bool by_hue = member.part != "anchor" && member.part != "neutral";
    table.rows.push_back({colour_cell(member.colour.lab, member.colour.name), cell(member.part),
                          by_hue ? number_cell(member.off, 0) : cell("")});
    table.rows.back()[2].right = true;
    if (options.why) {
      const std::vector<Cell> numbers{by_hue ? number_cell(member.wanted, 0) : cell(""),
                                      number_cell(hue_error(member.colour), 0),
                                      number_cell(member.harmony, 2)};
      table.rows.back().insert(table.rows.back().end(), numbers.begin(), numbers.end());
    }
  }
  print_table(session, table);
  print_doubtful(session, set, options.tolerance);
}

void print_text(Session& session, const HarmonyAnswer& found, const HarmonyCommandOptions& options) {
  session.out << "Around " << printable(found.anchor.name) << ", " << plain_words(found.anchor.lab) << '\n';
  for (const HarmonySet& set : found.sets) print_set(session, set, options);
  if (options.why)
    print_wrapped(
        session,
        "place and hue off in degrees on the circle; harmony with the first after Ou & Luo 2006, advice "
        "only.",
        0);
  if (found.sets.empty())
    session.out << "\nNothing you own makes a set with it within " << fixed_number(options.tolerance, 0)
                << " degrees of hue.\n";
  print_left_out(session, found.left_out);
}

}  // namespace

ExitStatus run_harmony(const HarmonyCommandOptions& options, Session& session) {
  const auto bands = bands_from(options.bands);
  if (!bands) return fail(session, bands.error());
  const auto stash = open_stash(session);
  if (!stash) return fail(session, stash.error());
  const auto anchor = resolve_colour(*stash, options.colour);
  if (!anchor) return fail(session, anchor.error());
  if (chroma(anchor->lab) < bands->neutral_chroma) {
    return fail(session, {ErrorKind::impossible,
                          "\"" + anchor->name + "\" is too grey to build on: it has no hue to speak of", "",
                          "start from a colour; a neutral joins every set by itself"});
  }
  std::vector<NamedColour> owned;
  const auto kind = kind_from(options.kind);
  for (const Swatch& swatch : stash->swatches) {
    if (swatch.retired || !swatch.in_stock || (kind && swatch.kind != *kind)) continue;
    if (auto colour = named_colour_of(swatch)) owned.push_back(*std::move(colour));
  }
  const HarmonyOptions how{options.circle == "painter" ? Circle::painter : Circle::lab, options.tolerance};
  const HarmonyAnswer found{*anchor, harmony_sets(*anchor, owned, how, *bands),
                            left_out_of_match(*stash, *anchor, {0, kind, false})};
  std::vector<NamedColour> compared;
  for (const HarmonySet& set : found.sets) {
    for (const HarmonyMember& member : set.members) compared.push_back(member.colour);
  }
  warn_of_conditions(session, compared);
  if (!options.picture.empty()) {
    if (auto fault = write_picture(options.picture, harmony_picture(found.sets), options.force, session))
      return fail(session, *fault);
  }
  return present(
      session, [&] { return print_json(session, found, options.circle); },
      [&] { print_plain(session, found.sets); }, [&] { print_text(session, found, options); });
}

void add_harmony(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<HarmonyCommandOptions>();
  command.add_option("COLOUR", options->colour, "The swatch or colour to build on")->required();
  command.add_option("--kind", options->kind, "Only this kind")
      ->type_name("KIND")
      ->check(CLI::IsMember({"stock", "ink", "other"}));
  command.add_option("--circle", options->circle, "Measured hues, or the painter's red, yellow and blue")
      ->type_name("CIRCLE")
      ->check(CLI::IsMember({"lab", "painter"}))
      ->capture_default_str();
  command.add_option("--tolerance", options->tolerance, "How far a hue may miss its place")
      ->type_name("DEGREES")
      ->check(CLI::Range(1.0, 45.0))
      ->capture_default_str();
  command.add_option("--picture", options->picture, "Draw the sets as SVG")->type_name("FILE");
  command.add_flag("-f,--force", options->force, "Replace the picture if there is one");
  command.add_flag("--why", options->why, "Show the numbers");
  add_band_option(command, options->bands);
  command.final_callback([options, &call] {
    call.run = [options](Session& session) { return run_harmony(*options, session); };
  });
}

}  // namespace kithue
