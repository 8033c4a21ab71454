// SPDX-License-Identifier: MIT
#include "swatch/check.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/text.h"
#include "colour/difference.h"
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

void find_close(const Stash& stash, std::vector<Finding>& findings) {
  struct Placed {
    const Swatch* swatch;
    Lab lab;
  };
  std::vector<Placed> placed;
  for (const Swatch& swatch : stash.swatches) {
    if (const auto lab = colour_of(swatch)) placed.push_back({&swatch, *lab});
  }
  std::stable_sort(placed.begin(), placed.end(),
                   [](const Placed& x, const Placed& y) { return x.lab.L < y.lab.L; });
  // The lightness weight of CIEDE2000 is at most 1.75, so a lightness further off than this settles it.
  const double reach = kCloseDe00 * 1.75;
  std::vector<Finding> close;
  for (std::size_t i = 0; i < placed.size(); ++i) {
    // Nor can a* or b* be further off than the chroma weight allows, with 2.8 for the rotation term in blue.
    const double wide = kCloseDe00 * 2.8 * (1.0 + 0.045 * (chroma(placed[i].lab) + 30.0));
    for (std::size_t j = i + 1; j < placed.size() && placed[j].lab.L - placed[i].lab.L <= reach; ++j) {
      if (placed[i].swatch->kind != placed[j].swatch->kind) continue;
      if (std::fabs(placed[i].lab.a - placed[j].lab.a) > wide ||
          std::fabs(placed[i].lab.b - placed[j].lab.b) > wide)
        continue;
      const double apart = ciede2000(placed[i].lab, placed[j].lab);
      if (apart > kCloseDe00) continue;
      const bool in_order = placed[i].swatch->id < placed[j].swatch->id;
      const Swatch& first = *placed[in_order ? i : j].swatch;
      const Swatch& second = *placed[in_order ? j : i].swatch;
      close.push_back({"close",
                       called(first) + " and " + called(second) + " are only " + fixed_number(apart, 2) +
                           " apart: the same thing under two names?",
                       {first.id, second.id}});
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
