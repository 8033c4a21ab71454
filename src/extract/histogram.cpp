// SPDX-License-Identifier: MIT
#include "extract/histogram.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_map>
#include <utility>

#include "colour/difference.h"

namespace kithue::extract {

namespace {

std::uint16_t* numbers(const LargeBlock& block) {
  return reinterpret_cast<std::uint16_t*>(block.data());
}

}  // namespace

Histogram::Page& Histogram::new_page(std::size_t place) {
  if (numbers_.data() == nullptr) numbers_ = LargeBlock(kPlaces * sizeof(std::uint16_t));
  pages_.push_back({place, std::make_unique<Page>()});
  numbers(numbers_)[place] = static_cast<std::uint16_t>(pages_.size());
  return *pages_.back().page;
}

inline Histogram::Page& Histogram::page_at(std::size_t place) {
  const std::size_t number = numbers_.data() == nullptr ? 0 : numbers(numbers_)[place];
  return number == 0 ? new_page(place) : *pages_[number - 1].page;
}

void Histogram::add(const CellLab& cell) {
  const auto L = static_cast<std::uint32_t>((cell.L >> 7) + 128);
  const auto a = static_cast<std::uint32_t>((cell.a >> 7) + 256);
  const auto b = static_cast<std::uint32_t>((cell.b >> 7) + 256);
  const std::size_t page = ((L / kPage) * kPagesAb + a / kPage) * kPagesAb + b / kPage;
  Slot& slot = page_at(page)[((L % kPage) * kPage + a % kPage) * kPage + b % kPage];
  ++slot.count;
  slot.sum[0] += cell.L;
  slot.sum[1] += cell.a;
  slot.sum[2] += cell.b;
}

void Histogram::join(const Histogram& other) {
  for (const PageAt& from : other.pages_) {
    Page& page = page_at(from.place);
    for (std::size_t i = 0; i < page.size(); ++i) {
      const Slot& more = (*from.page)[i];
      page[i].count += more.count;
      for (std::size_t k = 0; k < 3; ++k) page[i].sum[k] += more.sum[k];
    }
  }
}

std::vector<Bin> Histogram::bins(int times) const {
  std::vector<std::pair<std::size_t, const Page*>> in_order;
  for (const PageAt& one : pages_) in_order.emplace_back(one.place, one.page.get());
  std::sort(in_order.begin(), in_order.end());
  std::vector<Bin> out;
  for (const auto& [place_of_page, slots_there] : in_order) {
    const Page& slots = *slots_there;
    const int page = static_cast<int>(place_of_page);
    const std::array<int, 3> corner{page / (kPagesAb * kPagesAb) * kPage - 128,
                                    page / kPagesAb % kPagesAb * kPage - 256, page % kPagesAb * kPage - 256};
    for (std::size_t i = 0; i < slots.size(); ++i) {
      const Slot& slot = slots[i];
      if (slot.count == 0) continue;
      const int place = static_cast<int>(i);
      out.push_back({{corner[0] + place / (kPage * kPage), corner[1] + place / kPage % kPage,
                      corner[2] + place % kPage},
                     times * slot.count,
                     {times * slot.sum[0], times * slot.sum[1], times * slot.sum[2]}});
    }
  }
  return out;
}

namespace {

std::int64_t key_of(int L, int a, int b) {
  return ((static_cast<std::int64_t>(L) + 1024) * 4096 + (a + 1024)) * 4096 + (b + 1024);
}

/// The same counts in boxes `factor` times as wide.
std::vector<Bin> coarser(const std::vector<Bin>& bins, int factor) {
  if (factor <= 1) return bins;
  std::vector<Bin> out;
  std::unordered_map<std::int64_t, std::size_t> index;
  const auto floored = [factor](int v) { return v >= 0 ? v / factor : -((factor - 1 - v) / factor); };
  for (const Bin& bin : bins) {
    const std::array<int, 3> at{floored(bin.at[0]), floored(bin.at[1]), floored(bin.at[2])};
    const auto [place, is_new] = index.emplace(key_of(at[0], at[1], at[2]), out.size());
    if (is_new) out.push_back({at, 0, {}});
    Bin& to = out[place->second];
    to.count += bin.count;
    for (std::size_t k = 0; k < 3; ++k) to.sum[k] += bin.sum[k];
  }
  return out;
}

/// The histogram seen through a soft round window, so that noise makes no hills.
class Landscape {
 public:
  /// `fine`: the grain is far below a box, so that a small hill beside a large one is no part of its slope.
  Landscape(const std::vector<Bin>& bins, bool fine)
      : bins_(bins), height_(bins.size(), 0.0), climb_(fine ? 1 : kReach) {
    const double window = fine ? kFineWindow : kWindow;
    for (std::size_t i = 0; i < bins.size(); ++i)
      places_.push_back({key_of(bins[i].at[0], bins[i].at[1], bins[i].at[2]), i});
    std::sort(places_.begin(), places_.end(), [](const Place& p, const Place& q) { return p.key < q.key; });
    std::array<double, 3 * kReach * kReach + 1> weight{};
    for (std::size_t d2 = 0; d2 < weight.size(); ++d2)
      weight[d2] = std::exp(-0.5 * static_cast<double>(d2) / (window * window));
    around_each(kReach, [&](std::size_t i, std::size_t j, std::size_t d2) {
      height_[i] += static_cast<double>(bins_[j].count) * weight[d2];
    });
  }
  [[nodiscard]] double height(std::size_t i) const { return height_[i]; }

  /// The hill top that one reaches from each box by always going to the highest neighbour.
  [[nodiscard]] std::vector<std::size_t> tops() const {
    std::vector<std::size_t> next(bins_.size());
    for (std::size_t i = 0; i < next.size(); ++i) next[i] = i;
    around_each(climb_, [&](std::size_t i, std::size_t j, std::size_t) {
      std::size_t& best = next[i];
      if (height_[j] > height_[best] || (height_[j] == height_[best] && j < best)) best = j;
    });
    for (std::size_t i = 0; i < bins_.size(); ++i) {
      std::size_t at = i;
      while (next[at] != at) at = next[at];
      next[i] = at;
    }
    return next;
  }
  /// Every pair of occupied boxes up to `reach` apart along each axis, and each box with itself, with the
  /// square of their distance. The neighbours of a box come in the order of their places.
  template <typename Visit>
  void around_each(int reach, Visit visit) const {
    // Boxes that differ in b only lie side by side in `places_`: the first of them in each row around the box
    // only ever moves on.
    std::vector<std::size_t> first(static_cast<std::size_t>((2 * reach + 1) * (2 * reach + 1)), 0);
    for (const Place& here : places_) {
      std::size_t row = 0;
      for (int dL = -reach; dL <= reach; ++dL) {
        for (int da = -reach; da <= reach; ++da, ++row) {
          const std::int64_t middle = here.key + key_of(dL, da, 0) - key_of(0, 0, 0);
          std::size_t& at = first[row];
          while (at < places_.size() && places_[at].key < middle - reach) ++at;
          for (std::size_t k = at; k < places_.size() && places_[k].key <= middle + reach; ++k) {
            const auto db = static_cast<int>(places_[k].key - middle);
            visit(here.bin, places_[k].bin, static_cast<std::size_t>(dL * dL + da * da + db * db));
          }
        }
      }
    }
  }

 private:
  struct Place {
    std::int64_t key;
    std::size_t bin;
  };
  static constexpr int kReach = 2;
  static constexpr double kWindow = 1.0;
  static constexpr double kFineWindow = 0.6;
  const std::vector<Bin>& bins_;
  std::vector<double> height_;
  int climb_;
  std::vector<Place> places_;  // of the boxes, in order
};

struct Hill {
  double count = 0.0;
  double top = 0.0;
  std::array<double, 3> sum{};
  std::map<std::size_t, double> pass;  ///< highest way to another hill
  [[nodiscard]] Lab mean() const {
    const double unit = 1.0 / (kSteps * count);
    return {sum[0] * unit, sum[1] * unit, sum[2] * unit};
  }
  void join(const Hill& other) {
    count += other.count;
    for (std::size_t k = 0; k < 3; ++k) sum[k] += other.sum[k];
  }
};

std::vector<Hill> hills_of(const std::vector<Bin>& bins, const Landscape& land) {
  const auto tops = land.tops();
  std::vector<std::size_t> number(bins.size(), 0);
  std::vector<Hill> hills;
  for (std::size_t i = 0; i < bins.size(); ++i) {
    if (tops[i] == i) {
      number[i] = hills.size();
      hills.push_back({0.0, land.height(i), {}, {}});
    }
  }
  for (std::size_t i = 0; i < bins.size(); ++i) {
    Hill& hill = hills[number[tops[i]]];
    hill.count += static_cast<double>(bins[i].count);
    for (std::size_t k = 0; k < 3; ++k) hill.sum[k] += static_cast<double>(bins[i].sum[k]);
  }
  land.around_each(1, [&](std::size_t i, std::size_t j, std::size_t) {
    if (tops[j] == tops[i]) return;
    double& pass = hills[number[tops[i]]].pass[number[tops[j]]];
    pass = std::max(pass, std::min(land.height(i), land.height(j)));
  });
  return hills;
}

/// Joins each hill to a higher one while the pass between them is no real valley. Lowest tops go first.
void join_shallow(std::vector<Hill>& hills) {
  constexpr double kShallow = 0.6;    // of the lower top
  constexpr double kFarthest = 12.0;  // dE00
  std::vector<std::size_t> order(hills.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t i, std::size_t j) { return hills[i].top < hills[j].top; });
  std::vector<std::size_t> owner(hills.size());
  for (std::size_t i = 0; i < owner.size(); ++i) owner[i] = i;
  const auto owner_of = [&](std::size_t i) {
    while (owner[i] != i) i = owner[i];
    return i;
  };
  for (const std::size_t i : order) {
    Hill& hill = hills[i];
    std::size_t best = i;
    double best_pass = kShallow * hill.top;
    for (const auto& [name, pass] : hill.pass) {
      const std::size_t other = owner_of(name);
      if (other == i || pass <= best_pass || hills[other].top < hill.top) continue;
      if (ciede2000(hills[other].mean(), hill.mean()) > kFarthest) continue;
      best = other;
      best_pass = pass;
    }
    if (best == i) continue;
    hills[best].join(hill);
    for (const auto& [name, pass] : hill.pass) {
      double& old = hills[best].pass[name];
      old = std::max(old, pass);
    }
    hill.count = 0.0;
    owner[i] = best;
  }
}

}  // namespace

std::vector<Peak> peaks_of(const std::vector<Bin>& fine, const HillRules& rules) {
  constexpr double kSameColour = 3.0;  // dE00: closer hills are one colour
  const int factor = std::clamp(static_cast<int>(std::lround(1.2 * rules.grain)), 1, 6);
  const std::vector<Bin> bins = coarser(fine, factor);
  constexpr double kFineGrain = 0.3;
  constexpr std::int64_t kFineCount = 20'000;  // fewer make a fine landscape rough by themselves
  std::int64_t count = 0;
  for (const Bin& bin : bins) count += bin.count;
  const Landscape land(bins, rules.grain < kFineGrain && count >= kFineCount);
  std::vector<Hill> hills = hills_of(bins, land);
  join_shallow(hills);
  std::erase_if(hills, [](const Hill& hill) { return hill.count <= 0.0; });
  std::stable_sort(hills.begin(), hills.end(),
                   [](const Hill& x, const Hill& y) { return x.count > y.count; });
  std::vector<Hill> kept;
  for (const Hill& hill : hills) {
    Hill* nearest = nullptr;
    double distance = kSameColour * std::max(1.0, 0.7 * factor);
    for (Hill& other : kept) {
      const double d = ciede2000(hill.mean(), other.mean());
      if (d < distance) {
        distance = d;
        nearest = &other;
      }
    }
    if (nearest != nullptr) {
      nearest->join(hill);
    } else if (hill.count >= rules.least) {
      kept.push_back(hill);
    }
  }
  std::vector<Peak> peaks;
  for (const Hill& hill : kept) peaks.push_back({hill.mean(), hill.count});
  return peaks;
}

}  // namespace kithue::extract
