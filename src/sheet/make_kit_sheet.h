// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "advise/verdict.h"
#include "base/result.h"
#include "kit/kit.h"
#include "kit/touching.h"
#include "sheet/kit_sheet.h"
#include "sheet/student_page.h"
#include "swatch/stash.h"

namespace kithue {

/// The faces of a kit as far as they were read.
struct ReadFaces {
  FaceColours colours;                               ///< one a face
  std::vector<std::optional<std::size_t>> pictures;  ///< one a face: index into the pictures of the sheet
};

/// The inks that a student needs, each once: those stamped on the cards, then those that are a must; where
/// there are neither, `settled`. `where` is the kit file. Errors: those of swatch_of_kind().
Result<std::vector<const Swatch*>> inks_of_kit(const Kit& kit, const Stash& stash,
                                               const std::vector<const Swatch*>& settled,
                                               const std::string& where);

/// What the kit sheet shows but for its pictures: cards with their colours and prints (predicted unless
/// measured), and for each ink the nearest good stand-in that clashes with no stock of the kit and is not an
/// ink of it. Errors: those of swatch_of_kind().
Result<KitSheet> make_kit_sheet(const Kit& kit, const Stash& stash, const ReadFaces& faces,
                                const std::vector<const Swatch*>& inks, const Bands& bands);

/// What each ink of the kit becomes for a student with another range: her own where the name is the same,
/// else one stand-in each, none twice, with the least total distance.
StudentPage make_student_page(const Kit& kit, const Stash& stash, const std::vector<const Swatch*>& inks,
                              const Stash& range, const Bands& bands);

/// An ink or a stock as it is shown.
SheetDot dot_of(const Swatch& swatch);

}  // namespace kithue
