// SPDX-License-Identifier: MIT
#include "extract/sheet_side.h"

#include <algorithm>
#include <cmath>

namespace kithue::extract {
namespace {

constexpr int kRun = 3;              // places in a row that are none of the surround: a speck is no sheet
constexpr double kShadowPart = 0.1;  // of the frame: as wide as a shadow may be

/// Sees the frame from one side: `t` along it, `d` inwards.
class View {
 public:
  View(const Surround& surround, const SmallPicture& small, Side side)
      : surround_(surround),
        along_(upright(side) ? small.height : small.width),
        deep_(upright(side) ? small.width : small.height) {
    const auto row = static_cast<std::ptrdiff_t>(small.width);
    along_step_ = upright(side) ? row : 1;
    deep_step_ = upright(side) ? 1 : row;
    if (side == Side::right || side == Side::bottom) {
      start_ = deep_step_ * (deep_ - 1);
      deep_step_ = -deep_step_;
    }
  }
  [[nodiscard]] int along() const { return along_; }
  [[nodiscard]] int deep() const { return deep_; }
  [[nodiscard]] Likeness at(int t, int d) const {
    return surround_.at(static_cast<std::size_t>(start_ + along_step_ * t + deep_step_ * d));
  }

 private:
  static bool upright(Side side) { return side == Side::left || side == Side::right; }
  const Surround& surround_;
  int along_, deep_;
  std::ptrdiff_t start_ = 0, along_step_ = 0, deep_step_ = 0;
};

/// The first of kRun places in a row from `from` on that do not pass; -1 when there is none before `to`.
template <typename Pass>
int first_run(const View& view, int t, int from, int to, Pass pass) {
  int run = 0;
  for (int d = from; d < to; ++d) {
    run = pass(view.at(t, d)) ? 0 : run + 1;
    if (run == kRun) return d - kRun + 1;
  }
  return -1;
}

}  // namespace

SideEnds ends_of(const Surround& surround, const SmallPicture& small, Side side) {
  const View view(surround, small, side);
  const int deep = view.deep();
  SideEnds out;
  for (int t = 0; t < view.along(); ++t) {
    const int strict = first_run(view, t, 0, deep, [](Likeness like) { return like == Likeness::surround; });
    int shadow = -1;
    if (strict >= 0) {
      const int limit = std::min(deep, strict + kRun + static_cast<int>(kShadowPart * deep));
      shadow = first_run(view, t, strict, limit, [](Likeness like) { return like != Likeness::other; });
      if (shadow < 0) shadow = strict;
    }
    out.strict.push_back(strict);
    out.shadow.push_back(shadow);
  }
  return out;
}

SideLine line_of(const std::vector<double>& ends) {
  constexpr double kMostSlope = 0.27;
  constexpr double kNear = 0.9;
  constexpr std::size_t kTries = 36;
  std::vector<std::size_t> usable;
  for (std::size_t t = 0; t < ends.size(); ++t) {
    if (ends[t] >= 0.0) usable.push_back(t);
  }
  SideLine best;
  if (usable.size() < 12) return best;
  std::size_t most = 0;
  // How many ends lie on a line; 0 as soon as it cannot be more than `most`.
  const auto inliers = [&](const SideLine& line) {
    const std::size_t may_miss = usable.size() - most;
    std::size_t missed = 0;
    for (const std::size_t t : usable) {
      missed += std::abs(ends[t] - line.d(static_cast<double>(t))) <= kNear ? 0 : 1;
      if (missed >= may_miss) return std::size_t{0};
    }
    return usable.size() - missed;
  };
  const std::size_t count = std::min(kTries, usable.size());
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t p = usable[i * usable.size() / count];
    for (std::size_t j = i + 1; j < count; ++j) {
      const std::size_t q = usable[j * usable.size() / count];
      if (q - p < ends.size() / 8) continue;
      SideLine line;
      line.slope = (ends[q] - ends[p]) / static_cast<double>(q - p);
      if (std::abs(line.slope) > kMostSlope) continue;
      line.at = ends[p] - line.slope * static_cast<double>(p);
      line.found = true;
      const std::size_t n = inliers(line);
      if (n > most) {
        most = n;
        best = line;
      }
    }
  }
  // Least squares through what lies on it, twice.
  for (int round = 0; round < 2 && best.found; ++round) {
    double n = 0.0;
    double sum_t = 0.0;
    double sum_d = 0.0;
    double sum_tt = 0.0;
    double sum_td = 0.0;
    for (const std::size_t i : usable) {
      const auto t = static_cast<double>(i);
      if (std::abs(ends[i] - best.d(t)) > 1.2) continue;
      n += 1.0;
      sum_t += t;
      sum_d += ends[i];
      sum_tt += t * t;
      sum_td += t * ends[i];
    }
    const double spread = n * sum_tt - sum_t * sum_t;
    if (n < 8.0 || spread <= 0.0) break;
    best.slope = (n * sum_td - sum_t * sum_d) / spread;
    best.at = (sum_d - best.slope * sum_t) / n;
  }
  return best;
}

Seen seen_of(const SideLine& line, const std::vector<double>& ends, double from, double to,
             const Surround& surround, const SmallPicture& small, Side side) {
  constexpr double kNear = 1.2;
  constexpr double kEnd = 0.03;  // corners are rounded, worn and shaded
  const View view(surround, small, side);
  const double cut = kEnd * (to - from);
  const int first = std::max(0, static_cast<int>(std::ceil(from + cut)));
  const int last = std::min(static_cast<int>(ends.size()) - 1, static_cast<int>(std::floor(to - cut)));
  if (!line.found || last - first < 12) return {0.0, 1.0};
  const auto shows = [&](int t) {  // surround up to the line, something else behind it
    const int d = static_cast<int>(std::lround(line.d(t)));
    if (d < 4 || d + 3 >= view.deep()) return false;
    return view.at(t, d - 4) != Likeness::other && view.at(t, d - 2) != Likeness::other &&
           view.at(t, d + 1) == Likeness::other && view.at(t, d + 2) == Likeness::other;
  };
  int near = 0;
  int before = 0;
  for (int t = first; t <= last; ++t) {
    const double end = ends[static_cast<std::size_t>(t)];
    if (end < 0.0) continue;
    const double off = end - line.d(t);
    if (std::abs(off) <= kNear || (off < 0.0 && shows(t))) {
      ++near;
    } else if (off < 0.0) {
      ++before;
    }
  }
  const double all = last - first + 1;
  return {near / all, before / all};
}

}  // namespace kithue::extract
