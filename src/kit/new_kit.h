// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "kit/kit.h"

namespace kithue {

/// What a new kit file is written from.
struct NewKit {
  std::string name = "New kit";
  int kits = 1;
  int spares = 0;
  double spoilage_percent = 0.0;
  bool letter = false;  ///< US Letter and inches, else A4 and millimetres
  Size pack_sheet{{12 * kNanometresPerInch}, {12 * kNanometresPerInch}};
  int copies = 1;                   ///< of each sheet in a pack
  std::vector<std::string> photos;  ///< 1A, 1B, 2A ...: as the kit file is to name them
  bool one_sided = false;           ///< then 1, 2, 3 ...
  int sheets = 1;                   ///< of the pack, where there are no photos
  std::string base = "White card";  ///< the stock of card bases
  std::string mat;                  ///< another stock, or empty: the first card has no mat
  std::string ink = "Black";        ///< that words are stamped in
};

/// A kit file with one card to start from, every key that there is in it, those not in use as comments, and a
/// line of explanation each. parse_kit() reads it without a warning, and what it holds fits its sheets.
/// REQUIRES: texts on one line; sizes as parse_kit() takes them.
std::string new_kit_text(const NewKit& kit);

}  // namespace kithue
