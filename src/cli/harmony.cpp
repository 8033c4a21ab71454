// SPDX-License-Identifier: MIT
#include "cli/harmony.h"

#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "advise/harmony.h"
#include "advise/match.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/table.h"
#include "colour/css.h"
#include "colour/words.h"

namespace kithue {
namespace {

std::string sentence_for(Scheme scheme) {
  switch (scheme) {
    case Scheme::ladder:
      return "One hue, lighter and darker";
    case Scheme::neighbours:
      return "Neighbours";
    case Scheme::opposite:
      return "Opposite";
    case Scheme::split:
      return "Split opposite";
    case Scheme::three:
      return "Three evenly spaced";
    case Scheme::four:
      return "Four evenly spaced";
  }
  return "";
}

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

void print_text(Session& session, const NamedColour& anchor, const std::vector<HarmonySet>& sets) {
  session.out << "Around " << printable(anchor.name) << ", " << plain_words(anchor.lab) << '\n';
  for (const HarmonySet& set : sets) {
    session.out << '\n' << sentence_for(set.scheme);
    if (!set.has_light) session.out << " (none light enough for a base)";
    if (!set.has_dark) session.out << " (none dark enough for words)";
    session.out << '\n';
    Table table{{"", "part", "hue off"}, {}};
    for (const HarmonyMember& member : set.members) {
      const bool by_hue = member.part != "anchor" && member.part != "neutral";
      table.rows.push_back({colour_cell(member.colour.lab, member.colour.name), cell(member.part),
                            by_hue ? number_cell(member.off, 0) : cell("")});
      table.rows.back()[2].right = true;
    }
    print_table(session, table);
  }
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
  const std::vector<HarmonySet> sets = harmony_sets(*anchor, owned, how, *bands);
  const auto left_out = left_out_of_match(*stash, *anchor, {0, kind, false});
  if (session.mode == Mode::json) {
    nlohmann::ordered_json data{{"anchor", {{"name", anchor->name}, {"lab", lab_json(anchor->lab)}}}};
    data["circle"] = options.circle;
    data["sets"] = nlohmann::ordered_json::array();
    for (const HarmonySet& set : sets) data["sets"].push_back(set_json(set));
    data["left_out"] = left_out_json(left_out);
    return answer(session, "harmony", data);
  }
  if (session.mode == Mode::plain) {
    print_plain(session, sets);
    return ExitStatus::done;
  }
  print_text(session, *anchor, sets);
  if (sets.empty())
    session.out << "\nNothing you own makes a set with it within " << fixed_number(options.tolerance, 0)
                << " degrees of hue.\n";
  print_left_out(session, left_out);
  return ExitStatus::done;
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
  add_band_option(command, options->bands);
  command.final_callback([options, &call] {
    call.run = [options](Session& session) { return run_harmony(*options, session); };
  });
}

}  // namespace kithue
