// SPDX-License-Identifier: MIT
#include <CLI/CLI.hpp>
#include <istream>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/stash_commands.h"
#include "swatch/edit.h"

namespace kithue {
namespace {

ExitStatus report(Session& session, std::string_view command, const Swatch& swatch, bool changed,
                  bool dry_run) {
  if (session.mode == Mode::json) {
    return answer(session, command,
                  {{"swatch", swatch_json(swatch)}, {"changed", changed}, {"dry_run", dry_run}});
  }
  if (session.mode == Mode::plain)
    session.out << "id\tname\n" << swatch.id << '\t' << printable(swatch.name) << '\n';
  return ExitStatus::done;
}

std::string called(const Swatch& swatch) {
  return id_text(swatch) + " " + full_name(swatch);
}

/// Asks, where somebody can answer; else the caller must have said --force.
MaybeError make_sure(Session& session, const Swatch& swatch) {
  const std::string question =
      "remove " + called(swatch) + " with " + counted(swatch.readings.size(), "reading");
  if (session.in == nullptr) {
    return Error{ErrorKind::bad_usage, "nobody is here to ask: " + question + "?", "",
                 "add --force, or keep it with 'kithue stash retire id:" + std::to_string(swatch.id) + "'"};
  }
  session.err << printable(question) << "? [y/N] " << std::flush;
  std::string line;
  std::getline(*session.in, line);
  const std::string said = folded(line);
  if (said == "y" || said == "yes") return std::nullopt;
  return Error{ErrorKind::bad_usage, "not removed", "", "answer y to remove it"};
}

}  // namespace

ExitStatus run_stash_retire(const StashRetireOptions& options, Session& session) {
  Swatch result;
  bool changed = false;
  const auto change = edit_stash(session, options.dry_run, [&](Stash& stash) -> MaybeError {
    const auto found = find_swatch(stash, options.name);
    if (!found) return found.error();
    Swatch& swatch = swatch_at(stash, (*found)->id);
    changed = swatch.retired == options.back;
    swatch.retired = !options.back;
    result = swatch;
    return std::nullopt;
  });
  if (!change) return fail(session, change.error());
  if (changed) {
    tell_change(session, options.dry_run, (options.back ? "brought back " : "retired ") + called(result));
  } else {
    hint(session,
         called(result) + (options.back ? " is not retired" : " is retired already") + "; nothing changed");
  }
  return report(session, "stash retire", result, changed, options.dry_run);
}

ExitStatus run_stash_remove(const StashRemoveOptions& options, Session& session) {
  // Asked before the lock is taken, so that nobody waits on an answer.
  const auto loaded = open_stash(session);
  if (!loaded) return fail(session, loaded.error());
  const auto found = find_swatch(*loaded, options.name);
  if (!found) return fail(session, found.error());
  const Swatch wanted = **found;
  if (!options.force && !options.dry_run) {
    if (auto fault = make_sure(session, wanted)) return fail(session, *fault);
  }
  const auto change = edit_stash(session, options.dry_run, [&](Stash& stash) -> MaybeError {
    const Swatch* now = swatch_with_id(stash, wanted.id);
    if (now == nullptr || !(*now == wanted)) {
      return Error{ErrorKind::not_found, called(wanted) + " changed while you were asked", "",
                   "look at it and try again"};
    }
    erase_swatch(stash, wanted.id);
    return std::nullopt;
  });
  if (!change) return fail(session, change.error());
  tell_change(session, options.dry_run, "removed " + called(wanted));
  return report(session, "stash remove", wanted, true, options.dry_run);
}

void add_stash_retire(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<StashRetireOptions>();
  command.add_option("name", options->name, "Name or id of the swatch")->required()->type_name("NAME");
  command.add_flag("--back", options->back, "Bring it back into use");
  command.add_flag("-n,--dry-run", options->dry_run, "Say what would change and write nothing");
  call.run = [options](Session& session) { return run_stash_retire(*options, session); };
}

void add_stash_remove(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<StashRemoveOptions>();
  command.add_option("name", options->name, "Name or id of the swatch")->required()->type_name("NAME");
  command.add_flag("-f,--force", options->force, "Do not ask");
  command.add_flag("-n,--dry-run", options->dry_run, "Say what would change and write nothing");
  call.run = [options](Session& session) { return run_stash_remove(*options, session); };
}

}  // namespace kithue
