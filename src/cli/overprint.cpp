// SPDX-License-Identifier: MIT
#include "cli/overprint.h"

#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "advise/ink_on_stock.h"
#include "advise/vision.h"
#include "advise/words.h"
#include "base/text.h"
#include "cli/advice.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/table.h"
#include "colour/css.h"
#include "colour/words.h"

namespace kithue {
namespace {

struct OverprintAnswer {
  InkModel ink;
  NamedColour stock;
  Layer stock_layer;
  InkOnStock print;
  LegibleInstead instead;  ///< only where the ink does not read
};

nlohmann::ordered_json choices_json(const std::vector<LegibleChoice>& choices) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const LegibleChoice& one : choices) {
    list.push_back({{"id", one.swatch->id},
                    {"name", one.swatch->name},
                    {"contrast", one.contrast},
                    {"opaque", one.opaque}});
  }
  return list;
}

ExitStatus print_json(Session& session, const OverprintAnswer& found) {
  const InkOnStock& print = found.print;
  nlohmann::ordered_json data;
  data["ink"] = found.ink.name;
  data["stock"] = found.stock.name;
  data["paper"] = {{"name", found.ink.paper_name}, {"known", found.ink.paper_known}};
  data["lab"] = lab_json(print.lab);
  data["estimated"] = print.estimated;
  data["de00_error"] = print.error;
  data["contrast"] = print.contrast;
  data["reads"] = word_for(print.reads);
  data["reads_at_worst"] = word_for(print.reads_at_worst);
  const auto seen = contrasts_seen(print.lab, found.stock.lab);
  for (std::size_t v = 0; v < kVisions.size(); ++v) {
    data["contrast_seen"][std::string(word_for(kVisions[v]))] = seen[v];
  }
  data["cover"] = found.ink.manner.cover;
  data["strength"] = found.ink.manner.strength;
  data["readings_used"] = found.ink.measured;
  data["curves_measured"] = {{"ink", found.ink.ink.measured},
                             {"paper", found.ink.paper.measured},
                             {"stock", found.stock_layer.measured}};
  data["words"] = difference_words(found.ink.ink.lab, print.lab);
  data["instead"] = {{"inks", choices_json(found.instead.inks)},
                     {"stocks", choices_json(found.instead.stocks)}};
  return answer(session, "overprint", data);
}

void print_plain(Session& session, const OverprintAnswer& found) {
  const InkOnStock& print = found.print;
  print_table(session, {{"ink", "stock", "lab", "estimated", "de00_error", "contrast", "reads"},
                        {{cell(found.ink.name), cell(found.stock.name), cell(css_lab(print.lab)),
                          cell(print.estimated ? "yes" : "no"), cell(exact_number(print.error)),
                          cell(exact_number(print.contrast)), cell(std::string(word_for(print.reads)))}}});
}

std::string sentence_for(Reads reads) {
  switch (reads) {
    case Reads::fine:
      return "reads, fine text too";
    case Reads::bold:
      return "reads in bold or large letters only";
    case Reads::picture:
      return "shows as a picture, but words will not read";
    case Reads::no:
      return "will hardly show";
  }
  return "";
}

void print_instead(Session& session, const OverprintAnswer& found) {
  const auto line = [&](const char* what, const std::vector<LegibleChoice>& choices) {
    if (choices.empty()) return;
    std::vector<std::string> names;
    for (const LegibleChoice& one : choices) {
      names.push_back(one.swatch->name + " (" + (one.opaque ? "opaque, " : "") +
                      fixed_number(one.contrast, 1) + ")");
    }
    print_wrapped(session, what + joined(names, ", ") + ".", 0);
  };
  line("Inks of yours that read on it: ", found.instead.inks);
  line("Nearest stocks on which it reads: ", found.instead.stocks);
  if (found.instead.inks.empty()) {
    print_wrapped(
        session,
        "No ink of yours reads on this stock: it takes an opaque white or pale one, such as pigment "
        "ink or embossing powder, or a lighter stock.",
        0);
  }
  if (found.instead.stocks.empty())
    print_wrapped(session, "It reads fine on no stock of yours: it is too pale for words.", 0);
}

/// Where words read for most eyes but not as well for some.
void print_lost_to_some(Session& session, const OverprintAnswer& found) {
  const double needed = found.print.reads == Reads::fine ? 4.5 : 3.0;
  if (found.print.reads != Reads::fine && found.print.reads != Reads::bold) return;
  const auto seen = contrasts_seen(found.print.lab, found.stock.lab);
  for (std::size_t v = 0; v < kVisions.size(); ++v) {
    if (seen[v] >= needed) continue;
    print_wrapped(session,
                  "To " + std::string(word_for(kVisions[v])) + " eyes the contrast falls to " +
                      fixed_number(seen[v], 2) + ".",
                  0);
  }
}

std::string curve_words(const Layer& layer) {
  return layer.measured ? "measured curve" : "curve made up from its Lab";
}

void print_numbers(Session& session, const OverprintAnswer& found) {
  const InkModel& ink = found.ink;
  print_wrapped(session,
                "Why: ink " + css_lab(ink.ink.lab, 1) + " (" + curve_words(ink.ink) + ") on " +
                    ink.paper_name + " " + css_lab(ink.paper.lab, 1) + " (" + curve_words(ink.paper) +
                    "), stock " + css_lab(found.stock.lab, 1) + " (" + curve_words(found.stock_layer) +
                    "), cover " + fixed_number(ink.manner.cover, 2) + ", strength " +
                    fixed_number(ink.manner.strength, 2) + ", error " + fixed_number(found.print.error, 1) +
                    " (the truth lies within it in 9 of 10 cases of the papers the model was tried on).",
                0);
  const auto seen = contrasts_seen(found.print.lab, found.stock.lab);
  std::string line = "Contrast " + fixed_number(found.print.contrast, 2) + " (4.5 for fine text, 3 for bold)";
  for (std::size_t v = 0; v < kVisions.size(); ++v)
    line += "; to " + std::string(word_for(kVisions[v])) + " eyes " + fixed_number(seen[v], 2);
  print_wrapped(session, line + ".", 0);
}

/// A stamped and measured one always wins.
void print_how_to_settle(Session& session, const OverprintAnswer& found) {
  if (!found.print.estimated) return;
  const bool owned = found.ink.swatch != nullptr && found.stock.swatch != nullptr;
  print_wrapped(
      session,
      owned ? "To settle it: stamp it, let it dry, measure it, and keep it with 'kithue stash edit id:" +
                  std::to_string(found.ink.swatch->id) + " --reading L,a,b --white D50/2 --on \"" +
                  found.stock.swatch->name + "\"'."
            : "To settle it: stamp it, let it dry, and look.",
      0);
}

void print_text(Session& session, const OverprintAnswer& found, bool why) {
  const InkOnStock& print = found.print;
  const std::string block = colour_block(session.paint, print.lab, 4);
  session.out << printable(found.ink.name) << " on " << printable(found.stock.name) << ": "
              << (block.empty() ? "" : block + " ") << (print.estimated ? "~ " : "") << css_lab(print.lab, 1)
              << ", " << plain_words(print.lab) << '\n';
  std::string how = print.estimated ? "Estimated, right to about " + fixed_number(print.error, 1) +
                                          ", from its colour on " + found.ink.paper_name
                                    : "Measured on this stock";
  if (print.estimated && found.ink.measured > 0)
    how += " and " + counted(found.ink.measured, "reading") + " on other stocks";
  print_wrapped(session, how + ".", 0);
  print_wrapped(session,
                "Beside its colour on " + found.ink.paper_name + ": " +
                    difference_words(found.ink.ink.lab, print.lab) + ".",
                0);
  std::string reads = "Contrast " + fixed_number(print.contrast, 2) + ": " + sentence_for(print.reads);
  if (print.reads_at_worst != print.reads)
    reads += "; at worst it " + sentence_for(print.reads_at_worst) + ", so try it first";
  print_wrapped(session, reads + ".", 0);
  print_lost_to_some(session, found);
  if (why) print_numbers(session, found);
  if (why || print.reads_at_worst != print.reads) print_how_to_settle(session, found);
  if (print.reads == Reads::picture || print.reads == Reads::no) print_instead(session, found);
}

}  // namespace

ExitStatus run_overprint(const OverprintCommandOptions& options, Session& session) {
  const auto stash = open_stash_for(session, {options.ink, options.stock});
  if (!stash) return fail(session, stash.error());
  const auto colours = resolve_colours(*stash, {options.ink, options.stock});
  if (!colours) return fail(session, colours.error());
  InkOptions how{std::nullopt, options.cover, options.strength};
  if (!options.on.empty()) {
    const auto paper = resolve_colour(*stash, options.on);
    if (!paper) return fail(session, paper.error());
    how.paper = *paper;
  }
  const NamedColour& ink = (*colours)[0];
  if (ink.swatch != nullptr && ink.swatch->kind == Kind::stock) {
    return fail(session, {ErrorKind::bad_usage, "\"" + ink.name + "\" is a stock, not an ink", "",
                          "name the ink first: kithue overprint INK STOCK"});
  }
  OverprintAnswer found{ink_model(*stash, ink, how), (*colours)[1], layer_of((*colours)[1]), {}, {}};
  found.print = ink_on_stock(found.ink, found.stock, found.stock_layer);
  warn_of_conditions(session, *colours);
  if (!found.ink.paper_known && found.print.estimated) {
    warn(session, "the paper of this ink's reading is not known; white card was taken (say --on PAPER)");
  }
  if (found.print.reads == Reads::picture || found.print.reads == Reads::no) {
    found.instead = legible_instead(*stash, found.ink, found.stock);
  }
  return present(
      session, [&] { return print_json(session, found); }, [&] { print_plain(session, found); },
      [&] { print_text(session, found, options.why); });
}

void add_overprint(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<OverprintCommandOptions>();
  command.add_option("INK", options->ink, "The ink by name or id, or its colour on white")->required();
  command.add_option("STOCK", options->stock, "The stock by name or id, or a colour")->required();
  command.add_option("--on", options->on, "The paper on which the ink's reading was made")
      ->type_name("PAPER");
  command
      .add_option("--cover", options->cover, "How far the ink hides the stock, 0 to 1 (else by its method)")
      ->type_name("SHARE")
      ->check(CLI::Range(0.0, 1.0));
  command.add_flag("--why", options->why, "Show the numbers, and what would settle it");
  command
      .add_option("--strength", options->strength,
                  "1 one impression, 0.5 stamped off or a wash, 1.5 stamped twice")
      ->type_name("TIMES")
      ->check(CLI::Range(0.05, 5.0))
      ->capture_default_str();
  command.final_callback([options, &call] {
    call.run = [options](Session& session) { return run_overprint(*options, session); };
  });
}

}  // namespace kithue
