// SPDX-License-Identifier: MIT
#include "extract/blocks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <optional>
#include <utility>

#include "extract/line_fit.h"

namespace kithue::extract {
namespace {

/// For each brightness what part of the second colour is there, and the colour differences of that mixture.
class Mixing {
 public:
  Mixing(const Light& from, const Light& to) {
    constexpr int kSteps2 = 96;
    constexpr double kPast = 0.25;
    std::array<Coded, kSteps2 + 1> chain;
    std::array<double, kSteps2 + 1> part;
    for (int i = 0; i <= kSteps2; ++i) {
      const double t = -kPast + (1.0 + 2.0 * kPast) * i / kSteps2;
      Light light;
      for (std::size_t c = 0; c < 3; ++c) light[c] = std::max(0.0, from[c] + t * (to[c] - from[c]));
      const auto k = static_cast<std::size_t>(i);
      chain[k] = coded_of(light);
      part[k] = t;
    }
    const double sign = chain.back()[0] > chain.front()[0] ? 1.0 : -1.0;
    std::size_t at = 0;
    for (int i = 0; i < kBrightnessBins; ++i) {
      // Along the chain brightness rises (falls when sign is -1).
      const auto bin = static_cast<std::size_t>(sign > 0 ? i : kBrightnessBins - 1 - i);
      const double wanted = static_cast<double>(bin) / kBrightnessBinsAUnit;
      while (at + 2 < chain.size() && sign * chain[at + 1][0] < sign * wanted) ++at;
      const double step = chain[at + 1][0] - chain[at][0];
      const double f = std::abs(step) < 1e-9 ? 0.0 : std::clamp((wanted - chain[at][0]) / step, 0.0, 1.0);
      part_[bin] = part[at] + f * (part[at + 1] - part[at]);
      for (std::size_t c = 0; c < 2; ++c)
        mixed_[bin][c] = chain[at][c + 1] + f * (chain[at + 1][c + 1] - chain[at][c + 1]);
    }
  }
  [[nodiscard]] double part(std::size_t bin) const { return part_[bin]; }
  [[nodiscard]] const std::array<double, 2>& mixed(std::size_t bin) const { return mixed_[bin]; }

 private:
  std::array<double, kBrightnessBins> part_{};
  std::array<std::array<double, 2>, kBrightnessBins> mixed_{};
};

/// Solves a symmetric positive system of any size in place.
bool solve_any(std::vector<double>& m, std::vector<double>& v, std::size_t n) {
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = m[i * n + j];
      for (std::size_t k = 0; k < j; ++k) sum -= m[i * n + k] * m[j * n + k];
      if (i == j) {
        if (sum <= 0.0) return false;
        m[i * n + i] = std::sqrt(sum);
      } else {
        m[i * n + j] = sum / m[j * n + j];
      }
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < i; ++k) v[i] -= m[i * n + k] * v[k];
    v[i] /= m[i * n + i];
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t k = i + 1; k < n; ++k) v[i] -= m[k * n + i] * v[k];
    v[i] /= m[i * n + i];
  }
  return true;
}

/// The mixtures of each two of some colours, made when first asked for.
class Mixings {
 public:
  explicit Mixings(const std::vector<Coded>& coded) : made_(coded.size() * coded.size()) {
    for (const Coded& value : coded) lights_.push_back(light_of(value));
  }
  const Mixing& of(std::size_t i, std::size_t j) {
    auto& one = made_[i * lights_.size() + j];
    if (!one) one = std::make_unique<Mixing>(lights_[i], lights_[j]);
    return *one;
  }

 private:
  std::vector<Light> lights_;
  std::vector<std::unique_ptr<Mixing>> made_;
};

/// What a block holds by its brightness.
struct Holding {
  std::array<double, 3> part{};      ///< of its first, second and third colour
  std::array<double, 2> expected{};  ///< Cb', Cr' of all
};

std::array<std::size_t, 3> colours_in(const Block& block) {
  return {block.first, block.second, block.third};
}

constexpr double kLeastBrightnessStep = 0.08;  // between two colours, for brightness to tell them apart

bool tells(const Block& block, const std::vector<Coded>& coded) {
  const std::array<double, 3> bright{coded[block.first][0], coded[block.second][0], coded[block.third][0]};
  const auto [low, high] = std::minmax({bright[0], bright[1], bright[2]});
  if (std::min(std::abs(bright[0] - bright[1]), std::abs(bright[2] - bright[1])) < kLeastBrightnessStep)
    return false;
  // Else something darker or lighter than both lies there.
  const double loose = 0.03 + 0.12 * (high - low);
  return block.low >= (low - loose) * kBrightnessBinsAUnit &&
         block.high <= (high + loose) * kBrightnessBinsAUnit;
}

Holding holding_of(const Block& block, const std::vector<Coded>& coded, Mixings& mixings) {
  constexpr double kPixels = kBlockSide * kBlockSide;
  constexpr std::array<std::array<std::size_t, 2>, 4> kEnds{
      {{0, 1}, {2, 1}, {0, 2}, {2, 0}}};  // of each kind
  const auto who = colours_in(block);
  Holding out;
  for (std::size_t kind = 0; kind < kEnds.size(); ++kind) {
    const auto [from, to] = kEnds[kind];
    if (who[from] == who[to]) continue;
    const Mixing& mix = mixings.of(who[from], who[to]);
    const bool alike = std::abs(coded[who[from]][0] - coded[who[to]][0]) < kLeastBrightnessStep;
    for (int bin = block.low; bin <= block.high; ++bin) {
      const auto b = static_cast<std::size_t>(bin);
      const double count = block.counts[kind][b];
      if (count == 0.0) continue;
      const double t = alike ? 0.0 : mix.part(b);
      out.part[to] += count * t;
      out.part[from] += count * (1.0 - t);
      for (std::size_t c = 0; c < 2; ++c)
        out.expected[c] += count * (alike ? coded[who[from]][c + 1] : mix.mixed(b)[c]);
    }
  }
  for (std::size_t k = 0; k < 3; ++k) {
    out.part[k] += block.pure[k];
    for (std::size_t c = 0; c < 2; ++c) out.expected[c] += block.pure[k] * coded[who[k]][c + 1];
  }
  for (double& part : out.part) part /= kPixels;
  for (double& value : out.expected) value /= kPixels;
  return out;
}

/// The colours that the means of blocks tell, found by least squares, what does not fit counting less.
class BlockFit {
 public:
  BlockFit(const std::vector<Block>& blocks, const PlainColours& plain, std::vector<Coded> coded)
      : blocks_(blocks),
        plain_(plain),
        coded_(std::move(coded)),
        moved_(coded_.size()),
        told_(coded_.size(), false),
        residues_(coded_.size()) {}

  /// False when the blocks tell nothing.
  bool settle() {
    constexpr int kRounds = 5;
    constexpr double kSettled = 1e-5;
    for (int round = 0; round < kRounds; ++round) {
      const std::optional<double> largest = step(round);
      if (!largest) return false;
      if (*largest < kSettled) break;
    }
    return true;
  }
  /// By blocks that agree.
  [[nodiscard]] bool is_told(std::size_t i) const {
    constexpr double kAgree = 2.0;  // times the noise: where the blocks agree 0.2 to 0.6 is left mostly
    constexpr std::size_t kLeastResidues = 32;  // two a block
    if (!told_[i] || median_of(residues_[i]) >= kAgree) return false;
    return i < plain_.all || residues_[i].size() >= kLeastResidues;
  }
  [[nodiscard]] const Coded& coded(std::size_t i) const { return coded_[i]; }

 private:
  /// How far a colour is off before, and the most that it may move.
  struct Room {
    double usual;
    double most;
  };
  /// Normal equations of the colours' Cb' or Cr'.
  struct Equations {
    explicit Equations(std::size_t n) : m(n * n, 0.0), v(n, 0.0) {}
    std::vector<double> m;
    std::vector<double> v;
  };

  [[nodiscard]] Room room_of(std::size_t i) const {
    constexpr Room kTold{0.05 / 255.0, 0.1 / 255.0};
    constexpr Room kLargePlain{0.3 / 255.0, 0.6 / 255.0};
    constexpr Room kSmallPlain{1.0 / 255.0, 3.0 / 255.0};
    constexpr Room kThin{40.0 / 255.0, 1.0};
    constexpr double kEnd = 0.97;
    if (plain_.told[i]) return kTold;
    // Where a channel is at its end the colour differences are cut off, and a block's mean says nothing.
    const Light light = light_of(coded_[i]);
    if (i < plain_.sure || *std::max_element(light.begin(), light.end()) > kEnd) return kLargePlain;
    return i < plain_.all ? kSmallPlain : kThin;
  }

  void keep_residue(const Block& block, const Holding& holding, double residue) {
    constexpr double kGoodPart = 0.15;  // of a block between two plain colours, to tell of either
    const auto who = colours_in(block);
    // A block with a line tells of the line alone.
    for (std::size_t k = 0; k < 2; ++k) {
      if (block.second >= plain_.all ? k == 1 : holding.part[k] > kGoodPart)
        residues_[who[k]].push_back(residue);
    }
  }

  void weigh(const Block& block, const Holding& holding, int round, std::array<Equations, 2>& equations) {
    constexpr double kNoise = 0.35 / 255.0;  // of the mean of a block: half a step of the coding
    const double loose_fit = round < 2 ? 6.0 : 2.5;
    const std::size_t n = coded_.size();
    const auto who = colours_in(block);
    for (std::size_t c = 0; c < 2; ++c) {
      const double left = block.mean[c] - holding.expected[c];
      keep_residue(block, holding, std::abs(left) / kNoise);
      const double w =
          1.0 / (kNoise * kNoise) / (1.0 + left * left / (loose_fit * loose_fit * kNoise * kNoise));
      for (std::size_t p = 0; p < 3; ++p) {
        for (std::size_t q = 0; q < 3; ++q)
          equations[c].m[who[p] * n + who[q]] += w * holding.part[p] * holding.part[q];
        equations[c].v[who[p]] += w * holding.part[p] * left;
      }
    }
    for (const std::size_t i : who) told_[i] = true;
  }

  /// The largest step of any colour; nothing when the equations cannot be solved.
  std::optional<double> step(int round) {
    constexpr double kMostStep = 0.1;
    const std::size_t n = coded_.size();
    Mixings mixings(coded_);
    std::array<Equations, 2> equations{Equations(n), Equations(n)};
    std::fill(told_.begin(), told_.end(), false);
    for (auto& some : residues_) some.clear();
    for (const Block& block : blocks_) {
      if (tells(block, coded_)) weigh(block, holding_of(block, coded_, mixings), round, equations);
    }
    double largest = 0.0;
    for (std::size_t c = 0; c < 2; ++c) {
      auto& [m, v] = equations[c];
      for (std::size_t i = 0; i < n; ++i) {
        const double sd = room_of(i).usual;
        m[i * n + i] += 1.0 / (sd * sd);
        v[i] -= moved_[i][c] / (sd * sd);
      }
      if (!solve_any(m, v, n)) return std::nullopt;
      for (std::size_t i = 0; i < n; ++i) {
        const double most = room_of(i).most;
        const double to = std::clamp(moved_[i][c] + std::clamp(v[i], -kMostStep, kMostStep), -most, most);
        const double by = to - moved_[i][c];
        moved_[i][c] += by;
        coded_[i][c + 1] += by;
        largest = std::max(largest, std::abs(by));
      }
    }
    return largest;
  }

  const std::vector<Block>& blocks_;
  const PlainColours& plain_;
  std::vector<Coded> coded_;
  std::vector<std::array<double, 2>> moved_;
  std::vector<bool> told_;
  std::vector<std::vector<double>> residues_;  // of the blocks of each colour, in units of the noise
};

/// Between what its cuts and what its blocks say of a thin colour.
Coded weighed(const Coded& by_cuts, const Coded& by_blocks, const CutTrust& cut) {
  constexpr double kGoodCut = 0.0025;  // misfit at which cuts and blocks count alike
  constexpr double kGoodBetween = 0.015;
  const double good = cut.between ? kGoodBetween : kGoodCut;
  const double part = cut.misfit * cut.misfit / (cut.misfit * cut.misfit + good * good);
  Coded out = by_blocks;
  for (std::size_t c = 1; c < 3; ++c) out[c] = by_cuts[c] + part * (by_blocks[c] - by_cuts[c]);
  return out;
}

}  // namespace

void refine_by_blocks(const LightRows& picture, const Cells& cells, const std::vector<std::uint8_t>& labels,
                      const std::vector<ThinPlace>& thin, const std::vector<CutTrust>& cuts,
                      const PlainColours& plain, std::vector<Lab>& colours,
                      const std::function<double(double, double)>& gain, Executor& executor) {
  constexpr std::size_t kLeastBlocks = 8;
  const std::vector<Block> blocks = read_blocks(picture, cells, labels, thin, plain, gain, executor);
  if (blocks.size() < kLeastBlocks) return;
  const Matrix3 from_xyz = inverse(picture.to_xyz());
  std::vector<Coded> seen;
  for (const Lab& lab : colours) seen.push_back(coded_of(light_from_lab(lab, from_xyz)));
  BlockFit fit(blocks, plain, seen);
  if (!fit.settle()) return;
  for (std::size_t i = 0; i < colours.size(); ++i) {
    if (!fit.is_told(i)) continue;
    const Coded coded = i < plain.all ? fit.coded(i) : weighed(seen[i], fit.coded(i), cuts[i - plain.all]);
    colours[i] = lab_from_light(light_of(coded), picture.to_xyz());
  }
}

}  // namespace kithue::extract
