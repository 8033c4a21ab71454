// SPDX-License-Identifier: MIT
#include "cli/choose.h"

#include <CLI/CLI.hpp>
#include <cmath>
#include <cstdint>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>
#include <utility>

#include "advise/choose.h"
#include "advise/match.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/kit_faces.h"
#include "cli/pictures.h"
#include "cli/stash_access.h"
#include "cli/table.h"
#include "kit/choose_kit.h"

namespace kithue {
namespace {

KitChoice choice_of(const std::string& kind) {
  return kind == "stock"  ? KitChoice::stocks
         : kind == "mat"  ? KitChoice::mats
         : kind == "base" ? KitChoice::bases
                          : KitChoice::inks;
}

/// What the photos leave open of a distance, dE00: the mean over all colours of all faces.
double uncertainty_of_faces(const FaceColours& faces) {
  double sum = 0.0;
  double count = 0.0;
  for (const auto& face : faces) {
    for (const KitColour& colour : face) {
      sum += colour.error_de00;
      count += 1.0;
    }
  }
  return count > 0.0 ? sum / count : 0.0;
}

struct ChooseAnswer {
  Choice choice;
  std::size_t candidates = 0;
  double uncertainty = 0.0;  ///< dE00, of a distance to a face's colour
  bool stocks = false;
  bool grounds = false;  ///< met the grounds of the faces, not their motifs
};

nlohmann::ordered_json cents_json(const std::optional<std::int64_t>& cents) {
  return cents ? nlohmann::ordered_json(*cents) : nullptr;
}

nlohmann::ordered_json names_json(const std::vector<const Swatch*>& swatches) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const Swatch* swatch : swatches) list.push_back(swatch->name);
  return list;
}

nlohmann::ordered_json ids_json(const std::vector<const Swatch*>& swatches) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const Swatch* swatch : swatches) list.push_back(swatch->id);
  return list;
}

ExitStatus print_json(Session& session, const ChooseAnswer& found) {
  const Choice& choice = found.choice;
  nlohmann::ordered_json data;
  data["inks"] = nlohmann::ordered_json::array();
  for (const ChosenOne& one : choice.chosen) data["inks"].push_back(one.swatch->name);
  data["cost"] = choice.cost;
  data["proved"] = choice.proved;
  data["bound"] = choice.bound;
  data["uncertainty"] = found.uncertainty;
  data["price_cents"] = cents_json(choice.price_cents);
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
                         {"ids", ids_json(choice.runner_up)},
                         {"cost", choice.runner_up_cost},
                         {"proved", choice.runner_up_proved}};
  }
  data["each"] = nlohmann::ordered_json::array();
  for (const ChosenOne& one : choice.chosen) {
    nlohmann::ordered_json json{
        {"id", one.swatch->id},     {"name", one.swatch->name}, {"method", one.swatch->method},
        {"lab", lab_json(one.lab)}, {"must", one.must},         {"nearest_for", one.nearest_for},
        {"reads_on", one.reads_on}};
    json["price_cents"] = cents_json(one.price_cents);
    json["cost_without"] = one.cost_without ? nlohmann::ordered_json(*one.cost_without) : nullptr;
    data["each"].push_back(std::move(json));
  }
  data["left_out"] = left_out_json(choice.without_number);
  return answer(session, "choose", data);
}

void print_plain(Session& session, const Choice& choice) {
  Table table{{"name", "id", "method", "nearest_for", "reads_on", "cost_without", "price_cents"}, {}};
  for (const ChosenOne& one : choice.chosen) {
    table.rows.push_back({cell(one.swatch->name), cell(std::to_string(one.swatch->id)),
                          cell(one.swatch->method), cell(joined(one.nearest_for, " ")),
                          cell(joined(one.reads_on, "; ")),
                          cell(one.cost_without ? exact_number(*one.cost_without) : ""),
                          cell(one.price_cents ? std::to_string(*one.price_cents) : "")});
  }
  print_table(session, table);
}

/// "words on Sailcloth; nearest on 1A, 2B".
std::string purpose_of(const ChosenOne& one, const Choice& choice) {
  std::vector<std::string> parts;
  if (one.must) parts.emplace_back("a must");
  if (!one.reads_on.empty()) parts.push_back("words on " + joined(one.reads_on, ", "));
  const bool every = one.nearest_for.size() == choice.faces.size() && choice.faces.size() > 3;
  if (every) parts.push_back("nearest on all " + std::to_string(choice.faces.size()) + " faces");
  if (!every && !one.nearest_for.empty()) parts.push_back("nearest on " + joined(one.nearest_for, ", "));
  if (one.nearest_for.empty() && !one.must) parts.emplace_back("to spare: no colour of the pack needs it");
  return joined(parts, "; ");
}

/// Whether the second best is worse by more than the photos can tell.
void print_how_sure(Session& session, const ChooseAnswer& found) {
  const Choice& choice = found.choice;
  if (choice.runner_up.empty()) return;
  const double ahead = choice.runner_up_cost - choice.cost;
  if (ahead >= found.uncertainty) return;
  print_wrapped(session,
                "That is only " + fixed_number(ahead, 2) +
                    " behind, and the faces' colours are good to about " +
                    fixed_number(found.uncertainty, 1) + (found.stocks ? ": lay" : ": stamp") +
                    " both sets beside the paper to settle it.",
                0);
}

void print_numbers(Session& session, const ChooseAnswer& found) {
  const Choice& choice = found.choice;
  print_wrapped(
      session,
      "Why: cost " + fixed_number(choice.cost, 4) + ", no set below " + fixed_number(choice.bound, 4) + "; " +
          counted(found.candidates, "candidate") + ", " + counted(choice.faces.size(), "face") +
          ". The cost is the mean over the faces of the weighted distances of their " +
          (found.grounds ? "grounds" : "motifs and accents") +
          " to the nearest of the set; 'without it' is the cost of the best set that lacks the one.",
      0);
}

void print_text(Session& session, const ChooseAnswer& found, bool why) {
  const Choice& choice = found.choice;
  Table table{{"chosen", "kind", "without it", "what it is there for"}, {}};
  if (choice.price_cents) table.header.emplace_back("price");
  for (const ChosenOne& one : choice.chosen) {
    table.rows.push_back({colour_cell(one.lab, one.swatch->name), cell(kind_and_method(*one.swatch)),
                          one.cost_without ? number_cell(*one.cost_without, 2) : cell("-"),
                          cell(purpose_of(one, choice))});
    if (choice.price_cents)
      table.rows.back().push_back(cell(one.price_cents ? money_text(*one.price_cents) : "-"));
  }
  print_table(session, table);
  session.out << '\n';
  const std::string how = choice.proved ? "Proved: no other set that keeps the rules is nearer."
                                        : "The best found; a better one could reach " +
                                              fixed_number(choice.bound, 2) + " at most.";
  print_wrapped(session,
                std::string("Mean distance to the pack's ") + (found.grounds ? "grounds " : "colours ") +
                    fixed_number(choice.cost, 2) + ". " + how,
                0);
  if (choice.price_cents) print_wrapped(session, "The set costs " + money_text(*choice.price_cents) + ".", 0);
  if (!choice.runner_up.empty()) {
    std::vector<std::string> names;
    for (const Swatch* swatch : choice.runner_up)
      names.push_back(found.stocks ? swatch->name : full_name(*swatch));
    print_wrapped(session,
                  "Runner-up, " + fixed_number(choice.runner_up_cost, 2) + ": " + joined(names, ", ") + ".",
                  0);
  }
  print_how_sure(session, found);
  if (why) print_numbers(session, found);
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

/// Every face on its card: the base, the mat that goes with the face best, the panel.
Result<std::vector<CardPicture>> cards_of(const Kit& kit, const FaceColours& colours, const Stash& stash,
                                          const Choice& choice, KitChoice what) {
  std::vector<NamedColour> bases;
  if (what != KitChoice::bases) {
    const auto named = resolve_colours(stash, kit.base);
    if (!named) return named.error();
    bases = *named;
  }
  std::vector<CardPicture> cards;
  for (std::size_t f = 0; f < choice.faces.size(); ++f) {
    CardPicture card;
    card.label = choice.faces[f].label;
    for (const KitColour& colour : colours[f]) card.panel.push_back({colour.lab, colour.share});
    if (!bases.empty()) card.layers.push_back(bases[f % bases.size()]);
    const auto nearest =
        choice.faces[f].nearest != nullptr ? named_colour_of(*choice.faces[f].nearest) : std::nullopt;
    if (nearest && what != KitChoice::inks) card.layers.push_back(*nearest);
    if (nearest && what == KitChoice::inks) card.ink = *nearest;
    cards.push_back(std::move(card));
  }
  return cards;
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
  const auto colours = face_colours(*kit, options.kit, session);
  if (!colours) return fail(session, colours.error());
  const KitChoice what = choice_of(options.kind);
  auto request = choose_request(*kit, *stash, *colours, what,
                                options.sentiment == "bold" ? Reads::bold : Reads::fine, *bands, options.kit);
  if (!request) return fail(session, request.error());
  request->within = options.within;
  if (options.count > 0) request->count = options.count;
  if (options.fewest) request->count = 0;
  if (options.budget) request->budget_cents = std::llround(*options.budget * 100.0);
  if (request->budget_cents && request->price_cents.empty()) {
    if (what == KitChoice::inks)
      warn(session,
           "a budget without prices says nothing: write price = 8.50 under [inks], or a [[supply]] each");
    request->budget_cents.reset();
  }
  ChooseAnswer found{choose_set(*stash, *request, *bands), request->candidates.size(),
                     uncertainty_of_faces(*colours), what != KitChoice::inks, what == KitChoice::bases};
  const Choice& choice = found.choice;
  if (!choice.feasible) {
    return fail(session, {ErrorKind::impossible, "no set can do this: " + choice.blocked_by, options.kit,
                          "ease that rule, or widen what may be used"});
  }
  std::vector<NamedColour> compared = request->bases;
  for (const ChosenOne& one : choice.chosen) compared.push_back({one.swatch->name, one.lab, 0.0, one.swatch});
  warn_of_conditions(session, compared);
  if (!options.picture.empty()) {
    const auto cards = cards_of(*kit, *colours, *stash, choice, what);
    if (!cards) return fail(session, cards.error());
    if (auto fault = write_picture(options.picture, cards_picture(*cards), options.force, session))
      return fail(session, *fault);
  }
  return present(
      session, [&] { return print_json(session, found); }, [&] { print_plain(session, choice); },
      [&] { print_text(session, found, options.why); });
}

void add_choose(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<ChooseCommandOptions>();
  command.add_option("KIT", options->kit, "The kit file")->required();
  CLI::Option* const count =
      command.add_option("-n,--count", options->count, "How many (else what the kit says under choose)")
          ->type_name("N")
          ->check(CLI::Range(1, 100));
  command.add_flag("--fewest", options->fewest, "The fewest that come within --within")->excludes(count);
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
  command
      .add_option("--kind", options->kind,
                  "Choose inks, stocks, mats that go with the bases, or bases on which words read")
      ->type_name("KIND")
      ->check(CLI::IsMember({"ink", "stock", "mat", "base"}))
      ->capture_default_str();
  command.add_option("--budget", options->budget, "The most that the inks may cost together")
      ->type_name("MONEY")
      ->check(CLI::Range(0.0, 1e6));
  command.add_option("--picture", options->picture, "Draw every face on its card as SVG")->type_name("FILE");
  command.add_flag("-f,--force", options->force, "Replace the picture if there is one");
  command.add_flag("--why", options->why, "Show the numbers");
  add_band_option(command, options->bands);
  command.final_callback(
      [options, &call] { call.run = [options](Session& session) { return run_choose(*options, session); }; });
}

}  // namespace kithue
