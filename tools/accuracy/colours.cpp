// SPDX-License-Identifier: MIT
#include "accuracy/colours.h"

#include "colour/difference.h"
#include "colour/srgb.h"

namespace kithue::accuracy {

bool Chooser::free(const Lab& lab, double gap) const {
  for (const Lab& other : taken_) {
    if (ciede2000(lab, other) < gap) return false;
  }
  return true;
}

Lab Chooser::any(double low_L, double high_L, double most_chroma, double gap) {
  for (int tries = 0;; ++tries) {
    const Lab lab = lab_from_lch(
        {dice_.between(low_L, high_L), dice_.between(0.0, most_chroma), dice_.between(0.0, 360.0)});
    if (!in_srgb_gamut(lab) || (tries < 2000 && !free(lab, gap))) continue;
    take(lab);
    return lab;
  }
}

Lab Chooser::ground() {
  const double sort = dice_.unit();
  return sort < 0.6 ? any(85.0, 96.0, 14.0) : sort < 0.85 ? any(60.0, 85.0, 35.0) : any(20.0, 45.0, 30.0);
}

Lab Chooser::vivid() {
  for (;;) {
    const Lab lab =
        lab_from_lch({dice_.between(35.0, 75.0), dice_.between(45.0, 95.0), dice_.between(0.0, 360.0)});
    if (!in_srgb_gamut(lab) || !free(lab, 15.0)) continue;
    take(lab);
    return lab;
  }
}

Lab Chooser::near(const Lab& lab, double low, double high) {
  for (;;) {
    const Lab other{lab.L + dice_.between(-12.0, 12.0), lab.a + dice_.between(-14.0, 14.0),
                    lab.b + dice_.between(-14.0, 14.0)};
    const double d = ciede2000(lab, other);
    if (!in_srgb_gamut(other) || d < low || d > high) continue;
    take(other);
    return other;
  }
}

}  // namespace kithue::accuracy
