// SPDX-License-Identifier: MIT
#include "swatch/check.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include "base/text.h"
#include "colour/difference.h"
#include "colour/difference_batch.h"
#include "swatch/condition.h"

namespace kithue {
namespace {

std::string called(const Swatch& swatch) {
  return id_text(swatch) + " " + full_name(swatch);
}

void find_twins(const Stash& stash, std::vector<Finding>& findings) {
  std::map<std::string, const Swatch*> seen;
  for (const Swatch& swatch : stash.swatches) {
    const std::string key =
        folded(swatch.name) + '\n' + std::string(word_for(swatch.kind)) + '\n' + folded(swatch.method);
    const auto [at, is_new] = seen.emplace(key, &swatch);
    if (is_new) continue;
    const Swatch& first = *at->second;
    const bool batches = first.batch != swatch.batch;
    findings.push_back(
        {"twin_name",
         called(first) + " and " + called(swatch) + " have the same name" +
             (batches ? ", in batches \"" + first.batch + "\" and \"" + swatch.batch + "\"" : ""),
         {first.id, swatch.id}});
  }
}

/// A swatch that has a colour, in a slab of lightness.
struct Placed {
  const Swatch* swatch;
  Lab lab;
  int slab;
  [[nodiscard]] auto place() const { return std::pair{slab, lab.a}; }
  /// What swatches of one colour and kind share.
  [[nodiscard]] auto colour() const { return std::tuple{slab, lab.a, lab.b, lab.L, swatch->kind}; }
};

/// The lightness weight of CIEDE2000 is at most 1.75, so what is a whole slab further off is not close.
constexpr double kSlab = kCloseDe00 * 1.75;

std::vector<Placed> placed_swatches(const Stash& stash) {
  std::vector<Placed> placed;
  for (const Swatch& swatch : stash.swatches) {
    if (const auto lab = colour_of(swatch))
      placed.push_back({&swatch, *lab, static_cast<int>(std::floor(std::clamp(lab->L, -1e3, 1e3) / kSlab))});
  }
  std::sort(placed.begin(), placed.end(), [](const Placed& x, const Placed& y) {
    return std::tuple{x.colour(), x.swatch->id} < std::tuple{y.colour(), y.swatch->id};
  });
  return placed;
}

Finding close_finding(const Swatch& x, const Swatch& y, double apart) {
  const Swatch& first = x.id < y.id ? x : y;
  const Swatch& second = x.id < y.id ? y : x;
  return {"close",
          called(first) + " and " + called(second) + " are only " + fixed_number(apart, 2) +
              " apart: the same thing under two names?",
          {first.id, second.id}};
}

/// Finds the nearest other swatch of the kind, the lower id of two as near.
class Neighbours {
 public:
  explicit Neighbours(const std::vector<Placed>& placed) : placed_(placed) {}

  struct Nearest {
    const Swatch* swatch = nullptr;  ///< null where none is close
    double apart = 0.0;
  };
  [[nodiscard]] Nearest of(std::size_t index) {
    const Placed& one = placed_[index];
    const auto [first, last] =
        std::equal_range(placed_.begin(), placed_.end(), one,
                         [](const Placed& x, const Placed& y) { return x.colour() < y.colour(); });
    if (last - first > 1) return {(first->swatch == one.swatch ? first + 1 : first)->swatch, 0.0};
    near_.clear();
    labs_.clear();
    for (int slab = one.slab - 1; slab <= one.slab + 1; ++slab) gather(one, slab);
    apart_.resize(labs_.size());
    ciede2000_batch(one.lab, LabColumns(labs_), apart_);
    Nearest nearest;
    for (std::size_t i = 0; i < near_.size(); ++i) {
      if (apart_[i] > kCloseDe00) continue;
      if (nearest.swatch == nullptr ||
          std::pair{apart_[i], near_[i]->id} < std::pair{nearest.apart, nearest.swatch->id})
        nearest = {near_[i], apart_[i]};
    }
    return nearest;
  }

 private:
  /// Of each colour of a slab that may be close, the swatch of the lowest id.
  void gather(const Placed& one, int slab) {
    // Neither a* nor b* can be further off than the chroma weight allows, with 2.8 for the rotation in blue.
    const double wide = kCloseDe00 * 2.8 * (1.0 + 0.045 * (chroma(one.lab) + 30.0));
    auto at = std::lower_bound(placed_.begin(), placed_.end(), std::pair{slab, one.lab.a - wide},
                               [](const Placed& x, const auto& place) { return x.place() < place; });
    for (; at != placed_.end() && at->slab == slab && at->lab.a <= one.lab.a + wide; ++at) {
      if (std::fabs(at->lab.b - one.lab.b) > wide || at->swatch->kind != one.swatch->kind) continue;
      if (at->swatch == one.swatch || (!labs_.empty() && labs_.back() == at->lab)) continue;
      near_.push_back(at->swatch);
      labs_.push_back(at->lab);
    }
  }

  const std::vector<Placed>& placed_;
  std::vector<const Swatch*> near_;
  std::vector<Lab> labs_;
  std::vector<double> apart_;
};

/// A finding for each asked swatch with its nearest, so that a thousand of one colour give a thousand.
void find_close(const Stash& stash, const std::function<bool(int)>& asked, std::vector<Finding>& findings) {
  const std::vector<Placed> placed = placed_swatches(stash);
  Neighbours neighbours(placed);
  std::map<std::pair<int, int>, Finding> pairs;  // two that are each other's nearest are one
  for (std::size_t i = 0; i < placed.size(); ++i) {
    const Swatch& swatch = *placed[i].swatch;
    if (!asked(swatch.id)) continue;
    const Neighbours::Nearest nearest = neighbours.of(i);
    if (nearest.swatch == nullptr) continue;
    const std::pair<int, int> ids = std::minmax(swatch.id, nearest.swatch->id);
    if (!pairs.contains(ids)) pairs.emplace(ids, close_finding(swatch, *nearest.swatch, nearest.apart));
  }
  for (auto& [ids, finding] : pairs) findings.push_back(std::move(finding));
}

void find_missing(const Stash& stash, std::vector<Finding>& findings) {
  for (const Swatch& swatch : stash.swatches) {
    if (swatch.finish == Finish::plain && swatch.readings.empty())
      findings.push_back(
          {"no_number", called(swatch) + " has no reading, so it takes part in nothing", {swatch.id}});
  }
}

void find_batches(const Stash& stash, std::vector<Finding>& findings) {
  for (const Swatch& swatch : stash.swatches) {
    std::set<std::string> batches;
    for (const Reading& reading : swatch.readings) {
      if (!reading.batch.empty()) batches.insert("\"" + reading.batch + "\"");
    }
    if (batches.size() < 2) continue;
    findings.push_back(
        {"mixed_batches",
         called(swatch) + " mixes readings of batches " + joined({batches.begin(), batches.end()}, ", "),
         {swatch.id}});
  }
}

void find_mixed(const Stash& stash, std::vector<Finding>& findings) {
  for (const Swatch& swatch : stash.swatches) {
    for (const std::string& caution : comparison_cautions(swatch, swatch))
      findings.push_back({"mixed_conditions", caution, {swatch.id}});
  }
}

void find_far(const Stash& stash, std::vector<Finding>& findings) {
  for (const Swatch& swatch : stash.swatches) {
    for (const std::size_t index : far_readings(swatch)) {
      const double apart = ciede2000(*colour_of(swatch), swatch.readings[index].lab);
      findings.push_back({"far_reading",
                          "reading " + std::to_string(index + 1) + " of " + called(swatch) + " lies " +
                              fixed_number(apart, 2) + " from the others: measure again, or drop it",
                          {swatch.id}});
    }
  }
}

}  // namespace

std::vector<std::size_t> far_readings(const Swatch& swatch) {
  const auto centre = colour_of(swatch);
  const auto own = own_readings(swatch);
  if (!centre || own.size() < 3) return {};
  std::vector<double> apart;
  for (const Reading* reading : own) apart.push_back(ciede2000(*centre, reading->lab));
  std::vector<double> sorted = apart;
  std::sort(sorted.begin(), sorted.end());
  const double limit = std::max(kFarReadingDe00, 3.0 * sorted[sorted.size() / 2]);
  std::vector<std::size_t> far;
  for (std::size_t i = 0; i < apart.size(); ++i) {
    if (apart[i] > limit) far.push_back(static_cast<std::size_t>(own[i] - swatch.readings.data()));
  }
  return far;
}

std::vector<Finding> check_stash(const Stash& stash) {
  std::vector<Finding> findings;
  find_twins(stash, findings);
  find_close(
      stash, [](int) { return true; }, findings);
  find_missing(stash, findings);
  find_batches(stash, findings);
  find_mixed(stash, findings);
  find_far(stash, findings);
  return findings;
}

std::vector<Finding> duplicate_findings(const Stash& stash, const std::vector<int>& ids) {
  const std::set<int> set(ids.begin(), ids.end());
  const auto asked = [&set](int id) { return set.contains(id); };
  std::vector<Finding> findings;
  find_twins(stash, findings);
  find_batches(stash, findings);
  std::erase_if(findings, [&asked](const Finding& finding) {
    return std::none_of(finding.ids.begin(), finding.ids.end(), asked);
  });
  const auto batches = std::find_if(findings.begin(), findings.end(),
                                    [](const Finding& one) { return one.code == "mixed_batches"; });
  std::vector<Finding> close;
  find_close(stash, asked, close);
  findings.insert(batches, close.begin(), close.end());
  return findings;
}

}  // namespace kithue
