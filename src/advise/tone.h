// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <vector>

#include "advise/ink_on_stock.h"
#include "base/executor.h"
#include "swatch/stash.h"

namespace kithue {

/// When an ink on a stock makes a texture of one colour. Limits: common practice, no source.
struct ToneWindow {
  double hue_degrees = 20.0;     ///< the print's hue from the stock's at most this
  double soft = 10.0;            ///< L* between print and stock from which it shows
  double readable = 20.0;        ///< from which it can be read
  double strong = 45.0;          ///< above which it is no longer tone on tone
  double neutral_chroma = 12.0;  ///< two near-neutrals are of one hue, a neutral and a colour are not
};

/// An owned ink and stock, the print of which lies inside the window.
struct TonePair {
  const Swatch* ink = nullptr;
  const Swatch* stock = nullptr;
  InkOnStock print;
  double hue_gap = 0.0;    ///< degrees; 0 for two near-neutrals
  double lightness = 0.0;  ///< L* of the print less that of the stock
  bool readable = false;
};

/// True when the print is inside the window on that stock.
bool is_tone_on_tone(const Lab& print, const Lab& stock, const ToneWindow& window);

struct TonePairs {
  std::vector<TonePair> pairs;
  std::size_t stocks_seen =
      0;  ///< the first by name; fewer than `stocks` only where `most_prints` was reached
  std::size_t stocks = 0;
};

/// Exactly the pairs inside the window, from what is owned, in stock and has a number. For one stock or, with
/// null, for all. By stock name, then smallest hue gap first, then ink name.
/// No more prints than `most_prints` are worked out, in whole stocks and at least one (0: no limit), so that
/// the first page of a huge stash comes at once.
TonePairs tone_pairs(const Stash& stash, const Swatch* stock, const ToneWindow& window,
                     std::size_t most_prints, Executor& executor);

}  // namespace kithue
