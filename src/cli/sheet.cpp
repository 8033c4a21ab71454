// SPDX-License-Identifier: MIT
#include "cli/sheet.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/files.h"
#include "base/text.h"
#include "cli/advice.h"
#include "cli/commands.h"
#include "cli/gather_sheet.h"
#include "cli/kit_faces.h"
#include "cli/stash_access.h"
#include "cli/table.h"
#include "sheet/pdf.h"

namespace kithue {
namespace {

std::string default_output(const std::string& kit_path) {
  const std::string name = name_of(kit_path);
  const std::size_t dot = name.rfind('.');
  const std::size_t kept =
      dot == std::string::npos || dot == 0 ? kit_path.size() : kit_path.size() - name.size() + dot;
  return kit_path.substr(0, kept) + ".pdf";
}

/// Told before the work is done, and once more by the writer, so that nobody waits for nothing.
MaybeError in_the_way(const std::string& path, bool force) {
  const auto entry = entry_at(path);
  if (!entry) return entry.error();
  if (*entry == Entry::nothing || (*entry == Entry::file && force)) return std::nullopt;
  if (*entry == Entry::file)
    return Error{ErrorKind::cannot_write, "there is such a file already", path,
                 "--force replaces it, -o FILE writes another"};
  return Error{ErrorKind::cannot_write, "this is not an ordinary file", path, "name another with -o FILE"};
}

PageSize page_size(const SheetCommand& options, const Kit& kit) {
  const std::string page = folded(options.page.empty() ? kit.page : options.page);
  return page == "letter" ? PageSize::letter : PageSize::a4;
}

/// A name with letters that no font has is printed with boxes: the user must know before she mails it.
void warn_of_missing_letters(Session& session, const Document& document) {
  std::vector<std::string> told;
  for (const Page& page : document.pages) {
    for (const Block& block : page.blocks) {
      for (const Drawing& item : block.items) {
        const auto* text = std::get_if<TextItem>(&item);
        if (text == nullptr || text->line.missing == 0) continue;
        if (std::find(told.begin(), told.end(), text->line.text) != told.end()) continue;
        told.push_back(text->line.text);
        warn(session, "'" + text->line.text + "' has letters that no built-in font has: they print as boxes");
      }
    }
  }
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

ExitStatus answer_in_json(Session& session, const std::string& path, std::size_t pages,
                          const Gathered& gathered) {
  nlohmann::ordered_json faces = nlohmann::ordered_json::array();
  for (const FaceChoice& face : gathered.faces)
    faces.push_back({{"label", face.label}, {"stocks", json_of(face.stocks)}, {"inks", json_of(face.inks)}});
  return answer(session, "sheet", {{"file", path}, {"pages", pages}, {"faces", faces}});
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

}  // namespace

ExitStatus run_sheet(const SheetCommand& options, Session& session) {
  const std::string path = options.output.empty() ? default_output(options.kit) : options.output;
  const bool to_stdout = path == "-";
  if (to_stdout && session.mode != Mode::text)
    return fail(session, {ErrorKind::bad_usage, "the PDF and the answer cannot both go to standard output",
                          "", "name a file with -o FILE, or leave --json and --plain out"});
  const auto kit = open_kit(options.kit, session);
  if (!kit) return fail(session, kit.error());
  if (!to_stdout) {
    if (const auto error = in_the_way(path, options.force)) return fail(session, *error);
  }
  const auto stash = open_stash(session);
  if (!stash) return fail(session, stash.error());
  if (stash->swatches.empty())
    return fail(session, {ErrorKind::impossible, "there is no stock and no ink to put beside the faces",
                          session.stash_path, "add some with 'kithue stash add' or 'kithue stash import'"});
  const auto gathered = gather_sheet(*kit, options.kit, *stash, session);
  if (!gathered) return fail(session, gathered.error());
  std::vector<const Swatch*> compared;
  for (const FaceChoice& face : gathered->faces) {
    for (const Coordinate& one : face.stocks) compared.push_back(one.swatch);
    for (const Coordinate& one : face.inks) compared.push_back(one.swatch);
  }
  warn_of_conditions(session, compared);
  const Document document = lay_out_swatch_sheet(gathered->sheet, page_size(options, *kit));
  warn_of_missing_letters(session, document);
  const auto pdf = pdf_from(document);
  if (!pdf) return fail(session, pdf.error());
  if (to_stdout) {
    session.out << *pdf;
    return ExitStatus::done;
  }
  ReplaceOptions how;
  how.only_if_new = !options.force;
  how.mode = kSharedMode;
  const auto written = replace_file_atomically(path, *pdf, how);
  if (!written) return fail(session, written.error());
  if (!written->doubt.empty())
    warn(session, path + ": saved, but a power cut might undo it: " + written->doubt);
  if (session.mode == Mode::json) return answer_in_json(session, path, document.pages.size(), *gathered);
  print_choices(session, *gathered);
  hint(session, "saved " + path + " (" + counted(document.pages.size(), "page") +
                    "); print it at 100 % and measure the check line");
  return ExitStatus::done;
}

void add_sheet(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<SheetCommand>();
  command.add_option("kit", options->kit, "The kit file")->required()->type_name("KIT");
  command
      .add_option("-o,--output", options->output,
                  "The PDF to write (else the kit's name with .pdf; - for stdout)")
      ->type_name("FILE");
  command.add_option("--page", options->page, "Paper in the printer: a4 or letter (else what the kit says)")
      ->type_name("SIZE")
      ->check(CLI::IsMember({"a4", "letter"}, CLI::ignore_case));
  command.add_flag("-f,--force", options->force, "Replace the file if it is there");
  call.run = [options](Session& session) { return run_sheet(*options, session); };
}

}  // namespace kithue
