// SPDX-License-Identifier: MIT
// How long the exact choice of a set takes, and what greedy choice would have lost. Usage: bench_choose
// [jobs]
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <random>
#include <vector>

#include "advise/set_search.h"
#include "colour/difference.h"
#include "colour/srgb.h"

using namespace kithue;

namespace {

class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(engine_() >> 11) / 9007199254740992.0;
  }
  Lab colour() {
    for (;;) {
      const double L = between(12, 97);
      const double a = between(-90, 90);
      const Lab lab{L, a, between(-90, 95)};
      if (in_srgb_gamut(lab)) return lab;
    }
  }

 private:
  std::mt19937_64 engine_;
};

/// Inks and palette colours anywhere an sRGB screen reaches, weights as of 16 faces with 5 colours each.
SetProblem random_job(Dice& dice, std::size_t inks, std::size_t colours, std::size_t count, bool rules) {
  SetProblem p;
  p.items = inks;
  p.targets = colours;
  p.count = count;
  std::vector<Lab> items;
  std::vector<Lab> targets;
  std::vector<double> weights;
  double sum = 0.0;
  for (std::size_t i = 0; i < inks; ++i) items.push_back(dice.colour());
  for (std::size_t t = 0; t < colours; ++t) {
    targets.push_back(dice.colour());
    weights.push_back(std::sqrt(dice.between(0.01, 0.6)));
    sum += weights.back();
  }
  for (const Lab& item : items) {
    for (std::size_t t = 0; t < colours; ++t)
      p.cost.push_back(weights[t] / sum * ciede2000(item, targets[t]));
  }
  if (!rules) return p;
  for (std::size_t i = 0; i < inks; ++i) {
    for (std::size_t k = i + 1; k < inks; ++k) {
      const double d = ciede2000(items[i], items[k]);
      if (d > 2.0 && d <= 6.0) p.conflicts.emplace_back(i, k);
    }
  }
  for (const double base : {95.0, 85.0, 62.0}) {
    std::vector<std::size_t> cover;
    for (std::size_t i = 0; i < inks; ++i) {
      if (items[i].L < base - 47.0) cover.push_back(i);
    }
    if (!cover.empty()) p.covers.push_back(cover);
  }
  return p;
}

double greedy_cost(const SetProblem& p) {
  std::vector<std::size_t> set;
  while (set.size() < p.count) {
    double least = 1e300;
    std::size_t best = 0;
    for (std::size_t i = 0; i < p.items; ++i) {
      set.push_back(i);
      const double cost = set_cost(p, set);
      set.pop_back();
      if (cost < least) {
        least = cost;
        best = i;
      }
    }
    set.push_back(best);
  }
  return set_cost(p, set);
}

void run(const char* name, int jobs, bool rules) {
  std::vector<double> times;
  double gap = 0.0;
  double greedy = 0.0;
  int proved = 0;
  std::size_t most_nodes = 0;
  for (int job = 0; job < jobs; ++job) {
    Dice dice(static_cast<std::uint64_t>(1000 + job));
    const auto count = static_cast<std::size_t>(4 + job % 21);
    const SetProblem p = random_job(dice, 300, 80, count, rules);
    const std::clock_t start = std::clock();
    const SetAnswer answer = best_set(p);
    times.push_back(1000.0 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
    proved += answer.proved && answer.feasible ? 1 : 0;
    gap += (answer.cost - answer.root_bound) / answer.cost;
    most_nodes = std::max(most_nodes, answer.nodes);
    if (!rules) greedy += greedy_cost(p) / answer.cost - 1.0;
  }
  std::sort(times.begin(), times.end());
  std::printf(
      "%-14s %d jobs, 300 inks, 80 colours, n 4-24: median %.1f ms, worst %.1f ms of processor time, proved "
      "%d, "
      "root gap %.2f %%, most nodes %zu",
      name, jobs, times[times.size() / 2], times.back(), proved, 100.0 * gap / jobs, most_nodes);
  if (!rules) std::printf(", greedy %.1f %% dearer", 100.0 * greedy / jobs);
  std::printf("\n");
}

/// Every set of `p.count` items that keeps the rules, tried: the least cost, 1e300 when there is none.
class Brute {
 public:
  explicit Brute(const SetProblem& p) : p_(p), rivals_(p.items * p.items, 0), near_(p.count + 1) {
    for (const auto& [a, b] : p.conflicts) rivals_[a * p.items + b] = rivals_[b * p.items + a] = 1;
    for (auto& row : near_) row.assign(p.targets, 1e300);
    extend(0);
  }
  [[nodiscard]] double least() const { return least_; }

 private:
  void extend(std::size_t from) {
    const std::size_t depth = set_.size();
    if (depth == p_.count) {
      double cost = 0.0;
      for (const double d : near_[depth]) cost += d;
      if (cost < least_ && keeps_rules(p_, set_)) least_ = cost;
      return;
    }
    for (std::size_t i = from; i < p_.items; ++i) {
      if (std::any_of(set_.begin(), set_.end(),
                      [&](std::size_t k) { return rivals_[k * p_.items + i] != 0; }))
        continue;
      for (std::size_t t = 0; t < p_.targets; ++t)
        near_[depth + 1][t] = std::min(near_[depth][t], p_.at(i, t));
      set_.push_back(i);
      extend(i + 1);
      set_.pop_back();
    }
  }

  const SetProblem& p_;
  std::vector<char> rivals_;
  std::vector<std::vector<double>> near_;
  std::vector<std::size_t> set_;
  double least_ = 1e300;
};

/// 200 jobs of 60 inks and 24 faces, sets of 1 to 4, with rules, against trying every set.
void check_by_trying_all() {
  int equal = 0;
  int possible = 0;
  for (int job = 0; job < 200; ++job) {
    Dice dice(static_cast<std::uint64_t>(5000 + job));
    const auto colours = static_cast<std::size_t>(24 * (2 + job % 3));
    const SetProblem p =
        random_job(dice, 60, colours, job % 2 == 0 ? 4U : static_cast<std::size_t>(1 + job % 3), true);
    const SetAnswer answer = best_set(p);
    const double least = Brute(p).least();
    const bool exists = least < 1e299;
    possible += exists ? 1 : 0;
    equal += answer.proved && answer.feasible == exists && (!exists || std::fabs(answer.cost - least) < 1e-8)
                 ? 1
                 : 0;
  }
  std::printf("equal to trying every set: %d of 200 jobs (60 inks, 24 faces, n 1-4, rules; %d possible)\n",
              equal, possible);
}

}  // namespace

int main(int argc, char** argv) {
  const int jobs = argc > 1 ? std::max(1, std::atoi(argv[1])) : 100;
  check_by_trying_all();
  run("without rules", jobs, false);
  run("with rules", jobs, true);
  return 0;
}
