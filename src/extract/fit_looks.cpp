// SPDX-License-Identifier: MIT
#include "extract/fit_looks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <utility>

#include "extract/bands_fit.h"
#include "extract/edge_fit.h"
#include "extract/mixture.h"

namespace kithue::extract {
namespace {

/// A smear and how well the lines fit under it.
struct JointFit {
  double sharp = 0.0;
  double cost = 0.0;
};

/// How well groups of lines fit, each with one colour for all its cuts.
double joint_cost(const std::vector<Group>& groups, const Smear& smear, Executor& executor) {
  constexpr std::size_t kMost = 48;
  double sum = 0.0;
  for (const Group& group : groups) {
    std::vector<Cut> cuts;
    std::vector<Cut*> pointers;
    for (const Cut* cut : cuts_of(group)) cuts.push_back(*cut);
    if (cuts.size() > kMost) cuts.resize(kMost);
    for (Cut& cut : cuts) pointers.push_back(&cut);
    sum += fit_together(pointers, smear, group.light, executor).cost;
  }
  return sum;
}

/// Downhill by equal steps of the logarithm, then the bottom of the parabola.
JointFit best_sharp(const std::vector<Group>& groups, double start, double excess, Executor& executor) {
  constexpr double kStep = 0.06;
  const auto cost_at = [&](double log_sharp) {
    return joint_cost(groups, {std::exp(log_sharp), excess, 0.1}, executor);
  };
  double middle = std::log(start);
  double low = cost_at(middle - kStep);
  double here = cost_at(middle);
  double high = cost_at(middle + kStep);
  for (int step = 0; step < 6 && (low < here || high < here); ++step) {
    if (low < high) {
      middle -= kStep;
      high = here;
      here = low;
      low = cost_at(middle - kStep);
    } else {
      middle += kStep;
      low = here;
      here = high;
      high = cost_at(middle + kStep);
    }
  }
  const Bottom bottom = bottom_of(low, here, high);
  return {std::exp(middle + kStep * bottom.steps), bottom.value};
}

/// The smear under which the largest groups of lines fit best together: a line that may have any colour would
/// fit some other smear as well.
EdgeSmear joint_sharpness(std::vector<Look>& looks, double start, Executor& executor) {
  constexpr int kTried = 8;
  constexpr std::size_t kGroups = 3;
  constexpr std::size_t kLeast = 12;
  constexpr double kWide = 2.5;  // times the smear: narrower lines tell nothing about it
  const Agreement agreement(looks);
  const Grouping grouping(looks, agreement, executor);
  std::vector<Group> groups;
  for (int i = 0; i < kTried && groups.size() < kGroups; ++i) {
    Group group = grouping.largest();
    if (group.looks.size() < kLeast) break;
    for (Look* look : group.looks) look->open = false;
    if (median_width(group.looks) >= kWide * start) groups.push_back(std::move(group));
  }
  if (groups.empty()) return {start, 0.0};
  const JointFit plain = best_sharp(groups, start, 0.0, executor);
  if (plain.sharp > kShapeless) return {plain.sharp, 0.0};
  std::array<double, 3> costs{plain.cost};
  for (std::size_t i = 1; i < costs.size(); ++i)
    costs[i] = best_sharp(groups, plain.sharp, kExcessStep * static_cast<double>(i), executor).cost;
  const double excess = best_excess(costs);
  return {best_sharp(groups, plain.sharp, excess, executor).sharp, excess};
}

/// The bands of a look that is several, each as a look of its own that stands for so many others.
template <std::size_t N>
void add_bands(const Look& look, const BandsFit<N>& fit, const Smear& smear, double stands_for,
               std::vector<Look>& out) {
  for (std::size_t k = 0; k < N; ++k) {
    Look one{look.core, cut_of_band(look.cut, fit, k), {}, true, stands_for};
    one.core.left = one.core.right = kNoLabel;
    // Between two narrow bands a cut is too short to be fitted by itself.
    one.own = k == 0 || k + 1 == N ? fit_cut(one.cut, smear) : fit.bands[k];
    out.push_back(std::move(one));
  }
}

/// Where one band does not fit but two or three do, the look becomes as many, each with those beside it on
/// its sides. What a soft edge fits is none, unless the smear may be what is soft.
void split_bands(std::vector<Look>& looks, const Smear& smear, SmearIs smear_is, int most_bands,
                 Executor& executor) {
  constexpr double kBad = 0.009;   // root mean square of the misfit, of white: coding makes less
  constexpr double kBetter = 0.3;  // of the cost
  constexpr double kNearlyGood = 1.5;
  constexpr std::size_t kMost = 80;
  const auto is_bad = [&](double cost, double weight) { return cost > kBad * kBad * weight; };
  std::vector<std::size_t> bad;
  for (std::size_t i = 0; i < looks.size(); ++i) {
    const CutColour& own = looks[i].own;
    if (own.found && is_bad(own.cost, own.weight)) bad.push_back(i);
  }
  const std::size_t step = (bad.size() + kMost - 1) / kMost;
  std::vector<std::size_t> tried;
  for (std::size_t i = 0; i < bad.size(); i += step) tried.push_back(bad[i]);
  std::vector<std::vector<Look>> bands(tried.size());
  executor.run(tried.size(), [&](std::size_t i) {
    Look& look = looks[tried[i]];
    if (smear_is == SmearIs::known && look.core.left != look.core.right && may_be_soft_edge(look.cut) &&
        !is_bad(soft_edge_cost(look.cut, smear), look.own.weight)) {
      look.own.found = false;
      return;
    }
    const BandsFit<2> pair = fit_pair(look.cut, smear, look.own.cost);
    const double least = pair.found ? std::min(pair.cost, look.own.cost) : look.own.cost;
    if (most_bands > 2 && is_bad(least, look.own.weight)) {
      const BandsFit<3> triple = fit_triple(look.cut, smear, least);
      if (triple.found && triple.cost <= kBetter * least &&
          !is_bad(triple.cost, kNearlyGood * look.own.weight))
        return add_bands(look, triple, smear, static_cast<double>(step) * look.stands_for, bands[i]);
    }
    if (pair.found && pair.cost <= kBetter * look.own.cost)
      add_bands(look, pair, smear, static_cast<double>(step) * look.stands_for, bands[i]);
  });
  std::size_t split = 0;
  for (std::size_t i = 0; i < tried.size(); ++i) {
    if (bands[i].empty()) continue;
    looks[tried[i]].own.found = false;
    ++split;
    std::move(bands[i].begin(), bands[i].end(), std::back_inserter(looks));
  }
  // The bands stand for those that were not tried, too.
  if (2 * split > tried.size()) {
    for (const std::size_t i : bad) looks[i].own.found = false;
  }
}

/// Of a core that an edge may look like: no edge fits, and one band does.
bool is_no_edge(const Look& look, const Smear& smear) {
  constexpr double kWorse = 6.0;    // times the cost of a band
  constexpr double kGood = 0.0075;  // root mean square of the misfit, of white
  if (!look.core.doubtful) return true;
  if (look.own.cost > kGood * kGood * look.own.weight) return false;
  double middle = 0.0;
  return edge_cost(look.cut, smear, middle) > kWorse * look.own.cost;
}

}  // namespace

void fit_looks(std::vector<Look>& looks, const Smear& smear, SmearIs smear_is,
               const std::vector<Light>& known, int most_bands, Executor& executor) {
  executor.run(looks.size(), [&](std::size_t i) { looks[i].own = fit_cut(looks[i].cut, smear); });
  if (most_bands > 1) split_bands(looks, smear, smear_is, most_bands, executor);
  const Agreement agreement(looks);
  executor.run(looks.size(), [&](std::size_t i) {
    Look& look = looks[i];
    look.open = look.own.found && agreement.clean(look) &&
                std::none_of(known.begin(), known.end(),
                             [&](const Light& light) { return agreement.agree(look, light); }) &&
                is_no_edge(look, smear);
  });
}

EdgeSmear sharpness_of_lines(const std::vector<Look>& looks, const Cutter& cutter, int most_bands,
                             Executor& executor) {
  std::vector<Cut> some;
  const std::size_t step = std::max<std::size_t>(1, looks.size() / 160);
  for (std::size_t i = 0; i < looks.size(); i += step) some.push_back(looks[i].cut);
  const double sharp = line_sharpness(std::move(some), executor);
  std::vector<Look> trial = looks;
  fit_looks(trial, {sharp}, SmearIs::tried, cutter.lights(), most_bands, executor);
  return joint_sharpness(trial, sharp, executor);
}

bool is_confirmed(const Shown& shown, const std::vector<Core>& cores, const Agreement& agreement,
                  const Smear& smear, const Cutter& cutter, int side, Executor& executor) {
  constexpr double kNear = 5.0;  // Lab units
  constexpr std::size_t kMost = 32;
  constexpr double kLeast = 0.4;  // of them
  std::vector<Core> alike;
  std::copy_if(cores.begin(), cores.end(), std::back_inserter(alike), [&](const Core& core) {
    return std::any_of(shown.looks.begin(), shown.looks.end(), [&](const Look* look) {
      return lab_distance(lab_of(look->core.lab), lab_of(core.lab)) < kNear;
    });
  });
  std::vector<Core> some;
  const std::size_t step = std::max<std::size_t>(1, alike.size() / kMost);
  for (std::size_t i = step / 2; i < alike.size(); i += step) some.push_back(alike[i]);
  std::vector<Look> looks = looks_of(some, some.size(), cutter, side, executor);
  const double all = static_cast<double>(looks.size());
  executor.run(looks.size(), [&](std::size_t i) { looks[i].own = fit_cut(looks[i].cut, smear); });
  split_bands(looks, smear, SmearIs::known, shown.most_bands, executor);
  const auto agreeing = std::count_if(looks.begin(), looks.end(), [&](const Look& look) {
    return look.own.found && agreement.clean(look) &&
           (agreement.agree(look, shown.light) || agreement.agree(look, shown.mean));
  });
  return all > 0.0 && static_cast<double>(agreeing) >= kLeast * all;
}

}  // namespace kithue::extract
