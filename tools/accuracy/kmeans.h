// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "colour/lab.h"
#include "colour/light_rows.h"

namespace kithue::accuracy {

struct Cluster {
  Lab lab;
  double share = 0.0;
};

/// The yardstick: plain k-means in Lab over single pixels (every 1 in so many, up to 60,000), told how many
/// colours there are, seeded by k-means++ (Arthur & Vassilvitskii 2007), 30 rounds, best of 3 starts.
std::vector<Cluster> kmeans_palette(const LightRows& picture, int k);

}  // namespace kithue::accuracy
