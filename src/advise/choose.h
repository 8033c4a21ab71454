// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "advise/legibility.h"
#include "advise/verdict.h"
#include "swatch/stash.h"

namespace kithue {

/// One colour of a face, as the choice sees it.
struct ChooseColour {
  Lab lab;
  double share = 0.0;   ///< 0-1; 0 = not said: the colours of the face share alike
  bool ground = false;  ///< the field: asks for no ink, unless the face has nothing else
  bool accent = false;
};

struct ChooseFace {
  std::string label;
  std::vector<ChooseColour> colours;
};

/// Which colours of a face are to be met.
enum class Meet {
  motifs,  ///< motifs and accents: inks, mats, stocks for the pieces
  grounds  ///< the field that lies on the card: bases
};

/// The weight of every colour of a face in the cost; they add up to 1. To meet motifs grounds weigh 0 (unless
/// there is nothing else), the others the square root of their share, an accent never less than 0.3, so that
/// a small red berry is not drowned. To meet grounds only these weigh (all colours, where the face has none),
/// by the square root of their share. Common practice, no source.
std::vector<double> choose_weights(const ChooseFace& face, Meet meet = Meet::motifs);

struct ChooseRequest {
  std::vector<ChooseFace> faces;
  Meet meet = Meet::motifs;
  std::vector<const Swatch*> candidates;  ///< those in play; swatches without a number are left out
  std::vector<const Swatch*> must;        ///< taken even when not among the candidates
  std::vector<const Swatch*> never;
  std::vector<NamedColour> bases;  ///< on each of them one of the set must read
  Reads sentiment = Reads::fine;   ///< how well it must read: fine or bold
  std::size_t count = 0;           ///< how many; 0 = the fewest that bring the cost within `within`
  double within = 6.0;             ///< dE00, for count 0
  std::vector<std::optional<std::int64_t>> price_cents;  ///< of each candidate; empty: none is known
  std::optional<std::int64_t> budget_cents;  ///< the most the set may cost; what has no price costs nothing
  std::size_t most_nodes = 20000;            ///< work after which the best found is given with its gap
};

/// What one of the set is there for.
struct ChosenOne {
  const Swatch* swatch = nullptr;
  Lab lab;
  std::vector<std::string> nearest_for;  ///< faces with a colour for which it is the nearest of the set
  std::vector<std::string> reads_on;     ///< bases on which it reads
  bool must = false;
  std::optional<std::int64_t> price_cents;
  std::optional<double> cost_without;  ///< of the best set without it; empty: a must, or none keeps the rules
};

struct FaceFit {
  std::string label;
  const Swatch* nearest = nullptr;  ///< of the set: for the colour of this face that it fits best
  double de00 = 0.0;                ///< its distance from that colour
  double cost = 0.0;                ///< the face's part: weighted mean of nearest distances
  bool covered = true;              ///< every weighted colour has one of the set within 12 (a step)
};

struct Choice {
  bool feasible = false;
  bool proved = false;            ///< nothing better exists; or, when not feasible, nothing at all
  std::vector<ChosenOne> chosen;  ///< by name
  double cost = 0.0;
  double bound = 0.0;                       ///< no set costs less
  std::optional<std::int64_t> price_cents;  ///< of the set, where any of it has a price
  std::vector<FaceFit> faces;
  std::vector<const Swatch*> runner_up;  ///< by name; the best other set; empty when there is none
  double runner_up_cost = 0.0;
  bool runner_up_proved = true;
  std::string blocked_by;                     ///< when not feasible: the rule that blocks it, in words
  std::vector<const Swatch*> without_number;  ///< candidates left out
};

/// The best set for all faces: with d the CIEDE2000 difference, w the weights and F faces
///   cost(S) = 1/F  sum over faces, colours c of  w_c  min over i in S of d(i, c)
/// is least among the sets of `count` swatches that hold every must and no never, no two swatches with
/// bands.match < d <= bands.near_miss, for every base one that reads on it, and no sum of prices over the
/// budget. Exact (advise/set_search.h);
/// sets whose costs differ by less than 1e-9 count as equal and the search then goes by name.
Choice choose_set(const Stash& stash, const ChooseRequest& request, const Bands& bands = {});

}  // namespace kithue
