// SPDX-License-Identifier: MIT
#include "extract/histogram.h"

#include <algorithm>
#include <cmath>
#include <unordered_map>

#include "colour/difference.h"

namespace kithue::extract {

Histogram::Histogram() : pages_(static_cast<std::size_t>(kPagesL) * kPagesAb * kPagesAb) {}

void Histogram::add(const CellLab& cell) {
  const int L = (cell.L >> 7) + 128;
  const int a = (cell.a >> 7) + 256;
  const int b = (cell.b >> 7) + 256;
  const auto page = static_cast<std::size_t>(((L / kPage) * kPagesAb + a / kPage) * kPagesAb + b / kPage);
  if (!pages_[page]) pages_[page] = std::make_unique<Page>();
  Slot& slot =
      (*pages_[page])[static_cast<std::size_t>(((L % kPage) * kPage + a % kPage) * kPage + b % kPage)];
  ++slot.count;
  slot.sum[0] += cell.L;
  slot.sum[1] += cell.a;
  slot.sum[2] += cell.b;
}

void Histogram::join(const Histogram& other) {
  for (std::size_t p = 0; p < pages_.size(); ++p) {
    if (!other.pages_[p]) continue;
    if (!pages_[p]) pages_[p] = std::make_unique<Page>();
    for (std::size_t i = 0; i < pages_[p]->size(); ++i) {
      Slot& slot = (*pages_[p])[i];
      const Slot& more = (*other.pages_[p])[i];
      slot.count += more.count;
      for (std::size_t k = 0; k < 3; ++k) slot.sum[k] += more.sum[k];
    }
  }
}

std::vector<Bin> Histogram::bins() const {
  std::vector<Bin> out;
  for (std::size_t p = 0; p < pages_.size(); ++p) {
    if (!pages_[p]) continue;
    const int page = static_cast<int>(p);
    const std::array<int, 3> corner{page / (kPagesAb * kPagesAb) * kPage - 128,
                                    page / kPagesAb % kPagesAb * kPage - 256, page % kPagesAb * kPage - 256};
    for (std::size_t i = 0; i < pages_[p]->size(); ++i) {
      const Slot& slot = (*pages_[p])[i];
      if (slot.count == 0) continue;
      const int place = static_cast<int>(i);
      out.push_back({{corner[0] + place / (kPage * kPage), corner[1] + place / kPage % kPage,
                      corner[2] + place % kPage},
                     slot.count,
                     slot.sum});
    }
  }
  return out;
}

namespace {

std::int64_t key_of(int L, int a, int b) {
  return ((static_cast<std::int64_t>(L) + 1024) * 4096 + (a + 1024)) * 4096 + (b + 1024);
}

/// The histogram seen through a soft round window, so that noise makes no hills.
class Landscape {
 public:
  explicit Landscape(const std::vector<Bin>& bins) : bins_(bins), height_(bins.size(), 0.0) {
    for (std::size_t i = 0; i < bins.size(); ++i)
      index_.emplace(key_of(bins[i].at[0], bins[i].at[1], bins[i].at[2]), i);
    for (std::size_t i = 0; i < bins.size(); ++i) {
      around(i, kReach, [&](std::size_t j, int d2) {
        height_[i] += static_cast<double>(bins_[j].count) * std::exp(-0.5 * d2 / (kWindow * kWindow));
      });
    }
  }
  /// The hill top that one reaches from each box by always going to the highest neighbour.
  [[nodiscard]] std::vector<std::size_t> tops() const {
    std::vector<std::size_t> next(bins_.size());
    for (std::size_t i = 0; i < bins_.size(); ++i) {
      std::size_t best = i;
      around(i, kReach, [&](std::size_t j, int) {
        if (height_[j] > height_[best] || (height_[j] == height_[best] && j < best)) best = j;
      });
      next[i] = best;
    }
    for (std::size_t i = 0; i < bins_.size(); ++i) {
      std::size_t at = i;
      while (next[at] != at) at = next[at];
      next[i] = at;
    }
    return next;
  }

 private:
  static constexpr int kReach = 2;
  static constexpr double kWindow = 1.0;
  template <typename Visit>
  void around(std::size_t i, int reach, Visit visit) const {
    const auto& at = bins_[i].at;
    for (int dL = -reach; dL <= reach; ++dL) {
      for (int da = -reach; da <= reach; ++da) {
        for (int db = -reach; db <= reach; ++db) {
          const auto found = index_.find(key_of(at[0] + dL, at[1] + da, at[2] + db));
          if (found != index_.end()) visit(found->second, dL * dL + da * da + db * db);
        }
      }
    }
  }
  const std::vector<Bin>& bins_;
  std::vector<double> height_;
  std::unordered_map<std::int64_t, std::size_t> index_;
};

struct Hill {
  double count = 0.0;
  std::array<double, 3> sum{};
  [[nodiscard]] Lab mean() const {
    const double unit = 1.0 / (kSteps * count);
    return {sum[0] * unit, sum[1] * unit, sum[2] * unit};
  }
  void join(const Hill& other) {
    count += other.count;
    for (std::size_t k = 0; k < 3; ++k) sum[k] += other.sum[k];
  }
};

}  // namespace

std::vector<Peak> peaks_of(const std::vector<Bin>& bins, double least) {
  constexpr double kSameColour = 3.0;  // dE00: closer hills are one colour
  const Landscape land(bins);
  const auto tops = land.tops();
  std::vector<Hill> by_bin(bins.size());
  for (std::size_t i = 0; i < bins.size(); ++i) {
    Hill& hill = by_bin[tops[i]];
    hill.count += static_cast<double>(bins[i].count);
    for (std::size_t k = 0; k < 3; ++k) hill.sum[k] += static_cast<double>(bins[i].sum[k]);
  }
  std::vector<Hill> hills;
  for (const Hill& hill : by_bin) {
    if (hill.count > 0.0) hills.push_back(hill);
  }
  std::stable_sort(hills.begin(), hills.end(),
                   [](const Hill& x, const Hill& y) { return x.count > y.count; });
  std::vector<Hill> kept;
  for (const Hill& hill : hills) {
    Hill* nearest = nullptr;
    double distance = kSameColour;
    for (Hill& other : kept) {
      const double d = ciede2000(hill.mean(), other.mean());
      if (d < distance) {
        distance = d;
        nearest = &other;
      }
    }
    if (nearest != nullptr) {
      nearest->join(hill);
    } else if (hill.count >= least) {
      kept.push_back(hill);
    }
  }
  std::vector<Peak> peaks;
  for (const Hill& hill : kept) peaks.push_back({hill.mean(), hill.count, 0.0});
  return peaks;
}

}  // namespace kithue::extract
