// SPDX-License-Identifier: MIT
#pragma once

#include <span>
#include <vector>

#include "sheet/shape.h"

namespace kithue {

/// In place of a glyph number: nothing is drawn and the pen stays, but the text is there to be copied.
inline constexpr unsigned kUnseenGlyph = 0xFFFFFFFF;

/// One cluster, ready for a PDF.
struct PdfCluster {
  std::vector<Glyph> glyphs;
  bool states_text = false;  ///< the text must be stated as a whole: the glyphs cannot share it out
};

/// Readers of a PDF put text that runs from right to left back into order letter by letter, so there every
/// letter needs a glyph of its own: a ligature (lam with alef) hands its further letters to unseen glyphs at
/// its left, and a letter with marks gives each glyph its own. Elsewhere several glyphs for one piece of
/// text, as in Indic scripts, keep it together.
PdfCluster pdf_cluster(std::span<const Glyph> cluster);

}  // namespace kithue
