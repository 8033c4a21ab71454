// SPDX-License-Identifier: MIT
#include "swatch/import_tally.h"

#include "base/text.h"
#include "colour/adaptation_loss.h"
#include "colour/spectrum.h"
#include "swatch/import_spectral.h"

namespace kithue {

void Tally::count(const Reading& reading) {
  if (reading.adapted.empty()) return;
  if (reading.spectrum.empty()) {
    ++adapted[reading.white];
    return;
  }
  ++integrated;
  const double part = share_beyond({reading.spectrum, reading.start_nm, reading.step_nm});
  if (part > 0.0) beyond = range_words(reading) + "; " + fixed_number(100.0 * part, 1) + " % of the light";
}

void Tally::tell(Import& import) const {
  for (const auto& [white, readings] : adapted) {
    const auto loss = adaptation_loss(white);
    import.warnings.push_back(
        counted(readings, "reading") + " under " + white + " adapted to D50, 2 degrees by Bradford, " +
        (loss ? "which is " + fixed_number(loss->mean, 1) + " dE00 off on average and up to " +
                    fixed_number(loss->most, 1) + " in 19 of 20 papers; export D50/2 or spectra if you can"
              : "an approximation"));
  }
  if (integrated > 0) {
    import.warnings.push_back(counted(integrated, "reading") +
                              " got Lab from the spectrum (ASTM E308, D50, 2 degrees)" +
                              (beyond.empty() ? "" : ", taken level beyond its " + beyond + " lies there"));
  }
  if (disagree > 0) {
    import.warnings.push_back(counted(disagree, "row") +
                              " with Lab over 1 dE00 away from the spectrum beside it, the first in line " +
                              std::to_string(first_disagreeing) +
                              "; the Lab was kept: is its white the one stated?");
  }
}

}  // namespace kithue
