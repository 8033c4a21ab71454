// SPDX-License-Identifier: MIT
#include "kit/cut_jobs.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace kithue {
namespace {

constexpr std::int64_t kWhole = 100'000'000;  // 100 %, in millionths of a percent

CutJob& job_of_stock(const Kit& kit, const std::string& stock, std::vector<CutJob>& jobs) {
  const auto known = std::find_if(jobs.begin(), jobs.end(), [&](const CutJob& job) {
    return !job.patterned && folded(job.paper) == folded(stock);
  });
  if (known != jobs.end()) return *known;
  return jobs.emplace_back(CutJob{stock, false, sheet_of_stock(kit, stock), {}});
}

CutJob& job_of_sheet(const std::string& sheet, std::vector<CutJob>& jobs) {
  return *std::find_if(jobs.begin(), jobs.end(),
                       [&](const CutJob& job) { return job.patterned && job.paper == sheet; });
}

void add_pieces(const Kit& kit, std::vector<CutJob>& jobs) {
  for (const KitCard& card : kit.cards) {
    for (const KitPiece& piece : card.pieces) {
      if (piece.from_portion) continue;
      const WaysToLie ways = ways_to_lie(kit, piece);
      const std::int64_t needed = kits_made(kit) * card.count * piece.count;
      CutPiece cut{card.name + ": " + piece.name,
                   piece.size,
                   with_spoilage(needed, kit.spoilage_percent),
                   ways.upright,
                   ways.turned,
                   piece.face,
                   piece.scores};
      CutJob& job = piece.face.empty() ? job_of_stock(kit, piece.stock, jobs)
                                       : job_of_sheet(face_named(kit, piece.face)->sheet, jobs);
      job.pieces.push_back(std::move(cut));
    }
  }
}

void add_portions(const Kit& kit, std::vector<CutJob>& jobs) {
  for (std::size_t i = 0; i < kit.portions.size(); ++i) {
    const KitPortion& portion = kit.portions[i];
    const std::string name =
        kit.portions.size() == 1 ? std::string("portion") : "portion " + std::to_string(i + 1);
    for (const std::string& sheet : portion.of.empty() ? sheets_of(kit) : portion.of) {
      const std::int64_t needed = kits_made(kit) * portion.count;
      job_of_sheet(sheet, jobs)
          .pieces.push_back({name,
                             portion.size,
                             with_spoilage(needed, kit.spoilage_percent),
                             true,
                             !is_directional(kit, sheet),
                             "",
                             {}});
    }
  }
}

void add_snippets(const Kit& kit, std::vector<CutJob>& jobs) {
  if (!kit.punch) return;
  for (const KitFace& face : kit.faces)
    job_of_sheet(face.sheet, jobs)
        .pieces.push_back({"strip snippet " + face.label,
                           kit.snippet,
                           with_spoilage(kits_made(kit), kit.spoilage_percent),
                           true,
                           !face.directional,
                           face.label,
                           {}});
}

}  // namespace

std::int64_t with_spoilage(std::int64_t pieces, double percent) {
  const std::int64_t part = std::llround(percent * 1e6);
  // In two steps, so that no product leaves 64 bits.
  return pieces + pieces / kWhole * part + (pieces % kWhole * part + kWhole - 1) / kWhole;
}

std::int64_t kits_made(const Kit& kit) {
  return std::int64_t{kit.kits} + kit.spares;
}

WaysToLie ways_to_lie(const Kit& kit, const KitPiece& piece) {
  WaysToLie ways{piece.turn != Turn::always, piece.turn != Turn::never, false};
  if (!piece.face.empty()) {
    if (face_named(kit, piece.face)->directional && piece.turn == Turn::free) ways.turned = false;
    return ways;
  }
  const Grain grain = grain_of_stock(kit, piece.stock);
  if (grain == Grain::unknown || piece.scores.empty()) return ways;
  // The fold crosses the longer side: it runs up the piece when that is the width.
  const bool fold_up = piece.size.width >= piece.size.height;
  const bool right_way_up = fold_up == (grain == Grain::up);
  const Size sheet = sheet_of_stock(kit, piece.stock);
  const Size lies = right_way_up ? piece.size : Size{piece.size.height, piece.size.width};
  const bool fits = lies.width <= sheet.width && lies.height <= sheet.height;
  if (!fits || !(right_way_up ? ways.upright : ways.turned)) {
    ways.against_grain = true;
    return ways;
  }
  return {right_way_up, !right_way_up, false};
}

std::vector<CutJob> cut_jobs(const Kit& kit) {
  std::vector<CutJob> jobs;
  for (const std::string& sheet : sheets_of(kit)) jobs.push_back({sheet, true, kit.pack.sheet, {}});
  add_pieces(kit, jobs);
  add_portions(kit, jobs);
  add_snippets(kit, jobs);
  std::stable_partition(jobs.begin(), jobs.end(), [](const CutJob& job) { return !job.patterned; });
  jobs.erase(std::remove_if(jobs.begin(), jobs.end(), [](const CutJob& job) { return job.pieces.empty(); }),
             jobs.end());
  return jobs;
}

namespace {

/// The largest portion of a sheet; null when there is none.
const KitPortion* portion_of(const Kit& kit, const std::string& sheet) {
  const KitPortion* best = nullptr;
  const auto area = [](const KitPortion& one) { return mm_of(one.size.width) * mm_of(one.size.height); };
  for (const KitPortion& one : kit.portions) {
    const bool here = one.of.empty() || std::find(one.of.begin(), one.of.end(), sheet) != one.of.end();
    if (here && (best == nullptr || area(one) > area(*best))) best = &one;
  }
  return best;
}

}  // namespace

std::vector<PortionJob> portion_jobs(const Kit& kit) {
  std::vector<PortionJob> jobs;
  for (const KitCard& card : kit.cards) {
    for (const KitPiece& piece : card.pieces) {
      if (!piece.from_portion) continue;
      const std::string& sheet = face_named(kit, piece.face)->sheet;
      auto at = std::find_if(jobs.begin(), jobs.end(),
                             [&](const PortionJob& one) { return one.job.paper == sheet; });
      if (at == jobs.end()) {
        const KitPortion* portion = portion_of(kit, sheet);
        const Size size = portion != nullptr ? portion->size : kit.pack.sheet;
        jobs.push_back({{sheet, true, size, {}}, portion != nullptr ? portion->count : 0, ""});
        at = std::prev(jobs.end());
      }
      const WaysToLie ways = ways_to_lie(kit, piece);
      at->where = piece.where;
      at->job.pieces.push_back({card.name + ": " + piece.name, piece.size,
                                std::int64_t{card.count} * piece.count, ways.upright, ways.turned, piece.face,
                                piece.scores});
    }
  }
  return jobs;
}

}  // namespace kithue
