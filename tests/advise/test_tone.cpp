// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <set>
#include <utility>

#include "advise/dice.h"
#include "advise/swatches.h"
#include "advise/tone.h"
#include "base/executor.h"

using namespace kithue;

TEST_CASE("tone_pairs: exactly the pairs inside the window, by brute force") {
  Dice dice(51);
  int found = 0;
  for (int round = 0; round < 20; ++round) {
    Stash stash;
    for (int i = 1; i <= 40; ++i) {
      stash.swatches.push_back(swatch_with(i, "S" + std::to_string(i), i % 2 == 0 ? Kind::stock : Kind::ink,
                                           dice.lab(dice.chance(0.3) ? 8 : 40)));
      stash.swatches.back().retired = dice.chance(0.1);
    }
    std::set<std::pair<int, int>> expected;
    for (const Swatch& ink : stash.swatches) {
      for (const Swatch& stock : stash.swatches) {
        if (ink.kind != Kind::ink || stock.kind != Kind::stock || ink.retired || stock.retired) continue;
        const NamedColour on{stock.name, *colour_of(stock), 0.0, &stock};
        const Lab print = ink_on_stock(ink_model(stash, {ink.name, *colour_of(ink), 0.0, &ink}), on).lab;
        const double step = std::fabs(print.L - on.lab.L);
        const bool both_grey = chroma(print) < 12 && chroma(on.lab) < 12;
        const bool both_coloured = chroma(print) >= 12 && chroma(on.lab) >= 12;
        const double gap = hue_gap_degrees(hue_degrees(print), hue_degrees(on.lab));
        if (step >= 10 && step <= 45 && (both_grey || (both_coloured && gap <= 20)))
          expected.insert({ink.id, stock.id});
      }
    }
    std::set<std::pair<int, int>> said;
    SerialExecutor serial;
    for (const TonePair& pair : tone_pairs(stash, nullptr, {}, 0, serial).pairs) {
      said.insert({pair.ink->id, pair.stock->id});
      CHECK(pair.readable == (std::fabs(pair.lightness) >= 20));
    }
    CHECK(said == expected);
    found += static_cast<int>(said.size());
  }
  CHECK(found > 50);
}

TEST_CASE("tone_pairs: a limit keeps whole stocks, the first by name, and says so") {
  Dice dice(52);
  Stash stash;
  for (int i = 1; i <= 60; ++i) {
    stash.swatches.push_back(
        swatch_with(i, "S" + std::to_string(i), i % 2 == 0 ? Kind::stock : Kind::ink, dice.lab(40)));
  }
  SerialExecutor serial;
  const TonePairs whole = tone_pairs(stash, nullptr, {}, 0, serial);
  CHECK((whole.stocks == 30 && whole.stocks_seen == 30));
  const TonePairs part = tone_pairs(stash, nullptr, {}, 200, serial);
  CHECK((part.stocks == 30 && part.stocks_seen == 6));
  REQUIRE(part.pairs.size() < whole.pairs.size());
  for (std::size_t i = 0; i < part.pairs.size(); ++i) {
    CHECK(part.pairs[i].ink == whole.pairs[i].ink);
    CHECK(part.pairs[i].stock == whole.pairs[i].stock);
  }
  CHECK(tone_pairs(stash, nullptr, {}, 1, serial).stocks_seen == 1);
}
