// SPDX-License-Identifier: MIT
#include "advise/tone.h"

#include <algorithm>
#include <cmath>

#include "advise/match.h"

namespace kithue {
namespace {

double hue_between(const Lab& print, const Lab& stock, const ToneWindow& window) {
  const bool print_neutral = chroma(print) < window.neutral_chroma;
  const bool stock_neutral = chroma(stock) < window.neutral_chroma;
  if (print_neutral && stock_neutral) return 0.0;
  if (print_neutral != stock_neutral) return 180.0;
  return hue_gap_degrees(hue_degrees(print), hue_degrees(stock));
}

bool comes_before(const TonePair& x, const TonePair& y) {
  if (x.hue_gap != y.hue_gap) return x.hue_gap < y.hue_gap;
  return x.ink->name != y.ink->name ? x.ink->name < y.ink->name : x.ink->id < y.ink->id;
}

bool by_name_and_id(const NamedColour& x, const NamedColour& y) {
  return x.name != y.name ? x.name < y.name : x.swatch->id < y.swatch->id;
}

struct Owned {
  std::vector<NamedColour> stocks;  // by name
  std::vector<NamedColour> inks;
};

Owned owned_in(const Stash& stash, const Swatch* stock) {
  Owned owned;
  for (const Swatch& swatch : stash.swatches) {
    const bool named = &swatch == stock;
    if ((swatch.retired || !swatch.in_stock) && !named) continue;
    const bool wanted =
        swatch.kind == Kind::ink || (swatch.kind == Kind::stock && (stock == nullptr || named));
    if (!wanted) continue;
    auto colour = named_colour_of(swatch);
    if (colour) (swatch.kind == Kind::ink ? owned.inks : owned.stocks).push_back(*std::move(colour));
  }
  std::sort(owned.stocks.begin(), owned.stocks.end(), by_name_and_id);
  return owned;
}

std::vector<TonePair> pairs_on(const NamedColour& stock, const std::vector<InkModel>& inks,
                               const ToneWindow& window) {
  std::vector<TonePair> pairs;
  const Layer layer = layer_of(stock);
  for (const InkModel& ink : inks) {
    // Most prints are outside the window: that takes the colour only.
    const std::optional<MeasuredPrint> measured = ink.measured_on(stock);
    const Lab lab = measured ? measured->lab : ink.inking.on(layer);
    if (!is_tone_on_tone(lab, stock.lab, window)) continue;
    const double step = lab.L - stock.lab.L;
    pairs.push_back({ink.swatch, stock.swatch, ink_on_stock(ink, stock, layer),
                     hue_between(lab, stock.lab, window), step, std::fabs(step) >= window.readable});
  }
  std::sort(pairs.begin(), pairs.end(), comes_before);
  return pairs;
}

}  // namespace

bool is_tone_on_tone(const Lab& print, const Lab& stock, const ToneWindow& window) {
  const double step = std::fabs(print.L - stock.L);
  return step >= window.soft && step <= window.strong &&
         hue_between(print, stock, window) <= window.hue_degrees;
}

TonePairs tone_pairs(const Stash& stash, const Swatch* stock, const ToneWindow& window,
                     std::size_t most_prints, Executor& executor) {
  const Owned owned = owned_in(stash, stock);
  TonePairs answer;
  answer.stocks = owned.stocks.size();
  answer.stocks_seen = answer.stocks;
  if (most_prints > 0 && !owned.inks.empty())
    answer.stocks_seen = std::min(answer.stocks, std::max<std::size_t>(1, most_prints / owned.inks.size()));
  std::vector<InkModel> inks(owned.inks.size());
  const std::size_t jobs = executor.width();
  executor.run(jobs, [&](std::size_t job) {
    Surfaces surfaces(stash);
    for (std::size_t i = job; i < inks.size(); i += jobs) inks[i] = ink_model(surfaces, owned.inks[i]);
  });
  std::vector<std::vector<TonePair>> by_stock(answer.stocks_seen);
  executor.run(by_stock.size(),
               [&](std::size_t i) { by_stock[i] = pairs_on(owned.stocks[i], inks, window); });
  for (const auto& pairs : by_stock) answer.pairs.insert(answer.pairs.end(), pairs.begin(), pairs.end());
  return answer;
}

}  // namespace kithue
