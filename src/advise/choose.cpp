// SPDX-License-Identifier: MIT
#include "advise/choose.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "advise/ink_on_stock.h"
#include "advise/match.h"
#include "advise/set_search.h"
#include "base/text.h"
#include "colour/difference.h"
#include "colour/difference_batch.h"

namespace kithue {
namespace {

constexpr double kLeastAccent = 0.3;
constexpr double kCovered = 12.0;
constexpr std::size_t kMostFewest = 40;  // "the fewest" stops looking here

struct Candidate {
  const Swatch* swatch;
  Lab lab;
  std::optional<std::int64_t> price_cents;
};

std::optional<std::int64_t> price_of(const ChooseRequest& request, const Swatch* swatch) {
  if (request.price_cents.empty()) return std::nullopt;
  const auto found = std::find(request.candidates.begin(), request.candidates.end(), swatch);
  if (found == request.candidates.end()) return std::nullopt;
  return request.price_cents[static_cast<std::size_t>(found - request.candidates.begin())];
}

/// A weighted colour of a face.
struct Target {
  std::size_t face;
  Lab lab;
  double weight;  // in the whole cost
};

bool by_name(const Swatch* x, const Swatch* y) {
  return x->name != y->name ? x->name < y->name : x->id < y->id;
}

bool holds(const std::vector<const Swatch*>& list, const Swatch* swatch) {
  return std::find(list.begin(), list.end(), swatch) != list.end();
}

/// The problem in colours and the same in numbers.
struct Work {
  const Stash& stash;
  const ChooseRequest& request;
  const Bands& bands;
  Surfaces surfaces;
  std::vector<Candidate> candidates;
  std::vector<Target> targets;
  SetProblem problem;
  std::vector<const Swatch*> without_number;
};

void gather_candidates(Work& work) {
  std::vector<const Swatch*> all = work.request.candidates;
  all.insert(all.end(), work.request.must.begin(), work.request.must.end());
  std::sort(all.begin(), all.end(), by_name);
  all.erase(std::unique(all.begin(), all.end()), all.end());
  for (const Swatch* swatch : all) {
    const auto colour = named_colour_of(*swatch);
    if (!colour) {
      work.without_number.push_back(swatch);
      continue;
    }
    const bool ink = swatch->kind == Kind::ink;
    work.candidates.push_back({swatch, ink ? ink_model(work.surfaces, *colour).ink.lab : colour->lab,
                               price_of(work.request, swatch)});
  }
}

void gather_targets(Work& work) {
  const auto F = static_cast<double>(work.request.faces.size());
  for (std::size_t f = 0; f < work.request.faces.size(); ++f) {
    const ChooseFace& face = work.request.faces[f];
    const std::vector<double> weights = choose_weights(face, work.request.meet);
    for (std::size_t c = 0; c < face.colours.size(); ++c) {
      if (weights[c] > 0.0) work.targets.push_back({f, face.colours[c].lab, weights[c] / F});
    }
  }
}

/// Which candidates read on each base.
void add_covers(Work& work) {
  std::vector<std::vector<std::size_t>> covers(work.request.bases.size());
  std::vector<Layer> layers;
  for (const NamedColour& base : work.request.bases) layers.push_back(layer_of(base));
  for (std::size_t i = 0; i < work.candidates.size() && !covers.empty(); ++i) {
    const auto colour = named_colour_of(*work.candidates[i].swatch);
    const InkModel ink = ink_model(work.surfaces, *colour);
    for (std::size_t b = 0; b < covers.size(); ++b) {
      const InkOnStock print = ink_on_stock(ink, work.request.bases[b], layers[b]);
      if (print.reads <= work.request.sentiment) covers[b].push_back(i);
    }
  }
  work.problem.covers = std::move(covers);
}

void build_problem(Work& work) {
  SetProblem& p = work.problem;
  p.items = work.candidates.size();
  p.targets = work.targets.size();
  std::vector<Lab> labs;
  for (const Candidate& one : work.candidates) labs.push_back(one.lab);
  const LabColumns items(labs);
  labs.clear();
  for (const Target& target : work.targets) labs.push_back(target.lab);
  p.cost.resize(p.items * p.targets);
  ciede2000_matrix(items, LabColumns(labs), p.cost);
  for (std::size_t at = 0; at < p.cost.size(); ++at) p.cost[at] *= work.targets[at % p.targets].weight;
  std::vector<double> apart(p.items);
  for (std::size_t i = 0; i < p.items; ++i) {
    ciede2000_batch(work.candidates[i].lab, items, apart);
    const Candidate& one = work.candidates[i];
    if (holds(work.request.must, one.swatch)) p.must.push_back(i);
    if (holds(work.request.never, one.swatch)) p.never.push_back(i);
    for (std::size_t k = i + 1; k < p.items; ++k) {
      if (apart[k] > work.bands.match && apart[k] <= work.bands.near_miss) p.conflicts.emplace_back(i, k);
    }
  }
  add_covers(work);
  if (!work.request.budget_cents) return;
  p.budget = *work.request.budget_cents;
  for (const Candidate& one : work.candidates) p.price.push_back(one.price_cents.value_or(0));
}

std::string plural(std::size_t count, Kind kind) {
  return counted(count, kind == Kind::stock ? "stock" : "ink");
}

/// The first rule that nothing can keep, before any search.
std::string blocked_at_once(const Work& work, std::size_t count, Kind kind) {
  for (const Swatch* swatch : work.request.must) {
    if (holds(work.request.never, swatch))
      return "\"" + swatch->name + "\" is named under must and under never";
    if (holds(work.without_number, swatch))
      return "\"" + swatch->name + "\" is a must, but it has no number to judge by";
  }
  const auto& p = work.problem;
  if (p.must.size() > count)
    return plural(p.must.size(), kind) + " are musts, but the set is to hold " + std::to_string(count);
  for (const auto& [i, k] : p.conflicts) {
    const bool musts =
        std::count(p.must.begin(), p.must.end(), i) + std::count(p.must.begin(), p.must.end(), k) == 2;
    if (musts) {
      const auto& a = work.candidates[i];
      const auto& b = work.candidates[k];
      return "\"" + a.swatch->name + "\" and \"" + b.swatch->name +
             "\" are both musts, but they are a near-miss (" + fixed_number(ciede2000(a.lab, b.lab), 2) + ")";
    }
  }
  const auto usable = p.items - p.never.size();
  if (usable < count)
    return "only " + plural(usable, kind) + " can be used, and the set is to hold " + std::to_string(count);
  for (std::size_t b = 0; b < p.covers.size(); ++b) {
    const bool none = std::all_of(p.covers[b].begin(), p.covers[b].end(), [&](std::size_t i) {
      return std::count(p.never.begin(), p.never.end(), i) > 0;
    });
    if (none) {
      return "no ink that can be used reads on \"" + work.request.bases[b].name +
             "\": it needs an opaque ink, or a lighter base";
    }
  }
  return {};
}

/// After a search that found nothing: the rule without which there would be a set.
std::string blocked_after_search(const Work& work) {
  SetProblem without = work.problem;
  without.price.clear();
  if (!work.problem.price.empty() && best_set(without, work.request.most_nodes).feasible)
    return "every set of this size that keeps the other rules costs more than the budget";
  without = work.problem;
  without.conflicts.clear();
  if (best_set(without, work.request.most_nodes).feasible) {
    return work.problem.covers.empty() ? "every set of this size holds a near-miss"
                                       : "every set of this size that reads on all bases holds a near-miss";
  }
  for (std::size_t b = 0; b < work.problem.covers.size(); ++b) {
    without = work.problem;
    without.covers.erase(without.covers.begin() + static_cast<std::ptrdiff_t>(b));
    if (best_set(without, work.request.most_nodes).feasible)
      return "no set of this size also reads on \"" + work.request.bases[b].name + "\"";
  }
  return "the bases ask for more inks than the set is to hold";
}

std::vector<FaceFit> face_fits(const Work& work, const std::vector<std::size_t>& chosen) {
  std::vector<FaceFit> fits;
  for (const ChooseFace& face : work.request.faces) {
    FaceFit fit;
    fit.label = face.label;
    fit.de00 = std::numeric_limits<double>::infinity();
    fits.push_back(fit);
  }
  const auto F = static_cast<double>(fits.size());
  for (const Target& target : work.targets) {
    FaceFit& fit = fits[target.face];
    double least = std::numeric_limits<double>::infinity();
    for (const std::size_t i : chosen) {
      const double d = ciede2000(work.candidates[i].lab, target.lab);
      least = std::min(least, d);
      if (d >= fit.de00) continue;
      fit.de00 = d;
      fit.nearest = work.candidates[i].swatch;
    }
    fit.cost += target.weight * F * least;
    fit.covered = fit.covered && least <= kCovered;
  }
  return fits;
}

ChosenOne described(const Work& work, const std::vector<std::size_t>& chosen, std::size_t item) {
  ChosenOne one;
  one.swatch = work.candidates[item].swatch;
  one.lab = work.candidates[item].lab;
  one.price_cents = work.candidates[item].price_cents;
  one.must = std::count(work.problem.must.begin(), work.problem.must.end(), item) > 0;
  for (const Target& target : work.targets) {
    const double own = ciede2000(one.lab, target.lab);
    const bool nearest = std::all_of(chosen.begin(), chosen.end(), [&](std::size_t other) {
      return other == item || ciede2000(work.candidates[other].lab, target.lab) > own;
    });
    const std::string& label = work.request.faces[target.face].label;
    if (nearest && (one.nearest_for.empty() || one.nearest_for.back() != label))
      one.nearest_for.push_back(label);
  }
  for (std::size_t b = 0; b < work.problem.covers.size(); ++b) {
    const auto& cover = work.problem.covers[b];
    if (std::count(cover.begin(), cover.end(), item) > 0) one.reads_on.push_back(work.request.bases[b].name);
  }
  return one;
}

/// The best set without each of the chosen in turn; the best of those is the runner-up, as any other set
/// lacks at least one of them.
void find_runner_up(const Work& work, const std::vector<std::size_t>& chosen, Choice& choice) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < chosen.size(); ++k) {
    if (choice.chosen[k].must) continue;
    SetProblem without = work.problem;
    without.never.push_back(chosen[k]);
    const SetAnswer answer = best_set(without, work.request.most_nodes);
    choice.runner_up_proved = choice.runner_up_proved && answer.proved;
    if (!answer.feasible) continue;
    choice.chosen[k].cost_without = answer.cost;
    if (answer.cost >= least - kSameCost) continue;
    least = answer.cost;
    choice.runner_up.clear();
    for (const std::size_t i : answer.chosen) choice.runner_up.push_back(work.candidates[i].swatch);
    choice.runner_up_cost = answer.cost;
  }
}

SetAnswer searched(Work& work, std::size_t count, std::string& blocked, Kind kind) {
  work.problem.count = count;
  blocked = blocked_at_once(work, count, kind);
  SetAnswer none;
  none.proved = true;
  return blocked.empty() ? best_set(work.problem, work.request.most_nodes) : none;
}

}  // namespace

std::vector<double> choose_weights(const ChooseFace& face, Meet meet) {
  const auto is_met = [&](const ChooseColour& colour) { return colour.ground == (meet == Meet::grounds); };
  const bool any = std::any_of(face.colours.begin(), face.colours.end(), is_met);
  std::vector<double> weights(face.colours.size(), 0.0);
  double sum = 0.0;
  for (std::size_t c = 0; c < weights.size(); ++c) {
    const ChooseColour& colour = face.colours[c];
    if (any && !is_met(colour)) continue;
    const double share = colour.share > 0.0 ? colour.share : 1.0 / static_cast<double>(face.colours.size());
    weights[c] = std::max(std::sqrt(share), colour.accent ? kLeastAccent : 0.0);
    sum += weights[c];
  }
  for (double& weight : weights) weight = sum > 0.0 ? weight / sum : 0.0;
  return weights;
}

Choice choose_set(const Stash& stash, const ChooseRequest& request, const Bands& bands) {
  Work work{stash, request, bands, Surfaces(stash), {}, {}, {}, {}};
  gather_candidates(work);
  gather_targets(work);
  build_problem(work);
  const Kind kind = work.candidates.empty() ? Kind::ink : work.candidates.front().swatch->kind;
  Choice choice;
  choice.without_number = work.without_number;
  SetAnswer answer;
  if (request.count > 0) {
    answer = searched(work, request.count, choice.blocked_by, kind);
  } else {
    const std::size_t most = std::min(work.candidates.size(), kMostFewest);
    for (std::size_t n = std::max<std::size_t>(1, work.problem.must.size());
         n <= std::max<std::size_t>(most, 1); ++n) {
      const SetAnswer next = searched(work, n, choice.blocked_by, kind);
      // More inks cannot mend a rule about musts, and near-misses may leave no set of a larger size.
      if (!next.feasible && answer.feasible) break;
      answer = next;
      if (answer.feasible && answer.cost <= request.within + kSameCost) break;
    }
    work.problem.count = answer.feasible ? answer.chosen.size() : work.problem.count;
    if (answer.feasible && answer.cost > request.within + kSameCost) {
      choice.blocked_by = "no set brings the mean distance within " + fixed_number(request.within, 1) +
                          ": the best " + plural(answer.chosen.size(), kind) + " reach " +
                          fixed_number(answer.cost, 2);
      choice.proved = answer.proved;
      return choice;
    }
  }
  choice.feasible = answer.feasible;
  choice.proved = answer.proved;
  if (!answer.feasible) {
    if (choice.blocked_by.empty())
      choice.blocked_by = answer.proved ? blocked_after_search(work) : "no set was found, but one may exist";
    return choice;
  }
  choice.blocked_by.clear();
  choice.cost = answer.cost;
  choice.bound = answer.bound;
  for (const std::size_t item : answer.chosen) choice.chosen.push_back(described(work, answer.chosen, item));
  for (const ChosenOne& one : choice.chosen) {
    if (one.price_cents) choice.price_cents = choice.price_cents.value_or(0) + *one.price_cents;
  }
  choice.faces = face_fits(work, answer.chosen);
  find_runner_up(work, answer.chosen, choice);
  return choice;
}

}  // namespace kithue
