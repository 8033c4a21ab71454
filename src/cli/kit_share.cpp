// SPDX-License-Identifier: MIT
#include "cli/kit_share.h"

#include <nlohmann/json.hpp>
#include <ostream>

#include "base/text.h"
#include "cli/advice.h"
#include "cli/table.h"

namespace kithue {
namespace {

using Json = nlohmann::ordered_json;

bool is_must(const Wish& wish) {
  return wish.sides.front().score == kMustScore;
}

/// Scores of wishes alone.
std::pair<std::int64_t, std::int64_t> scores_of(const SharedPacks& shared) {
  std::int64_t score = 0;
  std::int64_t best = 0;
  for (const Wish& wish : shared.job.wishes)
    best += is_must(wish) ? 0 : wish.count * wish.sides.front().score;
  for (const Granted& one : shared.allocation.granted) {
    const Wish& wish = shared.job.wishes[one.wish];
    if (!is_must(wish)) score += one.count * wish.sides[one.side].score;
  }
  return {score, best};
}

std::vector<std::int64_t> missing_of(const SharedPacks& shared) {
  std::vector<std::int64_t> missing;
  for (const Wish& wish : shared.job.wishes) missing.push_back(wish.count);
  for (const Granted& one : shared.allocation.granted) missing[one.wish] -= one.count;
  return missing;
}

std::string paper_of(const SharedPacks& shared, const WishSide& side) {
  return side.face.empty() ? "sheet " + shared.job.sheets[side.sheet].sheet : side.face;
}

}  // namespace

Result<SharedPacks> share_packs(const Kit& kit, std::int64_t packs) {
  SharedPacks shared{packs, allocation_job(kit, packs), {}};
  auto allocation = allocate(shared.job);
  if (!allocation) return allocation.error();
  shared.allocation = *std::move(allocation);
  return shared;
}

nlohmann::ordered_json shared_json(const SharedPacks& shared) {
  const auto [score, best] = scores_of(shared);
  Json json{{"packs", shared.packs},   {"score", score},
            {"best_score", best},      {"proved", shared.allocation.best},
            {"pieces", Json::array()}, {"short", Json::array()}};
  for (const Granted& one : shared.allocation.granted) {
    const Wish& wish = shared.job.wishes[one.wish];
    const WishSide& side = wish.sides[one.side];
    json["pieces"].push_back({{"name", wish.name},
                              {"sheet", shared.job.sheets[side.sheet].sheet},
                              {"face", side.face.empty() ? Json() : Json(side.face)},
                              {"count", one.count}});
  }
  const auto missing = missing_of(shared);
  for (std::size_t w = 0; w < missing.size(); ++w) {
    if (missing[w] > 0)
      json["short"].push_back({{"name", shared.job.wishes[w].name}, {"missing", missing[w]}});
  }
  return json;
}

void print_shared(Session& session, const SharedPacks& shared) {
  session.out << "\nOut of " << counted(static_cast<std::size_t>(shared.packs), "pack") << ":\n";
  Table table{{"piece", "from", "pieces"}, {}};
  for (const Granted& one : shared.allocation.granted) {
    const Wish& wish = shared.job.wishes[one.wish];
    Cell count = cell(std::to_string(one.count) + " of " + std::to_string(wish.count));
    count.right = true;
    table.rows.push_back({cell(wish.name), cell(paper_of(shared, wish.sides[one.side])), std::move(count)});
  }
  if (!table.rows.empty()) print_table(session, table);
  std::vector<std::string> short_of;
  const auto missing = missing_of(shared);
  for (std::size_t w = 0; w < missing.size(); ++w) {
    const Wish& wish = shared.job.wishes[w];
    const std::string of = is_must(wish) ? " of " + paper_of(shared, wish.sides.front()) : "";
    if (missing[w] > 0) short_of.push_back(std::to_string(missing[w]) + " x " + wish.name + of);
  }
  if (short_of.empty())
    session.out << "That is enough for all.\n";
  else
    print_wrapped(session, "Not enough for: " + joined(short_of, ", "), 0);
  const auto [score, best] = scores_of(shared);
  print_wrapped(session,
                "Wishes met: " + std::to_string(score) + " of " + std::to_string(best) +
                    (shared.allocation.best ? "; no other way meets more." : "."),
                0);
}

}  // namespace kithue
