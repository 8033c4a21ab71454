// SPDX-License-Identifier: MIT
#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/files.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/stash_commands.h"
#include "swatch/export.h"
#include "swatch/stash_file.h"

namespace kithue {

ExitStatus run_stash_export(const StashExportOptions& options, Session& session) {
  const bool to_file = options.output != "-";
  if (!to_file && session.mode == Mode::json) {
    return fail(session, {ErrorKind::bad_usage, "an export is a file of its own, not a part of a JSON answer",
                          "", "name a file with --output, or use 'kithue stash list --json'"});
  }
  const auto stash = open_stash(session);
  if (!stash) return fail(session, stash.error());
  const bool ends_csv = folded(options.output).ends_with(".csv");
  const std::string format = !options.format.empty() ? options.format
                             : !to_file || ends_csv  ? "csv"
                                                     : "cgats";
  const std::string text = format == "csv" ? csv_text(*stash) : stash_text(*stash);
  if (!to_file) {
    session.out << text;
    return ExitStatus::done;
  }
  ReplaceOptions replace;
  replace.only_if_new = !options.force;
  replace.mode = kSharedMode;
  const auto written = replace_file_atomically(options.output, text, replace);
  if (!written) return fail(session, written.error());
  if (!written->doubt.empty()) warn(session, "written, but a power cut might undo it: " + written->doubt);
  const std::size_t count = stash->swatches.size();
  if (session.mode == Mode::json) {
    return answer(session, "stash export",
                  {{"file", options.output}, {"format", format}, {"swatches", count}});
  }
  if (session.mode == Mode::plain)
    session.out << "file\tswatches\n" << printable(options.output) << '\t' << count << '\n';
  hint(session,
       "wrote " + std::to_string(count) + (count == 1 ? " swatch to " : " swatches to ") + options.output);
  return ExitStatus::done;
}

void add_stash_export(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<StashExportOptions>();
  command.add_option("-o,--output", options->output, "Where to; standard output if left out")
      ->type_name("FILE");
  command.add_option("--format", options->format, "csv or cgats; by the file's ending if left out")
      ->type_name("FORMAT")
      ->check(CLI::IsMember({"csv", "cgats"}));
  command.add_flag("-f,--force", options->force, "Write over a file of that name");
  call.run = [options](Session& session) { return run_stash_export(*options, session); };
}

}  // namespace kithue
