// SPDX-License-Identifier: MIT
#include "extract/early_look.h"

#include <algorithm>

namespace kithue {

std::vector<int> EarlyLook::begin(const LightRows& picture) {
  picture_ = &picture;
  jobs_.clear();
  add(Maker::small, small_.begin(picture));
  const extract::RowPlan plan = extract::rows_for_colours(picture);
  add(Maker::cells, cells_.begin(picture, plan));
  if (plan.every > 1) add(Maker::rows, rows_.begin(picture, extract::single_rows(picture)));
  std::stable_sort(jobs_.begin(), jobs_.end(), [](const Job& p, const Job& q) { return p.needs < q.needs; });
  std::vector<int> needs;
  for (const Job& job : jobs_) needs.push_back(job.needs);
  return needs;
}

void EarlyLook::add(Maker maker, const std::vector<int>& needs) {
  for (std::size_t i = 0; i < needs.size(); ++i) jobs_.push_back({needs[i], maker, i});
}

void EarlyLook::take(std::size_t job) {
  const Job& one = jobs_[job];
  switch (one.maker) {
    case Maker::small:
      return small_.take(one.number);
    case Maker::cells:
      return cells_.take(one.number);
    case Maker::rows:
      return rows_.take(one.number);
  }
}

}  // namespace kithue
