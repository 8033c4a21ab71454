// SPDX-License-Identifier: MIT
#include "extract/blocks.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "extract/flat.h"
#include "extract/line_fit.h"

namespace kithue::extract {
namespace {

constexpr int kSide = kBlockSide;
constexpr std::size_t kMostThin = 640;  // blocks
constexpr int kAround = 2;              // cells from which something else may be smeared into a block
constexpr std::size_t kMostPlain = 24;  // blocks for each two colours
constexpr int kBins = 288;              // of brightness
constexpr double kBinsAUnit = 256.0;

/// One block: the mean colour differences, how many pixels are of one colour only, and how often each
/// brightness occurs in the others: before the middle of a line they are mixed of `first` and `second`, past
/// it of `second` and `third`, and away from it, where the sides differ, of `first` and `third`.
struct Block {
  std::uint8_t first = 0;
  std::uint8_t second = 0;
  std::uint8_t third = 0;
  std::array<std::array<std::uint16_t, kBins>, 4> counts{};
  std::array<double, 3> pure{};  ///< pixels of plain places of each
  std::array<double, 2> mean{};  ///< Cb', Cr'
  int low = kBins;
  int high = 0;
};

/// Where to look.
struct Spot {
  int x = 0;
  int y = 0;
  int row = 0;  ///< of the cells
  std::uint8_t first = 0;
  std::uint8_t second = 0;
  const ThinPlace* thin = nullptr;
};

Block read_block(const LightRows& picture, const Cells& cells, const std::vector<std::uint8_t>& labels,
                 const Spot& spot, double gain) {
  Block block{spot.first, spot.second, spot.first, {}, {}, {}, kBins, 0};
  if (spot.thin != nullptr) block.third = spot.thin->right;
  const bool sided = block.third != block.first;
  std::array<float, 3 * kSide> row{};
  const double part = 1.0 / gain;
  // Where samples begin at odd pixels no pixels of a block make up its samples.
  const Sampling sampling = picture.sampling();
  const int columns = sampling.odd_across ? 1 : sampling.across;
  const int rows = sampling.odd_down ? 1 : sampling.down;
  for (int j = 0; j < kSide; ++j) {
    picture.read(spot.x, spot.y + j, kSide, row.data());
    for (int i = 0; i < kSide; ++i) {
      const float* p = row.data() + 3 * i;
      const Coded value = coded_of({part * static_cast<double>(p[0]), part * static_cast<double>(p[1]),
                                    part * static_cast<double>(p[2])});
      const double weight = sample_weight(i, columns) * sample_weight(j, rows);
      for (std::size_t c = 0; c < 2; ++c) block.mean[c] += weight * value[c + 1];
      const std::uint8_t label = labels[cells.at((spot.x + i) / cells.side, spot.row + j / cells.side)];
      if (label == block.first || label == block.third || (label == block.second && spot.thin == nullptr)) {
        block.pure[label == block.first ? 0 : label == block.second ? 1 : 2] += 1.0;
        continue;
      }
      std::size_t side = 0;
      if (sided) {
        const ThinPlace& t = *spot.thin;
        const double across = (spot.x + i - t.line.x) * t.across[0] + (spot.y + j - t.line.y) * t.across[1];
        side = (across > t.middle ? 1 : 0) + (std::abs(across - t.middle) > t.reach ? 2 : 0);
      }
      const int bin = std::clamp(static_cast<int>(std::lround(value[0] * kBinsAUnit)), 0, kBins - 1);
      ++block.counts[side][static_cast<std::size_t>(bin)];
      block.low = std::min(block.low, bin);
      block.high = std::max(block.high, bin);
    }
  }
  for (double& mean : block.mean) mean /= kSide * kSide;
  return block;
}

/// The labels in the cells of a block, as a set of at most three; false when there are more.
struct LabelSet {
  std::array<std::uint8_t, 3> label{};
  std::array<int, 3> count{};
  std::size_t size = 0;
  int unlabelled = 0;
  bool crowded = false;
};

/// Of the block at pixel x and row y of the cells, and of so many cells around it.
LabelSet labels_in(const Cells& cells, const std::vector<std::uint8_t>& labels, int x, int cy,
                   int around = 0) {
  LabelSet set;
  const int cx = x / cells.side;
  const int n = kSide / cells.side;
  for (int j = std::max(-around, -cy); j < std::min(n + around, cells.height - cy); ++j) {
    const std::uint8_t* row =
        labels.data() + static_cast<std::size_t>(cy + j) * static_cast<std::size_t>(cells.width) + cx;
    for (int i = std::max(-around, -cx); i < std::min(n + around, cells.width - cx); ++i) {
      if (row[i] == kNoLabel) {
        ++set.unlabelled;
        continue;
      }
      std::size_t k = 0;
      while (k < set.size && set.label[k] != row[i]) ++k;
      if (k == set.size) {
        if (set.size == set.label.size()) {
          set.crowded = true;
          return set;
        }
        set.label[set.size++] = row[i];
      }
      ++set.count[k];
    }
  }
  return set;
}

bool holds_only(const LabelSet& set, const ThinPlace& place) {
  if (set.crowded) return false;
  for (std::size_t k = 0; k < set.size; ++k) {
    if (set.label[k] != place.left && set.label[k] != place.right && set.label[k] != place.thin) return false;
  }
  return set.size > 0;
}

std::vector<Spot> spots_of(const LightRows& picture, const Cells& cells,
                           const std::vector<std::uint8_t>& labels, const std::vector<ThinPlace>& thin,
                           const PlainColours& plain, Executor& executor) {
  const std::size_t colours = plain.all;
  std::vector<Spot> spots;
  const int across = picture.width() / kSide;
  const int down = cells.height * cells.side / kSide;  // those that are there
  for (const ThinPlace& place : thin) {
    const int x = static_cast<int>(place.line.x) / kSide;
    const int y = static_cast<int>(place.line.y) / kSide;
    const int row = cells.row_at(y * kSide);
    if (x >= across || row < 0 || row + kSide / cells.side > cells.height || spots.size() >= kMostThin)
      continue;
    if (!holds_only(labels_in(cells, labels, x * kSide, row, kAround), place)) continue;
    spots.push_back({x * kSide, y * kSide, row, place.left, place.thin, &place});
  }
  // Blocks on the edge between two plain colours, spread over the picture.
  std::vector<std::size_t> taken(colours * colours, 0);
  const std::size_t all = static_cast<std::size_t>(across) * static_cast<std::size_t>(down);
  const std::size_t looked = std::min<std::size_t>(all, 6000);
  struct Looked {
    int x = 0;
    int row = 0;
    LabelSet set;
  };
  std::vector<Looked> seen(looked);
  constexpr std::size_t kJob = 500;
  executor.run((looked + kJob - 1) / kJob, [&](std::size_t job) {
    for (std::size_t n = job * kJob; n < std::min(looked, (job + 1) * kJob); ++n) {
      // A step that shares no factor with most counts visits places far apart one after the other.
      const std::size_t at = all <= 6000 ? n : (n * all / looked + (n * 7919) % (all / looked)) % all;
      const int x = static_cast<int>(at % static_cast<std::size_t>(across)) * kSide;
      const int row = static_cast<int>(at / static_cast<std::size_t>(across)) * kSide / cells.side;
      seen[n] = {x, row, labels_in(cells, labels, x, row)};
    }
  });
  for (const auto& [x, row, set] : seen) {
    if (set.crowded || set.size != 2) continue;
    const std::uint8_t i = std::min(set.label[0], set.label[1]);
    const std::uint8_t j = std::max(set.label[0], set.label[1]);
    if (std::min(set.count[0], set.count[1]) < 3 || j >= colours) continue;
    std::size_t& count = taken[i * colours + j];
    if (count >= kMostPlain) continue;
    ++count;
    spots.push_back({x, cells.pixel_row(row), row, i, j, nullptr});
  }
  return spots;
}

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
    for (int i = 0; i < kBins; ++i) {
      // Along the chain brightness rises (falls when sign is -1).
      const auto bin = static_cast<std::size_t>(sign > 0 ? i : kBins - 1 - i);
      const double wanted = static_cast<double>(bin) / kBinsAUnit;
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
  std::array<double, kBins> part_{};
  std::array<std::array<double, 2>, kBins> mixed_{};
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

}  // namespace

double sample_weight(int place, int pixels_a_sample) noexcept {
  if (pixels_a_sample != 2) return 1.0;
  constexpr std::array<double, 3> kOutermost{0.0, 2.5, 0.5};
  const auto from_end = static_cast<std::size_t>(std::min(place, kSide - 1 - place));
  return from_end < kOutermost.size() ? kOutermost[from_end] : 1.0;
}

void refine_by_blocks(const LightRows& picture, const Cells& cells, const std::vector<std::uint8_t>& labels,
                      const std::vector<ThinPlace>& thin, const std::vector<CutTrust>& cuts,
                      const PlainColours& plain, std::vector<Lab>& colours,
                      const std::function<double(double, double)>& gain, Executor& executor) {
  constexpr double kLeastStep = 0.08;      // of brightness between two colours
  constexpr double kNoise = 0.35 / 255.0;  // of the mean of a block: half a step of the coding
  constexpr double kAgree = 2.0;      // times that: what is left where the blocks agree, 0.2 to 0.6 mostly
  constexpr double kGoodPart = 0.15;  // of a block between two plain colours, to tell of either
  constexpr std::size_t kLeastResidues = 32;  // two a block
  constexpr double kGoodCut = 0.0025;         // misfit at which cuts and blocks count alike
  constexpr double kGoodBetween = 0.015;
  // How far a colour is off before, and the most that it may move: one that was told, a large plain one, a
  // small one, a thin one.
  struct Room {
    double usual;
    double most;
  };
  constexpr Room kTold{0.05 / 255.0, 0.1 / 255.0};
  constexpr Room kSure{0.3 / 255.0, 0.6 / 255.0};
  constexpr Room kSmall{1.0 / 255.0, 3.0 / 255.0};
  constexpr Room kThin{40.0 / 255.0, 1.0};
  const std::vector<Spot> spots = spots_of(picture, cells, labels, thin, plain, executor);
  if (spots.size() < 8) return;
  std::vector<Block> blocks(spots.size());
  constexpr std::size_t kJob = 32;
  executor.run((spots.size() + kJob - 1) / kJob, [&](std::size_t job) {
    for (std::size_t i = job * kJob; i < std::min(spots.size(), (job + 1) * kJob); ++i) {
      const Spot& spot = spots[i];
      blocks[i] = read_block(picture, cells, labels, spot, gain(spot.x + 0.5 * kSide, spot.y + 0.5 * kSide));
    }
  });
  const Matrix3 from_xyz = inverse(picture.to_xyz());
  const std::size_t n = colours.size();
  std::vector<Coded> coded;
  for (const Lab& lab : colours) coded.push_back(coded_of(light_from_lab(lab, from_xyz)));
  // Where a channel is at its end the colour differences are cut off, and a block's mean says nothing.
  const auto room_of = [&](std::size_t i) {
    constexpr double kEnd = 0.97;
    if (plain.told[i]) return kTold;
    const Light light = light_of(coded[i]);
    if (i < plain.sure || *std::max_element(light.begin(), light.end()) > kEnd) return kSure;
    return i < plain.all ? kSmall : kThin;
  };
  std::vector<std::array<double, 2>> moved(n, {0.0, 0.0});
  std::vector<bool> told(n, false);
  std::vector<std::vector<double>> residues(n);  // of the blocks of each colour, in units of the noise
  for (int round = 0; round < 5; ++round) {
    std::vector<Light> lights;
    for (const Coded& value : coded) lights.push_back(light_of(value));
    std::vector<std::unique_ptr<Mixing>> mixings(n * n);
    const auto mixing = [&](std::size_t i, std::size_t j) -> const Mixing& {
      auto& one = mixings[i * n + j];
      if (!one) one = std::make_unique<Mixing>(lights[i], lights[j]);
      return *one;
    };
    std::array<std::vector<double>, 2> m{std::vector<double>(n * n, 0.0), std::vector<double>(n * n, 0.0)};
    std::array<std::vector<double>, 2> v{std::vector<double>(n, 0.0), std::vector<double>(n, 0.0)};
    std::fill(told.begin(), told.end(), false);
    for (auto& some : residues) some.clear();
    for (const Block& block : blocks) {
      const double low = std::min({coded[block.first][0], coded[block.second][0], coded[block.third][0]});
      const double high = std::max({coded[block.first][0], coded[block.second][0], coded[block.third][0]});
      if (std::min(std::abs(coded[block.first][0] - coded[block.second][0]),
                   std::abs(coded[block.third][0] - coded[block.second][0])) < kLeastStep)
        continue;
      // Something darker or lighter than both lies there.
      const double loose = 0.03 + 0.12 * (high - low);
      if (block.low < (low - loose) * kBinsAUnit || block.high > (high + loose) * kBinsAUnit) continue;
      std::array<double, 2> expected{};
      std::array<double, 3> part{};
      constexpr std::array<std::array<std::size_t, 2>, 4> kEnds{
          {{0, 1}, {2, 1}, {0, 2}, {2, 0}}};  // of each kind
      const std::array<std::size_t, 3> who{block.first, block.second, block.third};
      for (std::size_t kind = 0; kind < kEnds.size(); ++kind) {
        const auto [from, to] = kEnds[kind];
        if (who[from] == who[to]) continue;
        const Mixing& mix = mixing(who[from], who[to]);
        const bool alike = std::abs(coded[who[from]][0] - coded[who[to]][0]) < kLeastStep;
        for (int bin = block.low; bin <= block.high; ++bin) {
          const auto b = static_cast<std::size_t>(bin);
          const double count = block.counts[kind][b];
          if (count == 0.0) continue;
          const double t = alike ? 0.0 : mix.part(b);
          part[to] += count * t;
          part[from] += count * (1.0 - t);
          for (std::size_t c = 0; c < 2; ++c)
            expected[c] += count * (alike ? coded[who[from]][c + 1] : mix.mixed(b)[c]);
        }
      }
      for (std::size_t k = 0; k < 3; ++k) {
        part[k] += block.pure[k];
        for (std::size_t c = 0; c < 2; ++c) expected[c] += block.pure[k] * coded[who[k]][c + 1];
      }
      for (double& p : part) p /= kSide * kSide;
      for (std::size_t c = 0; c < 2; ++c) {
        const double left = block.mean[c] - expected[c] / (kSide * kSide);
        // A block with a line tells of the line alone.
        for (std::size_t k = 0; k < 2; ++k) {
          if (block.second >= plain.all ? k == 1 : part[k] > kGoodPart)
            residues[who[k]].push_back(std::abs(left) / kNoise);
        }
        const double loose_fit = round < 2 ? 6.0 : 2.5;
        const double w =
            1.0 / (kNoise * kNoise) / (1.0 + left * left / (loose_fit * loose_fit * kNoise * kNoise));
        for (std::size_t p = 0; p < 3; ++p) {
          for (std::size_t q = 0; q < 3; ++q) m[c][who[p] * n + who[q]] += w * part[p] * part[q];
          v[c][who[p]] += w * part[p] * left;
        }
      }
      for (const std::size_t p : who) told[p] = true;
    }
    double largest = 0.0;
    for (std::size_t c = 0; c < 2; ++c) {
      for (std::size_t i = 0; i < n; ++i) {
        const double sd = room_of(i).usual;
        m[c][i * n + i] += 1.0 / (sd * sd);
        v[c][i] -= moved[i][c] / (sd * sd);
      }
      if (!solve_any(m[c], v[c], n)) return;
      for (std::size_t i = 0; i < n; ++i) {
        const double most = room_of(i).most;
        const double step =
            std::clamp(moved[i][c] + std::clamp(v[c][i], -0.1, 0.1), -most, most) - moved[i][c];
        moved[i][c] += step;
        coded[i][c + 1] += step;
        largest = std::max(largest, std::abs(step));
      }
    }
    if (largest < 1e-5) break;
  }
  for (std::size_t i = 0; i < n; ++i) {
    if (!told[i] || median_of(residues[i]) >= kAgree) continue;
    if (i >= plain.all) {
      if (residues[i].size() < kLeastResidues) continue;
      const Coded by_cuts = coded_of(light_from_lab(colours[i], from_xyz));
      const auto [misfit, between] = cuts[i - plain.all];
      const double good = between ? kGoodBetween : kGoodCut;
      const double part = misfit * misfit / (misfit * misfit + good * good);
      for (std::size_t c = 1; c < 3; ++c) coded[i][c] = by_cuts[c] + part * (coded[i][c] - by_cuts[c]);
    }
    colours[i] = lab_from_light(light_of(coded[i]), picture.to_xyz());
  }
}

}  // namespace kithue::extract
