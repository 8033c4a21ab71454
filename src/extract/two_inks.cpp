// SPDX-License-Identifier: MIT
#include "extract/two_inks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>

#include "extract/coding.h"

namespace kithue::extract {
namespace {

/// Where each look lies along the direction of the largest scatter, coded.
std::vector<std::pair<double, Look*>> along_scatter(const std::vector<Look*>& looks) {
  std::vector<Coded> values;
  Coded mean{};
  for (const Look* look : looks) {
    values.push_back(coded_of(look->own.light));
    for (std::size_t c = 0; c < 3; ++c) mean[c] += values.back()[c] / static_cast<double>(looks.size());
  }
  std::array<std::array<double, 3>, 3> scatter{};
  for (const Coded& value : values) {
    for (std::size_t p = 0; p < 3; ++p) {
      for (std::size_t q = 0; q < 3; ++q) scatter[p][q] += (value[p] - mean[p]) * (value[q] - mean[q]);
    }
  }
  // The power method.
  constexpr int kRounds = 30;
  Coded way{1.0, 0.5, 0.25};
  for (int round = 0; round < kRounds; ++round) {
    Coded next{};
    for (std::size_t p = 0; p < 3; ++p) {
      for (std::size_t q = 0; q < 3; ++q) next[p] += scatter[p][q] * way[q];
    }
    const double length = std::hypot(next[0], next[1], next[2]);
    if (length <= 0.0) break;
    for (std::size_t p = 0; p < 3; ++p) way[p] = next[p] / length;
  }
  std::vector<std::pair<double, Look*>> out;
  for (std::size_t i = 0; i < looks.size(); ++i) {
    double along = 0.0;
    for (std::size_t c = 0; c < 3; ++c) along += way[c] * (values[i][c] - mean[c]);
    out.emplace_back(along, looks[i]);
  }
  std::sort(out.begin(), out.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  return out;
}

/// The number of places in the first of two heaps; 0 when there is one.
std::size_t first_heap(const std::vector<std::pair<double, Look*>>& places, std::size_t least) {
  constexpr double kWithin = 0.2;   // of the whole scatter: one heap leaves 0.25 and more in its halves
  constexpr double kBetween = 0.1;  // of the places, in the middle third between the means
  const std::size_t n = places.size();
  double sum = 0.0;
  double squares = 0.0;
  for (const auto& [along, look] : places) {
    sum += along;
    squares += along * along;
  }
  const double mean = sum / static_cast<double>(n);
  const double whole = squares - mean * sum;
  double best = 0.0;
  std::size_t cut = 0;
  double below = 0.0;
  double low = 0.0;
  double high = 0.0;
  for (std::size_t i = 1; i < n; ++i) {
    below += places[i - 1].first;
    if (i < least || n - i < least) continue;
    const double first = below / static_cast<double>(i);
    const double second = (sum - below) / static_cast<double>(n - i);
    const double between = static_cast<double>(i) * (first - mean) * (first - mean) +
                           static_cast<double>(n - i) * (second - mean) * (second - mean);
    if (between <= best) continue;
    best = between;
    cut = i;
    low = first;
    high = second;
  }
  if (cut == 0 || whole - best > kWithin * whole) return 0;
  const double third = (high - low) / 3.0;
  const auto amid = std::count_if(places.begin(), places.end(), [&](const auto& place) {
    return place.first > low + third && place.first < high - third;
  });
  return static_cast<double>(amid) < kBetween * static_cast<double>(n) ? cut : 0;
}

}  // namespace

std::vector<Group> parted(const Group& group) {
  constexpr std::size_t kLeastLooks = 48;
  constexpr std::size_t kLeastPart = 8;  // one of so many is a heap
  constexpr double kAsWide = 1.15;
  constexpr double kBrighter = 0.07;  // of white: the coding rounds colour differences alike in places alike
  const std::size_t n = group.looks.size();
  if (n < kLeastLooks) return {group};
  // Bands side by side know their colours less surely, and lie off in step.
  const auto bands = std::count_if(group.looks.begin(), group.looks.end(),
                                   [](const Look* look) { return look->core.left == kNoLabel; });
  if (2 * static_cast<std::size_t>(bands) > n) return {group};
  const auto places = along_scatter(group.looks);
  const std::size_t cut = first_heap(places, n / kLeastPart);
  if (cut == 0) return {group};
  std::vector<Group> out(2);
  for (std::size_t i = 0; i < n; ++i) out[i < cut ? 0 : 1].looks.push_back(places[i].second);
  for (Group& one : out) one.light = joint_light(one.looks);
  const double first = median_width(out[0].looks);
  const double second = median_width(out[1].looks);
  if (std::max(first, second) > kAsWide * std::min(first, second)) return {group};
  if (std::abs(coded_of(out[0].light)[0] - coded_of(out[1].light)[0]) < kBrighter) return {group};
  if (2 * cut < n) std::swap(out[0], out[1]);
  return out;
}

}  // namespace kithue::extract
