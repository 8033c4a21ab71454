// SPDX-License-Identifier: MIT
#include "accuracy/kmeans.h"

#include <algorithm>

#include "colour/matrix.h"
#include "paper/face.h"

namespace kithue::accuracy {
namespace {

double gap2(const Lab& x, const Lab& y) {
  const double dL = x.L - y.L;
  const double da = x.a - y.a;
  const double db = x.b - y.b;
  return dL * dL + da * da + db * db;
}

std::vector<Lab> pixels_of(const LightRows& picture) {
  constexpr long long kMost = 60'000;
  const long long all = static_cast<long long>(picture.width()) * picture.height();
  const long long step = std::max(1LL, all / kMost) | 1LL;
  std::vector<Lab> pixels;
  std::vector<float> row(static_cast<std::size_t>(picture.width()) * 3);
  int loaded = -1;
  for (long long i = 0; i < all; i += step) {
    const int y = static_cast<int>(i / picture.width());
    if (y != loaded) picture.read(0, y, picture.width(), row.data());
    loaded = y;
    const float* p = row.data() + i % picture.width() * 3;
    const auto xyz = times(picture.to_xyz(),
                           {static_cast<double>(p[0]), static_cast<double>(p[1]), static_cast<double>(p[2])});
    pixels.push_back(lab_from_xyz({xyz[0], xyz[1], xyz[2]}));
  }
  return pixels;
}

std::vector<Lab> seeds_of(const std::vector<Lab>& pixels, int k, paper::Dice& dice) {
  std::vector<Lab> seeds{pixels[static_cast<std::size_t>(dice.bits() % pixels.size())]};
  std::vector<double> nearest(pixels.size(), 1e30);
  while (seeds.size() < static_cast<std::size_t>(k)) {
    double sum = 0.0;
    for (std::size_t i = 0; i < pixels.size(); ++i) {
      nearest[i] = std::min(nearest[i], gap2(pixels[i], seeds.back()));
      sum += nearest[i];
    }
    double target = dice.unit() * sum;
    std::size_t pick = 0;
    while (pick + 1 < pixels.size() && (target -= nearest[pick]) > 0.0) ++pick;
    seeds.push_back(pixels[pick]);
  }
  return seeds;
}

}  // namespace

std::vector<Cluster> kmeans_palette(const LightRows& picture, int k) {
  const std::vector<Lab> pixels = pixels_of(picture);
  paper::Dice dice(7);
  std::vector<Cluster> best;
  double best_cost = 1e300;
  for (int start = 0; start < 3; ++start) {
    std::vector<Lab> centres = seeds_of(pixels, k, dice);
    std::vector<Cluster> clusters;
    double cost = 0.0;
    for (int round = 0; round < 30; ++round) {
      clusters.assign(centres.size(), {});
      cost = 0.0;
      for (const Lab& lab : pixels) {
        std::size_t nearest = 0;
        double d = 1e30;
        for (std::size_t c = 0; c < centres.size(); ++c) {
          const double g = gap2(lab, centres[c]);
          if (g < d) {
            d = g;
            nearest = c;
          }
        }
        cost += d;
        Cluster& cluster = clusters[nearest];
        cluster.lab = {cluster.lab.L + lab.L, cluster.lab.a + lab.a, cluster.lab.b + lab.b};
        cluster.share += 1.0;
      }
      for (std::size_t c = 0; c < centres.size(); ++c) {
        const double n = std::max(1.0, clusters[c].share);
        if (clusters[c].share > 0.0) {
          centres[c] = {clusters[c].lab.L / n, clusters[c].lab.a / n, clusters[c].lab.b / n};
        }
      }
    }
    if (cost < best_cost) {
      best_cost = cost;
      best.clear();
      for (std::size_t c = 0; c < centres.size(); ++c) {
        best.push_back({centres[c], clusters[c].share / static_cast<double>(pixels.size())});
      }
    }
  }
  return best;
}

}  // namespace kithue::accuracy
