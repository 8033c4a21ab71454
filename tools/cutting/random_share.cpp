// SPDX-License-Identifier: MIT
#include "cutting/random_share.h"

#include <algorithm>
#include <functional>
#include <map>

#include "cutting/checker.h"
#include "cutting/random_job.h"

namespace kithue::cutting {
namespace {}  // namespace

AllocationJob random_share(std::mt19937_64& dice, bool small) {
  AllocationJob job;
  job.sheet = {{12 * kNanometresPerInch}, {12 * kNanometresPerInch}};
  const std::int64_t sheets = small ? between(dice, 1, 2) : between(dice, 1, 4);
  for (std::int64_t s = 0; s < sheets; ++s)
    job.sheets.push_back({std::to_string(s + 1), small ? between(dice, 0, 2) : between(dice, 0, 12)});
  const std::int64_t wishes = small ? between(dice, 1, 3) : between(dice, 1, 6);
  std::int64_t left = 6;
  for (std::int64_t w = 0; w < wishes && left > 0; ++w) {
    const auto side = [&] { return Length{between(dice, small ? 32 : 16, 88) * kNanometresPerInch / 8}; };
    Wish wish;
    wish.name = "wish " + std::to_string(w);
    wish.size = {side(), side()};
    wish.count = small ? between(dice, 1, std::min<std::int64_t>(left, 3)) : between(dice, 0, 40);
    left -= small ? wish.count : 0;
    for (std::int64_t s = between(dice, 1, small ? 2 : 3); s > 0; --s) {
      const auto sheet = static_cast<std::size_t>(between(dice, 0, sheets - 1));
      const std::string face = job.sheets[sheet].sheet + (dice() % 2 == 0 ? "A" : "B");
      wish.sides.push_back({sheet, face, true, dice() % 2 == 0, between(dice, 1, 4)});
    }
    job.wishes.push_back(std::move(wish));
  }
  return job;
}

std::string fault_in(const AllocationJob& job, const Allocation& allocation) {
  std::int64_t score = 0;
  std::map<std::pair<std::string, std::string>, std::int64_t> pieces;
  std::vector<std::int64_t> of_wish(job.wishes.size(), 0);
  for (const Granted& one : allocation.granted) {
    const Wish& wish = job.wishes[one.wish];
    score += one.count * wish.sides[one.side].score;
    of_wish[one.wish] += one.count;
    pieces[{wish.name, wish.sides[one.side].face}] += one.count;
  }
  for (std::size_t w = 0; w < of_wish.size(); ++w) {
    if (of_wish[w] > job.wishes[w].count) return "more is granted than wished";
  }
  if (score != allocation.score) return "the score does not add up";
  for (std::size_t s = 0; s < job.sheets.size(); ++s) {
    if (std::string fault = cutting::fault_in(allocation.jobs[s], allocation.plans[s]); !fault.empty())
      return fault;
    if (allocation.plans[s].sheets > job.sheets[s].count) return "more sheets than there are";
    for (const CutPiece& piece : allocation.jobs[s].pieces) pieces[{piece.name, piece.face}] -= piece.count;
  }
  for (const auto& [name, rest] : pieces) {
    if (rest != 0) return "'" + name.first + "' is granted and not cut, or cut and not granted";
  }
  return "";
}

std::int64_t best_score(const AllocationJob& job) {
  std::vector<CutJob> cuts;
  for (const auto& sheet : job.sheets) cuts.push_back({sheet.sheet, true, job.sheet, {}});
  std::map<std::vector<std::int64_t>, std::int64_t> known;
  std::int64_t best = 0;
  const std::function<void(std::size_t, std::size_t, std::int64_t, std::int64_t)> share =
      [&](std::size_t w, std::size_t s, std::int64_t left, std::int64_t score) {
        if (w == job.wishes.size()) {
          if (score <= best) return;
          for (std::size_t i = 0; i < cuts.size(); ++i) {
            if (fewest_sheets(cuts[i]) > job.sheets[i].count) return;
          }
          best = score;
          return;
        }
        const Wish& wish = job.wishes[w];
        if (s == wish.sides.size())
          return share(w + 1, 0, w + 1 < job.wishes.size() ? job.wishes[w + 1].count : 0, score);
        const WishSide& side = wish.sides[s];
        for (std::int64_t count = 0; count <= left; ++count) {
          cuts[side.sheet].pieces.push_back({wish.name, wish.size, count, side.upright, side.turned, "", {}});
          share(w, s + 1, left - count, score + count * side.score);
          cuts[side.sheet].pieces.pop_back();
        }
      };
  share(0, 0, job.wishes.front().count, 0);
  return best;
}

}  // namespace kithue::cutting
