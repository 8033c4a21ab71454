// SPDX-License-Identifier: MIT
#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/stash_commands.h"

namespace kithue {

ExitStatus run_stash_undo(const StashUndoOptions& options, Session& session) {
  const auto undo = undo_stash(session.stash_path, options.dry_run);
  if (!undo) return fail(session, undo.error());
  if (!undo->doubt.empty()) warn(session, "undone, but a power cut might bring it back: " + undo->doubt);
  const std::size_t count = undo->stash.swatches.size();
  if (session.mode == Mode::json) {
    return answer(session, "stash undo",
                  {{"swatches", count}, {"left", undo->left}, {"dry_run", options.dry_run}});
  }
  if (session.mode == Mode::plain) session.out << "swatches\tleft\n" << count << '\t' << undo->left << '\n';
  const std::string state = "the stash as it was before the last change, with " + std::to_string(count) +
                            (count == 1 ? " swatch" : " swatches");
  if (options.dry_run) {
    hint(session, "dry run, nothing written: would bring back " + state);
  } else {
    hint(session, "brought back " + state + "; " + counted(undo->left, "more step") + " can be undone" +
                      (undo->set_aside.empty() ? "" : "; what was undone is in " + undo->set_aside));
  }
  return ExitStatus::done;
}

void add_stash_undo(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<StashUndoOptions>();
  command.add_flag("-n,--dry-run", options->dry_run, "Say what would come back and write nothing");
  call.run = [options](Session& session) { return run_stash_undo(*options, session); };
}

}  // namespace kithue
