// SPDX-License-Identifier: MIT
#include "kit/kit_check.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <utility>

#include "advise/clash.h"
#include "advise/ink_on_stock.h"
#include "advise/match.h"
#include "advise/standin.h"
#include "advise/vision.h"
#include "base/text.h"
#include "colour/difference.h"
#include "colour/words.h"
#include "kit/kit_check_fit.h"

namespace kithue {
namespace {

constexpr double kSameBatch = 1.0;  // dE00 up to which two batches are one. Common practice, no source

class Check {
 public:
  Check(const Kit& kit, const Stash& stash, const FaceColours& faces, const Bands& bands)
      : kit_(kit), stash_(stash), faces_(faces), bands_(bands) {}

  std::vector<KitFinding> run() {
    for (const KitCard& card : kit_.cards) {
      check_pieces(card);
      check_touching(card);
      for (const KitStamp& stamp : card.stamps) check_stamp(card, stamp);
    }
    for (const std::string& name : kit_.inks.must) usable(name, Kind::ink, "", "inks that are a must");
    check_bases();
    for (KitFinding& one : findings_of_fit(kit_)) findings_.push_back(std::move(one));
    check_accents();
    check_batches();
    check_twice();
    std::stable_sort(findings_.begin(), findings_.end(),
                     [](const KitFinding& x, const KitFinding& y) { return x.severity < y.severity; });
    return std::move(findings_);
  }

 private:
  void add(Severity severity, const char* kind, const std::string& where, const std::string& on,
           std::string what, std::string advice) {
    findings_.push_back({severity, kind, where, on, std::move(what), std::move(advice)});
  }

  /// The swatch, when it is in the stash; what is wrong with it becomes a finding, once a name.
  const Swatch* usable(const std::string& name, Kind kind, const std::string& where, const std::string& on) {
    const auto found = swatch_of_kind(stash_, name, kind, where);
    const bool first = looked_at_.insert(std::string(word_for(kind)) + " " + folded(name)).second;
    if (!found) {
      if (first) add(Severity::fault, "missing", where, on, found.error().what, found.error().advice);
      return nullptr;
    }
    const Swatch& swatch = **found;
    if (first && (swatch.retired || !swatch.in_stock)) add_missing(swatch, where, on);
    used_.insert(&swatch);
    return &swatch;
  }

  void add_missing(const Swatch& swatch, const std::string& where, const std::string& on) {
    const std::string what = full_name(swatch) + (swatch.retired ? " is retired" : " is used up");
    const auto colour = named_colour_of(swatch);
    if (!colour)
      return add(Severity::fault, "missing", where, on, what, "choose another; it cannot be matched");
    StandInOptions options;
    options.count = 3;
    for (const StandIn& one : stand_ins(stash_, *colour, kit_colours(), options, bands_)) {
      if (!one.good || !one.near_misses.empty()) continue;
      return add(Severity::fault, "missing", where, on, what,
                 "nearest that goes with the rest: " + full_name(*one.match.swatch) + ", " + one.match.words +
                     " (" + fixed_number(one.match.de00, 1) + ")");
    }
    add(Severity::fault, "missing", where, on, what,
        "nothing you own stands in well: change the card, or buy it");
  }

  /// The stocks of all pieces, for stand-ins that must go with them.
  std::vector<NamedColour> kit_colours() {
    std::vector<NamedColour> colours;
    std::set<const Swatch*> seen;
    for (const KitCard& card : kit_.cards) {
      for (const KitPiece& piece : card.pieces) {
        if (piece.stock.empty()) continue;
        const auto swatch = swatch_of_kind(stash_, piece.stock, Kind::stock, "");
        if (!swatch || !seen.insert(*swatch).second) continue;
        if (auto colour = named_colour_of(**swatch)) colours.push_back(*std::move(colour));
      }
    }
    return colours;
  }

  void check_pieces(const KitCard& card) {
    for (const KitPiece& piece : card.pieces) {
      const std::string on = card.name + ": " + piece.name;
      if (!piece.stock.empty()) {
        const Swatch* swatch = usable(piece.stock, Kind::stock, piece.where, on);
        if (swatch != nullptr && !colour_of(*swatch))
          add(Severity::note, "missing", piece.where, on,
              full_name(*swatch) + " has no number, so it is not judged", "look at it beside its neighbours");
        continue;
      }
      if (face_named(kit_, piece.face)->directional && piece.turn == Turn::always)
        add(Severity::fault, "direction", piece.where, on,
            "face " + piece.face + " is directional, and this piece is cut with the pattern on its side",
            "take turn = \"always\" out, or use a face without a direction");
    }
  }

  void check_touching(const KitCard& card) {
    for (const TouchingPieces& touching : touching_pieces(card)) {
      const auto a = colour_of_piece(kit_, stash_, faces_, *touching.a);
      const auto b = colour_of_piece(kit_, stash_, faces_, *touching.b);
      if (!a || !b || !*a || !*b || ((*a)->name == (*b)->name && (*a)->swatch == (*b)->swatch)) continue;
      const PairVerdict pair = judge_pair(**a, **b, bands_);
      check_vision(card, touching, {**a, **b});
      const std::string on = card.name + ": " + touching.a->name + " + " + touching.b->name;
      const std::string what = (*a)->name + " and " + (*b)->name + ": " +
                               std::string(word_for(pair.verdict)) + " (" + fixed_number(pair.de00, 1) +
                               "); " + pair.reasons.front();
      if (is_clash(pair.verdict))
        add(Severity::fault, "clash", touching.b->where, on, what,
            "part them with a third colour, or change one: 'kithue standin' lists what is near");
      else if (pair.verdict == Verdict::unsure)
        add(Severity::risk, "clash", touching.b->where, on, what, pair.settle);
      else if (pair.verdict == Verdict::match)
        add(Severity::note, "clash", touching.b->where, on, what, "look at the edge where they meet");
    }
  }

  /// Colours that part for most people and merge for some, once a pair of colours.
  void check_vision(const KitCard& card, const TouchingPieces& touching,
                    const std::vector<NamedColour>& two) {
    const std::vector<Merger> merging = mergers(two);
    const std::string names = two[0].name + " and " + two[1].name;
    if (merging.empty() || !looked_at_.insert("merge " + names).second) return;
    std::vector<std::string> eyes;
    for (const Merger& one : merging)
      eyes.push_back(std::string(word_for(one.vision)) + " (" + fixed_number(one.de00_simulated, 1) + ")");
    add(Severity::note, "vision", touching.b->where,
        card.name + ": " + touching.a->name + " + " + touching.b->name,
        names + " part for most people (" + fixed_number(merging.front().de00, 1) +
            ") but nearly merge for some: " + joined(eyes, ", "),
        "let no instruction rest on telling them apart, or part them in lightness");
  }

  /// True when the print serves what it is meant for.
  static bool serves(Reads reads, StampUse use) {
    return use == StampUse::fine   ? reads == Reads::fine
           : use == StampUse::bold ? reads <= Reads::bold
                                   : reads != Reads::no;
  }

  void check_stamp(const KitCard& card, const KitStamp& stamp) {
    const std::string on = card.name + ": " + stamp.ink + " on " + stamp.on;
    const Swatch* swatch = usable(stamp.ink, Kind::ink, stamp.where, on);
    if (swatch == nullptr) return;
    const auto ink = named_colour_of(*swatch);
    const auto piece = colour_of_piece(kit_, stash_, faces_, *piece_named(card, stamp.on));
    if (!ink || !piece || !*piece) return;
    InkOptions options;
    options.strength = stamp.strength;
    const InkModel model = ink_model(stash_, *ink, options);
    const InkOnStock print = ink_on_stock(model, **piece);
    const std::string about = (stamp.words.empty() ? std::string("the print") : "\"" + stamp.words + "\"") +
                              " in " + full_name(*swatch) + " on " + (*piece)->name;
    const std::string contrast =
        std::string(print.estimated ? "predicted contrast " : "contrast ") + fixed_number(print.contrast, 1);
    const std::string wanted = stamp.use == StampUse::picture
                                   ? "hardly shows"
                                   : "does not read as " + std::string(word_for(stamp.use)) + " text";
    if (!serves(print.reads, stamp.use)) {
      add(Severity::fault, "sentiment", stamp.where, on, about + " " + wanted + ": " + contrast,
          instead_of(model, **piece));
    } else if (!serves(print.reads_at_worst, stamp.use)) {
      add(Severity::risk, "sentiment", stamp.where, on,
          about + " may not be enough: " + contrast + ", right to about " + fixed_number(print.error, 1),
          "stamp it on the stock, let it dry, and look before you cut");
    } else if (stamp.use != StampUse::picture) {
      check_sight(stamp, on, about, contrasts_seen(print.lab, (*piece)->lab));
    }
  }

  /// Words that read for most people and not for some.
  void check_sight(const KitStamp& stamp, const std::string& on, const std::string& about,
                   const std::array<double, 3>& contrasts) {
    const double least = stamp.use == StampUse::fine ? 4.5 : 3.0;  // WCAG 2.2, 1.4.3
    std::vector<std::string> eyes;
    for (std::size_t i = 0; i < contrasts.size(); ++i) {
      if (contrasts[i] < least)
        eyes.push_back(std::string(word_for(kVisions[i])) + " (contrast " + fixed_number(contrasts[i], 1) +
                       ")");
    }
    if (!eyes.empty())
      add(Severity::note, "vision", stamp.where, on,
          about + " may not read for some eyes: " + joined(eyes, ", "), "a darker ink reads for all");
  }

  std::string instead_of(const InkModel& ink, const NamedColour& stock) const {
    const LegibleInstead instead = legible_instead(stash_, ink, stock, 2);
    const auto names = [](const std::vector<LegibleChoice>& choices) {
      std::vector<std::string> list;
      for (const LegibleChoice& one : choices) list.push_back(full_name(*one.swatch));
      return joined(list, " or ");
    };
    if (!instead.inks.empty()) return "stamp it in " + names(instead.inks);
    if (!instead.stocks.empty()) return "stamp it on " + names(instead.stocks);
    return "use an opaque ink, or a lighter stock";
  }

  /// Every base carries words in one of the inks of the kit.
  void check_bases() {
    std::set<const Swatch*> inks;
    for (const Swatch* swatch : used_) {
      if (swatch->kind == Kind::ink) inks.insert(swatch);
    }
    for (const std::string& name : kit_.base) {
      const Swatch* base = usable(name, Kind::stock, "", "base");
      const auto stock = base != nullptr ? named_colour_of(*base) : std::nullopt;
      if (!stock || inks.empty()) continue;
      const bool reads = std::any_of(inks.begin(), inks.end(), [&](const Swatch* ink) {
        const auto colour = named_colour_of(*ink);
        return colour && ink_on_stock(ink_model(stash_, *colour), *stock).reads == Reads::fine;
      });
      if (!reads)
        add(Severity::fault, "sentiment", "", "base " + base->name,
            "none of the kit's inks reads as fine text on " + base->name, "add a dark ink, or an opaque one");
    }
  }

  void check_accents() {
    for (std::size_t f = 0; f < kit_.faces.size(); ++f) {
      for (const KitColour& colour : faces_[f]) {
        if (colour.role != "accent" || picked_up(colour.lab) || used_.empty()) continue;
        add(Severity::note, "accent", kit_.faces[f].where, "face " + kit_.faces[f].label,
            "nothing in the kit picks up its accent, " + plain_words(colour.lab), nearest_to(colour.lab));
      }
    }
  }

  [[nodiscard]] bool picked_up(const Lab& lab) const {
    return std::any_of(used_.begin(), used_.end(), [&](const Swatch* swatch) {
      const auto own = colour_of(*swatch);
      return own && ciede2000(*own, lab) <= bands_.step;
    });
  }

  [[nodiscard]] std::string nearest_to(const Lab& lab) const {
    MatchOptions options;
    options.count = 1;
    const auto near = nearest_swatches(stash_, {"", lab, 0.0, nullptr}, options, bands_);
    if (near.empty()) return "find an ink or a stock for it";
    return "nearest that you own: " + full_name(*near.front().swatch) + " (" +
           fixed_number(near.front().de00, 1) + ")";
  }

  /// Readings of more than one batch of a stock in the kit, and how far apart they are.
  void check_batches() {
    std::vector<const Swatch*> stocks;
    for (const Swatch* swatch : used_) {
      if (swatch->kind == Kind::stock) stocks.push_back(swatch);
    }
    std::sort(stocks.begin(), stocks.end(), [](const Swatch* x, const Swatch* y) { return x->id < y->id; });
    for (const Swatch* swatch : stocks) {
      std::map<std::string, Swatch> batches;
      for (const Reading* reading : own_readings(*swatch)) {
        if (!reading->batch.empty()) batches[reading->batch].readings.push_back(*reading);
      }
      double apart = 0.0;
      for (auto a = batches.begin(); a != batches.end(); ++a) {
        for (auto b = std::next(a); b != batches.end(); ++b)
          apart = std::max(apart, ciede2000(*colour_of(a->second), *colour_of(b->second)));
      }
      if (batches.size() < 2) continue;
      std::vector<std::string> names;
      for (const auto& [name, part] : batches) names.push_back(name);
      add(apart > kSameBatch ? Severity::risk : Severity::note, "batch", "", swatch->name,
          swatch->name + " was read in batches " + joined(names, ", ") + ", up to " + fixed_number(apart, 1) +
              " apart",
          "cut all pieces that lie side by side from one batch");
    }
  }

  void check_twice() {
    for (const KitFace& face : kit_.faces) {
      std::vector<std::string> cards;
      for (const KitCard& card : kit_.cards) {
        const bool here = std::any_of(card.pieces.begin(), card.pieces.end(),
                                      [&](const KitPiece& piece) { return piece.face == face.label; });
        if (here) cards.push_back(card.name);
      }
      if (cards.size() > 1)
        add(Severity::note, "twice", face.where, "face " + face.label,
            "it is on " + std::to_string(cards.size()) + " cards: " + joined(cards, ", "),
            "fine if it is meant; else spread the pack");
    }
  }

  const Kit& kit_;
  const Stash& stash_;
  const FaceColours& faces_;
  const Bands& bands_;
  std::vector<KitFinding> findings_;
  std::set<std::string> looked_at_;
  std::set<const Swatch*> used_;
};

}  // namespace

std::string_view word_for(Severity severity) noexcept {
  switch (severity) {
    case Severity::fault:
      return "fault";
    case Severity::risk:
      return "risk";
    case Severity::note:
      return "note";
  }
  return "";
}

std::vector<KitFinding> check_kit(const Kit& kit, const Stash& stash, const FaceColours& faces,
                                  const Bands& bands) {
  return Check(kit, stash, faces, bands).run();
}

}  // namespace kithue
