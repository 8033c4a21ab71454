// SPDX-License-Identifier: MIT
#include "extract/looks.h"

#include <algorithm>
#include <array>
#include <bit>
#include <iterator>

namespace kithue::extract {
namespace {

constexpr std::size_t kTogether = 96;  // fitted together for one colour
constexpr std::size_t kBits = 64;

}  // namespace

Light joint_light(const std::vector<Look*>& group) {
  std::array<std::array<double, 3>, 3> m{};
  Light v{};
  for (const Look* look : group) {
    for (std::size_t p = 0; p < 3; ++p) {
      for (std::size_t q = 0; q < 3; ++q) {
        m[p][q] += look->own.information[p][q];
        v[p] += look->own.information[p][q] * look->own.light[q];
      }
    }
  }
  const double trace = m[0][0] + m[1][1] + m[2][2];
  for (std::size_t p = 0; p < 3; ++p) m[p][p] += 1e-9 * trace + 1e-12;
  const Matrix3 inverted = inverse(Matrix3{m});
  Light out = times(inverted, v);
  for (double& one : out) one = std::clamp(one, 0.0, 1.3);
  return out;
}

double median_width(const std::vector<Look*>& looks) {
  std::vector<double> widths;
  for (const Look* look : looks) widths.push_back(look->cut.width);
  return median_of(widths);
}

std::vector<Look> looks_of(const std::vector<Core>& cores, std::size_t most, const Cutter& cutter, int side,
                           Executor& executor) {
  // In letters many ways run along a stroke, not across it: where few cuts can be made more are tried.
  constexpr std::size_t kTurns = 8;
  constexpr double kLeastPart = 0.75;  // of `most`
  const std::size_t step = std::max<std::size_t>(1, cores.size() / most);
  std::vector<Look> all;
  for (std::size_t turn = 0; turn < std::min(kTurns, step) &&
                             static_cast<double>(all.size()) < kLeastPart * static_cast<double>(most);
       ++turn) {
    const std::size_t first = (step / 2 + turn * step / kTurns) % step;
    std::vector<Look> looks(cores.size() > first ? (cores.size() - first + step - 1) / step : 0);
    executor.run(looks.size(), [&](std::size_t i) {
      const Core& c = cores[first + i * step];
      looks[i] = {
          c, cutter.at(c.x, c.y, c.left, c.right, c.across_x, c.before + 0.5, c.after + 0.5), {}, true};
      looks[i].cut.width = std::max(1.5, (c.before + c.after - 2.0) * side * 0.7);
    });
    std::copy_if(std::make_move_iterator(looks.begin()), std::make_move_iterator(looks.end()),
                 std::back_inserter(all), [](const Look& look) { return look.cut.usable; });
  }
  return all;
}

ThinPlace place_of(const Look& look, const Cutter& cutter, std::size_t thin, double sharp) {
  constexpr double kFaded = 2.5;  // times the smear: what is left there is in no last digit
  const Core& c = look.core;
  return {cutter.place(c.x, c.y, c.left, c.right, c.across_x),
          look.cut.middle,
          0.5 * look.cut.width + kFaded * sharp,
          look.cut.across,
          c.left,
          static_cast<std::uint8_t>(thin),
          c.right};
}

Grouping::Grouping(std::vector<Look>& looks, const Agreement& agreement, Executor& executor)
    : looks_(looks), agree_(looks.size()) {
  for (const Look& look : looks) worsenings_.push_back(agreement.worsening(look));
  executor.run(looks_.size(), [&](std::size_t i) {
    if (!looks_[i].open) return;
    agree_[i].assign((looks_.size() + kBits - 1) / kBits, 0);
    for (std::size_t j = 0; j < looks_.size(); ++j) {
      if (looks_[j].open && Agreement::agree(worsenings_[j], looks_[i].own.light))
        agree_[i][j / kBits] |= std::uint64_t{1} << (j % kBits);
    }
  });
}

std::vector<Look*> Grouping::all_that_agree(const Light& light) const {
  std::vector<Look*> group;
  for (std::size_t i = 0; i < looks_.size(); ++i) {
    if (looks_[i].open && Agreement::agree(worsenings_[i], light)) group.push_back(&looks_[i]);
  }
  return group;
}

Grouping::Row Grouping::open_now() const {
  Row open((looks_.size() + kBits - 1) / kBits, 0);
  for (std::size_t j = 0; j < looks_.size(); ++j) {
    if (looks_[j].open) open[j / kBits] |= std::uint64_t{1} << (j % kBits);
  }
  return open;
}

Group Grouping::largest() const {
  constexpr int kLeast = 6;
  const Row open = open_now();
  const Look* top = nullptr;
  int most = kLeast - 1;
  for (std::size_t i = 0; i < looks_.size(); ++i) {
    if (!looks_[i].open) continue;
    int size = 0;
    for (std::size_t word = 0; word < open.size(); ++word)
      size += std::popcount(agree_[i][word] & open[word]);
    if (size <= most) continue;
    most = size;
    top = &looks_[i];
  }
  if (top == nullptr) return {};
  Group best;
  best.looks = all_that_agree(top->own.light);
  best.light = joint_light(best.looks);
  for (int round = 0; round < 3; ++round) {
    std::vector<Look*> group = all_that_agree(best.light);
    if (group.size() < kLeast) break;
    best.looks = std::move(group);
    best.light = joint_light(best.looks);
  }
  return best;
}

std::vector<Cut*> cuts_of(const Group& group) {
  std::vector<Cut*> cuts;
  const std::size_t step = std::max<std::size_t>(1, group.looks.size() / kTogether);
  for (std::size_t i = 0; i < group.looks.size(); i += step) cuts.push_back(&group.looks[i]->cut);
  return cuts;
}

}  // namespace kithue::extract
