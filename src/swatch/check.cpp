// SPDX-License-Identifier: MIT
#include "swatch/check.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
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
  /// What they are in order of.
  [[nodiscard]] std::pair<int, double> place() const { return {slab, lab.a}; }
};

/// The lightness weight of CIEDE2000 is at most 1.75, so what is a whole slab further off is not close.
constexpr double kSlab = kCloseDe00 * 1.75;

std::vector<Placed> placed_swatches(const Stash& stash) {
  std::vector<Placed> placed;
  for (const Swatch& swatch : stash.swatches) {
    if (const auto lab = colour_of(swatch))
      placed.push_back({&swatch, *lab, static_cast<int>(std::floor(std::clamp(lab->L, -1e3, 1e3) / kSlab))});
  }
  std::stable_sort(placed.begin(), placed.end(),
                   [](const Placed& x, const Placed& y) { return x.place() < y.place(); });
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

void find_close(const Stash& stash, std::vector<Finding>& findings) {
  const std::vector<Placed> placed = placed_swatches(stash);
  std::vector<Finding> close;
  std::vector<const Placed*> near;
  std::vector<Lab> labs;
  std::vector<double> apart;
  for (auto one = placed.begin(); one != placed.end(); ++one) {
    // Nor can a* or b* be further off than the chroma weight allows, with 2.8 for the rotation term in blue.
    const double wide = kCloseDe00 * 2.8 * (1.0 + 0.045 * (chroma(one->lab) + 30.0));
    near.clear();
    labs.clear();
    const auto gather = [&](auto from, int slab) {
      for (; from != placed.end() && from->slab == slab && from->lab.a <= one->lab.a + wide; ++from) {
        if (std::fabs(from->lab.b - one->lab.b) > wide || from->swatch->kind != one->swatch->kind) continue;
        near.push_back(&*from);
        labs.push_back(from->lab);
      }
    };
    gather(std::next(one), one->slab);
    const std::pair above{one->slab + 1, one->lab.a - wide};
    gather(std::lower_bound(one, placed.end(), above,
                            [](const Placed& x, const auto& place) { return x.place() < place; }),
           one->slab + 1);
    apart.resize(labs.size());
    ciede2000_batch(one->lab, LabColumns(labs), apart);
    for (std::size_t i = 0; i < near.size(); ++i) {
      if (apart[i] <= kCloseDe00) close.push_back(close_finding(*one->swatch, *near[i]->swatch, apart[i]));
    }
  }
  std::sort(close.begin(), close.end(), [](const Finding& x, const Finding& y) { return x.ids < y.ids; });
  findings.insert(findings.end(), close.begin(), close.end());
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
  find_close(stash, findings);
  find_missing(stash, findings);
  find_batches(stash, findings);
  find_mixed(stash, findings);
  find_far(stash, findings);
  return findings;
}

std::vector<Finding> duplicate_findings(const Stash& stash, const std::vector<int>& ids) {
  std::vector<Finding> findings;
  find_twins(stash, findings);
  find_close(stash, findings);
  find_batches(stash, findings);
  const std::set<int> asked(ids.begin(), ids.end());
  std::erase_if(findings, [&asked](const Finding& finding) {
    return std::none_of(finding.ids.begin(), finding.ids.end(),
                        [&asked](int id) { return asked.contains(id); });
  });
  return findings;
}

}  // namespace kithue
