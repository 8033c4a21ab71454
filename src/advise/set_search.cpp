// SPDX-License-Identifier: MIT
#include "advise/set_search.h"

#include <algorithm>
#include <limits>
#include <utility>

#include "advise/set_bound.h"
#include "advise/set_rules.h"

namespace kithue {
namespace {

// A set this much dearer than the best known is not worth the swaps that might improve it.
constexpr double kWorthPolishing = 1.0005;

struct Node {
  std::vector<Status> status;
  Prices prices;
};

class Search {
 public:
  Search(const SetProblem& problem, std::size_t most_nodes)
      : p_(problem), most_nodes_(most_nodes), rules_(problem), bound_(problem) {}

  SetAnswer run() {
    SetAnswer answer;
    Node root;
    root.status.assign(p_.items, Status::open);
    root.prices = bound_.first_prices();
    bool possible = true;
    for (const std::size_t i : p_.never) root.status[i] = Status::out;
    for (const std::size_t i : p_.must) {
      possible = possible && root.status[i] != Status::out;
      root.status[i] = Status::in;
    }
    if (possible && rules_.propagate(root.status, bound_.alive())) {
      first_guess(root.status);
      answer.root_bound = std::min(explore(root, 0), best_cost_);
    } else {
      answer.root_bound = kNoCost;
    }
    answer.feasible = !best_.empty() || (p_.count == 0 && best_cost_ < kNoCost);
    answer.proved = !out_of_nodes_;
    answer.chosen = best_;
    answer.cost = answer.feasible ? best_cost_ : 0.0;
    answer.bound = out_of_nodes_ ? std::min(open_bound_, best_cost_) : best_cost_;
    if (!answer.feasible && answer.proved) answer.bound = kNoCost;
    answer.nodes = nodes_;
    return answer;
  }

 private:
  // ---- good sets ----

  void offer(std::vector<std::size_t> set) {
    if (set.size() != p_.count || set == last_offered_ || !keeps_rules(p_, set)) return;
    last_offered_ = set;
    if (set_cost(p_, set) > kWorthPolishing * best_cost_) return;
    improve(set);
    const double cost = set_cost(p_, set);
    if (cost < best_cost_ - kSameCost) {
      best_cost_ = cost;
      std::sort(set.begin(), set.end());
      best_ = std::move(set);
    }
  }

  /// Swaps one chosen item for another while that helps and keeps the rules.
  void improve(std::vector<std::size_t>& set) const {
    const std::size_t T = p_.targets;
    std::vector<double> others(T);
    for (bool moved = true; moved;) {
      moved = false;
      for (std::size_t k = 0; k < set.size(); ++k) {
        if (std::find(p_.must.begin(), p_.must.end(), set[k]) != p_.must.end()) continue;
        std::fill(others.begin(), others.end(), kNoCost);
        for (std::size_t m = 0; m < set.size(); ++m) {
          if (m == k) continue;
          for (std::size_t t = 0; t < T; ++t) others[t] = std::min(others[t], p_.at(set[m], t));
        }
        const auto cost_with = [&](std::size_t item) {
          double sum = 0.0;
          for (std::size_t t = 0; t < T; ++t) sum += std::min(others[t], p_.at(item, t));
          return sum;
        };
        double least = cost_with(set[k]) - kSameCost;
        const std::size_t held = set[k];
        std::size_t better = held;
        for (const std::size_t i : bound_.alive()) {
          if (std::find(set.begin(), set.end(), i) != set.end()) continue;
          const double cost = cost_with(i);
          if (cost >= least) continue;
          set[k] = i;
          if (keeps_rules(p_, set)) {
            least = cost;
            better = i;
          }
          set[k] = held;
        }
        set[k] = better;
        moved = moved || better != held;
      }
    }
  }

  /// Fixed items, then one for each open cover, then greedily; conclusions drawn after every step.
  void first_guess(std::vector<Status> status) {
    std::vector<double> nearest(p_.targets, kNoCost);
    const auto take_in = [&](std::size_t item) {
      for (std::size_t t = 0; t < p_.targets; ++t) nearest[t] = std::min(nearest[t], p_.at(item, t));
    };
    for (;;) {
      std::fill(nearest.begin(), nearest.end(), kNoCost);
      std::vector<std::size_t> set;
      for (std::size_t i = 0; i < p_.items; ++i) {
        if (status[i] != Status::in) continue;
        set.push_back(i);
        take_in(i);
      }
      if (set.size() == p_.count) return offer(std::move(set));
      const std::size_t wanted = rules_.first_open_cover(status);
      double least = kNoCost;
      std::size_t next = p_.items;
      for (std::size_t i = 0; i < p_.items; ++i) {
        if (status[i] != Status::open) continue;
        if (wanted < p_.covers.size() && !rules_.covers(i, wanted)) continue;
        double sum = 0.0;
        for (std::size_t t = 0; t < p_.targets; ++t) sum += std::min(nearest[t], p_.at(i, t));
        if (sum < least) {
          least = sum;
          next = i;
        }
      }
      if (next == p_.items) return;
      std::vector<Status> tried = status;
      tried[next] = Status::in;
      if (rules_.propagate(tried, bound_.alive())) {
        status = std::move(tried);
      } else {
        status[next] = Status::out;
        if (!rules_.propagate(status, bound_.alive())) return;
      }
    }
  }

  // ---- branching ----

  /// Bounds, fixes and splits; returns the best bound found for the whole of this node.
  double explore(Node node, int depth) {
    if (++nodes_ > most_nodes_) {
      out_of_nodes_ = true;
      return -kNoCost;
    }
    const int rounds = depth == 0 ? 350 : 25;
    double best_bound = -kNoCost;
    double theta = depth == 0 ? 1.0 : 0.4;
    int since = 0;
    Prices best_prices = node.prices;
    std::vector<double> often(p_.items, 0.0);  // how much of the time an item is chosen
    for (int round = 0; round < rounds; ++round) {
      const SetBound::Relaxed relaxed = bound_.relax(node.status, node.prices);
      if (relaxed.bound > best_bound + 1e-7) {
        since = 0;
      } else if (++since >= (depth == 0 ? 12 : 5)) {
        theta /= 2.0;
        since = 0;
        if (theta < 2e-3) break;
      }
      if (relaxed.bound > best_bound) {
        best_bound = relaxed.bound;
        best_prices = node.prices;
        if (best_bound >= best_cost_ - kSameCost) return best_bound;
        if (depth == 0 ? round % 8 == 0 : round % 16 == 0) offer(bound_.chosen());
        if (best_bound >= best_cost_ - kSameCost) return best_bound;
      }
      for (const std::size_t i : bound_.alive())
        often[i] = 0.85 * often[i] + 0.15 * (bound_.is_chosen(i) ? 1.0 : 0.0);
      if (best_cost_ < kNoCost && bound_.fix_by_reduced_cost(node.status, relaxed, best_cost_)) {
        if (!rules_.propagate(node.status, bound_.alive()))
          return best_cost_;  // nothing better than the best known
        if (depth == 0) bound_.forget_ruled_out(node.status);
        if (std::none_of(node.status.begin(), node.status.end(), is_open)) {
          offer(taken(node.status));
          return best_cost_;
        }
      }
      const double aim = best_cost_ < kNoCost ? best_cost_ : best_bound + std::max(1.0, 0.2 * best_bound);
      if (!bound_.step(node.prices, theta * std::max(aim - relaxed.bound, 1e-6))) {
        // Every relaxed rule is kept: the chosen set is the best of this node, unless it is too dear.
        if (!keeps_rules(p_, bound_.chosen())) break;
        offer(bound_.chosen());
        return relaxed.bound;
      }
    }
    node.prices = best_prices;
    return split(std::move(node), often, best_bound, depth);
  }

  double split(Node node, const std::vector<double>& often, double bound, int depth) {
    std::size_t pick = p_.items;
    double nearest_half = kNoCost;
    for (const std::size_t i : bound_.alive()) {
      if (node.status[i] != Status::open) continue;
      const double distance = std::abs(often[i] - 0.5);
      if (distance < nearest_half) {
        nearest_half = distance;
        pick = i;
      }
    }
    if (pick == p_.items) {
      offer(taken(node.status));
      return best_cost_;
    }
    double least = kNoCost;
    const Status first = often[pick] >= 0.5 ? Status::in : Status::out;
    for (const Status side : {first, first == Status::in ? Status::out : Status::in}) {
      Node child = node;
      child.status[pick] = side;
      if (out_of_nodes_) {
        least = std::min(least, bound);
        continue;
      }
      if (!rules_.propagate(child.status, bound_.alive())) continue;
      double below = bound;
      if (std::none_of(child.status.begin(), child.status.end(), is_open)) {
        std::vector<std::size_t> set = taken(child.status);
        below = set_cost(p_, set);
        offer(std::move(set));
      } else {
        below = std::max(bound, explore(std::move(child), depth + 1));
      }
      least = std::min(least, below);
    }
    if (out_of_nodes_) open_bound_ = std::min(open_bound_, least);
    return depth == 0 ? bound : least;
  }

  static bool is_open(Status status) { return status == Status::open; }

  static std::vector<std::size_t> taken(const std::vector<Status>& status) {
    std::vector<std::size_t> set;
    for (std::size_t i = 0; i < status.size(); ++i) {
      if (status[i] == Status::in) set.push_back(i);
    }
    return set;
  }

  const SetProblem& p_;
  std::size_t most_nodes_;
  SetRules rules_;
  SetBound bound_;
  std::vector<std::size_t> best_;
  std::vector<std::size_t> last_offered_;
  double best_cost_ = kNoCost;
  double open_bound_ = kNoCost;
  std::size_t nodes_ = 0;
  bool out_of_nodes_ = false;
};

}  // namespace

double set_cost(const SetProblem& problem, const std::vector<std::size_t>& chosen) {
  double sum = 0.0;
  for (std::size_t t = 0; t < problem.targets; ++t) {
    double nearest = kNoCost;
    for (const std::size_t i : chosen) nearest = std::min(nearest, problem.at(i, t));
    sum += nearest;
  }
  return sum;
}

bool keeps_rules(const SetProblem& problem, const std::vector<std::size_t>& chosen) {
  if (chosen.size() != problem.count) return false;
  std::vector<char> in(problem.items, 0);
  for (const std::size_t i : chosen) {
    if (in[i] != 0) return false;
    in[i] = 1;
  }
  if (!problem.price.empty()) {
    std::int64_t sum = 0;
    for (const std::size_t i : chosen) sum += problem.price[i];
    if (sum > problem.budget) return false;
  }
  const auto is_in = [&](std::size_t i) { return in[i] != 0; };
  return std::all_of(problem.must.begin(), problem.must.end(), is_in) &&
         std::none_of(problem.never.begin(), problem.never.end(), is_in) &&
         std::none_of(problem.conflicts.begin(), problem.conflicts.end(),
                      [&](const auto& pair) { return is_in(pair.first) && is_in(pair.second); }) &&
         std::all_of(problem.covers.begin(), problem.covers.end(),
                     [&](const auto& cover) { return std::any_of(cover.begin(), cover.end(), is_in); });
}

SetAnswer best_set(const SetProblem& problem, std::size_t most_nodes) {
  SetAnswer answer;
  if (problem.count > problem.items || problem.count == 0) {
    answer.feasible = problem.count == 0 && keeps_rules(problem, {}) && problem.targets == 0;
    answer.proved = true;
    return answer;
  }
  return Search(problem, most_nodes).run();
}

}  // namespace kithue
