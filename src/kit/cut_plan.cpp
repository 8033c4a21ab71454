// SPDX-License-Identifier: MIT
#include "kit/cut_plan.h"

#include <algorithm>
#include <limits>
#include <utility>

#include "kit/cutting_stock.h"
#include "kit/lay_out_cuts.h"

namespace kithue {
namespace {

constexpr std::int64_t kThinnest = 2 * kNanometresPerMm;  // a trimmer holds nothing thinner
constexpr double kMostOnASheet = 5'000.0;

/// Pieces that are cut alike, whatever they are called.
struct Group {
  PieceKind kind;
  std::vector<std::size_t> pieces;  ///< indices into the job
};

Error cannot(const CutJob& job, const CutPiece& piece, const std::string& why, std::string advice) {
  return {ErrorKind::impossible, "'" + piece.name + "' " + why, job.paper, std::move(advice)};
}

MaybeError fault_of(const CutJob& job, const CutPiece& piece) {
  const Size& size = piece.size;
  const bool stands = piece.upright && size.width <= job.sheet.width && size.height <= job.sheet.height;
  const bool lies = piece.turned && size.height <= job.sheet.width && size.width <= job.sheet.height;
  if (!stands && !lies)
    return cannot(job, piece, "does not fit its sheet the way it must lie",
                  "make it smaller, or name a larger sheet");
  if (std::min(size.width, size.height).nm < kThinnest)
    return cannot(job, piece, "is thinner than 2 mm, and no trimmer cuts that", "make it larger");
  const double room = area_of(job.sheet.width.nm, job.sheet.height.nm);
  if (room / area_of(size.width.nm, size.height.nm) > kMostOnASheet && piece.count > 5'000)
    return cannot(job, piece, "fits a sheet more than 5000 times", "plan such small pieces in a strip");
  return std::nullopt;
}

/// As it is cut: as it stands, where it may.
PieceKind kind_of(const CutJob& job, const CutPiece& piece) {
  const Size& size = piece.size;
  const bool stands = piece.upright && size.width <= job.sheet.width && size.height <= job.sheet.height;
  const bool lies = piece.turned && size.height <= job.sheet.width && size.width <= job.sheet.height;
  PieceKind kind{size.width.nm, size.height.nm, stands && lies && size.width != size.height, piece.count};
  if (!stands) std::swap(kind.width, kind.height);
  return kind;
}

bool cut_alike(const PieceKind& x, const PieceKind& y) {
  if (x.free != y.free) return false;
  return (x.width == y.width && x.height == y.height) ||
         (x.free && x.width == y.height && x.height == y.width);
}

std::vector<Group> groups_of(const CutJob& job) {
  std::vector<Group> groups;
  for (std::size_t i = 0; i < job.pieces.size(); ++i) {
    if (job.pieces[i].count == 0) continue;
    const PieceKind kind = kind_of(job, job.pieces[i]);
    const auto same = std::find_if(groups.begin(), groups.end(),
                                   [&](const Group& group) { return cut_alike(group.kind, kind); });
    if (same == groups.end()) {
      groups.push_back({kind, {i}});
      continue;
    }
    same->kind.count += kind.count;
    same->pieces.push_back(i);
  }
  // Large pieces first.
  std::stable_sort(groups.begin(), groups.end(), [](const Group& x, const Group& y) {
    const double a = area_of(x.kind.width, x.kind.height);
    const double b = area_of(y.kind.width, y.kind.height);
    return a != b ? a > b : x.kind.width > y.kind.width;
  });
  return groups;
}

/// Hands the pieces of a plan out: the kinds of a pattern become the pieces of the job, in its order.
class HandOut {
 public:
  HandOut(const CutJob& job, const std::vector<Group>& groups, Blocks& blocks)
      : job_(job), groups_(groups), blocks_(blocks) {
    for (const CutPiece& piece : job.pieces) left_.push_back(piece.count);
  }

  void add(const Pattern& pattern, std::int64_t sheets, CutPlan& plan) {
    while (sheets > 0) {
      std::vector<std::int64_t> keep(groups_.size(), 0);
      std::int64_t alike = sheets;
      std::int64_t pieces = 0;
      for (std::size_t g = 0; g < groups_.size(); ++g) {
        keep[g] = std::min(pattern.counts[g], wanted(g));
        pieces += keep[g];
        if (keep[g] > 0) alike = std::min(alike, how_often(g, keep[g]));
      }
      if (pieces == 0) return;  // what it was for is cut already
      add_alike(pattern, keep, alike, plan);
      sheets -= alike;
    }
  }

 private:
  [[nodiscard]] std::int64_t wanted(std::size_t g) const {
    std::int64_t sum = 0;
    for (const std::size_t piece : groups_[g].pieces) sum += left_[piece];
    return sum;
  }

  /// On how many sheets the same pieces can be had: 1 where a sheet takes from more than one.
  [[nodiscard]] std::int64_t how_often(std::size_t g, std::int64_t each) const {
    for (const std::size_t piece : groups_[g].pieces) {
      if (left_[piece] > 0) return std::max<std::int64_t>(1, left_[piece] / each);
    }
    return 1;
  }

  void add_alike(const Pattern& pattern, const std::vector<std::int64_t>& keep, std::int64_t sheets,
                 CutPlan& plan) {
    const std::size_t block = without_surplus(blocks_, pattern.block, keep);
    SheetPlan sheet = lay_out_cuts(blocks_, block, {job_.sheet.width.nm, job_.sheet.height.nm});
    sheet.sheets = sheets;
    std::sort(sheet.pieces.begin(), sheet.pieces.end(), [](const PlacedPiece& x, const PlacedPiece& y) {
      return x.at.y != y.at.y ? x.at.y < y.at.y : x.at.x < y.at.x;
    });
    std::vector<std::int64_t> taken(job_.pieces.size(), 0);
    for (PlacedPiece& placed : sheet.pieces) {
      for (const std::size_t piece : groups_[placed.piece].pieces) {
        if (taken[piece] == left_[piece]) continue;
        ++taken[piece];
        placed.piece = piece;
        break;
      }
      const CutPiece& piece = job_.pieces[placed.piece];
      placed.turned = !(piece.upright && placed.at.size == piece.size);
    }
    for (std::size_t i = 0; i < taken.size(); ++i) left_[i] -= taken[i] * sheets;
    plan.sheets += sheets;
    plan.plans.push_back(std::move(sheet));
  }

  const CutJob& job_;
  const std::vector<Group>& groups_;
  Blocks& blocks_;
  std::vector<std::int64_t> left_;
};

double waste_of(const CutJob& job, std::int64_t sheets) {
  double used = 0.0;
  for (const CutPiece& piece : job.pieces)
    used += area_of(piece.size.width.nm, piece.size.height.nm) * static_cast<double>(piece.count);
  const double paper = area_of(job.sheet.width.nm, job.sheet.height.nm) * static_cast<double>(sheets);
  return sheets == 0 ? 0.0 : 1.0 - used / paper;
}

}  // namespace

Result<CutPlan> plan_cuts(const CutJob& job) {
  for (const CutPiece& piece : job.pieces) {
    if (auto error = fault_of(job, piece); error && piece.count > 0) return *std::move(error);
  }
  CutPlan plan;
  const std::vector<Group> groups = groups_of(job);
  if (groups.empty()) {
    plan.fewest = true;
    return plan;
  }
  std::vector<PieceKind> kinds;
  for (const Group& group : groups) kinds.push_back(group.kind);
  Blocks blocks;
  std::vector<Pattern> patterns;
  StockCut cut = cut_stock({job.sheet.width.nm, job.sheet.height.nm}, kinds, blocks, patterns);
  std::stable_sort(cut.times.begin(), cut.times.end(),
                   [](const auto& x, const auto& y) { return x.second > y.second; });
  HandOut hand_out(job, groups, blocks);
  for (const auto& [pattern, sheets] : cut.times) hand_out.add(patterns[pattern], sheets, plan);
  plan.fewest = cut.fewest;
  plan.waste = waste_of(job, plan.sheets);
  return plan;
}

std::vector<CutLine> score_lines(const CutPiece& piece, const PlacedPiece& placed) {
  const bool along_width = (piece.size.width >= piece.size.height) != placed.turned;
  const Rectangle& at = placed.at;
  std::vector<CutLine> lines;
  for (const Length score : piece.scores) {
    if (along_width)
      lines.push_back({at.x + score, at.y, at.x + score, at.y + at.size.height});
    else
      lines.push_back({at.x, at.y + score, at.x + at.size.width, at.y + score});
  }
  return lines;
}

CutLine line_of(const Cut& cut) {
  const Rectangle& part = cut.part;
  if (cut.upright) return {cut.at, part.y, cut.at, part.y + part.size.height};
  return {part.x, cut.at, part.x + part.size.width, cut.at};
}

std::vector<std::int64_t> cut_so_far(const CutJob& job, const CutPlan& plan, std::size_t plans_done) {
  std::vector<std::int64_t> sums(job.pieces.size(), 0);
  for (std::size_t i = 0; i < plans_done && i < plan.plans.size(); ++i) {
    for (const PlacedPiece& placed : plan.plans[i].pieces) sums[placed.piece] += plan.plans[i].sheets;
  }
  return sums;
}

}  // namespace kithue
