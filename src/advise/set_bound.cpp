// SPDX-License-Identifier: MIT
#include "advise/set_bound.h"

#include <algorithm>
#include <limits>
#include <numeric>

namespace kithue {
namespace {}  // namespace

SetBound::SetBound(const SetProblem& problem)
    : p_(problem),
      sorted_(problem.targets),
      alive_(problem.items),
      reduced_(problem.items),
      chosen_mark_(problem.items, 0) {
  for (std::size_t t = 0; t < p_.targets; ++t) {
    auto& list = sorted_[t];
    list.reserve(p_.items);
    for (std::size_t i = 0; i < p_.items; ++i) list.push_back({p_.at(i, t), static_cast<std::uint32_t>(i)});
    std::sort(list.begin(), list.end());
  }
  std::iota(alive_.begin(), alive_.end(), std::size_t{0});
  order_.reserve(p_.items);
}

Prices SetBound::first_prices() const {
  Prices prices;
  prices.cover.assign(p_.covers.size(), 0.0);
  prices.conflict.assign(p_.conflicts.size(), 0.0);
  // A good start for the price of a target: between its nearest and a middling item.
  const std::size_t middling = std::min(p_.items - 1, p_.items / (p_.count + 1));
  for (const auto& list : sorted_) prices.target.push_back(list[middling].first);
  return prices;
}

/// The reduced costs at these prices, and what the prices alone add to the bound.
double SetBound::charge(const Prices& prices) {
  for (const std::size_t i : alive_) reduced_[i] = 0.0;
  double bound = 0.0;
  for (std::size_t t = 0; t < p_.targets; ++t) {
    const double price = prices.target[t];
    bound += price;
    for (const auto& [cost, item] : sorted_[t]) {
      if (cost >= price) break;
      reduced_[item] += cost - price;
    }
  }
  for (std::size_t k = 0; k < prices.cover.size(); ++k) {
    if (prices.cover[k] == 0.0) continue;
    bound += prices.cover[k];
    for (const std::size_t i : p_.covers[k]) reduced_[i] -= prices.cover[k];
  }
  for (std::size_t k = 0; k < prices.conflict.size(); ++k) {
    if (prices.conflict[k] == 0.0) continue;
    bound -= prices.conflict[k];
    reduced_[p_.conflicts[k].first] += prices.conflict[k];
    reduced_[p_.conflicts[k].second] += prices.conflict[k];
  }
  return bound;
}

SetBound::Relaxed SetBound::relax(const std::vector<Status>& status, const Prices& prices) {
  double bound = charge(prices);
  order_.clear();
  std::size_t wanted = p_.count;
  for (const std::size_t i : alive_) {
    chosen_mark_[i] = 0;
    if (status[i] == Status::open) order_.push_back(i);
    if (status[i] != Status::in) continue;
    bound += reduced_[i];
    chosen_mark_[i] = 1;
    --wanted;
  }
  const auto cheaper = [&](std::size_t a, std::size_t b) {
    return reduced_[a] != reduced_[b] ? reduced_[a] < reduced_[b] : a < b;
  };
  Relaxed relaxed{0.0, -kNoCost, kNoCost};
  const auto middle = order_.begin() + static_cast<std::ptrdiff_t>(wanted);
  if (wanted > 0 && wanted < order_.size()) std::nth_element(order_.begin(), middle, order_.end(), cheaper);
  for (auto it = order_.begin(); it != middle; ++it) {
    bound += reduced_[*it];
    chosen_mark_[*it] = 1;
    relaxed.last_in = std::max(relaxed.last_in, reduced_[*it]);
  }
  if (middle != order_.end()) relaxed.first_out = reduced_[*middle];
  for (auto it = middle; it != order_.end(); ++it)
    relaxed.first_out = std::min(relaxed.first_out, reduced_[*it]);
  relaxed.bound = bound;
  return relaxed;
}

bool SetBound::step(Prices& prices, double length) {
  target_slope_.resize(p_.targets);
  double square = 0.0;
  for (std::size_t t = 0; t < p_.targets; ++t) {
    double slope = 1.0;
    for (const auto& [cost, item] : sorted_[t]) {
      if (cost >= prices.target[t]) break;
      slope -= chosen_mark_[item];
    }
    target_slope_[t] = slope;
    square += slope * slope;
  }
  cover_slope_.resize(prices.cover.size());
  for (std::size_t k = 0; k < prices.cover.size(); ++k) {
    double slope = 1.0;
    for (const std::size_t i : p_.covers[k]) slope -= chosen_mark_[i];
    if (prices.cover[k] == 0.0 && slope < 0.0) slope = 0.0;
    cover_slope_[k] = slope;
    square += slope * slope;
  }
  conflict_slope_.resize(prices.conflict.size());
  for (std::size_t k = 0; k < prices.conflict.size(); ++k) {
    const auto& [a, b] = p_.conflicts[k];
    double slope = chosen_mark_[a] + chosen_mark_[b] - 1.0;
    if (prices.conflict[k] == 0.0 && slope < 0.0) slope = 0.0;
    conflict_slope_[k] = slope;
    square += slope * slope;
  }
  if (square == 0.0) return false;
  const double scale = length / square;
  for (std::size_t t = 0; t < p_.targets; ++t) prices.target[t] += scale * target_slope_[t];
  for (std::size_t k = 0; k < prices.cover.size(); ++k)
    prices.cover[k] = std::max(0.0, prices.cover[k] + scale * cover_slope_[k]);
  for (std::size_t k = 0; k < prices.conflict.size(); ++k)
    prices.conflict[k] = std::max(0.0, prices.conflict[k] + scale * conflict_slope_[k]);
  return true;
}

bool SetBound::fix_by_reduced_cost(std::vector<Status>& status, const Relaxed& relaxed, double best) const {
  bool fixed = false;
  for (const std::size_t i : order_) {
    const double without = relaxed.bound - reduced_[i] + relaxed.first_out;
    const double with = relaxed.bound + reduced_[i] - relaxed.last_in;
    if (chosen_mark_[i] != 0) {
      if (relaxed.first_out < kNoCost && without >= best - kSameCost) {
        status[i] = Status::in;
        fixed = true;
      }
    } else if (relaxed.last_in > -kNoCost && with >= best - kSameCost) {
      status[i] = Status::out;
      fixed = true;
    }
  }
  return fixed;
}

void SetBound::forget_ruled_out(const std::vector<Status>& root) {
  const auto out = [&](std::size_t i) { return root[i] == Status::out; };
  const auto left =
      alive_.size() - static_cast<std::size_t>(std::count_if(alive_.begin(), alive_.end(), out));
  if (2 * left > alive_.size()) return;
  for (const std::size_t i : alive_) {
    if (out(i)) chosen_mark_[i] = 0;
  }
  std::erase_if(alive_, out);
  for (auto& list : sorted_) std::erase_if(list, [&](const auto& entry) { return out(entry.second); });
}

std::vector<std::size_t> SetBound::chosen() const {
  std::vector<std::size_t> set;
  for (const std::size_t i : alive_) {
    if (chosen_mark_[i] != 0) set.push_back(i);
  }
  return set;
}

}  // namespace kithue
