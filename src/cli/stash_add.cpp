// SPDX-License-Identifier: MIT
#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/stash_commands.h"
#include "swatch/edit.h"

namespace kithue {
namespace {

Error usage(std::string what, std::string advice) {
  return {ErrorKind::bad_usage, std::move(what), "", std::move(advice)};
}

/// The kind said, or ink when a method or a paper was: those belong to inks.
Result<Kind> kind_of(const StashAddOptions& options) {
  const bool inky = !options.method.empty() || !options.on.empty();
  if (options.kind.empty()) {
    if (inky) return Kind::ink;
    return usage("is it a stock, an ink or something else?", "add --kind stock, --kind ink or --kind other");
  }
  const auto kind = kind_from(folded(options.kind));
  if (!kind) return usage("no such kind: " + options.kind, "--kind stock, --kind ink or --kind other");
  if (*kind == Kind::stock && inky)
    return usage("--method and --on belong to inks, not to a stock", "use --kind ink");
  return *kind;
}

Result<Swatch> swatch_from(const StashAddOptions& options) {
  Swatch swatch;
  const auto name = valid_name(options.name);
  if (!name) return name.error();
  swatch.name = *name;
  const auto kind = kind_of(options);
  if (!kind) return kind.error();
  swatch.kind = *kind;
  const auto method = valid_text(options.method, "method");
  if (!method) return method.error();
  swatch.method = *method;
  const auto surface = valid_text(options.on, "surface");
  if (!surface) return surface.error();
  swatch.surface = *surface;
  const auto note = valid_text(options.note, "note");
  if (!note) return note.error();
  swatch.note = *note;
  const std::string finish = folded(options.finish);
  if (!finish.empty() && finish != "plain") {
    swatch.finish = Finish::unmeasurable;
    swatch.note = swatch.note.empty() ? finish : finish + "; " + swatch.note;
  }
  auto reading = reading_from(options.reading, swatch.surface);
  if (!reading) return reading.error();
  if (*reading) {
    swatch.batch = (*reading)->batch;
    swatch.readings.push_back(std::move(**reading));
  } else {
    const auto batch = valid_text(options.reading.batch, "batch");
    if (!batch) return batch.error();
    swatch.batch = *batch;
    if (swatch.finish == Finish::plain) {
      return usage("no reading given",
                   "add --lab L,a,b --white D50/2, or --finish metallic, glitter, pearl or foil");
    }
  }
  return swatch;
}

/// A reading of another batch of a swatch that is there: true when it was taken in.
bool took_batch(Swatch& there, const Swatch& wanted) {
  if (wanted.readings.size() != 1 || wanted.batch.empty()) return false;
  const Reading& reading = wanted.readings.front();
  const auto& held = there.readings;
  if (std::find(held.begin(), held.end(), reading) != held.end()) return false;
  if (!wanted.note.empty() && wanted.note != there.note) return false;
  if (there.finish != wanted.finish || (!wanted.surface.empty() && wanted.surface != there.surface))
    return false;
  there.readings.push_back(reading);
  there.readings.back().surface = there.surface;
  there.batch = wanted.batch;
  return true;
}

/// True when the swatch holds just this already: its one reading among others, nothing else said.
bool holds(const Swatch& there, const Swatch& wanted) {
  return !wanted.batch.empty() && wanted.readings.size() == 1 && wanted.note.empty() &&
         std::find(there.readings.begin(), there.readings.end(), wanted.readings.front()) !=
             there.readings.end();
}

/// The same thing given twice changes nothing; anything else of that name is refused.
MaybeError refuse_other(const Swatch& there, const Swatch& wanted) {
  Swatch twin = wanted;
  twin.id = there.id;
  twin.retired = there.retired;
  twin.in_stock = there.in_stock;
  if (twin == there) return std::nullopt;
  return Error{
      ErrorKind::bad_usage, "\"" + full_name(there) + "\" is in the stash already, as " + id_text(there), "",
      "add a reading to it with 'kithue stash edit id:" + std::to_string(there.id) + " --reading L,a,b'"};
}

}  // namespace

ExitStatus run_stash_add(const StashAddOptions& options, Session& session) {
  const auto wanted = swatch_from(options);
  if (!wanted) return fail(session, wanted.error());
  Swatch result;
  bool added = false;
  bool is_new = false;
  std::vector<Finding> duplicates;
  const auto change = edit_stash(session, options.dry_run, [&](Stash& stash) -> MaybeError {
    added = is_new = false;
    if (const Swatch* there = same_swatch(stash, wanted->name, wanted->kind, wanted->method)) {
      Swatch& mine = swatch_at(stash, there->id);
      added = took_batch(mine, *wanted);
      result = mine;
      duplicates = duplicate_findings(stash, {result.id});
      return added || holds(mine, *wanted) ? std::nullopt : refuse_other(mine, *wanted);
    }
    result = append_swatch(stash, *wanted);
    added = is_new = true;
    duplicates = duplicate_findings(stash, {result.id});
    return std::nullopt;
  });
  if (!change) return fail(session, change.error());
  if (session.mode == Mode::json) {
    if (added) warn_of_duplicates(session, duplicates);
    return answer(session, "stash add",
                  {{"swatch", swatch_json(result)}, {"added", added}, {"dry_run", options.dry_run}});
  }
  if (session.mode == Mode::plain)
    session.out << "id\tname\n" << result.id << '\t' << printable(result.name) << '\n';
  const std::string name = id_text(result) + " " + full_name(result);
  if (added) {
    tell_change(session, options.dry_run,
                is_new ? "added " + name
                       : "added a reading of batch " + result.batch + " to " + name +
                             "; 'kithue stash drift id:" + std::to_string(result.id) + "' compares batches");
  } else {
    hint(session, name + " is there already, just so; nothing changed");
  }
  if (added) warn_of_duplicates(session, duplicates);
  return ExitStatus::done;
}

void add_stash_add(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<StashAddOptions>();
  command.add_option("name", options->name, "The name, as you say it")->required()->type_name("NAME");
  command.add_option("--kind", options->kind, "stock, ink or other")->type_name("KIND");
  command
      .add_option("--method", options->method, "How the ink is put on: pad, marker, wash, embossing powder")
      ->type_name("TEXT");
  command
      .add_option("--on", options->on,
                  "The stock the ink was stamped on for this reading; a white one if left out")
      ->type_name("STOCK");
  command.add_option("--finish", options->finish, "plain, or one that cannot be measured")
      ->type_name("FINISH")
      ->check(CLI::IsMember({"plain", "metallic", "glitter", "pearl", "foil"}));
  command.add_option("--note", options->note, "Anything worth keeping")->type_name("TEXT");
  add_reading_options(command, options->reading, "--lab");
  command.add_flag("-n,--dry-run", options->dry_run, "Say what would change and write nothing");
  call.run = [options](Session& session) { return run_stash_add(*options, session); };
}

}  // namespace kithue
