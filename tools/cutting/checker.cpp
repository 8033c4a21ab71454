// SPDX-License-Identifier: MIT
#include "cutting/checker.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
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

/// Pieces as a sorted list of kinds, each as often as it is there.
using Pieces = std::vector<std::size_t>;

class Exhaustive {
 public:
  explicit Exhaustive(const CutJob& job) : job_(job) {}

  /// Can these be cut from a rectangle?
  bool cuttable(Length width, Length height, const Pieces& pieces) {
    if (pieces.empty()) return true;
    if (pieces.size() == 1) return fits(width, height, pieces.front());
    const auto key = std::make_tuple(width.nm, height.nm, pieces);
    if (const auto known = known_.find(key); known != known_.end()) return known->second;
    bool can = false;
    const std::size_t ways = std::size_t{1} << (pieces.size() - 1);
    // The first piece is always on the first side; the cut may run at any sum of sides.
    for (std::size_t way = 0; way + 1 < ways && !can; ++way) {
      Pieces first{pieces.front()};
      Pieces second;
      for (std::size_t i = 1; i < pieces.size(); ++i)
        ((way >> (i - 1)) & 1 ? first : second).push_back(pieces[i]);
      for (const Length at : sums(first, width, true))
        can = can || (cuttable(at, height, first) && cuttable(width - at, height, second));
      for (const Length at : sums(first, height, false))
        can = can || (cuttable(width, at, first) && cuttable(width, height - at, second));
    }
    return known_[key] = can;
  }

  std::int64_t least(const Pieces& pieces) {
    if (pieces.empty()) return 0;
    if (const auto known = least_.find(pieces); known != least_.end()) return known->second;
    std::int64_t best = static_cast<std::int64_t>(pieces.size());
    const std::size_t ways = std::size_t{1} << (pieces.size() - 1);
    for (std::size_t way = 0; way < ways; ++way) {
      Pieces here{pieces.front()};
      Pieces rest;
      for (std::size_t i = 1; i < pieces.size(); ++i)
        ((way >> (i - 1)) & 1 ? here : rest).push_back(pieces[i]);
      if (!cuttable(job_.sheet.width, job_.sheet.height, here)) continue;
      best = std::min(best, 1 + least(rest));
    }
    return least_[pieces] = best;
  }

 private:
  [[nodiscard]] bool fits(Length width, Length height, std::size_t kind) const {
    const CutPiece& piece = job_.pieces[kind];
    return (piece.upright && piece.size.width <= width && piece.size.height <= height) ||
           (piece.turned && piece.size.height <= width && piece.size.width <= height);
  }

  /// Every sum of one side of each of some of the pieces, less than `most`.
  [[nodiscard]] std::set<Length> sums(const Pieces& pieces, Length most, bool widths) const {
    std::set<Length> found{{0}};
    for (const std::size_t kind : pieces) {
      const CutPiece& piece = job_.pieces[kind];
      std::set<Length> more = found;
      for (const Length sum : found) {
        if (piece.upright) more.insert(sum + (widths ? piece.size.width : piece.size.height));
        if (piece.turned) more.insert(sum + (widths ? piece.size.height : piece.size.width));
      }
      found = std::move(more);
    }
    found.erase(Length{0});
    found.erase(found.lower_bound(most), found.end());
    return found;
  }

  const CutJob& job_;
  std::map<std::tuple<std::int64_t, std::int64_t, Pieces>, bool> known_;
  std::map<Pieces, std::int64_t> least_;
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
  Pieces pieces;
  for (std::size_t i = 0; i < job.pieces.size(); ++i)
    pieces.insert(pieces.end(), static_cast<std::size_t>(job.pieces[i].count), i);
  return Exhaustive(job).least(pieces);
}

}  // namespace kithue::cutting
