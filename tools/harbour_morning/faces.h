// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "paper/face.h"

/// "Harbour Morning": an invented seaside pack of six double-sided sheets. All colours and names are ours.
namespace kithue::harbour {

struct PackFace {
  std::string label;                 ///< "1A" to "6B"
  std::string title;                 ///< what is drawn
  std::vector<std::string> colours;  ///< our word for each colour of the face, in order
  paper::Face face;                  ///< millimetres, 305 x 305 (12 in)
};

/// The twelve faces, in order of label.
std::vector<PackFace> pack();

}  // namespace kithue::harbour
