// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "paper/face.h"

namespace kithue::accuracy {

/// Picks colours for a face: inside sRGB, each at least `gap` dE00 from all before it.
class Chooser {
 public:
  explicit Chooser(paper::Dice& dice) : dice_(dice) {}
  Lab any(double low_L, double high_L, double most_chroma, double gap = 9.0);
  Lab ground();  ///< light, soft
  Lab ink() { return any(18.0, 80.0, 70.0); }
  Lab vivid();                                        ///< chroma 45 or more
  Lab near(const Lab& lab, double low, double high);  ///< dE00 from `lab` between low and high
  void take(const Lab& lab) { taken_.push_back(lab); }

 private:
  bool free(const Lab& lab, double gap) const;
  paper::Dice& dice_;
  std::vector<Lab> taken_;
};

}  // namespace kithue::accuracy
