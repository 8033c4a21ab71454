// SPDX-License-Identifier: MIT
#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/files.h"
#include "base/text.h"
#include "cli/advice.h"
#include "cli/commands.h"
#include "cli/kit_faces.h"
#include "cli/kit_repeat.h"
#include "cli/table.h"
#include "kit/cut_jobs.h"
#include "kit/leftovers.h"

namespace kithue {
namespace {

using Json = nlohmann::ordered_json;

/// A piece and a scrap that is large enough for it.
struct Fit {
  std::string piece;
  std::int64_t wanted = 0;
  const Scrap* scrap = nullptr;
  std::int64_t each = 0;
};

Json scrap_json(const Scrap& scrap) {
  return {{"paper", scrap.paper},
          {"pack", scrap.pack.empty() ? Json() : Json(scrap.pack)},
          {"width_mm", mm_of(scrap.size.width)},
          {"height_mm", mm_of(scrap.size.height)},
          {"count", scrap.count}};
}

ExitStatus print_json(Session& session, const std::vector<Fit>& fits, const std::vector<Scrap>& left,
                      bool kept) {
  Json data{{"fits", Json::array()}, {"left", Json::array()}, {"kept", kept}};
  for (const Fit& one : fits) {
    Json json{{"piece", one.piece}, {"wanted", one.wanted}, {"each", one.each}};
    json.update(scrap_json(*one.scrap));
    data["fits"].push_back(json);
  }
  for (const Scrap& one : left) data["left"].push_back(scrap_json(one));
  return answer(session, "kit scraps", data);
}

void print_fits(Session& session, const std::vector<Fit>& fits, Unit unit) {
  Table table{{"piece", "wanted", "paper", "scrap", "scraps", "pieces from each"}, {}};
  for (const Fit& one : fits)
    table.rows.push_back({cell(one.piece), right_cell(one.wanted), cell(one.scrap->paper),
                          cell(size_text(one.scrap->size, unit)), right_cell(one.scrap->count),
                          right_cell(one.each)});
  print_table(session, table);
}

void print_left(Session& session, const std::vector<Scrap>& left, Unit unit) {
  Table table{{"left over of", "size", "pieces"}, {}};
  for (const Scrap& one : left)
    table.rows.push_back({cell(one.paper), cell(size_text(one.size, unit)), right_cell(one.count)});
  print_table(session, table);
}

struct Found {
  std::vector<Scrap> there;
  std::vector<Scrap> left;
  std::vector<Fit> fits;
};

Result<Found> find_all(const Kit& kit, std::vector<Scrap> there, Length least) {
  Found found;
  found.there = std::move(there);
  for (const CutJob& job : cut_jobs(kit)) {
    const auto plan = plan_cuts(job);
    if (!plan) return plan.error();
    found.left = with_scraps(found.left, scraps_of(job, *plan, kit.name, least));
    for (const ScrapOffer& one : what_fits(job, kit.name, found.there))
      found.fits.push_back(
          {job.pieces[one.piece].name, job.pieces[one.piece].count, &found.there[one.scrap], one.each});
  }
  return found;
}

MaybeError save(const std::string& path, const std::vector<Scrap>& scraps, Unit unit, Session& session) {
  if (auto error = make_folder(folder_of(path))) return error;
  const auto written = replace_file_atomically(path, scraps_csv(scraps, unit));
  if (!written) return written.error();
  if (!written->doubt.empty())
    warn(session, path + ": saved, but a power cut might undo it: " + written->doubt);
  return std::nullopt;
}

}  // namespace

ExitStatus run_kit_scraps(const KitScrapsOptions& options, Session& session) {
  const auto least = length_from(options.least);
  if (!least)
    return fail(session, {ErrorKind::bad_usage, least.error().what, "--least", least.error().advice});
  const auto kit = open_kit(options.kit, session);
  if (!kit) return fail(session, kit.error());
  const std::string path = path_beside_stash(options.scraps, "scraps.csv", session);
  const auto entry = entry_at(path);
  const bool begun = options.keep && entry && *entry == Entry::nothing;
  const auto text = begun ? Result<std::string>(std::string()) : text_beside_stash(options.scraps, path);
  if (!text) return fail(session, text.error());
  std::vector<Scrap> there;
  if (!text->empty()) {
    auto read = scraps_from_csv(*text, path);
    if (!read) return fail(session, read.error());
    there = *std::move(read);
  }
  const auto found = find_all(*kit, std::move(there), *least);
  if (!found) return fail(session, found.error());
  const bool keeps = options.keep && !options.dry_run;
  if (keeps) {
    if (const auto error = save(path, with_scraps(found->there, found->left), kit->unit, session))
      return fail(session, *error);
  }
  return present(
      session, [&] { return print_json(session, found->fits, found->left, keeps); },
      [&] { print_fits(session, found->fits, kit->unit); },
      [&] {
        if (found->fits.empty()) {
          session.out << "No piece of this kit fits a scrap that is there.\n";
        } else {
          print_fits(session, found->fits, kit->unit);
          print_wrapped(session,
                        "A scrap serves one piece or the other: take it out of the file when it is used.", 0);
        }
        session.out << '\n';
        if (!found->left.empty()) print_left(session, found->left, kit->unit);
        if (options.keep)
          hint(session, std::string(keeps ? "kept" : "would keep") + " the offcuts of this kit in " + path);
        else
          hint(session, "next: --keep adds these offcuts to " + path);
      });
}

void add_kit_scraps(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<KitScrapsOptions>();
  command.add_option("KIT", options->kit, "The kit file")->required();
  command.add_option("--scraps", options->scraps, "Scraps that are there (else scraps.csv beside the stash)")
      ->type_name("FILE");
  command.add_option("--least", options->least, "Offcuts narrower than this are thrown away")
      ->type_name("LENGTH")
      ->capture_default_str();
  command.add_flag("--keep", options->keep, "Add the offcuts of this kit to the scraps");
  command.add_flag("-n,--dry-run", options->dry_run, "Say what would be kept and write nothing");
  command.final_callback([options, &call] {
    call.run = [options](Session& session) { return run_kit_scraps(*options, session); };
  });
}

}  // namespace kithue
