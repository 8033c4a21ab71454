// SPDX-License-Identifier: MIT
#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/files.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/stash_commands.h"
#include "swatch/cgats.h"
#include "swatch/edit.h"
#include "swatch/import.h"

namespace kithue {
namespace {

constexpr std::size_t kShownRejections = 5;

Result<ImportOptions> options_for(const StashImportOptions& options) {
  ImportOptions made{std::nullopt, options.method, options.white, options.batch, options.source, "", {}};
  const auto date = valid_date(options.date);
  if (!date) return date.error();
  made.date = *date;
  made.dryness = options.wet ? Dryness::wet : Dryness::unknown;
  if (!options.kind.empty()) {
    made.kind = kind_from(folded(options.kind));
    if (!made.kind)
      return Error{ErrorKind::bad_usage, "no such kind: " + options.kind, "", "stock, ink or other"};
  }
  return made;
}

std::string words_for(const Rejection& rejection, const std::string& file) {
  std::string line = file + ":" + std::to_string(rejection.line) + ": ";
  if (!rejection.column.empty())
    line += rejection.column + " \"" + cut_to_width(rejection.value, 40) + "\": ";
  return line + rejection.reason;
}

void show_rejections(Session& session, const Import& import, const std::string& file) {
  for (std::size_t i = 0; i < import.rejected.size() && i < kShownRejections; ++i)
    session.err << "  " << printable(words_for(import.rejected[i], file)) << '\n';
  if (import.rejected.size() > kShownRejections)
    session.err << "  and " << import.rejected.size() - kShownRejections << " more\n";
}

nlohmann::ordered_json rejections_json(const Import& import) {
  auto list = nlohmann::ordered_json::array();
  for (const Rejection& one : import.rejected)
    list.push_back(
        {{"line", one.line}, {"column", one.column}, {"value", one.value}, {"reason", one.reason}});
  return list;
}

Error refused(const Import& import, const std::string& file) {
  const Rejection& first = import.rejected.front();
  const bool whole_file = std::any_of(import.rejected.begin(), import.rejected.end(),
                                      [](const Rejection& one) { return !one.is_row; });
  return {ErrorKind::bad_input,
          "nothing was imported: " +
              (whole_file ? counted(import.rejected.size(), "fault") + " in a file of "
                          : std::to_string(import.rejected.size()) + " of ") +
              counted(import.row_count(), "row") + (whole_file ? "" : " cannot be taken") + "; the first: " +
              (first.column.empty() ? "" : first.column + " \"" + cut_to_width(first.value, 40) + "\": ") +
              first.reason,
          file + ":" + std::to_string(first.line), "mend them, or take the others with --partial"};
}

}  // namespace

ExitStatus run_stash_import(const StashImportOptions& options, Session& session) {
  const auto wanted = options_for(options);
  if (!wanted) return fail(session, wanted.error());
  const std::string file = options.file == "-" ? "standard input" : options.file;
  auto bytes = read_file(options.file == "-" ? "/dev/stdin" : options.file, kMostFileBytes);
  if (!bytes) return fail(session, bytes.error());
  const auto import = read_import(std::move(*bytes), file, *wanted);
  if (!import) return fail(session, import.error());
  for (const std::string& warning : import->warnings) warn(session, file + ": " + warning);
  const bool refuse = !import->rejected.empty() && !options.partial;
  if (refuse && !options.dry_run) {
    if (import->rejected.size() > 1) show_rejections(session, *import, file);
    return fail(session, refused(*import, file));
  }
  ImportCount count;
  std::vector<Finding> duplicates;
  const auto change = edit_stash(session, options.dry_run, [&](Stash& stash) -> MaybeError {
    count = merge_import(stash, *import);
    duplicates = duplicate_findings(stash, count.changed);
    return std::nullopt;
  });
  if (!change) return fail(session, change.error());
  const std::size_t rows = import->row_count();
  if (session.mode == Mode::json) {
    warn_of_duplicates(session, duplicates);
    return answer(session, "stash import",
                  {{"rows", rows},
                   {"new_swatches", count.new_swatches},
                   {"new_readings", count.new_readings},
                   {"already_there", count.already_there},
                   {"rejected", rejections_json(*import)},
                   {"dry_run", options.dry_run}});
  }
  if (session.mode == Mode::plain) {
    session.out << "rows\tnew_swatches\tnew_readings\talready_there\trejected\n"
                << rows << '\t' << count.new_swatches << '\t' << count.new_readings << '\t'
                << count.already_there << '\t' << import->rejected.size() << '\n';
  }
  if (!import->rejected.empty()) {
    warn(session, file + ": " + counted(import->rejected.size(), "row") +
                      (refuse ? " would stop the import (--partial leaves them out)" : " left out"));
    show_rejections(session, *import, file);
  }
  const std::string line = counted(rows, "row") + " read: " + std::to_string(count.new_swatches) +
                           (count.new_swatches == 1 ? " new swatch, " : " new swatches, ") +
                           counted(count.new_readings, "new reading") + ", " +
                           std::to_string(count.already_there) + " there already, " +
                           std::to_string(import->rejected.size()) + " rejected";
  if (change->written || options.dry_run) {
    tell_change(session, options.dry_run, line);
  } else {
    hint(session, line + "; nothing changed");
  }
  warn_of_duplicates(session, duplicates);
  return ExitStatus::done;
}

void add_stash_import(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<StashImportOptions>();
  command.add_option("file", options->file, "A CSV or CGATS file; - is standard input")
      ->required()
      ->type_name("FILE");
  command
      .add_option("--kind", options->kind,
                  "What the rows are, where the file does not say: stock, ink or other")
      ->type_name("KIND");
  command.add_option("--method", options->method, "How the inks are put on, where the file does not say")
      ->type_name("TEXT");
  command
      .add_option("--white", options->white,
                  "The white of the numbers, where the file does not say, as in D65/10")
      ->type_name("WHITE");
  command.add_option("--batch", options->batch, "Dye lot or delivery, where the file does not say")
      ->type_name("TEXT");
  command.add_option("--source", options->source, "Instrument, where the file does not say")
      ->type_name("TEXT");
  command.add_option("--date", options->date, "The day of the readings, where the file does not say")
      ->type_name("DAY");
  command.add_flag("--wet", options->wet, "The ink was still wet, where the file does not say");
  command.add_flag("--partial", options->partial, "Take the good rows, leave the others out");
  command.add_flag("-n,--dry-run", options->dry_run, "Say what would change and write nothing");
  call.run = [options](Session& session) { return run_stash_import(*options, session); };
}

}  // namespace kithue
