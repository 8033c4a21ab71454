// SPDX-License-Identifier: MIT
#include "cli/clash.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>
#include <utility>

#include "advise/clash.h"
#include "advise/vision.h"
#include "base/text.h"
#include "cli/clash_learn.h"
#include "cli/commands.h"
#include "cli/kit_faces.h"
#include "cli/pictures.h"
#include "cli/stash_access.h"
#include "cli/table.h"
#include "colour/difference.h"

namespace kithue {
namespace {

struct ClashAnswer {
  Stash stash;  ///< holds the swatches that the colours point into
  std::vector<NamedColour> colours;
  std::optional<TouchingColours> touching;  ///< only with --kit
  std::vector<PairVerdict> pairs;
  Bands bands;
  std::size_t clashes = 0;
  std::size_t unsure = 0;
  bool vision = false;
  std::vector<Merger> merging;  ///< only with --vision

  [[nodiscard]] std::size_t place_of(std::size_t a, std::size_t b) const {
    const auto& touch = touching->pairs;
    return static_cast<std::size_t>(std::find(touch.begin(), touch.end(), std::pair(a, b)) - touch.begin());
  }
  [[nodiscard]] const std::vector<std::string>& where_of(const PairVerdict& pair) const {
    return touching->where[place_of(pair.a, pair.b)];
  }
};

ExitStatus print_json(Session& session, const ClashAnswer& found) {
  nlohmann::ordered_json data;
  data["pairs"] = nlohmann::ordered_json::array();
  for (const PairVerdict& pair : found.pairs) {
    nlohmann::ordered_json json;
    json["a"] = found.colours[pair.a].name;
    json["b"] = found.colours[pair.b].name;
    json["de00"] = pair.de00;
    json["verdict"] = word_for(pair.verdict);
    json["reasons"] = pair.reasons;
    json["harmony"] = pair.harmony;
    json["words"] = pair.words;
    json["uncertainty"] = pair.uncertainty;
    json["orders_only"] = pair.de00 > kOrdersOnlyAbove;
    if (found.touching) json["where"] = found.where_of(pair);
    if (pair.verdict == Verdict::unsure) {
      json["could_be"] = nlohmann::ordered_json::array();
      for (const Verdict verdict : pair.could_be) json["could_be"].push_back(word_for(verdict));
      json["settle"] = pair.settle;
    }
    data["pairs"].push_back(std::move(json));
  }
  data["clashes"] = found.clashes;
  if (found.touching) data["left_out"] = found.touching->without_number;
  if (found.vision) {
    data["merging"] = nlohmann::ordered_json::array();
    for (const Merger& one : found.merging) {
      data["merging"].push_back({{"a", found.colours[one.a].name},
                                 {"b", found.colours[one.b].name},
                                 {"vision", word_for(one.vision)},
                                 {"de00", one.de00},
                                 {"de00_simulated", one.de00_simulated}});
    }
  }
  return answer(session, "clash", data);
}

void print_plain(Session& session, const ClashAnswer& found) {
  Table table{{"a", "b", "de00", "verdict", "words", "reasons", "harmony"}, {}};
  if (found.touching) table.header.emplace_back("where");
  for (const PairVerdict& pair : found.pairs) {
    table.rows.push_back({cell(found.colours[pair.a].name), cell(found.colours[pair.b].name),
                          cell(exact_number(pair.de00)), cell(std::string(word_for(pair.verdict))),
                          cell(pair.words), cell(joined(pair.reasons, "; ")),
                          cell(exact_number(pair.harmony))});
    if (found.touching) table.rows.back().push_back(cell(joined(found.where_of(pair), "; ")));
  }
  print_table(session, table);
}

/// The parts of the distance, and the advice of the harmony model.
std::string numbers_of(const PairVerdict& pair) {
  return "dE00 " + fixed_number(pair.de00, 2) + " give or take " + fixed_number(pair.uncertainty, 2) +
         "; lightness " + fixed_number(pair.terms.lightness, 2) + ", chroma " +
         fixed_number(pair.terms.chroma, 2) + ", hue " + fixed_number(pair.terms.hue, 2) + "; harmony " +
         fixed_number(pair.harmony, 2) + " (Ou & Luo 2006, advice only)";
}

void print_pair(Session& session, const ClashAnswer& found, const PairVerdict& pair, bool why) {
  const NamedColour& a = found.colours[pair.a];
  const NamedColour& b = found.colours[pair.b];
  const std::string blocks = colour_block(session.paint, a.lab) + colour_block(session.paint, b.lab);
  session.out << (blocks.empty() ? "" : blocks + " ") << word_for(pair.verdict) << ": " << printable(a.name)
              << " + " << printable(b.name) << "  (" << fixed_number(pair.de00, 2) << ")\n";
  if (found.touching) print_wrapped(session, "on " + joined(found.where_of(pair), "; "), 4);
  for (const std::string& reason : pair.reasons) print_wrapped(session, reason, 4);
  if (!pair.settle.empty()) print_wrapped(session, "to settle it: " + pair.settle, 4);
  if (why) print_wrapped(session, numbers_of(pair), 4);
}

void print_text(Session& session, const ClashAnswer& found, bool why) {
  for (const PairVerdict& pair : found.pairs) print_pair(session, found, pair, why);
  const std::string clashes = found.clashes == 0   ? "no clash"
                              : found.clashes == 1 ? "1 clash"
                                                   : std::to_string(found.clashes) + " clashes";
  std::string summary =
      counted(found.pairs.size(), found.touching ? "touching pair" : "pair") + ": " + clashes;
  if (found.unsure > 0) summary += ", " + std::to_string(found.unsure) + " too close to call";
  session.out << (found.pairs.empty() ? "" : "\n") << summary << ".\n";
  if (found.touching && !found.touching->without_number.empty())
    print_wrapped(session, "Left out, without a number: " + joined(found.touching->without_number, ", "), 0);
  if (why) print_limits(session, found.bands);
  if (std::any_of(found.pairs.begin(), found.pairs.end(),
                  [](const PairVerdict& pair) { return pair.de00 > kOrdersOnlyAbove; })) {
    print_orders_only(session);
  }
}

void print_merging(Session& session, const ClashAnswer& found) {
  if (found.merging.empty())
    session.out << "No pair that parts for most eyes merges for colour-blind ones.\n";
  for (const Merger& one : found.merging) {
    print_wrapped(session,
                  "to " + std::string(word_for(one.vision)) + " eyes " + found.colours[one.a].name + " and " +
                      found.colours[one.b].name + " nearly merge (" + fixed_number(one.de00, 1) +
                      " apart for most, " + fixed_number(one.de00_simulated, 1) +
                      " for them): let shape or words tell them apart",
                  0);
  }
  print_wrapped(session, "Simulated after Machado et al. 2009: a guide.", 0);
}

MaybeError wrong_words(const ClashCommandOptions& options) {
  if (!options.kit.empty() && !options.colours.empty())
    return Error{ErrorKind::bad_usage, "--kit takes no colours beside it", "", "give the kit file alone"};
  if (options.kit.empty() && options.colours.size() < 2)
    return Error{ErrorKind::bad_usage, "it takes two colours or more", "", "see 'kithue help clash'"};
  return std::nullopt;
}

Result<ClashAnswer> judged_colours(const ClashCommandOptions& options, Session& session) {
  const auto bands = bands_from(options.bands);
  if (!bands) return bands.error();
  auto stash = open_stash_for(session, options.colours);
  if (!stash) return stash.error();
  auto colours = resolve_colours(*stash, options.colours);
  if (!colours) return colours.error();
  ClashAnswer found;
  found.colours = *std::move(colours);
  found.pairs = judge_pairs(found.colours, *bands, session.executor);
  found.stash = *std::move(stash);
  found.bands = *bands;
  return found;
}

/// The pairs of colours that touch on the cards of a kit.
Result<ClashAnswer> judged_kit(const ClashCommandOptions& options, Session& session) {
  const auto kit = open_kit(options.kit, session);
  if (!kit) return kit.error();
  const auto bands = bands_from(options.bands, kit->bands);
  if (!bands) return bands.error();
  if (kit->cards.empty())
    return Error{ErrorKind::bad_input, "the kit has no cards, so nothing in it touches", options.kit,
                 "add [[card]] with its [[card.piece]] and what each touches"};
  auto stash = open_stash(session);
  if (!stash) return stash.error();
  const auto faces = face_colours(*kit, options.kit, session);
  if (!faces) return faces.error();
  auto touching = touching_colours(*kit, *stash, *faces);
  if (!touching) return touching.error();
  ClashAnswer found;
  found.colours = touching->colours;
  found.pairs = judge_these(found.colours, touching->pairs, *bands, session.executor);
  found.touching = *std::move(touching);
  found.stash = *std::move(stash);
  found.bands = *bands;
  return found;
}

bool is_failure(const ClashAnswer& found, const std::string& fail_on) {
  if (fail_on == "clash") return found.clashes > 0;
  return fail_on == "unsure" && found.clashes + found.unsure > 0;
}

}  // namespace

ExitStatus run_clash(const ClashCommandOptions& options, Session& session) {
  if (!options.learn.empty()) {
    const auto bands = bands_from(options.bands);
    if (!bands) return fail(session, bands.error());
    if (!options.colours.empty() || !options.picture.empty()) {
      return fail(session, {ErrorKind::bad_usage, "--learn takes no colours and no picture", "",
                            "give the file alone, then use the bands it prints"});
    }
    return run_clash_learn(options.learn, *bands, session);
  }
  if (const auto fault = wrong_words(options)) return fail(session, *fault);
  auto judged = options.kit.empty() ? judged_colours(options, session) : judged_kit(options, session);
  if (!judged) return fail(session, judged.error());
  ClashAnswer& found = *judged;
  for (const PairVerdict& pair : found.pairs) {
    if (is_clash(pair.verdict)) ++found.clashes;
    if (pair.verdict == Verdict::unsure) ++found.unsure;
  }
  warn_of_conditions(session, found.colours);
  found.vision = options.vision;
  if (options.vision) found.merging = mergers(found.colours);
  if (found.touching)
    std::erase_if(found.merging, [&](const Merger& one) {
      return found.place_of(one.a, one.b) == found.touching->pairs.size();
    });
  if (!options.picture.empty()) {
    const std::string svg = clash_picture(found.colours, found.pairs);
    if (auto fault = write_picture(options.picture, svg, options.force, session))
      return fail(session, *fault);
  }
  present(
      session, [&] { return print_json(session, found); }, [&] { print_plain(session, found); },
      [&] {
        print_text(session, found, options.why);
        if (options.vision) print_merging(session, found);
      });
  return is_failure(found, options.fail_on) ? ExitStatus::found : ExitStatus::done;
}

void add_clash(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<ClashCommandOptions>();
  command.add_option("COLOURS", options->colours, "Two or more swatches or colours")->expected(1, 1000);
  command.add_option("--kit", options->kit, "Judge what touches on the cards of this kit file")
      ->type_name("KIT");
  command
      .add_option("--learn", options->learn,
                  "Fit the bands to your own verdicts (CSV: a, b, goes or clashes)")
      ->type_name("FILE");
  command.add_option("--picture", options->picture, "Draw the pairs as SVG, worst first")->type_name("FILE");
  command.add_flag("-f,--force", options->force, "Replace the picture if there is one");
  command.add_option("--fail-on", options->fail_on, "Exit with 1 when a pair is this")
      ->type_name("WHAT")
      ->check(CLI::IsMember({"clash", "unsure"}));
  command.add_flag("--why", options->why, "Show the numbers");
  command.add_flag("--vision", options->vision, "Name the pairs that merge for colour-blind eyes");
  add_band_option(command, options->bands);
  command.final_callback(
      [options, &call] { call.run = [options](Session& session) { return run_clash(*options, session); }; });
}

}  // namespace kithue
