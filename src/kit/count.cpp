// SPDX-License-Identifier: MIT
#include "kit/count.h"

#include <algorithm>

#include "base/text.h"

namespace kithue {
namespace {

std::int64_t up(std::int64_t over, std::int64_t under) {
  return (over + under - 1) / under;
}

/// How many dots a rectangle holds, side by side.
std::int64_t dots_in(const Size& size, Length punch) {
  return (size.width.nm / punch.nm) * (size.height.nm / punch.nm);
}

class Counter {
 public:
  Counter(const Kit& kit, const std::vector<std::string>& solids) : kit_(kit), solids_(solids) {
    count_.kits = kit.kits;
    count_.spares = kit.spares;
  }

  Result<KitCount> run() {
    for (CutJob& job : cut_jobs(kit_)) {
      if (MaybeError error = add_paper(std::move(job))) return *error;
    }
    if (kit_.punch) {
      count_.strips = kits_made(kit_);
      if (MaybeError error = add_dots()) return *error;
    }
    add_portions();
    buy_stocks();
    buy_packs();
    buy_inks();
    return std::move(count_);
  }

 private:
  MaybeError add_paper(CutJob job) {
    auto plan = plan_cuts(job);
    if (!plan) return plan.error();
    PaperCount paper;
    for (const CutPiece& piece : job.pieces) paper.pieces += piece.count;
    paper.sheets = plan->sheets;
    paper.plan = *std::move(plan);
    paper.job = std::move(job);
    count_.papers.push_back(std::move(paper));
    return std::nullopt;
  }

  PaperCount& stock(const std::string& name) {
    const auto known = std::find_if(count_.papers.begin(), count_.papers.end(), [&](const PaperCount& one) {
      return !one.job.patterned && folded(one.job.paper) == folded(name);
    });
    if (known != count_.papers.end()) return *known;
    const auto first_sheet = std::find_if(count_.papers.begin(), count_.papers.end(),
                                          [](const PaperCount& one) { return one.job.patterned; });
    PaperCount paper;
    paper.job = {name, false, sheet_of_stock(kit_, name), {}};
    paper.plan.fewest = true;
    return *count_.papers.insert(first_sheet, std::move(paper));
  }

  /// Dots come out of what the plan leaves; when that does not hold all, out of sheets of their own.
  MaybeError add_dots() {
    for (const std::string& solid : solids_) {
      PaperCount& paper = stock(solid);
      const std::int64_t on_sheet = dots_in(paper.job.sheet, *kit_.punch);
      if (on_sheet == 0)
        return Error{ErrorKind::impossible,
                     "a dot of " + length_text(*kit_.punch, kit_.unit) + " is larger than the sheet", solid,
                     "use a smaller punch under [strip], or name a larger sheet"};
      paper.dots += with_spoilage(count_.strips, kit_.spoilage_percent);
      std::int64_t room = 0;
      for (const SheetPlan& plan : paper.plan.plans) {
        for (const Rectangle& left : plan.left) room += plan.sheets * dots_in(left.size, *kit_.punch);
      }
      paper.dots_in_offcuts = std::min(paper.dots, room);
      paper.sheets_for_dots = up(paper.dots - paper.dots_in_offcuts, on_sheet);
      paper.sheets = paper.plan.sheets + paper.sheets_for_dots;
    }
    return std::nullopt;
  }

  void add_portions() {
    for (const KitPortion& portion : kit_.portions) {
      const auto sheets =
          static_cast<std::int64_t>(portion.of.empty() ? sheets_of(kit_).size() : portion.of.size());
      count_.portions += kits_made(kit_) * portion.count * sheets;
    }
  }

  void add_cost(const Purchase& purchase, const std::string& name) {
    if (purchase.packs == 0) return;
    if (purchase.cost_cents)
      count_.cost_cents += *purchase.cost_cents;
    else
      count_.without_price.push_back(name);
  }

  void buy_stocks() {
    for (PaperCount& paper : count_.papers) {
      if (paper.job.patterned) continue;
      const KitSupply* supply = supply_of_stock(kit_, paper.job.paper);
      std::optional<std::int64_t> have;
      if (supply != nullptr && supply->have) have = *supply->have;
      paper.purchase = purchase_of(paper.sheets, have, supply != nullptr ? supply->pack : 1,
                                   supply != nullptr ? supply->price_cents : std::optional<std::int64_t>());
      add_cost(paper.purchase, paper.job.paper);
    }
  }

  /// As many packs as the sheet of which most are needed asks for.
  void buy_packs() {
    std::int64_t packs = 0;
    for (const PaperCount& paper : count_.papers) {
      if (paper.job.patterned) packs = std::max(packs, up(paper.sheets, kit_.pack.copies));
    }
    count_.packs = purchase_of(packs, kit_.pack.have, 1, kit_.pack.price_cents);
    add_cost(count_.packs, "the pack");
  }

  InkCount& ink(const std::string& name) {
    const auto known = std::find_if(count_.inks.begin(), count_.inks.end(),
                                    [&](const InkCount& one) { return folded(one.name) == folded(name); });
    if (known != count_.inks.end()) return *known;
    return count_.inks.emplace_back(InkCount{name, 0, {}});
  }

  void buy_inks() {
    for (const KitCard& card : kit_.cards) {
      for (const KitStamp& stamp : card.stamps)
        ink(stamp.ink).prints += kits_made(kit_) * card.count * piece_named(card, stamp.on)->count;
    }
    for (const std::string& name : kit_.inks.must) ink(name);
    for (InkCount& one : count_.inks) {
      const KitSupply* supply = supply_of_ink(kit_, one.name);
      const std::int64_t needed = kit_.pad_each ? kits_made(kit_) : 1;
      std::optional<std::int64_t> have;
      if (supply != nullptr && supply->have)
        have = *supply->have;
      else if (!kit_.pad_each)
        have = 1;  // what is in the stash is there
      one.purchase = purchase_of(
          needed, have, 1, supply != nullptr && supply->price_cents ? supply->price_cents : kit_.ink_cents);
      add_cost(one.purchase, one.name);
    }
  }

  const Kit& kit_;
  const std::vector<std::string>& solids_;
  KitCount count_;
};

}  // namespace

Purchase purchase_of(std::int64_t needed, std::optional<std::int64_t> have, std::int64_t pack,
                     std::optional<std::int64_t> price_cents) {
  Purchase purchase;
  purchase.needed = needed;
  purchase.have = have.value_or(0);
  purchase.have_known = have.has_value();
  purchase.missing = std::max<std::int64_t>(0, needed - purchase.have);
  purchase.pack = pack;
  purchase.packs = up(purchase.missing, pack);
  purchase.price_cents = price_cents;
  if (price_cents) purchase.cost_cents = purchase.packs * *price_cents;
  return purchase;
}

Result<KitCount> count_kit(const Kit& kit, const std::vector<std::string>& solids) {
  return Counter(kit, solids).run();
}

}  // namespace kithue
