// SPDX-License-Identifier: MIT
#include "kit/kit_check_fit.h"

#include <set>
#include <string>

#include "base/text.h"
#include "kit/cut_jobs.h"

namespace kithue {
namespace {

KitFinding finding(Severity severity, const char* kind, const PortionJob& one, std::string what,
                   std::string advice) {
  return {severity, kind, one.where, "sheet " + one.job.paper, std::move(what), std::move(advice)};
}

std::string portions_text(std::int64_t count) {
  return counted(static_cast<std::size_t>(count), "portion");
}

/// What is cut from one side of a portion is gone from the other, so all pieces are planned on one area.
KitFinding fit_of(const Kit& kit, const PortionJob& one, std::vector<KitFinding>& findings) {
  const std::string size = size_text(one.job.sheet, kit.unit);
  const auto plan = plan_cuts(one.job);
  if (!plan)
    return finding(Severity::fault, "portion", one, plan.error().what + ", a portion of " + size,
                   "make the piece smaller, or the portion larger");
  if (plan->sheets > one.portions)
    return finding(plan->fewest ? Severity::fault : Severity::risk, "portion", one,
                   "what is cut from it takes " + portions_text(plan->sheets) + " of " + size +
                       ", and a kit holds " + std::to_string(one.portions),
                   "give count = " + std::to_string(plan->sheets) +
                       ", make pieces smaller, or take from = \"portion\" out of one");
  std::set<std::string> sides;
  for (const CutPiece& piece : one.job.pieces) sides.insert(piece.face);
  if (sides.size() > 1)
    findings.push_back(finding(Severity::note, "sides", one,
                               "both sides are wanted of one portion: " +
                                   joined(std::vector<std::string>(sides.begin(), sides.end()), " and "),
                               "they fit beside each other: 'kithue kit cut --student' shows how"));
  return {};
}

}  // namespace

std::vector<KitFinding> findings_of_fit(const Kit& kit) {
  std::vector<KitFinding> findings;
  for (const KitCard& card : kit.cards) {
    for (const KitPiece& piece : card.pieces) {
      if (!ways_to_lie(kit, piece).against_grain) continue;
      findings.push_back({Severity::risk, "grain", piece.where, card.name + ": " + piece.name,
                          "its fold runs across the grain of " + piece.stock + ", and may crack",
                          "fold one to see; else make it fit the other way, or change 'turn'"});
    }
  }
  for (const PortionJob& one : portion_jobs(kit)) {
    if (one.portions == 0) {
      findings.push_back(finding(
          Severity::fault, "sides", one,
          "a piece is to be cut from a portion of sheet " + one.job.paper + ", but no portion holds it",
          "add a [[portion]], or take from = \"portion\" out"));
      continue;
    }
    KitFinding fit = fit_of(kit, one, findings);
    if (!fit.what.empty()) findings.push_back(std::move(fit));
  }
  return findings;
}

}  // namespace kithue
