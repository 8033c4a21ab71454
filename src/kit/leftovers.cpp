// SPDX-License-Identifier: MIT
#include "kit/leftovers.h"

#include <algorithm>

#include "base/text.h"
#include "kit/csv_table.h"
#include "kit/guillotine.h"
#include "kit/strip_patterns.h"

namespace kithue {
namespace {

constexpr std::int64_t kMostOfScrap = 5'000;

double area(const Size& size) {
  return area_of(size.width.nm, size.height.nm);
}

bool fits(const Size& size, const Size& scrap) {
  return size.width <= scrap.width && size.height <= scrap.height;
}

bool same_paper(const Scrap& x, const Scrap& y) {
  return folded(x.paper) == folded(y.paper) && folded(x.pack) == folded(y.pack);
}

/// How many pieces lie side by side on a scrap: two grids and a plan, the most of the three.
std::int64_t pieces_on(const Size& scrap, const CutPiece& piece) {
  const Size turned{piece.size.height, piece.size.width};
  const bool stands = piece.upright && fits(piece.size, scrap);
  const bool lies = piece.turned && fits(turned, scrap);
  const auto grid = [&](const Size& size) {
    return (scrap.width.nm / size.width.nm) * (scrap.height.nm / size.height.nm);
  };
  std::int64_t most = stands ? grid(piece.size) : 0;
  if (lies) most = std::max(most, grid(turned));
  if (!stands || !lies || most > kMostOfScrap) return most;
  Blocks blocks;
  const std::vector<PieceKind> kinds{{piece.size.width.nm, piece.size.height.nm, true, kMostOfScrap}};
  const Pattern pattern =
      strip_pattern({scrap.width.nm, scrap.height.nm}, kinds, {1.0}, {kMostOfScrap}, blocks);
  return std::max(most, pattern.counts.front());
}

}  // namespace

std::vector<Scrap> scraps_of(const CutJob& job, const CutPlan& plan, const std::string& pack, Length least) {
  std::vector<Scrap> scraps;
  for (const SheetPlan& sheet : plan.plans) {
    for (const Rectangle& left : sheet.left) {
      if (std::min(left.size.width, left.size.height) < least) continue;
      scraps.push_back({job.paper, job.patterned ? pack : "", left.size, sheet.sheets});
    }
  }
  return with_scraps({}, scraps);
}

std::vector<Scrap> with_scraps(const std::vector<Scrap>& there, const std::vector<Scrap>& more) {
  std::vector<Scrap> all;
  for (const auto* list : {&there, &more}) {
    for (const Scrap& one : *list) {
      const auto same = std::find_if(all.begin(), all.end(), [&](const Scrap& other) {
        return other.size == one.size && same_paper(other, one);
      });
      if (same == all.end())
        all.push_back(one);
      else
        same->count += one.count;
    }
  }
  std::stable_sort(all.begin(), all.end(), [](const Scrap& x, const Scrap& y) {
    if (x.pack != y.pack) return x.pack < y.pack;
    if (x.paper != y.paper) return x.paper < y.paper;
    return area(x.size) > area(y.size);
  });
  return all;
}

std::vector<ScrapOffer> what_fits(const CutJob& job, const std::string& pack,
                                  const std::vector<Scrap>& scraps) {
  const Scrap paper{job.paper, job.patterned ? pack : "", {}, 0};
  std::vector<ScrapOffer> offers;
  for (std::size_t p = 0; p < job.pieces.size(); ++p) {
    const std::size_t first = offers.size();
    for (std::size_t s = 0; s < scraps.size(); ++s) {
      if (!same_paper(scraps[s], paper) || scraps[s].count < 1) continue;
      if (const std::int64_t each = pieces_on(scraps[s].size, job.pieces[p]); each > 0)
        offers.push_back({p, s, each});
    }
    std::stable_sort(offers.begin() + static_cast<std::ptrdiff_t>(first), offers.end(),
                     [&](const ScrapOffer& x, const ScrapOffer& y) {
                       return area(scraps[x.scrap].size) < area(scraps[y.scrap].size);
                     });
  }
  return offers;
}

std::string scraps_csv(const std::vector<Scrap>& scraps, Unit unit) {
  std::string csv = "paper,pack,size,count\r\n";
  for (const Scrap& one : scraps) {
    csv += csv_cell(one.paper) + "," + csv_cell(one.pack) + "," + csv_cell(size_text(one.size, unit)) + "," +
           std::to_string(one.count) + "\r\n";
  }
  return csv;
}

Result<std::vector<Scrap>> scraps_from_csv(std::string_view text, const std::string& name) {
  constexpr std::int64_t kMost = 1'000'000;
  const auto lines = csv_lines(text, {"paper", "pack", "size", "count"}, name);
  if (!lines) return lines.error();
  std::vector<Scrap> scraps;
  for (const CsvLine& line : *lines) {
    Scrap scrap{line.cells[0], line.cells[1], {}, 0};
    if (trimmed(scrap.paper).empty())
      return Error{ErrorKind::bad_input, "a scrap of no paper", line.where, "name its stock or its sheet"};
    const auto size = size_from(line.cells[2]);
    if (!size) return Error{ErrorKind::bad_input, size.error().what, line.where, size.error().advice};
    scrap.size = *size;
    const auto count = parse_whole(line.cells[3]);
    if (!count || *count < 0 || *count > kMost)
      return Error{ErrorKind::bad_input, "'" + line.cells[3] + "' is not a number of pieces", line.where,
                   "write a whole number"};
    scrap.count = *count;
    scraps.push_back(std::move(scrap));
  }
  return scraps;
}

}  // namespace kithue
