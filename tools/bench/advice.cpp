// SPDX-License-Identifier: MIT
// Times of the advice on big stashes, processor time, median and least of 20 runs. Usage: bench_advice
#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <ctime>
#include <functional>
#include <random>
#include <string>
#include <vector>

#include "advise/clash.h"
#include "advise/harmony.h"
#include "advise/ink_on_stock.h"
#include "advise/match.h"
#include "advise/standin.h"
#include "advise/tone.h"

using namespace kithue;

namespace {

Stash random_stash(int stocks, int inks, std::uint64_t seed) {
  std::mt19937_64 engine(seed);
  const auto between = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(engine() >> 11) / 9007199254740992.0;
  };
  Stash stash;
  for (int i = 1; i <= stocks + inks; ++i) {
    Swatch swatch;
    swatch.id = i;
    swatch.name = "S" + std::to_string(i);
    swatch.kind = i <= stocks ? Kind::stock : Kind::ink;
    Reading reading;
    reading.lab.L = between(20, 95);
    reading.lab.a = between(-45, 45);
    reading.lab.b = between(-45, 45);
    swatch.readings.push_back(reading);
    stash.swatches.push_back(swatch);
  }
  stash.next_id = stocks + inks + 1;
  return stash;
}

std::vector<NamedColour> colours_of(const Stash& stash, Kind kind, std::size_t most) {
  std::vector<NamedColour> colours;
  for (const Swatch& swatch : stash.swatches) {
    if (swatch.kind == kind && colours.size() < most) colours.push_back(*named_colour_of(swatch));
  }
  return colours;
}

void time_of(const char* what, const std::function<std::size_t()>& job) {
  std::vector<double> times;
  std::size_t result = 0;
  for (int run = 0; run < 20; ++run) {
    const std::clock_t start = std::clock();
    result = job();
    times.push_back(1000.0 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
  }
  std::sort(times.begin(), times.end());
  std::printf("%-58s %8.2f ms, least %8.2f  (%zu)\n", what, times[times.size() / 2], times.front(), result);
}

}  // namespace

int main() {
  const Stash stash = random_stash(300, 300, 1);
  const auto stocks = colours_of(stash, Kind::stock, 300);
  const auto bases = colours_of(stash, Kind::stock, 8);
  time_of("verdicts of all pairs of 300 stocks", [&] { return judge_all(stocks).size(); });
  time_of("all pairs of 300 stocks with words and reasons", [&] { return judge_pairs(stocks).size(); });
  const Stash big = random_stash(5000, 5000, 2);
  const NamedColour wanted{"wanted", {52, 8, -9}, 0.0, nullptr};
  time_of("five nearest of 10,000 swatches", [&] { return nearest_swatches(big, wanted, {}).size(); });
  time_of("harmony sets from 300 stocks", [&] {
    return harmony_sets({"x", {60, 30, -25}, 0.0, nullptr}, stocks, {}).size();
  });
  time_of("300 inks on 8 bases: colour and legibility", [&] {
    std::size_t fine = 0;
    Surfaces surfaces(stash);
    std::vector<Layer> layers;
    layers.reserve(bases.size());
    for (const NamedColour& base : bases) layers.push_back(layer_of(base.lab));
    for (const Swatch& swatch : stash.swatches) {
      if (swatch.kind != Kind::ink) continue;
      const InkModel ink = ink_model(surfaces, *named_colour_of(swatch));
      for (std::size_t b = 0; b < bases.size(); ++b)
        fine += ink_on_stock(ink, bases[b], layers[b]).reads == Reads::fine ? 1 : 0;
    }
    return fine;
  });
  SerialExecutor serial;
  time_of("tone on tone, 300 inks on 300 stocks",
          [&] { return tone_pairs(stash, nullptr, {}, 0, serial).pairs.size(); });
  time_of("tone on tone, 10,000 swatches, the first page",
          [&] { return tone_pairs(big, nullptr, {}, 200'000, serial).pairs.size(); });
  time_of("12 students, 8 colours, 200 inks each: one to one", [&] {
    std::size_t good = 0;
    for (std::uint64_t student = 0; student < 12; ++student) {
      const Stash range = random_stash(0, 200, 10 + student);
      for (const auto& one : stand_ins_one_to_one(range, bases, bases, {})) good += one && one->good ? 1 : 0;
    }
    return good;
  });
  return 0;
}
