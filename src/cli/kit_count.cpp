// SPDX-License-Identifier: MIT
#include "cli/kit_count.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/files.h"
#include "base/text.h"
#include "cli/advice.h"
#include "cli/commands.h"
#include "cli/kit_faces.h"
#include "cli/kit_share.h"
#include "cli/table.h"
#include "kit/csv_table.h"

namespace kithue {
namespace {

using Json = nlohmann::ordered_json;

/// One line of the count for scripts and spreadsheets.
struct Row {
  std::string kind;  ///< "stock", "sheet", "pack", "ink", "portion", "strip", "kit"
  std::string name;
  std::string sheet;        ///< size of the paper, or empty
  std::int64_t pieces = 0;  ///< pieces, prints or dots
  std::int64_t dots = 0;
  std::int64_t needed = 0;
  const Purchase* purchase = nullptr;
};

std::vector<Row> rows_of(const Kit& kit, const KitCount& count) {
  std::vector<Row> rows;
  for (const PaperCount& paper : count.papers)
    rows.push_back({paper.job.patterned ? "sheet" : "stock", paper.job.paper,
                    size_text(paper.job.sheet, kit.unit), paper.pieces, paper.dots, paper.sheets,
                    paper.job.patterned ? nullptr : &paper.purchase});
  if (count.packs.needed > 0) rows.push_back({"pack", kit.name, "", 0, 0, count.packs.needed, &count.packs});
  for (const InkCount& ink : count.inks)
    rows.push_back({"ink", ink.name, "", ink.prints, 0, ink.purchase.needed, &ink.purchase});
  if (count.portions > 0) rows.push_back({"portions", kit.name, "", 0, 0, count.portions, nullptr});
  if (count.strips > 0) rows.push_back({"strips", kit.name, "", 0, 0, count.strips, nullptr});
  return rows;
}

std::string money(const std::optional<std::int64_t>& cents) {
  return cents ? money_text(*cents) : "";
}

constexpr const char* kColumns[] = {"kind", "name",    "sheet", "pieces", "dots",  "needed",
                                    "have", "missing", "pack",  "packs",  "price", "cost"};

/// The cells of a row in the order of kColumns; what does not apply is empty.
std::vector<std::string> cells_of(const Row& row) {
  const auto number = [](std::int64_t value) { return std::to_string(value); };
  std::vector<std::string> cells{row.kind,
                                 row.name,
                                 row.sheet,
                                 row.pieces > 0 ? number(row.pieces) : "",
                                 row.dots > 0 ? number(row.dots) : "",
                                 number(row.needed)};
  const Purchase* buy = row.purchase;
  cells.push_back(buy != nullptr && buy->have_known ? number(buy->have) : "");
  for (const std::int64_t value :
       {buy != nullptr ? buy->missing : 0, buy != nullptr ? buy->pack : 0, buy != nullptr ? buy->packs : 0})
    cells.push_back(buy != nullptr ? number(value) : "");
  cells.push_back(buy != nullptr ? money(buy->price_cents) : "");
  cells.push_back(buy != nullptr ? money(buy->cost_cents) : "");
  return cells;
}

/// RFC 4180, CRLF. Text is quoted and guarded against spreadsheets, numbers are neither.
std::string csv_of(const std::vector<Row>& rows) {
  constexpr std::size_t kTextColumns = 3;
  std::string csv;
  for (const char* name : kColumns) csv += (csv.empty() ? "" : ",") + std::string(name);
  csv += "\r\n";
  for (const Row& row : rows) {
    const std::vector<std::string> cells = cells_of(row);
    for (std::size_t i = 0; i < cells.size(); ++i) {
      csv += i == 0 ? "" : ",";
      csv += i < kTextColumns ? csv_cell(cells[i]) : cells[i];
    }
    csv += "\r\n";
  }
  return csv;
}

Json optional_json(const std::optional<std::int64_t>& value) {
  return value ? Json(*value) : Json();
}

Json purchase_json(const Purchase& buy) {
  return {{"needed", buy.needed},
          {"have", buy.have_known ? Json(buy.have) : Json()},
          {"missing", buy.missing},
          {"pack", buy.pack},
          {"packs", buy.packs},
          {"price_cents", optional_json(buy.price_cents)},
          {"cost_cents", optional_json(buy.cost_cents)}};
}

Json paper_json(const PaperCount& paper) {
  Json pieces = Json::array();
  for (const CutPiece& piece : paper.job.pieces) {
    pieces.push_back({{"name", piece.name},
                      {"width_mm", mm_of(piece.size.width)},
                      {"height_mm", mm_of(piece.size.height)},
                      {"count", piece.count},
                      {"face", piece.face.empty() ? Json() : Json(piece.face)}});
  }
  Json json{{paper.job.patterned ? "sheet" : "stock", paper.job.paper},
            {"width_mm", mm_of(paper.job.sheet.width)},
            {"height_mm", mm_of(paper.job.sheet.height)},
            {"sheets", paper.sheets},
            {"fewest", paper.plan.fewest},
            {"waste", paper.plan.waste},
            {"pieces", pieces}};
  if (paper.job.patterned) return json;
  json["dots"] = paper.dots;
  json["dots_in_offcuts"] = paper.dots_in_offcuts;
  json["sheets_for_dots"] = paper.sheets_for_dots;
  json.update(purchase_json(paper.purchase));
  return json;
}

ExitStatus print_json(Session& session, const Kit& kit, const KitCount& count,
                      const std::optional<SharedPacks>& shared) {
  Json data{{"kits", count.kits}, {"spares", count.spares}, {"spoilage_percent", kit.spoilage_percent}};
  data["stocks"] = Json::array();
  data["sheets"] = Json::array();
  for (const PaperCount& paper : count.papers)
    data[paper.job.patterned ? "sheets" : "stocks"].push_back(paper_json(paper));
  data["packs"] = purchase_json(count.packs);
  data["inks"] = Json::array();
  for (const InkCount& ink : count.inks) {
    Json json{{"ink", ink.name}, {"prints", ink.prints}};
    json.update(purchase_json(ink.purchase));
    data["inks"].push_back(json);
  }
  data["portions"] = count.portions;
  data["strips"] = count.strips;
  data["cost_cents"] = count.cost_cents;
  data["without_price"] = count.without_price;
  if (shared) data["allocation"] = shared_json(*shared);
  return answer(session, "kit count", data);
}

void print_plain(Session& session, const std::vector<Row>& rows) {
  Table table{{std::begin(kColumns), std::end(kColumns)}, {}};
  for (const Row& row : rows) {
    std::vector<Cell> cells;
    for (const std::string& text : cells_of(row)) cells.push_back(cell(text));
    table.rows.push_back(std::move(cells));
  }
  print_table(session, table);
}

std::string there(const Purchase& buy) {
  return buy.have_known ? std::to_string(buy.have) : "-";
}

void print_stocks(Session& session, const Kit& kit, const KitCount& count) {
  Table table{{"stock", "sheet", "pieces", "dots", "sheets", "have", "missing", "waste"}, {}};
  bool dots_cut = false;
  for (const PaperCount& paper : count.papers) {
    if (paper.job.patterned) continue;
    dots_cut = dots_cut || paper.sheets_for_dots > 0;
    table.rows.push_back({cell(paper.job.paper), cell(size_text(paper.job.sheet, kit.unit)),
                          right_cell(paper.pieces), right_cell(paper.dots), right_cell(paper.sheets),
                          right_cell(there(paper.purchase)), right_cell(paper.purchase.missing),
                          right_cell(fixed_number(100.0 * paper.plan.waste, 0) + " %")});
  }
  if (table.rows.empty()) return;
  print_table(session, table);
  session.out << '\n';
  if (dots_cut) {
    print_wrapped(session, "Where the offcuts do not hold all dots, sheets for the rest are counted.", 0);
    session.out << '\n';
  }
}

void print_sheets(Session& session, const Kit& kit, const KitCount& count) {
  Table table{{"sheet", "size", "side", "pieces", "sheets", "waste"}, {}};
  for (const PaperCount& paper : count.papers) {
    if (!paper.job.patterned) continue;
    std::vector<std::pair<std::string, std::int64_t>> sides;
    for (const CutPiece& piece : paper.job.pieces) {
      const std::string side = piece.face.empty() ? "both" : piece.face;
      auto at = std::find_if(sides.begin(), sides.end(), [&](const auto& one) { return one.first == side; });
      if (at == sides.end()) at = sides.insert(at, {side, 0});
      at->second += piece.count;
    }
    for (std::size_t i = 0; i < sides.size(); ++i)
      table.rows.push_back({cell(i == 0 ? paper.job.paper : ""),
                            cell(i == 0 ? size_text(paper.job.sheet, kit.unit) : ""), cell(sides[i].first),
                            right_cell(sides[i].second),
                            right_cell(i == 0 ? std::to_string(paper.sheets) : ""),
                            right_cell(i == 0 ? fixed_number(100.0 * paper.plan.waste, 0) + " %" : "")});
  }
  if (table.rows.empty()) return;
  print_table(session, table);
  session.out << '\n';
}

void print_inks(Session& session, const Kit& kit, const KitCount& count) {
  if (count.inks.empty()) return;
  Table table{{"ink", "prints", "pads", "have", "missing"}, {}};
  for (const InkCount& ink : count.inks)
    table.rows.push_back({cell(ink.name), right_cell(ink.prints), right_cell(ink.purchase.needed),
                          right_cell(there(ink.purchase)), right_cell(ink.purchase.missing)});
  print_table(session, table);
  session.out << (kit.pad_each ? "A pad goes into every kit.\n\n" : "One pad of each serves the class.\n\n");
}

void print_shopping(Session& session, const Kit& kit, const KitCount& count) {
  Table table{{"to buy", "of", "each", "cost"}, {}};
  const auto add = [&](const std::string& name, const std::string& of, const Purchase& buy) {
    if (buy.packs == 0) return;
    table.rows.push_back({right_cell(buy.packs), cell(of + name),
                          right_cell(buy.price_cents ? money_text(*buy.price_cents) : "-"),
                          right_cell(buy.cost_cents ? money_text(*buy.cost_cents) : "-")});
  };
  for (const PaperCount& paper : count.papers) {
    const std::int64_t pack = paper.purchase.pack;
    add(paper.job.paper, pack == 1 ? "sheet of " : "pack of " + std::to_string(pack) + " ", paper.purchase);
  }
  add(kit.name, "pack of patterned paper, ", count.packs);
  for (const InkCount& ink : count.inks) add(ink.name, "pad of ", ink.purchase);
  if (table.rows.empty()) {
    session.out << "Nothing to buy.\n";
    return;
  }
  print_table(session, table);
  std::string cost = "Cost: " + money_text(count.cost_cents);
  if (!count.without_price.empty()) cost += ", without a price: " + joined(count.without_price, ", ");
  print_wrapped(session, cost, 0);
}

void print_text(Session& session, const Kit& kit, const KitCount& count) {
  session.out << printable(kit.name) << ": " << counted(static_cast<std::size_t>(count.kits), "kit")
              << " and " << counted(static_cast<std::size_t>(count.spares), "spare");
  if (kit.spoilage_percent > 0.0)
    session.out << ", with " << exact_number(kit.spoilage_percent) << " % of the pieces on top for spoilage";
  session.out << ".\n\n";
  print_stocks(session, kit, count);
  print_sheets(session, kit, count);
  if (count.packs.needed > 0) {
    session.out << "Packs of patterned paper: " << count.packs.needed << " needed, " << count.packs.have
                << " there, " << count.packs.missing << " missing.\n";
  }
  if (count.portions > 0) session.out << "Portions for the students: " << count.portions << ".\n";
  if (count.strips > 0)
    session.out << "Pattern strips: " << count.strips << ", dots " << length_text(*kit.punch, kit.unit)
                << " wide, snippets " << size_text(kit.snippet, kit.unit) << ".\n";
  if (count.packs.needed > 0 || count.portions > 0 || count.strips > 0) session.out << '\n';
  print_inks(session, kit, count);
  print_shopping(session, kit, count);
}

MaybeError write_csv(const KitCountOptions& options, const std::string& csv, Session& session) {
  ReplaceOptions how;
  how.only_if_new = !options.force;
  how.mode = kSharedMode;
  const auto written = replace_file_atomically(options.output, csv, how);
  if (!written) return written.error();
  if (!written->doubt.empty())
    warn(session, options.output + ": saved, but a power cut might undo it: " + written->doubt);
  hint(session, "saved " + options.output);
  return std::nullopt;
}

}  // namespace

ExitStatus run_kit_count(const KitCountOptions& options, Session& session) {
  const bool to_stdout = options.output == "-";
  if (to_stdout && session.mode != Mode::text)
    return fail(session, {ErrorKind::bad_usage, "the CSV and the answer cannot both go to standard output",
                          "", "name a file with -o FILE, or leave --json and --plain out"});
  const auto kit = open_kit(options.kit, session);
  if (!kit) return fail(session, kit.error());
  if (kit->cards.empty() && kit->portions.empty() && !kit->punch)
    return fail(session, {ErrorKind::bad_input, "the kit has no cards, portions or strips to count",
                          options.kit, "add [[card]] with its [[card.piece]], or a [[portion]]"});
  const auto solids = solids_of_strips(*kit, options.kit, session);
  if (!solids) return fail(session, solids.error());
  const auto count = count_kit(*kit, *solids);
  if (!count) return fail(session, count.error());
  std::optional<SharedPacks> shared;
  if (options.packs) {
    auto found = share_packs(*kit, *options.packs);
    if (!found) return fail(session, found.error());
    shared = *std::move(found);
  }
  const std::vector<Row> rows = rows_of(*kit, *count);
  if (to_stdout) {
    session.out << csv_of(rows);
    return ExitStatus::done;
  }
  if (!options.output.empty()) {
    if (const auto error = write_csv(options, csv_of(rows), session)) return fail(session, *error);
  }
  return present(
      session, [&] { return print_json(session, *kit, *count, shared); }, [&] { print_plain(session, rows); },
      [&] {
        print_text(session, *kit, *count);
        if (shared) print_shared(session, *shared);
        if (!shared && count->packs.missing > 0 && count->packs.have > 0)
          hint(session, "next: 'kithue kit count " + options.kit + " --packs " +
                            std::to_string(count->packs.have) + "' shares out the packs that are there");
      });
}

void add_kit_count(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<KitCountOptions>();
  command.add_option("KIT", options->kit, "The kit file")->required();
  command.add_option("-o,--output", options->output, "A CSV to write as well (- for standard output, alone)")
      ->type_name("FILE");
  command.add_flag("-f,--force", options->force, "Replace the file if it is there");
  command.add_option("--packs", options->packs, "Share so many packs out: which piece from which side")
      ->type_name("N")
      ->check(CLI::Range(0, 100'000));
  command.final_callback([options, &call] {
    call.run = [options](Session& session) { return run_kit_count(*options, session); };
  });
}

}  // namespace kithue
