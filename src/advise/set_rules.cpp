// SPDX-License-Identifier: MIT
#include "advise/set_rules.h"

#include <algorithm>
#include <numeric>

namespace kithue {
namespace {

void set_all_open(std::vector<Status>& status, Status to) {
  for (Status& one : status) {
    if (one == Status::open) one = to;
  }
}

}  // namespace

SetRules::SetRules(const SetProblem& problem)
    : p_(problem), rivals_(problem.items), covered_by_(problem.items) {
  for (const auto& [a, b] : p_.conflicts) {
    rivals_[a].push_back(b);
    rivals_[b].push_back(a);
  }
  for (std::size_t k = 0; k < p_.covers.size(); ++k) {
    for (const std::size_t i : p_.covers[k]) covered_by_[i].push_back(k);
  }
}

bool SetRules::propagate(std::vector<Status>& status, const std::vector<std::size_t>& alive) const {
  for (;;) {
    const Outcome rivals = rule_out_rivals(status, alive);
    if (rivals == Outcome::broken) return false;
    if (rivals == Outcome::changed) continue;
    std::size_t in = 0;
    std::size_t open = 0;
    for (const std::size_t i : alive) {
      in += status[i] == Status::in ? 1 : 0;
      open += status[i] == Status::open ? 1 : 0;
    }
    if (in > p_.count || in + open < p_.count) return false;
    const Outcome budget = keep_budget(status, alive, in);
    if (budget == Outcome::broken) return false;
    if (budget == Outcome::changed) continue;
    const Outcome covers = keep_covers(status, in);
    if (covers == Outcome::broken) return false;
    if (covers == Outcome::changed) continue;
    if (in == p_.count && open > 0) set_all_open(status, Status::out);
    if (in + open > p_.count || open == 0 || in == p_.count) return true;
    set_all_open(status, Status::in);
  }
}

SetRules::Outcome SetRules::rule_out_rivals(std::vector<Status>& status,
                                            const std::vector<std::size_t>& alive) const {
  Outcome outcome = Outcome::settled;
  for (const std::size_t i : alive) {
    if (status[i] != Status::in) continue;
    for (const std::size_t rival : rivals_[i]) {
      if (status[rival] == Status::in) return Outcome::broken;
      if (status[rival] != Status::open) continue;
      status[rival] = Status::out;
      outcome = Outcome::changed;
    }
  }
  return outcome;
}

/// Broken when even the cheapest open items would cost too much with those in; rules the too dear ones out.
SetRules::Outcome SetRules::keep_budget(std::vector<Status>& status, const std::vector<std::size_t>& alive,
                                        std::size_t in) const {
  if (p_.price.empty()) return Outcome::settled;
  std::int64_t left = p_.budget;
  std::vector<std::int64_t> open;
  for (const std::size_t i : alive) {
    if (status[i] == Status::in) left -= p_.price[i];
    if (status[i] == Status::open) open.push_back(p_.price[i]);
  }
  const auto wanted = static_cast<std::ptrdiff_t>(p_.count - in);
  if (wanted == 0) return left >= 0 ? Outcome::settled : Outcome::broken;
  std::partial_sort(open.begin(), open.begin() + wanted, open.end());
  // What is left for one item when all the others are the cheapest.
  left -= std::accumulate(open.begin(), open.begin() + (wanted - 1), std::int64_t{0});
  if (open[static_cast<std::size_t>(wanted - 1)] > left) return Outcome::broken;
  Outcome outcome = Outcome::settled;
  for (const std::size_t i : alive) {
    if (status[i] != Status::open || p_.price[i] <= left) continue;
    status[i] = Status::out;
    outcome = Outcome::changed;
  }
  return outcome;
}

SetRules::Outcome SetRules::keep_covers(std::vector<Status>& status, std::size_t in) const {
  for (const auto& cover : p_.covers) {
    std::size_t left = 0;
    std::size_t last = 0;
    bool done = false;
    for (const std::size_t i : cover) {
      done = done || status[i] == Status::in;
      if (status[i] != Status::open) continue;
      ++left;
      last = i;
    }
    if (done) continue;
    if (left == 0 || in == p_.count) return Outcome::broken;
    if (left > 1) continue;
    status[last] = Status::in;
    return Outcome::changed;
  }
  return Outcome::settled;
}

std::size_t SetRules::first_open_cover(const std::vector<Status>& status) const {
  for (std::size_t k = 0; k < p_.covers.size(); ++k) {
    const bool done = std::any_of(p_.covers[k].begin(), p_.covers[k].end(),
                                  [&](std::size_t i) { return status[i] == Status::in; });
    if (!done) return k;
  }
  return p_.covers.size();
}

bool SetRules::covers(std::size_t item, std::size_t cover) const {
  const auto& list = covered_by_[item];
  return std::find(list.begin(), list.end(), cover) != list.end();
}

}  // namespace kithue
