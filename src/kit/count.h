// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "kit/cut_jobs.h"
#include "kit/cut_plan.h"
#include "kit/kit.h"

namespace kithue {

/// What is bought of one thing: exactly what is needed less what is there, in whole packs.
struct Purchase {
  std::int64_t needed = 0;  ///< sheets, packs or pads
  std::int64_t have = 0;
  bool have_known = false;                  ///< the kit says how many are there; else none are counted
  std::int64_t missing = 0;                 ///< needed less have, never below 0
  std::int64_t pack = 1;                    ///< how many come together
  std::int64_t packs = 0;                   ///< to buy
  std::optional<std::int64_t> price_cents;  ///< of one such pack
  std::optional<std::int64_t> cost_cents;   ///< packs times price; nothing where the price is not known
};

/// A purchase. REQUIRES: needed and have of 0 or more, pack of 1 or more.
Purchase purchase_of(std::int64_t needed, std::optional<std::int64_t> have, std::int64_t pack,
                     std::optional<std::int64_t> price_cents);

/// One paper: a stock, or a sheet of the pack.
struct PaperCount {
  CutJob job;
  CutPlan plan;
  std::int64_t dots = 0;             ///< to punch, with spares and spoilage; stocks only
  std::int64_t dots_in_offcuts = 0;  ///< of those, how many the offcuts hold
  std::int64_t sheets_for_dots = 0;  ///< on top of those of the plan, when the offcuts do not hold all
  std::int64_t sheets = 0;           ///< all
  std::int64_t pieces = 0;           ///< to cut, with spares and spoilage
  Purchase purchase;                 ///< of a stock; a sheet of the pack is bought with its pack
};

/// An ink that is stamped, or a must.
struct InkCount {
  std::string name;
  std::int64_t prints = 0;  ///< how often it is stamped, in all kits and spares
  Purchase purchase;        ///< pads
};

/// Everything that the kits take.
struct KitCount {
  std::int64_t kits = 0;
  std::int64_t spares = 0;
  std::vector<PaperCount> papers;
  Purchase packs;  ///< of the patterned paper
  std::vector<InkCount> inks;
  std::int64_t portions = 0;               ///< that go into the kits and spares, none for spoilage
  std::int64_t strips = 0;                 ///< pattern strips to make up; 0 when the kit says no [strip]
  std::int64_t cost_cents = 0;             ///< of all that has a price
  std::vector<std::string> without_price;  ///< what must be bought and has none
};

/// Counts a kit. `solids` are the stocks of which every pattern strip shows a dot, as the strip draws them.
/// Errors: impossible, for a piece that fits its sheet in no way.
Result<KitCount> count_kit(const Kit& kit, const std::vector<std::string>& solids);

}  // namespace kithue
