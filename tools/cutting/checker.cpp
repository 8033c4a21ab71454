// SPDX-License-Identifier: MIT
#include "cutting/checker.h"

#include <algorithm>
#include <bit>
#include <cassert>
#include <set>
#include <unordered_map>
#include <vector>

namespace kithue::cutting {
namespace {

std::string text_of(const Rectangle& at) {
  return std::to_string(at.x.nm) + "," + std::to_string(at.y.nm) + " " + std::to_string(at.size.width.nm) +
         "x" + std::to_string(at.size.height.nm);
}

std::string take(std::vector<Rectangle>& parts, const Rectangle& wanted, const char* what) {
  const auto at = std::find(parts.begin(), parts.end(), wanted);
  if (at == parts.end()) return std::string(what) + " is not a part of the sheet: " + text_of(wanted);
  parts.erase(at);
  return "";
}

std::string fault_in_cuts(const CutJob& job, const SheetPlan& plan) {
  std::vector<Rectangle> parts{{{0}, {0}, job.sheet}};
  int step = 0;
  for (const Cut& cut : plan.cuts) {
    if (std::string fault = take(parts, cut.part, "what is cut"); !fault.empty()) return fault;
    if (cut.step < step) return "the steps do not rise";
    step = cut.step;
    Rectangle first = cut.part;
    Rectangle second = cut.part;
    Length& length = cut.upright ? first.size.width : first.size.height;
    length = cut.at - (cut.upright ? cut.part.x : cut.part.y);
    (cut.upright ? second.x : second.y) = cut.at;
    Length& rest = cut.upright ? second.size.width : second.size.height;
    rest = rest - length;
    if (length.nm <= 0 || rest.nm <= 0) return "a cut beside its part";
    parts.push_back(first);
    parts.push_back(second);
  }
  for (const PlacedPiece& placed : plan.pieces) {
    if (std::string fault = take(parts, placed.at, "a piece"); !fault.empty()) return fault;
  }
  for (const Rectangle& left : plan.left) {
    if (std::string fault = take(parts, left, "an offcut"); !fault.empty()) return fault;
  }
  return parts.empty() ? "" : "a part is neither piece nor offcut: " + text_of(parts.front());
}

/// A bit a piece, pieces of one kind side by side.
using Pieces = std::uint32_t;

struct Question {
  Length width;
  Length height;
  Pieces pieces = 0;
  friend bool operator==(const Question&, const Question&) = default;
};

struct QuestionHash {
  std::size_t operator()(const Question& asked) const noexcept {
    std::uint64_t mixed = static_cast<std::uint64_t>(asked.width.nm) * 0x9e3779b97f4a7c15;
    mixed = (mixed ^ (mixed >> 29) ^ static_cast<std::uint64_t>(asked.height.nm)) * 0xbf58476d1ce4e5b9;
    return (mixed ^ (mixed >> 32) ^ asked.pieces) * 0x94d049bb133111eb >> 7;
  }
};

class Exhaustive {
 public:
  explicit Exhaustive(const CutJob& job) : job_(job) {
    for (std::size_t i = 0; i < job.pieces.size(); ++i)
      kinds_.insert(kinds_.end(), static_cast<std::size_t>(job.pieces[i].count), i);
    assert(kinds_.size() < 20 && "every set of pieces is tried");
    widths_.resize(std::size_t{1} << kinds_.size());
    heights_.resize(widths_.size());
    least_.assign(widths_.size(), -1);
  }

  std::int64_t least() { return least(static_cast<Pieces>(widths_.size() - 1)); }

 private:
  /// Can these be cut from a rectangle?
  bool cuttable(Length width, Length height, Pieces pieces) {
    if (pieces == 0) return true;
    if (std::has_single_bit(pieces)) return fits(width, height, first_of(pieces));
    const Question asked{width, height, pieces};
    if (const auto known = known_.find(asked); known != known_.end()) return known->second;
    bool can = false;
    // The first piece is always on the first side; the cut may run at any sum of sides.
    for (Pieces first = (pieces - 1) & pieces; first != 0 && !can; first = (first - 1) & pieces) {
      if (!begins(first, pieces)) continue;
      const Pieces second = front(pieces ^ first);
      for (const Length at : sums(first, true)) {
        if (can || at >= width) break;
        can = cuttable(at, height, first) && cuttable(width - at, height, second);
      }
      for (const Length at : sums(first, false)) {
        if (can || at >= height) break;
        can = cuttable(width, at, first) && cuttable(width, height - at, second);
      }
    }
    known_.emplace(asked, can);
    return can;
  }

  std::int64_t least(Pieces pieces) {
    if (pieces == 0) return 0;
    if (least_[pieces] >= 0) return least_[pieces];
    std::int64_t best = std::popcount(pieces);
    for (Pieces here = pieces; here != 0; here = (here - 1) & pieces) {
      if (!begins(here, pieces) || !cuttable(job_.sheet.width, job_.sheet.height, here)) continue;
      best = std::min(best, 1 + least(front(pieces ^ here)));
    }
    return least_[pieces] = best;
  }

  [[nodiscard]] std::size_t first_of(Pieces pieces) const {
    return kinds_[static_cast<std::size_t>(std::countr_zero(pieces))];
  }

  /// As many of each kind, the foremost ones: the same pieces have one name.
  [[nodiscard]] Pieces front(Pieces pieces) const {
    Pieces moved = 0;
    std::size_t free = 0;
    for (std::size_t i = 0; i < kinds_.size(); ++i) {
      if (i == 0 || kinds_[i] != kinds_[i - 1]) free = i;
      if ((pieces >> i) & 1) moved |= Pieces{1} << free++;
    }
    return moved;
  }

  /// Is this the set with the first of `whole`, and the one to stand for all that have the same pieces?
  [[nodiscard]] bool begins(Pieces part, Pieces whole) const {
    return std::countr_zero(part) == std::countr_zero(whole) && front(part) == part;
  }

  [[nodiscard]] bool fits(Length width, Length height, std::size_t kind) const {
    const CutPiece& piece = job_.pieces[kind];
    return (piece.upright && piece.size.width <= width && piece.size.height <= height) ||
           (piece.turned && piece.size.height <= width && piece.size.width <= height);
  }

  /// Every sum of one side of each of some of the pieces, the least first.
  const std::vector<Length>& sums(Pieces pieces, bool widths) {
    std::vector<Length>& found = (widths ? widths_ : heights_)[pieces];
    if (!found.empty()) return found;
    std::set<Length> all{{0}};
    for (Pieces left = pieces; left != 0; left &= left - 1) {
      const CutPiece& piece = job_.pieces[first_of(left)];
      std::set<Length> more = all;
      for (const Length sum : all) {
        if (piece.upright) more.insert(sum + (widths ? piece.size.width : piece.size.height));
        if (piece.turned) more.insert(sum + (widths ? piece.size.height : piece.size.width));
      }
      all = std::move(more);
    }
    all.erase(Length{0});
    found.assign(all.begin(), all.end());
    return found;
  }

  const CutJob& job_;
  std::vector<std::size_t> kinds_;  // of each piece
  std::vector<std::vector<Length>> widths_;
  std::vector<std::vector<Length>> heights_;
  std::unordered_map<Question, bool, QuestionHash> known_;
  std::vector<std::int64_t> least_;  // -1: not known
};

}  // namespace

std::string fault_in(const CutJob& job, const CutPlan& plan) {
  std::vector<std::int64_t> counts(job.pieces.size(), 0);
  std::int64_t sheets = 0;
  for (const SheetPlan& sheet : plan.plans) {
    if (std::string fault = fault_in_cuts(job, sheet); !fault.empty()) return fault;
    if (sheet.sheets < 1) return "a plan for no sheet";
    sheets += sheet.sheets;
    for (const PlacedPiece& placed : sheet.pieces) {
      const CutPiece& piece = job.pieces[placed.piece];
      const Size lies = placed.turned ? Size{piece.size.height, piece.size.width} : piece.size;
      if (!(placed.at.size == lies)) return "'" + piece.name + "' has another size";
      if (!(placed.turned ? piece.turned : piece.upright))
        return "'" + piece.name + "' may not lie like this";
      counts[placed.piece] += sheet.sheets;
    }
  }
  if (sheets != plan.sheets) return "the sheets do not add up";
  for (std::size_t i = 0; i < counts.size(); ++i) {
    if (counts[i] != job.pieces[i].count)
      return "'" + job.pieces[i].name + "' is cut " + std::to_string(counts[i]) + " times, wanted " +
             std::to_string(job.pieces[i].count);
  }
  return "";
}

std::int64_t fewest_sheets(const CutJob& job) {
  return Exhaustive(job).least();
}

}  // namespace kithue::cutting
