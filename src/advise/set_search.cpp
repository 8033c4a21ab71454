// SPDX-License-Identifier: MIT
#include "advise/set_search.h"

#include <algorithm>
#include <cstdint>
#include <limits>
#include <numeric>

namespace kithue {
namespace {

constexpr double kNone = std::numeric_limits<double>::infinity();

// A set this much dearer than the best known is not worth the swaps that might improve it.
constexpr double kWorthPolishing = 1.0005;

enum class Status : std::uint8_t { open, in, out };

/// What the bound charges for: the multipliers of the relaxed rules.
struct Prices {
  std::vector<double> target;    // for assigning a target once
  std::vector<double> cover;     // for covering once, 0 or more
  std::vector<double> conflict;  // for choosing both, 0 or more
};

struct Node {
  std::vector<Status> status;
  Prices prices;
};

class Search {
 public:
  Search(const SetProblem& problem, std::size_t most_nodes)
      : p_(problem), most_nodes_(most_nodes), sorted_(problem.targets), rivals_(problem.items) {
    for (std::size_t t = 0; t < p_.targets; ++t) {
      auto& list = sorted_[t];
      list.reserve(p_.items);
      for (std::size_t i = 0; i < p_.items; ++i) list.push_back({p_.at(i, t), static_cast<std::uint32_t>(i)});
      std::sort(list.begin(), list.end());
    }
    for (const auto& [a, b] : p_.conflicts) {
      rivals_[a].push_back(b);
      rivals_[b].push_back(a);
    }
    covered_by_.resize(p_.items);
    for (std::size_t k = 0; k < p_.covers.size(); ++k) {
      for (const std::size_t i : p_.covers[k]) covered_by_[i].push_back(k);
    }
    alive_.resize(p_.items);
    std::iota(alive_.begin(), alive_.end(), std::size_t{0});
    reduced_.resize(p_.items);
    order_.reserve(p_.items);
    chosen_mark_.assign(p_.items, 0);
  }

  SetAnswer run() {
    SetAnswer answer;
    Node root;
    root.status.assign(p_.items, Status::open);
    root.prices.cover.assign(p_.covers.size(), 0.0);
    root.prices.conflict.assign(p_.conflicts.size(), 0.0);
    // A good start for the price of a target: between its nearest and a middling item.
    const std::size_t middling = std::min(p_.items - 1, p_.items / (p_.count + 1));
    for (const auto& list : sorted_) root.prices.target.push_back(list[middling].first);
    bool possible = true;
    for (const std::size_t i : p_.never) root.status[i] = Status::out;
    for (const std::size_t i : p_.must) {
      possible = possible && root.status[i] != Status::out;
      root.status[i] = Status::in;
    }
    if (possible && propagate(root.status)) {
      first_guess(root.status);
      answer.root_bound = std::min(explore(root, 0), best_cost_);
    } else {
      answer.root_bound = kNone;
    }
    answer.feasible = !best_.empty() || (p_.count == 0 && best_cost_ < kNone);
    answer.proved = !out_of_nodes_;
    answer.chosen = best_;
    answer.cost = answer.feasible ? best_cost_ : 0.0;
    answer.bound = out_of_nodes_ ? std::min(open_bound_, best_cost_) : best_cost_;
    if (!answer.feasible && answer.proved) answer.bound = kNone;
    answer.nodes = nodes_;
    return answer;
  }

 private:
  // ---- rules ----

  /// Draws the conclusions of the rules; false when they cannot all be kept.
  bool propagate(std::vector<Status>& status) const {
    for (bool changed = true; changed;) {
      changed = false;
      std::size_t in = 0;
      std::size_t open = 0;
      for (const std::size_t i : alive_) {
        if (status[i] == Status::open) ++open;
        if (status[i] != Status::in) continue;
        ++in;
        for (const std::size_t rival : rivals_[i]) {
          if (status[rival] == Status::in) return false;
          if (status[rival] == Status::open) {
            status[rival] = Status::out;
            changed = true;
          }
        }
      }
      if (changed) continue;
      if (in > p_.count || in + open < p_.count) return false;
      if (!within_budget(status, in, changed)) return false;
      if (changed) continue;
      for (const auto& cover : p_.covers) {
        std::size_t left = 0;
        std::size_t last = 0;
        bool done = false;
        for (const std::size_t i : cover) {
          done = done || status[i] == Status::in;
          if (status[i] == Status::open) {
            ++left;
            last = i;
          }
        }
        if (done) continue;
        if (left == 0 || in == p_.count) return false;
        if (left == 1) {
          status[last] = Status::in;
          changed = true;
          break;
        }
      }
      if (changed) continue;
      if (in == p_.count && open > 0) set_all_open(status, Status::out);
      if (in + open == p_.count && open > 0) {
        set_all_open(status, Status::in);
        changed = true;
      }
    }
    return true;
  }

  /// False when even the cheapest open items would cost too much with those in; rules the too dear ones out.
  bool within_budget(std::vector<Status>& status, std::size_t in, bool& changed) const {
    if (p_.price.empty()) return true;
    std::int64_t left = p_.budget;
    std::vector<std::int64_t> open;
    for (const std::size_t i : alive_) {
      if (status[i] == Status::in) left -= p_.price[i];
      if (status[i] == Status::open) open.push_back(p_.price[i]);
    }
    const auto wanted = static_cast<std::ptrdiff_t>(p_.count - in);
    if (wanted == 0) return left >= 0;
    std::partial_sort(open.begin(), open.begin() + wanted, open.end());
    // What is left for one item when all the others are the cheapest.
    left -= std::accumulate(open.begin(), open.begin() + (wanted - 1), std::int64_t{0});
    if (open[static_cast<std::size_t>(wanted - 1)] > left) return false;
    for (const std::size_t i : alive_) {
      if (status[i] != Status::open || p_.price[i] <= left) continue;
      status[i] = Status::out;
      changed = true;
    }
    return true;
  }

  static void set_all_open(std::vector<Status>& status, Status to) {
    for (Status& one : status) {
      if (one == Status::open) one = to;
    }
  }

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
        std::fill(others.begin(), others.end(), kNone);
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
        for (const std::size_t i : alive_) {
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
    std::vector<double> nearest(p_.targets, kNone);
    const auto take_in = [&](std::size_t item) {
      for (std::size_t t = 0; t < p_.targets; ++t) nearest[t] = std::min(nearest[t], p_.at(item, t));
    };
    for (;;) {
      std::fill(nearest.begin(), nearest.end(), kNone);
      std::vector<std::size_t> set;
      for (std::size_t i = 0; i < p_.items; ++i) {
        if (status[i] != Status::in) continue;
        set.push_back(i);
        take_in(i);
      }
      if (set.size() == p_.count) return offer(std::move(set));
      const std::size_t wanted = first_open_cover(status);
      double least = kNone;
      std::size_t next = p_.items;
      for (std::size_t i = 0; i < p_.items; ++i) {
        if (status[i] != Status::open) continue;
        if (wanted < p_.covers.size() &&
            std::find(covered_by_[i].begin(), covered_by_[i].end(), wanted) == covered_by_[i].end())
          continue;
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
      if (propagate(tried)) {
        status = std::move(tried);
      } else {
        status[next] = Status::out;
        if (!propagate(status)) return;
      }
    }
  }

  [[nodiscard]] std::size_t first_open_cover(const std::vector<Status>& status) const {
    for (std::size_t k = 0; k < p_.covers.size(); ++k) {
      const bool done = std::any_of(p_.covers[k].begin(), p_.covers[k].end(),
                                    [&](std::size_t i) { return status[i] == Status::in; });
      if (!done) return k;
    }
    return p_.covers.size();
  }

  // ---- the bound ----

  struct Relaxed {
    double bound = 0.0;
    double last_in = 0.0;    // reduced cost of the dearest open item chosen
    double first_out = 0.0;  // of the cheapest open item left
  };

  /// The value of the relaxation at the node's prices; leaves reduced_, chosen_mark_ and order_ (open items,
  /// the chosen ones first) behind.
  Relaxed relax(const Node& node) {
    const Prices& prices = node.prices;
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
    order_.clear();
    std::size_t wanted = p_.count;
    for (const std::size_t i : alive_) {
      chosen_mark_[i] = 0;
      if (node.status[i] == Status::open) order_.push_back(i);
      if (node.status[i] != Status::in) continue;
      bound += reduced_[i];
      chosen_mark_[i] = 1;
      --wanted;
    }
    const auto cheaper = [&](std::size_t a, std::size_t b) {
      return reduced_[a] != reduced_[b] ? reduced_[a] < reduced_[b] : a < b;
    };
    Relaxed relaxed{0.0, -kNone, kNone};
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

  /// One step of the prices along the subgradient; false when every relaxed rule is kept already.
  bool step_prices(Prices& prices, double length) {
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

  /// Fixes open items that no set better than the best known can leave out, or have.
  bool fix_by_reduced_cost(Node& node, const Relaxed& relaxed) {
    bool fixed = false;
    for (const std::size_t i : order_) {
      const double without = relaxed.bound - reduced_[i] + relaxed.first_out;
      const double with = relaxed.bound + reduced_[i] - relaxed.last_in;
      if (chosen_mark_[i] != 0) {
        if (relaxed.first_out < kNone && without >= best_cost_ - kSameCost) {
          node.status[i] = Status::in;
          fixed = true;
        }
      } else if (relaxed.last_in > -kNone && with >= best_cost_ - kSameCost) {
        node.status[i] = Status::out;
        fixed = true;
      }
    }
    return fixed;
  }

  /// Forgets the items that the root has ruled out, once they are half of all.
  void forget_ruled_out(const std::vector<Status>& root) {
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

  // ---- branching ----

  /// Bounds, fixes and splits; returns the best bound found for the whole of this node.
  double explore(Node node, int depth) {
    if (++nodes_ > most_nodes_) {
      out_of_nodes_ = true;
      return -kNone;
    }
    const int rounds = depth == 0 ? 350 : 25;
    double best_bound = -kNone;
    double theta = depth == 0 ? 1.0 : 0.4;
    int since = 0;
    Prices best_prices = node.prices;
    std::vector<double> often(p_.items, 0.0);  // how much of the time an item is chosen
    for (int round = 0; round < rounds; ++round) {
      const Relaxed relaxed = relax(node);
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
        if (depth == 0 ? round % 8 == 0 : round % 16 == 0) offer(chosen_now());
        if (best_bound >= best_cost_ - kSameCost) return best_bound;
      }
      for (const std::size_t i : alive_) often[i] = 0.85 * often[i] + 0.15 * chosen_mark_[i];
      if (best_cost_ < kNone && fix_by_reduced_cost(node, relaxed)) {
        if (!propagate(node.status)) return best_cost_;  // nothing better than the best known
        if (depth == 0) forget_ruled_out(node.status);
        if (std::none_of(node.status.begin(), node.status.end(), is_open)) {
          offer(taken(node.status));
          return best_cost_;
        }
      }
      const double aim = best_cost_ < kNone ? best_cost_ : best_bound + std::max(1.0, 0.2 * best_bound);
      if (!step_prices(node.prices, theta * std::max(aim - relaxed.bound, 1e-6))) {
        // Every relaxed rule is kept: the chosen set is the best of this node, unless it is too dear.
        if (!keeps_rules(p_, chosen_now())) break;
        offer(chosen_now());
        return relaxed.bound;
      }
    }
    node.prices = best_prices;
    return split(std::move(node), often, best_bound, depth);
  }

  double split(Node node, const std::vector<double>& often, double bound, int depth) {
    std::size_t pick = p_.items;
    double nearest_half = kNone;
    for (const std::size_t i : alive_) {
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
    double least = kNone;
    const Status first = often[pick] >= 0.5 ? Status::in : Status::out;
    for (const Status side : {first, first == Status::in ? Status::out : Status::in}) {
      Node child = node;
      child.status[pick] = side;
      if (out_of_nodes_) {
        least = std::min(least, bound);
        continue;
      }
      if (!propagate(child.status)) continue;
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

  [[nodiscard]] std::vector<std::size_t> chosen_now() const {
    std::vector<std::size_t> set;
    for (const std::size_t i : alive_) {
      if (chosen_mark_[i] != 0) set.push_back(i);
    }
    return set;
  }

  const SetProblem& p_;
  std::size_t most_nodes_;
  std::vector<std::vector<std::pair<double, std::uint32_t>>> sorted_;  // per target: items, nearest first
  std::vector<std::vector<std::size_t>> rivals_;
  std::vector<std::vector<std::size_t>> covered_by_;
  std::vector<std::size_t> alive_;  // not yet ruled out for good, in rising order
  std::vector<double> reduced_;
  std::vector<std::size_t> order_;
  std::vector<int> chosen_mark_;
  std::vector<double> target_slope_, cover_slope_, conflict_slope_;
  std::vector<std::size_t> best_;
  std::vector<std::size_t> last_offered_;
  double best_cost_ = kNone;
  double open_bound_ = kNone;
  std::size_t nodes_ = 0;
  bool out_of_nodes_ = false;
};

}  // namespace

double set_cost(const SetProblem& problem, const std::vector<std::size_t>& chosen) {
  double sum = 0.0;
  for (std::size_t t = 0; t < problem.targets; ++t) {
    double nearest = kNone;
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
