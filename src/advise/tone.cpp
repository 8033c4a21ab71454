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
  if (x.stock->name != y.stock->name) return x.stock->name < y.stock->name;
  if (x.ink->name != y.ink->name) return x.ink->name < y.ink->name;
  return x.stock->id != y.stock->id ? x.stock->id < y.stock->id : x.ink->id < y.ink->id;
}

}  // namespace

bool is_tone_on_tone(const Lab& print, const Lab& stock, const ToneWindow& window) {
  const double step = std::fabs(print.L - stock.L);
  return step >= window.soft && step <= window.strong &&
         hue_between(print, stock, window) <= window.hue_degrees;
}

std::vector<TonePair> tone_pairs(const Stash& stash, const Swatch* stock, const ToneWindow& window) {
  struct Ground {
    NamedColour colour;
    Layer layer;
  };
  std::vector<Ground> grounds;
  std::vector<InkModel> inks;
  for (const Swatch& swatch : stash.swatches) {
    const bool named = &swatch == stock;
    if ((swatch.retired || !swatch.in_stock) && !named) continue;
    const auto colour = named_colour_of(swatch);
    if (!colour) continue;
    if (swatch.kind == Kind::ink) inks.push_back(ink_model(stash, *colour));
    if (swatch.kind == Kind::stock && (stock == nullptr || named))
      grounds.push_back({*colour, layer_of(colour->lab)});
  }
  std::vector<TonePair> pairs;
  for (const Ground& ground : grounds) {
    for (const InkModel& ink : inks) {
      const InkOnStock print = ink_on_stock(ink, ground.colour, ground.layer);
      if (!is_tone_on_tone(print.lab, ground.colour.lab, window)) continue;
      const double step = print.lab.L - ground.colour.lab.L;
      pairs.push_back({ink.swatch, ground.colour.swatch, print,
                       hue_between(print.lab, ground.colour.lab, window), step,
                       std::fabs(step) >= window.readable});
    }
  }
  std::sort(pairs.begin(), pairs.end(), comes_before);
  return pairs;
}

}  // namespace kithue
