// SPDX-License-Identifier: MIT
#include "icc/colour_model.h"

#include <cstddef>

#include "colour/srgb.h"

namespace kithue {

ColourModel srgb_model(int bits) {
  ColourModel model;
  model.name = "sRGB";
  const std::size_t count = std::size_t{1} << bits;
  std::vector<float> curve(count);
  for (std::size_t i = 0; i < count; ++i) {
    curve[i] = static_cast<float>(light_from_coded(static_cast<double>(i) / static_cast<double>(count - 1)));
  }
  model.curve = {curve, curve, curve};
  model.to_xyz = srgb_to_d50();
  return model;
}

}  // namespace kithue
