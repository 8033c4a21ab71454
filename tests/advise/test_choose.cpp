// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "advise/choose.h"
#include "advise/dice.h"
#include "advise/ink_on_stock.h"
#include "advise/match.h"
#include "advise/swatches.h"
#include "colour/difference.h"

using namespace kithue;

namespace {

struct Job {
  Stash stash;
  ChooseRequest request;
};

/// Random inks, three stocks as possible bases, random faces; musts, nevers and bases in part of the jobs.
Job random_job(Dice& dice, int most_inks, int most_faces, int most_count) {
  Job job;
  const int inks = dice.whole(4, most_inks);
  for (int i = 1; i <= inks; ++i) {
    job.stash.swatches.push_back(
        swatch_with(i, "Ink " + std::to_string(dice.whole(0, 20)), Kind::ink, dice.lab(60)));
  }
  job.stash.swatches.push_back(swatch_with(inks + 1, "Sail", Kind::stock, {94, 1, 6}));
  job.stash.swatches.push_back(swatch_with(inks + 2, "Sand", Kind::stock, {78, 4, 18}));
  job.stash.swatches.push_back(swatch_with(inks + 3, "Slate", Kind::stock, {45, -4, -8}));
  job.stash.next_id = inks + 4;
  for (const Swatch& swatch : job.stash.swatches) {
    if (swatch.kind == Kind::ink) job.request.candidates.push_back(&swatch);
  }
  const auto some_ink = [&] { return &job.stash.swatches[dice.index(static_cast<std::size_t>(inks))]; };
  if (dice.chance(0.4)) job.request.must.push_back(some_ink());
  if (dice.chance(0.4)) job.request.never.push_back(some_ink());
  const auto first_stock = static_cast<std::size_t>(inks);
  for (std::size_t b = 0; b < 3; ++b) {
    if (!dice.chance(b == 2 ? 0.15 : 0.5)) continue;
    job.request.bases.push_back(*named_colour_of(job.stash.swatches[first_stock + b]));
  }
  if (dice.chance(0.5)) job.request.sentiment = Reads::bold;
  const int faces = dice.whole(1, most_faces);
  for (int f = 0; f < faces; ++f) {
    ChooseFace face{std::to_string(f + 1), {}};
    const int colours = dice.whole(1, 5);
    for (int c = 0; c < colours; ++c) {
      face.colours.push_back(
          {dice.lab(60), dice.chance(0.1) ? 0.0 : dice.between(0.003, 0.6), c == 0, c > 2});
    }
    job.request.faces.push_back(face);
  }
  job.request.count = static_cast<std::size_t>(dice.whole(1, most_count));
  return job;
}

/// The cost as it is written in choose.h, worked out from the swatches and nothing else.
double written_cost(const Job& job, const std::vector<const Swatch*>& set) {
  double total = 0.0;
  for (const ChooseFace& face : job.request.faces) {
    double weights = 0.0;
    double sum = 0.0;
    const bool grounds_only =
        std::all_of(face.colours.begin(), face.colours.end(), [](const ChooseColour& c) { return c.ground; });
    for (const ChooseColour& colour : face.colours) {
      if (colour.ground && !grounds_only) continue;
      const double share = colour.share > 0 ? colour.share : 1.0 / static_cast<double>(face.colours.size());
      double weight = std::sqrt(share);
      if (colour.accent && weight < 0.3) weight = 0.3;
      double least = 1e300;
      for (const Swatch* ink : set) least = std::min(least, ciede2000(*colour_of(*ink), colour.lab));
      weights += weight;
      sum += weight * least;
    }
    total += sum / weights;
  }
  return total / static_cast<double>(job.request.faces.size());
}

bool keeps_written_rules(const Job& job, const std::vector<const Swatch*>& set) {
  const auto in = [&](const Swatch* one) { return std::find(set.begin(), set.end(), one) != set.end(); };
  if (!std::all_of(job.request.must.begin(), job.request.must.end(), in)) return false;
  if (std::any_of(job.request.never.begin(), job.request.never.end(), in)) return false;
  for (std::size_t i = 0; i < set.size(); ++i) {
    for (std::size_t k = i + 1; k < set.size(); ++k) {
      const double d = ciede2000(*colour_of(*set[i]), *colour_of(*set[k]));
      if (d > 2.0 && d <= 6.0) return false;
    }
  }
  return std::all_of(job.request.bases.begin(), job.request.bases.end(), [&](const NamedColour& base) {
    return std::any_of(set.begin(), set.end(), [&](const Swatch* ink) {
      const InkOnStock print = ink_on_stock(ink_model(job.stash, *named_colour_of(*ink)), base);
      return print.contrast >= (job.request.sentiment == Reads::fine ? 4.5 : 3.0);
    });
  });
}

struct Brute {
  bool feasible = false;
  double best = 1e300;
  double second = 1e300;
};

Brute by_trying_all(const Job& job) {
  Brute found;
  std::vector<const Swatch*> inks = job.request.candidates;
  const std::size_t n = job.request.count;
  if (n > inks.size()) return found;
  std::vector<bool> mask(inks.size(), false);
  std::fill(mask.begin(), mask.begin() + static_cast<std::ptrdiff_t>(n), true);
  do {
    std::vector<const Swatch*> set;
    for (std::size_t i = 0; i < inks.size(); ++i) {
      if (mask[i]) set.push_back(inks[i]);
    }
    const double cost = written_cost(job, set);
    if (cost >= found.second || !keeps_written_rules(job, set)) continue;
    found.feasible = true;
    found.second = std::max(found.best, cost);
    found.best = std::min(found.best, cost);
    if (found.second < found.best) std::swap(found.second, found.best);
  } while (std::prev_permutation(mask.begin(), mask.end()));
  return found;
}

std::vector<const Swatch*> set_of(const Choice& choice) {
  std::vector<const Swatch*> set;
  for (const ChosenOne& one : choice.chosen) set.push_back(one.swatch);
  return set;
}

}  // namespace

TEST_CASE("choose_set: score and runner-up equal brute force over every set on 200 of 200 random jobs") {
  Dice dice(201);
  int feasible = 0;
  int second = 0;
  for (int round = 0; round < 200; ++round) {
    const Job job = random_job(dice, 12, 6, 4);
    const Brute brute = by_trying_all(job);
    const Choice choice = choose_set(job.stash, job.request);
    CAPTURE(round);
    CAPTURE(choice.blocked_by);
    REQUIRE(choice.proved);
    REQUIRE(choice.feasible == brute.feasible);
    if (!choice.feasible) {
      CHECK_FALSE(choice.blocked_by.empty());
      continue;
    }
    ++feasible;
    CHECK(choice.chosen.size() == job.request.count);
    CHECK(std::fabs(choice.cost - brute.best) < 1e-8);
    CHECK(std::fabs(written_cost(job, set_of(choice)) - choice.cost) < 1e-9);
    CHECK(keeps_written_rules(job, set_of(choice)));
    CHECK(choice.runner_up.empty() == (brute.second > 1e299));
    if (!choice.runner_up.empty()) {
      ++second;
      CHECK(std::fabs(choice.runner_up_cost - brute.second) < 1e-8);
    }
  }
  CHECK(feasible > 60);
  CHECK(second > 40);
}

TEST_CASE("choose_set: the parts of the answer add up") {
  Dice dice(202);
  for (int round = 0; round < 60; ++round) {
    Job job = random_job(dice, 20, 8, 4);
    job.request.bases.clear();
    const Choice choice = choose_set(job.stash, job.request);
    if (!choice.feasible) continue;
    double sum = 0.0;
    for (const FaceFit& face : choice.faces) sum += face.cost;
    CHECK(std::fabs(sum / static_cast<double>(choice.faces.size()) - choice.cost) < 1e-9);
    for (const ChosenOne& one : choice.chosen) {
      if (one.cost_without) CHECK(*one.cost_without >= choice.cost - 1e-9);
    }
  }
}

TEST_CASE("choose_set: the fewest that reach the limit, and no fewer can") {
  Dice dice(203);
  int reached = 0;
  for (int round = 0; round < 60; ++round) {
    Job job = random_job(dice, 12, 4, 1);
    job.request.bases.clear();
    job.request.count = 0;
    job.request.within = dice.between(12, 30);
    const Choice choice = choose_set(job.stash, job.request);
    if (!choice.feasible) {
      CHECK_FALSE(choice.blocked_by.empty());
      continue;
    }
    ++reached;
    CHECK(choice.cost <= job.request.within + 1e-9);
    for (job.request.count = 1; job.request.count < choice.chosen.size(); ++job.request.count) {
      const Brute fewer = by_trying_all(job);
      CHECK((!fewer.feasible || fewer.best > job.request.within - 1e-9));
    }
  }
  CHECK(reached > 20);
}

TEST_CASE("choose_set: what blocks every set is named") {
  Dice dice(204);
  Job job = random_job(dice, 8, 2, 2);
  job.request.must.clear();
  job.request.never.clear();
  job.request.bases.clear();
  const auto blocked = [&] { return choose_set(job.stash, job.request).blocked_by; };
  const Swatch* first = job.request.candidates[0];
  job.request.must = {first};
  job.request.never = {first};
  CHECK(blocked().find("under must and under never") != std::string::npos);
  job.request.never.clear();
  job.request.count = 50;
  CHECK(blocked().find("can be used, and the set is to hold 50") != std::string::npos);
  job.request.count = 2;
  job.request.must.clear();
  job.request.bases = {{"Night", {8, 0, 0}, 0.0, nullptr}};
  CHECK(blocked().find("reads on \"Night\"") != std::string::npos);
  job.request.bases.clear();
  job.stash.swatches[0].readings[0].lab = {50, 10, 10};
  job.stash.swatches[1].readings[0].lab = {54, 10, 10};
  job.request.must = {&job.stash.swatches[0], &job.stash.swatches[1]};
  CHECK(blocked().find("they are a near-miss") != std::string::npos);
}

TEST_CASE("choose_set: a small accent keeps its say") {
  Stash stash;
  stash.swatches = {swatch_with(1, "Leaf", Kind::ink, {50, -30, 30}),
                    swatch_with(2, "Berry", Kind::ink, {45, 60, 30}),
                    swatch_with(3, "Leaf Two", Kind::ink, {62, -24, 34})};
  ChooseRequest request;
  for (const Swatch& swatch : stash.swatches) request.candidates.push_back(&swatch);
  request.count = 2;
  request.faces = {{"1A",
                    {{{95, 0, 5}, 0.6, true, false},
                     {{50, -30, 30}, 0.3, false, false},
                     {{62, -24, 34}, 0.096, false, false},
                     {{45, 58, 30}, 0.004, false, true}}}};
  const auto chosen = set_of(choose_set(stash, request));
  REQUIRE(chosen.size() == 2);
  CHECK(chosen[0]->name == "Berry");
}

TEST_CASE("choose_set: the order of the candidates changes nothing") {
  Dice dice(205);
  for (int round = 0; round < 30; ++round) {
    Job job = random_job(dice, 20, 6, 4);
    const auto before = set_of(choose_set(job.stash, job.request));
    std::reverse(job.request.candidates.begin(), job.request.candidates.end());
    CHECK(set_of(choose_set(job.stash, job.request)) == before);
  }
}

TEST_CASE("choose_weights: to meet grounds only grounds weigh, to meet motifs all the others do") {
  const ChooseFace face{"1A",
                        {{{90, 0, 5}, 0.64, true, false},
                         {{50, 40, 20}, 0.35, false, false},
                         {{40, 60, 30}, 0.01, false, true}}};
  const auto motifs = choose_weights(face);
  CHECK(motifs[0] == 0.0);
  CHECK(std::fabs(motifs[1] / motifs[2] - std::sqrt(0.35) / 0.3) < 1e-12);
  const auto grounds = choose_weights(face, Meet::grounds);
  CHECK((grounds[0] == 1.0 && grounds[1] == 0.0 && grounds[2] == 0.0));
  const ChooseFace busy{"1B", {{{50, 40, 20}, 0.5, false, false}, {{40, 60, 30}, 0.5, false, false}}};
  CHECK(choose_weights(busy, Meet::grounds)[0] == 0.5);
}

TEST_CASE("choose_set: a base is the stock nearest to the grounds, not to the motifs") {
  Stash stash;
  stash.swatches.push_back(swatch_with(1, "Like The Field", Kind::stock, {90, 1, 7}));
  stash.swatches.push_back(swatch_with(2, "Like The Motif", Kind::stock, {50, 41, 21}));
  stash.next_id = 3;
  ChooseRequest request;
  request.faces = {{"1A", {{{90, 0, 5}, 0.3, true, false}, {{50, 40, 20}, 0.7, false, false}}}};
  request.candidates = {&stash.swatches[0], &stash.swatches[1]};
  request.count = 1;
  CHECK(choose_set(stash, request).chosen.at(0).swatch->id == 2);
  request.meet = Meet::grounds;
  CHECK(choose_set(stash, request).chosen.at(0).swatch->id == 1);
}
