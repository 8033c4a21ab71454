// SPDX-License-Identifier: MIT
#include "extract/block_reading.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "extract/flat.h"

namespace kithue::extract {
namespace {

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
  Block block{spot.first, spot.second, spot.first, {}, {}, {}, kBrightnessBins, 0};
  if (spot.thin != nullptr) block.third = spot.thin->right;
  const bool sided = block.third != block.first;
  std::array<float, 3 * kBlockSide> row{};
  const double part = 1.0 / gain;
  // Where samples begin at odd pixels no pixels of a block make up its samples.
  const Sampling sampling = picture.sampling();
  const int columns = sampling.odd_across ? 1 : sampling.across;
  const int rows = sampling.odd_down ? 1 : sampling.down;
  for (int j = 0; j < kBlockSide; ++j) {
    picture.read(spot.x, spot.y + j, kBlockSide, row.data());
    for (int i = 0; i < kBlockSide; ++i) {
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
      const int bin =
          std::clamp(static_cast<int>(std::lround(value[0] * kBrightnessBinsAUnit)), 0, kBrightnessBins - 1);
      ++block.counts[side][static_cast<std::size_t>(bin)];
      block.low = std::min(block.low, bin);
      block.high = std::max(block.high, bin);
    }
  }
  for (double& mean : block.mean) mean /= kBlockSide * kBlockSide;
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
  const int n = kBlockSide / cells.side;
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

std::vector<Spot> spots_on_lines(const LightRows& picture, const Cells& cells,
                                 const std::vector<std::uint8_t>& labels,
                                 const std::vector<ThinPlace>& thin) {
  constexpr std::size_t kMostSpots = 640;
  constexpr int kAround = 2;  // cells from which something else may be smeared into a block
  std::vector<Spot> spots;
  const int across = picture.width() / kBlockSide;
  for (const ThinPlace& place : thin) {
    if (spots.size() == kMostSpots) break;
    const int x = static_cast<int>(place.line.x) / kBlockSide;
    const int y = static_cast<int>(place.line.y) / kBlockSide;
    const int row = cells.row_at(y * kBlockSide);
    if (x >= across || row < 0 || row + kBlockSide / cells.side > cells.height) continue;
    if (!holds_only(labels_in(cells, labels, x * kBlockSide, row, kAround), place)) continue;
    spots.push_back({x * kBlockSide, y * kBlockSide, row, place.left, place.thin, &place});
  }
  return spots;
}

/// Of some of the blocks, which labels they hold, spread over the picture.
struct LabelledBlock {
  int x = 0;
  int row = 0;  ///< of the cells
  LabelSet set;
};

std::vector<LabelledBlock> labelled_blocks(const LightRows& picture, const Cells& cells,
                                           const std::vector<std::uint8_t>& labels, Executor& executor) {
  constexpr std::size_t kMostLooked = 6000;
  constexpr std::size_t kJob = 500;
  const auto across = static_cast<std::size_t>(picture.width() / kBlockSide);
  const auto down = static_cast<std::size_t>(cells.height * cells.side / kBlockSide);  // those that are there
  const std::size_t all = across * down;
  const std::size_t looked = std::min(all, kMostLooked);
  std::vector<LabelledBlock> blocks(looked);
  executor.run((looked + kJob - 1) / kJob, [&](std::size_t job) {
    for (std::size_t n = job * kJob; n < std::min(looked, (job + 1) * kJob); ++n) {
      // A step that shares no factor with most counts visits places far apart one after the other.
      const std::size_t at = all <= kMostLooked ? n : (n * all / looked + (n * 7919) % (all / looked)) % all;
      const int x = static_cast<int>(at % across) * kBlockSide;
      const int row = static_cast<int>(at / across) * kBlockSide / cells.side;
      blocks[n] = {x, row, labels_in(cells, labels, x, row)};
    }
  });
  return blocks;
}

/// Blocks on the edge between two of the first so many colours.
std::vector<Spot> spots_on_edges(const LightRows& picture, const Cells& cells,
                                 const std::vector<std::uint8_t>& labels, std::size_t colours,
                                 Executor& executor) {
  constexpr std::size_t kMostSpots = 24;  // for each two colours
  constexpr int kLeastCells = 3;
  std::vector<Spot> spots;
  std::vector<std::size_t> taken(colours * colours, 0);
  for (const auto& [x, row, set] : labelled_blocks(picture, cells, labels, executor)) {
    if (set.crowded || set.size != 2) continue;
    const std::uint8_t i = std::min(set.label[0], set.label[1]);
    const std::uint8_t j = std::max(set.label[0], set.label[1]);
    if (std::min(set.count[0], set.count[1]) < kLeastCells || j >= colours) continue;
    std::size_t& count = taken[i * colours + j];
    if (count >= kMostSpots) continue;
    ++count;
    spots.push_back({x, cells.pixel_row(row), row, i, j, nullptr});
  }
  return spots;
}

}  // namespace

double sample_weight(int place, int pixels_a_sample) noexcept {
  if (pixels_a_sample != 2) return 1.0;
  constexpr std::array<double, 3> kOutermost{0.0, 2.5, 0.5};
  const auto from_end = static_cast<std::size_t>(std::min(place, kBlockSide - 1 - place));
  return from_end < kOutermost.size() ? kOutermost[from_end] : 1.0;
}

std::vector<Block> read_blocks(const LightRows& picture, const Cells& cells,
                               const std::vector<std::uint8_t>& labels, const std::vector<ThinPlace>& thin,
                               const PlainColours& plain, const std::function<double(double, double)>& gain,
                               Executor& executor) {
  constexpr std::size_t kJob = 32;
  std::vector<Spot> spots = spots_on_lines(picture, cells, labels, thin);
  const std::vector<Spot> edges = spots_on_edges(picture, cells, labels, plain.all, executor);
  spots.insert(spots.end(), edges.begin(), edges.end());
  std::vector<Block> blocks(spots.size());
  executor.run((spots.size() + kJob - 1) / kJob, [&](std::size_t job) {
    for (std::size_t i = job * kJob; i < std::min(spots.size(), (job + 1) * kJob); ++i) {
      const Spot& spot = spots[i];
      const double light = gain(spot.x + 0.5 * kBlockSide, spot.y + 0.5 * kBlockSide);
      blocks[i] = read_block(picture, cells, labels, spot, light);
    }
  });
  return blocks;
}

}  // namespace kithue::extract
