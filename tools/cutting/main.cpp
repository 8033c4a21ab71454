// SPDX-License-Identifier: MIT
// How good the cutting plans are: faults on random jobs, sheets beside an exhaustive search, time; the same
// of paper shared out among wishes, and of scraps. Usage: kithue_cutting [JOBS] [SMALL JOBS] [SEED]
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>

#include "cutting/checker.h"
#include "cutting/random_job.h"
#include "cutting/random_share.h"
#include "kit/leftovers.h"
#include "kit/repeat.h"

using namespace kithue;

namespace {

/// Of the processor, so that other work on the machine does not count.
double seconds_since(std::clock_t start) {
  return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

double area_bound(const CutJob& job) {
  double used = 0.0;
  for (const CutPiece& piece : job.pieces)
    used += mm_of(piece.size.width) * mm_of(piece.size.height) * static_cast<double>(piece.count);
  return std::ceil(used / (mm_of(job.sheet.width) * mm_of(job.sheet.height)) - 1e-9);
}

int faults_on_random_jobs(int jobs, std::uint64_t seed) {
  std::mt19937_64 dice(seed);
  int faults = 0;
  int proved = 0;
  std::int64_t sheets = 0;
  double bound = 0.0;
  double worst_s = 0.0;
  const auto start = std::clock();
  for (int i = 0; i < jobs; ++i) {
    const CutJob job = cutting::random_job(dice, false);
    const auto one = std::clock();
    const auto plan = plan_cuts(job);
    worst_s = std::max(worst_s, seconds_since(one));
    const std::string fault = plan ? cutting::fault_in(job, *plan) : describe(plan.error());
    if (!fault.empty()) {
      ++faults;
      std::printf("job %d: %s\n", i, fault.c_str());
      continue;
    }
    sheets += plan->sheets;
    bound += area_bound(job);
    proved += plan->fewest ? 1 : 0;
  }
  std::printf(
      "%d random jobs: %d faults; %lld sheets (areas alone: %.0f), proved fewest %d; %.1f s of processor, "
      "worst %.3f s\n",
      jobs, faults, static_cast<long long>(sheets), bound, proved, seconds_since(start), worst_s);
  return faults;
}

int against_exhaustive(int jobs, std::uint64_t seed) {
  std::mt19937_64 dice(seed + 1);
  int more = 0;
  double worst_waste = 0.0;
  for (int i = 0; i < jobs; ++i) {
    const CutJob job = cutting::random_job(dice, true);
    const auto plan = plan_cuts(job);
    const std::int64_t least = cutting::fewest_sheets(job);
    if (plan && plan->sheets == least && cutting::fault_in(job, *plan).empty()) continue;
    ++more;
    if (!plan) continue;
    const double used = (1.0 - plan->waste) * static_cast<double>(plan->sheets);
    worst_waste = std::max(worst_waste, plan->waste - (1.0 - used / static_cast<double>(least)));
    std::printf("small job %d: %lld sheets, fewest %lld\n", i, static_cast<long long>(plan->sheets),
                static_cast<long long>(least));
  }
  std::printf(
      "%d small jobs: %d with other sheets than the exhaustive search; waste at most %.1f points above\n",
      jobs, more, 100.0 * worst_waste);
  return more;
}

/// 60 kits of 20 different pieces, all of one paper: the hardest that a month brings.
void time_a_month(std::uint64_t seed) {
  std::mt19937_64 dice(seed + 2);
  double best = 1e9;
  std::int64_t sheets = 0;
  double bound = 0.0;
  for (int run = 0; run < 3; ++run) {
    dice.seed(seed + 2);
    double worst = 0.0;
    sheets = 0;
    bound = 0.0;
    for (int i = 0; i < 5; ++i) {
      CutJob job;
      job.paper = "paper";
      job.sheet = {{12 * kNanometresPerInch}, {12 * kNanometresPerInch}};
      for (int k = 0; k < 20; ++k) {
        const auto eighths = [&] {
          return Length{(8 + static_cast<std::int64_t>(dice() % 40)) * kNanometresPerInch / 8};
        };
        job.pieces.push_back(
            {"piece " + std::to_string(k), {eighths(), eighths()}, 60, true, dice() % 4 != 0, "", {}});
      }
      const auto start = std::clock();
      const auto plan = plan_cuts(job);
      worst = std::max(worst, seconds_since(start));
      sheets += plan ? plan->sheets : 0;
      bound += area_bound(job);
    }
    best = std::min(best, worst);
  }
  std::printf(
      "60 kits x 20 pieces of one paper, worst of 5 jobs: %.3f s of processor (least of 3 runs); %lld "
      "sheets, areas alone "
      "%.0f\n",
      best, static_cast<long long>(sheets), bound);
}

/// Sharing paper out: faults on random jobs, scores beside an exhaustive search.
int shares(int jobs, int small, std::uint64_t seed) {
  std::mt19937_64 dice(seed + 3);
  int faults = 0;
  int proved = 0;
  const auto start = std::clock();
  for (int i = 0; i < jobs; ++i) {
    const AllocationJob job = cutting::random_share(dice, false);
    const auto allocation = allocate(job);
    const std::string fault = allocation ? cutting::fault_in(job, *allocation) : describe(allocation.error());
    if (!fault.empty()) std::printf("share %d: %s\n", i, fault.c_str());
    faults += fault.empty() ? 0 : 1;
    proved += allocation && allocation->best ? 1 : 0;
  }
  std::printf("%d random shares of faces: %d faults, proved best %d; %.1f s of processor\n", jobs, faults,
              proved, seconds_since(start));
  int less = 0;
  for (int i = 0; i < small; ++i) {
    const AllocationJob job = cutting::random_share(dice, true);
    const auto allocation = allocate(job);
    const std::int64_t best = cutting::best_score(job);
    if (allocation && allocation->score == best && cutting::fault_in(job, *allocation).empty()) continue;
    ++less;
    std::printf("small share %d: %lld, best %lld\n", i,
                static_cast<long long>(allocation ? allocation->score : -1), static_cast<long long>(best));
  }
  std::printf("%d small shares: %d with another score than the exhaustive search\n", small, less);
  return faults + less;
}

/// Scraps offered to pieces: one that is offered must hold what it is said to hold.
int scraps(int cases, std::uint64_t seed) {
  std::mt19937_64 dice(seed + 4);
  int wrong = 0;
  int offered = 0;
  int missed = 0;
  for (int i = 0; i < cases; ++i) {
    CutJob job = cutting::random_job(dice, true);
    job.pieces.resize(1);
    const auto side = [&] { return Length{static_cast<std::int64_t>(1 + dice() % 320'000'000)}; };
    const std::vector<Scrap> there{{job.paper, "", {side(), side()}, 1}};
    const auto offers = what_fits(job, "", there);
    CutJob on_scrap = job;
    on_scrap.sheet = there[0].size;
    on_scrap.pieces[0].count = offers.empty() ? 1 : offers[0].each;
    const auto plan = plan_cuts(on_scrap);
    const bool fits = plan && plan->sheets == 1 && cutting::fault_in(on_scrap, *plan).empty();
    offered += offers.empty() ? 0 : 1;
    wrong += !offers.empty() && !fits ? 1 : 0;
    missed += offers.empty() && fits ? 1 : 0;
  }
  std::printf("%d scraps: %d offered, %d of them too small, %d that would do not offered\n", cases, offered,
              wrong, missed);
  return wrong + missed;
}

/// One kit of 12 faces with six colours each beside 60 earlier ones, their history file read as well.
void time_repeats(std::uint64_t seed) {
  std::mt19937_64 dice(seed + 5);
  std::vector<PastKit> past;
  for (int kit = 0; kit < 60; ++kit) {
    past.push_back({"kit " + std::to_string(kit), "", {}});
    for (int colour = 0; colour < 72; ++colour) {
      const auto part = [&] { return static_cast<double>(dice() % 10'000) / 10'000.0; };
      past.back().colours.push_back(
          {{100 * part(), 100 * part() - 50, 100 * part() - 50}, part() / 6, "motif", 0.0});
    }
  }
  const std::string csv = history_csv(past);
  const auto start = std::clock();
  const auto read = history_from_csv(csv, "history");
  const auto found = nearest_kits(past[0], *read);
  std::printf("nearest of 60 earlier kits with 72 colours each: %.1f ms of processor\n",
              1000 * seconds_since(start));
  if (found.empty() || found[0].kit != 0) std::printf("the kit itself was not found\n");
}

}  // namespace

int main(int count, char** words) {
  const int jobs = count > 1 ? std::atoi(words[1]) : 10'000;
  const int small = count > 2 ? std::atoi(words[2]) : 500;
  const std::uint64_t seed = count > 3 ? std::strtoull(words[3], nullptr, 10) : 1;
  time_a_month(seed);
  time_repeats(seed);
  const int wrong = against_exhaustive(small, seed) + faults_on_random_jobs(jobs, seed) +
                    shares(jobs / 10, small / 5, seed) + scraps(jobs, seed);
  return wrong == 0 ? 0 : 1;
}
