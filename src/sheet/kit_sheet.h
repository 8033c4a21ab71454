// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "sheet/card_picture.h"
#include "sheet/page.h"
#include "sheet/parts.h"

namespace kithue {

/// An ink of the kit with what a student does who lacks it.
struct KitInk {
  SheetDot dot;
  std::string batch;
  std::string stand_in;  ///< "Kelp Green (pad): a touch darker", or empty: none is good
};

struct KitSheet {
  std::string name;
  std::string date;  ///< as written, or empty
  std::vector<Card> cards;
  std::vector<KitInk> inks;
  std::vector<SheetPicture> pictures;
  std::string printer_note;
};

/// The page that goes into every kit: each card as a flat picture in its own colours, which stock and which
/// face each piece is cut from, which ink is stamped where and how, and what stands in for each ink. Words
/// and colours, no colour numbers; every colour has its name beside it, so that it reads in grey. One page:
/// type and pictures grow or shrink to fill it, from 1.15 to 0.7 times their size; a larger kit takes more
/// pages. In large print nothing shrinks, and it takes as many pages as it needs.
Document lay_out_kit_sheet(const KitSheet& sheet, PageSize size, bool large = false);

}  // namespace kithue
