// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "advise/choose.h"
#include "base/result.h"
#include "kit/kit.h"
#include "kit/touching.h"
#include "swatch/stash.h"

namespace kithue {

/// What to choose for a kit.
enum class KitChoice {
  inks,
  stocks,
  mats,  ///< stocks but the bases, none that clashes with a base when they touch
  bases  ///< stocks on which an ink of the kit reads: a must, or where there are none any in play
};

/// The request that a kit file stands for: candidates, rules, bases, faces, prices and budget. `count` is
/// what the kit says, else 0. `where` is the kit file, for messages. Errors: names that are not in the stash
/// or of another kind; impossible for a base without a number.
Result<ChooseRequest> choose_request(const Kit& kit, const Stash& stash, const FaceColours& colours,
                                     KitChoice what, Reads sentiment, const Bands& bands,
                                     const std::string& where);

}  // namespace kithue
