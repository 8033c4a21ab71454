// SPDX-License-Identifier: MIT
#include "cli/sheet.h"

#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>
#include <utility>

#include "base/files.h"
#include "base/text.h"
#include "cli/advice.h"
#include "cli/commands.h"
#include "cli/gather_sheet.h"
#include "cli/kit_faces.h"
#include "cli/output_file.h"
#include "cli/sheet_file.h"
#include "cli/stash_access.h"
#include "cli/student_range.h"
#include "cli/table.h"
#include "kit/cut_jobs.h"
#include "kit/touching.h"
#include "sheet/cut_sheet.h"
#include "sheet/printer_check.h"
#include "swatch/cgats.h"
#include "swatch/import.h"

namespace kithue {
namespace {

/// The kinds that were asked for, in the order in which they are put together; none: the swatch sheet.
std::vector<std::string> kinds_of(const SheetCommand& options) {
  std::vector<std::string> kinds;
  if (options.kit_sheet) kinds.emplace_back("kit");
  if (options.pattern_strip) kinds.emplace_back("pattern-strip");
  if (options.student) kinds.emplace_back("student");
  if (options.cut) kinds.emplace_back("cut");
  if (options.colour_map) kinds.emplace_back("colour-map");
  if (options.printer_check) kinds.emplace_back("printer-check");
  if (kinds.empty()) kinds.emplace_back("swatch");
  return kinds;
}

std::string suffix_of(const std::vector<std::string>& kinds) {
  if (kinds.size() > 1) return "sheets";
  return kinds.front() == "swatch" ? "" : kinds.front() == "kit" ? "kit-sheet" : kinds.front();
}

PageSize page_size(const SheetCommand& options, const std::string& kit_page) {
  const std::string page = folded(options.page.empty() ? kit_page : options.page);
  return page == "letter" ? PageSize::letter : PageSize::a4;
}

nlohmann::ordered_json json_of(const std::vector<Coordinate>& list) {
  nlohmann::ordered_json rows = nlohmann::ordered_json::array();
  for (const Coordinate& one : list) {
    nlohmann::ordered_json row{
        {"name", one.swatch->name}, {"method", one.swatch->method}, {"named", one.named}};
    const auto lab = colour_of(*one.swatch);
    row["lab"] = lab ? nlohmann::ordered_json{lab->L, lab->a, lab->b} : nlohmann::ordered_json();
    row["de00"] = one.named ? nlohmann::ordered_json() : nlohmann::ordered_json(one.de00);
    row["words"] = one.words;
    rows.push_back(std::move(row));
  }
  return rows;
}

/// A row for every stock and ink of every face.
void print_choices(Session& session, const Gathered& gathered) {
  Table table{{"face", "kind", "name", "method", "de00", "how"}, {}};
  for (const FaceChoice& face : gathered.faces) {
    for (const auto* list : {&face.stocks, &face.inks}) {
      for (const Coordinate& one : *list) {
        const Swatch& swatch = *one.swatch;
        const auto lab = colour_of(swatch);
        Cell distance = one.named ? cell("") : number_cell(one.de00, 2);
        distance.right = true;
        table.rows.push_back({cell(face.label), cell(std::string(word_for(swatch.kind))),
                              lab ? colour_cell(*lab, swatch.name) : cell(swatch.name), cell(swatch.method),
                              distance, cell(one.named ? "named in the kit" : one.words)});
      }
    }
  }
  print_table(session, table);
}

/// What the readings of the check page say, as a line for the foot of each sheet.
Result<std::string> note_of_printer(const std::string& path, const std::string& white, Session& session) {
  if (path.empty()) return std::string();
  auto bytes = read_file(path, kMostFileBytes);
  if (!bytes) return bytes.error();
  ImportOptions how;
  how.kind = Kind::other;
  how.white = white;
  const auto import = read_import(*std::move(bytes), path, how);
  if (!import) return import.error();
  if (!import->rejected.empty() && import->rows.empty())
    return Error{ErrorKind::bad_input, import->rejected.front().reason,
                 path + ":" + std::to_string(import->rejected.front().line), "no row of it can be used"};
  std::vector<std::pair<std::size_t, Lab>> readings;
  for (const ImportRow& row : import->rows) {
    const auto number = parse_whole(row.swatch.name);
    if (number && *number > 0 && row.reading) readings.emplace_back(*number, row.reading->lab);
  }
  const auto error = printer_error(readings);
  if (!error)
    return Error{ErrorKind::bad_input, "no reading has the number of a patch", path,
                 "name each reading by the number printed beside its patch: 1 to 48"};
  hint(session, printer_note(*error) + " Worst: patch " + std::to_string(error->worst_patch) + ".");
  return printer_note(*error);
}

/// Lays the sheets out that a kit is needed for.
class SheetMaker {
 public:
  SheetMaker(const SheetCommand& options, Session& session) : options_(options), session_(session) {}

  MaybeError open() {
    auto kit = open_kit(options_.kit, session_);
    if (!kit) return kit.error();
    kit_ = *std::move(kit);
    if (options_.date) kit_.date = *options_.date;
    return std::nullopt;
  }

  MaybeError gather() {
    auto stash = open_stash(session_);
    if (!stash) return stash.error();
    stash_ = *std::move(stash);
    if (stash_.swatches.empty())
      return Error{ErrorKind::impossible, "there is no stock and no ink to put beside the faces",
                   session_.stash_path, "add some with 'kithue stash add' or 'kithue stash import'"};
    auto note = note_of_printer(options_.printer_readings, options_.white, session_);
    if (!note) return note.error();
    note_ = *std::move(note);
    auto gathered = gather_sheet(kit_, options_.kit, stash_, session_);
    if (!gathered) return gathered.error();
    gathered_ = *std::move(gathered);
    std::vector<const Swatch*> compared = gathered_.inks;
    for (const FaceChoice& face : gathered_.faces) {
      for (const Coordinate& one : face.stocks) compared.push_back(one.swatch);
      for (const Coordinate& one : face.inks) compared.push_back(one.swatch);
    }
    warn_of_conditions(session_, compared, true);  // the faces are compared too
    gathered_.sheet.printer_note = note_;
    return std::nullopt;
  }

  Result<Document> sheet(const std::string& kind) {
    const PageSize size = page_size(options_, kit_.page);
    if (kind == "kit") return kit_sheet(size);
    if (kind == "student") return student_pages(size);
    if (kind == "cut") return cut_sheet(size);
    if (kind == "printer-check") return lay_out_printer_check(size);
    if (kit_.faces.empty())
      return Error{ErrorKind::bad_input, "the kit has no faces to show", options_.kit,
                   "add [[face]] sections with a photo or colours"};
    if (kind == "pattern-strip") return pattern_strip(size);
    if (kind == "swatch") return lay_out_swatch_sheet(gathered_.sheet, size);
    ColourMap map = map_of(gathered_);
    map.printer_note = note_;
    return lay_out_colour_map(map, size);
  }

  [[nodiscard]] const Gathered& gathered() const { return gathered_; }

 private:
  Result<Document> pattern_strip(PageSize size) {
    auto strip = strip_of(kit_, options_.kit, gathered_);
    if (!strip) return strip.error();
    strip->copies = options_.copies;
    strip->printer_note = note_;
    StripCount count;
    Document document = lay_out_pattern_strip(*strip, size, &count);
    if (options_.copies == 1 && count.on_a_page > 1)
      hint(session_, std::to_string(count.on_a_page) + " strips fit on a page: --copies " +
                         std::to_string(kit_.kits + kit_.spares) + " makes all of the kit's");
    return document;
  }

  Result<std::vector<const Swatch*>> inks() {
    std::vector<const Swatch*> settled = gathered_.inks;
    return inks_of_kit(kit_, stash_, settled, options_.kit);
  }

  Result<Document> kit_sheet(PageSize size) {
    if (kit_.cards.empty())
      return Error{ErrorKind::bad_input, "the kit has no cards to show", options_.kit,
                   "add [[card]] with its [[card.piece]] and [[card.stamp]]"};
    const auto used = inks();
    if (!used) return used.error();
    auto sheet = make_kit_sheet(kit_, stash_, gathered_.read, *used, kit_.bands.value_or(Bands{}));
    if (!sheet) return sheet.error();
    sheet->pictures = gathered_.sheet.pictures;
    sheet->printer_note = note_;
    Document document = lay_out_kit_sheet(*sheet, size, options_.large);
    if (!options_.large && document.pages.size() > 1)
      warn(session_,
           "the kit has too much for one page: its kit sheet takes " + std::to_string(document.pages.size()));
    return document;
  }

  Result<Document> cut_sheet(PageSize size) {
    CutSheet sheet{kit_.name, kit_.date, counted(static_cast<std::size_t>(kit_.kits), "kit")};
    if (kit_.spares > 0) sheet.kits += " and " + counted(static_cast<std::size_t>(kit_.spares), "spare");
    sheet.unit = kit_.unit;
    sheet.printer_note = note_;
    for (CutJob& job : cut_jobs(kit_)) {
      auto plan = plan_cuts(job);
      if (!plan) return plan.error();
      CutPaper paper{job.patterned ? "Sheet " + job.paper : job.paper};
      if (!job.patterned) {
        const auto stock = swatch_of_kind(stash_, job.paper, Kind::stock, options_.kit);
        if (!stock) return stock.error();
        paper.lab = colour_of(**stock);
      }
      paper.job = std::move(job);
      paper.plan = *std::move(plan);
      sheet.papers.push_back(std::move(paper));
    }
    if (sheet.papers.empty())
      return Error{ErrorKind::bad_input, "nothing is cut for this kit", options_.kit,
                   "add [[card]] with its [[card.piece]], or [[portion]]"};
    return lay_out_cut_sheet(sheet, size);
  }

  Result<Document> student_pages(PageSize size) {
    const auto used = inks();
    if (!used) return used.error();
    if (used->empty())
      return Error{ErrorKind::bad_input, "the kit names no inks", options_.kit,
                   "name some with must = [...] in [inks], or stamp some on cards"};
    Document all;
    for (const std::string& list : options_.lists) {
      const auto range = read_student_range(list, Kind::ink, options_.white, session_);
      if (!range) return range.error();
      StudentPage page = make_student_page(kit_, stash_, *used, *range, kit_.bands.value_or(Bands{}));
      const std::string name = name_of(list);
      page.student = name.substr(0, name.rfind('.') == 0 ? std::string::npos : name.rfind('.'));
      page.printer_note = note_;
      Document one = lay_out_student_page(page, size, options_.large);
      if (all.pages.empty())
        all = std::move(one);
      else
        append(all, std::move(one));
    }
    return all;
  }

  const SheetCommand& options_;
  Session& session_;
  Kit kit_;
  Stash stash_;
  std::string note_;
  Gathered gathered_;
};

Result<Document> all_sheets(SheetMaker& maker, const std::vector<std::string>& kinds) {
  Document all;
  for (const std::string& kind : kinds) {
    auto one = maker.sheet(kind);
    if (!one) return one.error();
    if (all.pages.empty())
      all = *std::move(one);
    else
      append(all, *std::move(one));
  }
  return all;
}

MaybeError check_options(const SheetCommand& options, const std::vector<std::string>& kinds) {
  if (options.output == "-" && kinds.empty()) return std::nullopt;
  const bool only_check = kinds.size() == 1 && options.printer_check;
  if (options.kit.empty() && !only_check)
    return Error{ErrorKind::bad_usage, "KIT is required", "", "see 'kithue help sheet'"};
  if (options.kit.empty() && options.output.empty())
    return Error{ErrorKind::bad_usage, "where shall the printer check page go?", "",
                 "name a file with -o FILE"};
  if (options.student && options.lists.empty())
    return Error{ErrorKind::bad_usage, "whose page shall it be?", "--student",
                 "add --for LIST: a student's inks as CSV or CGATS, once for each student"};
  if (!options.student && !options.lists.empty())
    return Error{ErrorKind::bad_usage, "--for goes with --student", "--for", "add --student"};
  return std::nullopt;
}

ExitStatus answer_in_json(Session& session, const std::string& path, SheetFormat format,
                          const std::vector<std::string>& kinds, std::size_t pages,
                          const Gathered& gathered) {
  nlohmann::ordered_json faces = nlohmann::ordered_json::array();
  for (const FaceChoice& face : gathered.faces)
    faces.push_back({{"label", face.label}, {"stocks", json_of(face.stocks)}, {"inks", json_of(face.inks)}});
  return answer(
      session, "sheet",
      {{"file", path}, {"format", word_for(format)}, {"kinds", kinds}, {"pages", pages}, {"faces", faces}});
}

}  // namespace

ExitStatus run_sheet(const SheetCommand& options, Session& session) {
  const std::vector<std::string> kinds = kinds_of(options);
  if (const auto error = check_options(options, kinds)) return fail(session, *error);
  const auto format = sheet_format(options.format, options.output == "-" ? "" : options.output);
  if (!format) return fail(session, format.error());
  const std::string path =
      options.output.empty() ? sheet_path(options.kit, suffix_of(kinds), *format) : options.output;
  const bool to_stdout = path == "-";
  if (to_stdout && session.mode != Mode::text)
    return fail(session, {ErrorKind::bad_usage, "the sheet and the answer cannot both go to standard output",
                          "", "name a file with -o FILE, or leave --json and --plain out"});
  SheetMaker maker(options, session);
  const bool only_check = options.kit.empty();
  if (!only_check) {
    if (const auto error = maker.open()) return fail(session, *error);
  }
  if (!to_stdout) {
    if (const auto error = in_the_way(path, options.force)) return fail(session, *error);
  }
  if (!only_check) {
    if (const auto error = maker.gather()) return fail(session, *error);
  }
  const auto document = all_sheets(maker, kinds);
  if (!document) return fail(session, document.error());
  if (const auto error = write_sheet(*document, *format, path, options.force, session))
    return fail(session, *error);
  if (to_stdout) return ExitStatus::done;
  const std::size_t pages = document->pages.size();
  if (session.mode == Mode::json)
    return answer_in_json(session, path, *format, kinds, pages, maker.gathered());
  if (kinds.front() == "swatch" || options.pattern_strip) print_choices(session, maker.gathered());
  hint(session,
       "saved " + path + " (" + counted(pages, "page") + "); print it at 100 % and measure the check line");
  return ExitStatus::done;
}

void add_sheet(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<SheetCommand>();
  command.add_option("KIT", options->kit, "The kit file");
  command.add_flag("--kit", options->kit_sheet,
                   "The page for every kit: cards, what goes where, stand-ins for each ink");
  command.add_flag("--pattern-strip", options->pattern_strip,
                   "The sampler: every face with its solids, places for real snippets and dots");
  command.add_flag("--student", options->student, "A page for each student: what she uses for each ink");
  command.add_flag("--cut", options->cut,
                   "How each sheet is cut: a drawing, the cuts in order, running totals");
  command.add_flag("--colour-map", options->colour_map, "Where the colours of the pack and the swatches lie");
  command.add_flag("--printer-check", options->printer_check, "Patches to print and measure (needs no KIT)");
  command.add_option("--for", options->lists, "With --student: a student's inks as CSV or CGATS")
      ->type_name("LIST")
      ->allow_extra_args(false);
  command.add_option("--white", options->white, "The white of the numbers in LIST, as in D65/10")
      ->type_name("WHITE");
  command
      .add_option("--copies", options->copies, "Pattern strips to print, several to a page where they fit")
      ->type_name("N")
      ->check(CLI::Range(1, 1000));
  command.add_flag("--large", options->large, "Kit sheet and student pages in large print");
  command.add_option("--date", options->date, "The date to print (else what the kit says)")
      ->type_name("DATE");
  command
      .add_option("--printer-readings", options->printer_readings,
                  "Readings of the printer check page: each sheet notes how far the printer is off")
      ->type_name("FILE");
  command
      .add_option("-o,--output", options->output,
                  "The file to write (else the kit's name with its ending; - for stdout)")
      ->type_name("FILE");
  command.add_option("--format", options->format, "pdf, svg or html (else by the file's ending, else pdf)")
      ->type_name("FORMAT")
      ->check(CLI::IsMember({"pdf", "svg", "html"}, CLI::ignore_case));
  command.add_option("--page", options->page, "Paper in the printer: a4 or letter (else what the kit says)")
      ->type_name("SIZE")
      ->check(CLI::IsMember({"a4", "letter"}, CLI::ignore_case));
  command.add_flag("-f,--force", options->force, "Replace the file if it is there");
  call.run = [options](Session& session) { return run_sheet(*options, session); };
}

}  // namespace kithue
