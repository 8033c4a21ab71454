// SPDX-License-Identifier: MIT
#include "cli/kit_cut.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/text.h"
#include "cli/advice.h"
#include "cli/commands.h"
#include "cli/kit_faces.h"
#include "cli/kit_share.h"
#include "cli/table.h"
#include "kit/cut_jobs.h"
#include "kit/cut_plan.h"

namespace kithue {
namespace {

using Json = nlohmann::ordered_json;

struct Planned {
  CutJob job;
  CutPlan plan;
};

Json line_json(const CutLine& line) {
  return {{"x1_mm", mm_of(line.x1)},
          {"y1_mm", mm_of(line.y1)},
          {"x2_mm", mm_of(line.x2)},
          {"y2_mm", mm_of(line.y2)}};
}

Json rectangle_json(const Rectangle& at) {
  return {{"x_mm", mm_of(at.x)},
          {"y_mm", mm_of(at.y)},
          {"width_mm", mm_of(at.size.width)},
          {"height_mm", mm_of(at.size.height)}};
}

Json plan_json(const Planned& paper, std::size_t index) {
  const SheetPlan& plan = paper.plan.plans[index];
  Json json{{"sheets", plan.sheets}};
  for (const char* key : {"pieces", "cuts", "left", "done"}) json[key] = Json::array();
  for (const PlacedPiece& placed : plan.pieces) {
    const CutPiece& piece = paper.job.pieces[placed.piece];
    Json one{{"name", piece.name}};
    one.update(rectangle_json(placed.at));
    one["turned"] = placed.turned;
    one["face"] = piece.face.empty() ? Json() : Json(piece.face);
    one["scores"] = Json::array();
    for (const CutLine& line : score_lines(piece, placed)) one["scores"].push_back(line_json(line));
    json["pieces"].push_back(one);
  }
  for (const Cut& cut : plan.cuts) {
    Json one{{"step", cut.step}};
    one.update(line_json(line_of(cut)));
    json["cuts"].push_back(one);
  }
  for (const Rectangle& left : plan.left) json["left"].push_back(rectangle_json(left));
  const auto sums = cut_so_far(paper.job, paper.plan, index + 1);
  for (std::size_t i = 0; i < sums.size(); ++i)
    json["done"].push_back(
        {{"name", paper.job.pieces[i].name}, {"cut", sums[i]}, {"of", paper.job.pieces[i].count}});
  return json;
}

ExitStatus print_json(Session& session, const std::vector<Planned>& papers) {
  Json list = Json::array();
  for (const Planned& paper : papers) {
    Json json{{"paper", paper.job.paper},
              {"patterned", paper.job.patterned},
              {"width_mm", mm_of(paper.job.sheet.width)},
              {"height_mm", mm_of(paper.job.sheet.height)},
              {"sheets", paper.plan.sheets},
              {"fewest", paper.plan.fewest},
              {"waste", paper.plan.waste},
              {"plans", Json::array()}};
    for (std::size_t i = 0; i < paper.plan.plans.size(); ++i) json["plans"].push_back(plan_json(paper, i));
    list.push_back(json);
  }
  return answer(session, "kit cut", {{"papers", list}, {"caution", kBladeCaution}});
}

/// A row for every piece on every kind of sheet.
void print_plain(Session& session, const std::vector<Planned>& papers) {
  Table table{{"paper", "plan", "sheets", "piece", "x_mm", "y_mm", "width_mm", "height_mm", "turned"}, {}};
  for (const Planned& paper : papers) {
    for (std::size_t i = 0; i < paper.plan.plans.size(); ++i) {
      const SheetPlan& plan = paper.plan.plans[i];
      for (const PlacedPiece& placed : plan.pieces) {
        const Rectangle& at = placed.at;
        table.rows.push_back({cell(paper.job.paper), cell(std::to_string(i + 1)),
                              cell(std::to_string(plan.sheets)), cell(paper.job.pieces[placed.piece].name),
                              cell(exact_number(mm_of(at.x))), cell(exact_number(mm_of(at.y))),
                              cell(exact_number(mm_of(at.size.width))),
                              cell(exact_number(mm_of(at.size.height))), cell(placed.turned ? "yes" : "no")});
      }
    }
  }
  print_table(session, table);
}

/// "base 20 of 25, mat 25 of 25".
std::string totals(const Planned& paper, std::size_t done) {
  const auto sums = cut_so_far(paper.job, paper.plan, done);
  std::vector<std::string> parts;
  for (std::size_t i = 0; i < sums.size(); ++i) {
    if (paper.job.pieces[i].count == 0) continue;
    parts.push_back(paper.job.pieces[i].name + " " + std::to_string(sums[i]) + " of " +
                    std::to_string(paper.job.pieces[i].count));
  }
  return joined(parts, ", ");
}

/// One step: where the blade goes, measured from the near edge of the part.
std::string step_text(const std::vector<Cut>& cuts, Unit unit) {
  const Cut& first = cuts.front();
  std::vector<std::string> places;
  for (const Cut& cut : cuts)
    places.push_back(length_text(cut.at - (first.upright ? first.part.x : first.part.y), unit));
  return "cut " + size_text(first.part.size, unit) + (first.upright ? " down at " : " across at ") +
         joined(places, ", ");
}

/// The steps of a sheet, those alike said once.
void print_steps(Session& session, const SheetPlan& plan, Unit unit) {
  std::vector<std::string> texts;
  std::vector<Cut> step;
  const auto finish = [&] {
    if (!step.empty()) texts.push_back(step_text(step, unit));
    step.clear();
  };
  for (const Cut& cut : plan.cuts) {
    if (!step.empty() && step.back().step != cut.step) finish();
    step.push_back(cut);
  }
  finish();
  std::size_t number = 0;
  for (std::size_t i = 0; i < texts.size();) {
    std::size_t alike = i + 1;
    while (alike < texts.size() && texts[alike] == texts[i]) ++alike;
    const std::string often = alike - i > 1 ? ", " + std::to_string(alike - i) + " times" : "";
    print_wrapped(session, std::to_string(++number) + ". " + texts[i] + often, 4);
    i = alike;
  }
}

void print_plan(Session& session, const Planned& paper, std::size_t index, Unit unit) {
  const SheetPlan& plan = paper.plan.plans[index];
  std::vector<std::string> names;
  std::vector<std::int64_t> counts(paper.job.pieces.size(), 0);
  std::vector<std::int64_t> turned(paper.job.pieces.size(), 0);
  for (const PlacedPiece& placed : plan.pieces) {
    ++counts[placed.piece];
    turned[placed.piece] += placed.turned ? 1 : 0;
  }
  for (std::size_t i = 0; i < counts.size(); ++i) {
    if (counts[i] == 0) continue;
    const CutPiece& piece = paper.job.pieces[i];
    std::string name = std::to_string(counts[i]) + " x " + piece.name + " (" + size_text(piece.size, unit);
    if (!piece.face.empty()) name += ", side " + piece.face + " up";
    if (turned[i] > 0)
      name += turned[i] == counts[i] ? ", turned" : ", " + std::to_string(turned[i]) + " turned";
    names.push_back(name + ")");
  }
  session.out << "  " << counted(static_cast<std::size_t>(plan.sheets), "sheet") << " like this:\n";
  print_wrapped(session, joined(names, ", "), 4);
  print_steps(session, plan, unit);
  if (!plan.left.empty()) {
    std::vector<std::string> left;
    for (std::size_t i = 0; i < plan.left.size() && i < 4; ++i)
      left.push_back(size_text(plan.left[i].size, unit));
    if (plan.left.size() > 4) left.push_back("and " + std::to_string(plan.left.size() - 4) + " smaller");
    print_wrapped(session, "left over: " + joined(left, ", "), 4);
  }
  print_wrapped(session, "then cut: " + totals(paper, index + 1), 4);
}

/// Folds are made before the piece is glued; the lines are measured along the longer side.
void print_scores(Session& session, const Planned& paper, Unit unit) {
  for (const CutPiece& piece : paper.job.pieces) {
    if (piece.scores.empty() || piece.count == 0) continue;
    std::vector<std::string> places;
    for (const Length score : piece.scores) places.push_back(length_text(score, unit));
    print_wrapped(session, "score " + piece.name + " at " + joined(places, ", ") + " along its longer side",
                  2);
  }
}

void print_text(Session& session, const std::vector<Planned>& papers, Unit unit) {
  for (const Planned& paper : papers) {
    session.out << (paper.job.patterned ? "Sheet " : "") << printable(paper.job.paper) << ", "
                << size_text(paper.job.sheet, unit) << ": "
                << counted(static_cast<std::size_t>(paper.plan.sheets), "sheet") << ", "
                << fixed_number(100.0 * paper.plan.waste, 0) << " % left over"
                << (paper.plan.fewest ? "; no plan needs fewer" : "") << '\n';
    for (std::size_t i = 0; i < paper.plan.plans.size(); ++i) print_plan(session, paper, i, unit);
    print_scores(session, paper, unit);
    session.out << '\n';
  }
  print_wrapped(session,
                "Sizes are width x height; 'down' is from top to bottom, 'across' from left to right.", 0);
  print_wrapped(session, std::string(kBladeCaution), 0);
}

bool is_wanted(const KitCutOptions& options, const CutJob& job) {
  return options.papers.empty() ||
         std::any_of(options.papers.begin(), options.papers.end(),
                     [&](const std::string& name) { return folded(name) == folded(job.paper); });
}

/// What is cut: all papers of the kit; with `packs` the patterned ones as shared out.
Result<std::vector<CutJob>> jobs_of(const KitCutOptions& options, const Kit& kit) {
  std::vector<CutJob> jobs;
  if (options.student) {
    for (PortionJob& one : portion_jobs(kit)) jobs.push_back(std::move(one.job));
    return jobs;
  }
  jobs = cut_jobs(kit);
  if (!options.packs) return jobs;
  jobs.erase(std::remove_if(jobs.begin(), jobs.end(), [](const CutJob& job) { return job.patterned; }),
             jobs.end());
  const auto shared = share_packs(kit, *options.packs);
  if (!shared) return shared.error();
  for (const CutJob& job : shared->allocation.jobs) {
    if (!job.pieces.empty()) jobs.push_back(job);
  }
  return jobs;
}

/// A paper that was asked for and is not in the kit.
MaybeError unknown_paper(const KitCutOptions& options, const std::vector<CutJob>& jobs) {
  std::vector<std::string> known;
  for (const CutJob& job : jobs) known.push_back(job.paper);
  for (const std::string& name : options.papers) {
    const bool there = std::any_of(known.begin(), known.end(),
                                   [&](const std::string& one) { return folded(one) == folded(name); });
    if (there) continue;
    const auto near = near_spellings(name, known);
    return Error{
        ErrorKind::not_found, "nothing is cut from '" + name + "'", options.kit,
        near.empty() ? "papers are " + joined(known, ", ") : "did you mean " + joined(near, " or ") + "?"};
  }
  return std::nullopt;
}

}  // namespace

ExitStatus run_kit_cut(const KitCutOptions& options, Session& session) {
  const auto kit = open_kit(options.kit, session);
  if (!kit) return fail(session, kit.error());
  const auto found = jobs_of(options, *kit);
  if (!found) return fail(session, found.error());
  const std::vector<CutJob>& jobs = *found;
  if (jobs.empty())
    return fail(session,
                {ErrorKind::bad_input,
                 options.student ? "students cut nothing from their portions" : "the kit has nothing to cut",
                 options.kit,
                 options.student ? "say from = \"portion\" for a piece of a face"
                                 : "add [[card]] with its [[card.piece]], or a [[portion]]"});
  if (const auto error = unknown_paper(options, jobs)) return fail(session, *error);
  std::vector<Planned> papers;
  for (const CutJob& job : jobs) {
    if (!is_wanted(options, job)) continue;
    auto plan = plan_cuts(job);
    if (!plan) return fail(session, plan.error());
    papers.push_back({job, *std::move(plan)});
  }
  return present(
      session, [&] { return print_json(session, papers); }, [&] { print_plain(session, papers); },
      [&] { print_text(session, papers, kit->unit); });
}

void add_kit_cut(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<KitCutOptions>();
  command.add_option("KIT", options->kit, "The kit file")->required();
  command.add_option("--paper", options->papers, "Only this stock or sheet; may be repeated")
      ->type_name("NAME")
      ->allow_extra_args(false);
  command.add_option("--packs", options->packs, "Of the patterned paper, only what so many packs give")
      ->type_name("N")
      ->check(CLI::Range(0, 100'000));
  command.add_flag("--student", options->student,
                   "What a student cuts from the portions in her kit, instead");
  command.final_callback([options, &call] {
    call.run = [options](Session& session) { return run_kit_cut(*options, session); };
  });
}

}  // namespace kithue
