// SPDX-License-Identifier: MIT
#include "advise/learn.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "advise/clash.h"
#include "base/text.h"

namespace kithue {
namespace {

/// A pair as the fit sees it.
struct Case {
  double de00 = 0.0;
  bool clashes = false;
  bool by_band = true;  // false: undertone or vibration, judged on other grounds
};

bool said_to_clash(const LabelledPair& pair, const Bands& bands) {
  const NamedColour a{pair.a.name, pair.a.lab, 0.0, pair.a.swatch};
  const NamedColour b{pair.b.name, pair.b.lab, 0.0, pair.b.swatch};
  return is_clash(judge(a, b, bands).verdict);
}

std::size_t agreement(const std::vector<LabelledPair>& pairs, const Bands& bands) {
  return static_cast<std::size_t>(std::count_if(pairs.begin(), pairs.end(), [&](const LabelledPair& pair) {
    return said_to_clash(pair, bands) == pair.clashes;
  }));
}

Case case_of(const LabelledPair& pair, const Bands& start) {
  const NamedColour a{pair.a.name, pair.a.lab, 0.0, pair.a.swatch};
  const NamedColour b{pair.b.name, pair.b.lab, 0.0, pair.b.swatch};
  const Judgement judged = judge(a, b, start);
  const bool other = judged.verdict == Verdict::undertone || judged.verdict == Verdict::vibration;
  return {judged.terms.de00, pair.clashes, !other};
}

/// Limits worth trying: the start's, and halfway between neighbouring distances.
std::vector<double> limits_to_try(const std::vector<Case>& sorted, double start) {
  std::vector<double> limits{start};
  double before = 0.0;
  for (const Case& one : sorted) {
    if (one.de00 > before) limits.push_back((before + one.de00) / 2.0);
    before = one.de00;
  }
  limits.push_back(before + 0.5);
  return limits;
}

Bands moved_to(const Bands& start, double low, double high) {
  Bands bands = start;
  bands.match = low;
  bands.near_miss = high;
  bands.same = std::min(start.same, low / 2.0);
  bands.step = std::max(start.step, high + (start.step - start.near_miss));
  return bands;
}

Bands fitted(std::vector<Case> cases, const Bands& start) {
  std::erase_if(cases, [](const Case& one) { return !one.by_band; });
  std::sort(cases.begin(), cases.end(), [](const Case& x, const Case& y) { return x.de00 < y.de00; });
  // Clashes and harmless pairs up to each place, so that any two limits are counted at once.
  std::vector<long> clashes{0};
  std::vector<long> fine{0};
  for (const Case& one : cases) {
    clashes.push_back(clashes.back() + (one.clashes ? 1 : 0));
    fine.push_back(fine.back() + (one.clashes ? 0 : 1));
  }
  const auto up_to = [&](double limit) {
    const auto at = std::upper_bound(cases.begin(), cases.end(), limit,
                                     [](double value, const Case& one) { return value < one.de00; });
    return static_cast<std::size_t>(at - cases.begin());
  };
  const auto change = [&](double low, double high) {
    return std::fabs(std::log(std::max(low, 0.01) / start.match)) +
           std::fabs(std::log(std::max(high, 0.01) / start.near_miss));
  };
  const std::vector<double> lows = limits_to_try(cases, start.match);
  const std::vector<double> highs = limits_to_try(cases, start.near_miss);
  long most = -1;
  double least_change = 0.0;
  std::pair<double, double> best{start.match, start.near_miss};
  for (const double low : lows) {
    const std::size_t i = up_to(low);
    for (const double high : highs) {
      if (high <= low) continue;
      const std::size_t k = up_to(high);
      const long agree = fine[i] + (clashes[k] - clashes[i]) + (fine.back() - fine[k]);
      const double moved = change(low, high);
      if (agree < most || (agree == most && moved >= least_change)) continue;
      most = agree;
      least_change = moved;
      best = {low, high};
    }
  }
  return moved_to(start, best.first, best.second);
}

}  // namespace

LearnedBands learn_bands(const std::vector<LabelledPair>& pairs, const Bands& start) {
  LearnedBands learned;
  learned.bands = start;
  const auto clashing = static_cast<std::size_t>(
      std::count_if(pairs.begin(), pairs.end(), [](const LabelledPair& pair) { return pair.clashes; }));
  learned.agree_before = agreement(pairs, start);
  if (pairs.size() < kLeastPairs || clashing < kLeastOfEach || pairs.size() - clashing < kLeastOfEach) {
    learned.too_few = counted(pairs.size(), "pair") + ", " + std::to_string(clashing) +
                      " of them clashing: it takes " + std::to_string(kLeastPairs) + ", and " +
                      std::to_string(kLeastOfEach) + " of each";
    return learned;
  }
  std::vector<Case> cases;
  cases.reserve(pairs.size());
  for (const LabelledPair& pair : pairs) cases.push_back(case_of(pair, start));
  learned.bands = fitted(cases, start);
  learned.agree_after = agreement(pairs, learned.bands);
  const std::size_t folds = pairs.size() > 200 ? 10 : pairs.size();
  for (std::size_t fold = 0; fold < folds; ++fold) {
    std::vector<Case> rest;
    std::vector<LabelledPair> unseen;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
      if (i % folds == fold) {
        unseen.push_back(pairs[i]);
      } else {
        rest.push_back(cases[i]);
      }
    }
    learned.agree_unseen += agreement(unseen, fitted(std::move(rest), start));
  }
  return learned;
}

}  // namespace kithue
