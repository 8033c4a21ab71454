// SPDX-License-Identifier: MIT
#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/stash_commands.h"
#include "swatch/edit.h"

namespace kithue {
namespace {

/// One field set to what the user gave, with the change in words.
MaybeError set_text(const std::optional<std::string>& given, std::string_view what, std::string& field,
                    std::vector<std::string>& changes) {
  if (!given) return std::nullopt;
  const auto text = valid_text(*given, what);
  if (!text) return text.error();
  if (*text == field) return std::nullopt;
  changes.push_back(std::string(what) + " " + (text->empty() ? "taken out" : "\"" + *text + "\""));
  field = *text;
  return std::nullopt;
}

MaybeError set_texts(const StashEditOptions& options, Swatch& swatch, std::vector<std::string>& changes) {
  const bool inky = (options.method && !options.method->empty()) || (options.on && !options.on->empty());
  if (inky && swatch.kind == Kind::stock)
    return Error{ErrorKind::bad_usage, "--method and --on belong to inks, not to a stock", "", ""};
  if (auto fault = set_text(options.method, "method", swatch.method, changes)) return fault;
  // With a reading, --on says what that reading was made on; alone it moves the ink's own surface.
  const bool of_reading = !options.reading.lab.empty() || !options.reading.colour.empty();
  if (!of_reading) {
    if (auto fault = set_text(options.on, "surface", swatch.surface, changes)) return fault;
  }
  if (auto fault = set_text(options.note, "note", swatch.note, changes)) return fault;
  if (options.finish) {
    const Finish finish = *options.finish == "plain" ? Finish::plain : Finish::unmeasurable;
    if (finish != swatch.finish) changes.push_back("finish " + *options.finish);
    swatch.finish = finish;
  }
  if (options.shelf) {
    const bool in_stock = *options.shelf == "in";
    if (in_stock != swatch.in_stock) changes.emplace_back(in_stock ? "in stock again" : "used up");
    swatch.in_stock = in_stock;
  }
  return std::nullopt;
}

MaybeError set_readings(const StashEditOptions& options, Swatch& swatch, std::vector<std::string>& changes) {
  if (options.drop_reading > 0) {
    if (options.drop_reading > swatch.readings.size()) {
      return Error{ErrorKind::not_found,
                   full_name(swatch) + " has " + counted(swatch.readings.size(), "reading"), "",
                   "'kithue stash show id:" + std::to_string(swatch.id) + "' numbers them"};
    }
    swatch.readings.erase(swatch.readings.begin() + static_cast<std::ptrdiff_t>(options.drop_reading - 1));
    changes.push_back("reading " + std::to_string(options.drop_reading) + " dropped");
  }
  const auto surface = valid_text(options.on.value_or(swatch.surface), "surface");
  if (!surface) return surface.error();
  auto reading = reading_from(options.reading, *surface);
  if (!reading) return reading.error();
  if (*reading) {
    changes.push_back("reading " + std::to_string(swatch.readings.size() + 1) + " added");
    swatch.readings.push_back(std::move(**reading));
  }
  if (options.reading.batch.empty()) return std::nullopt;
  return set_text(options.reading.batch, "batch", swatch.batch, changes);
}

MaybeError set_name(const StashEditOptions& options, Swatch& swatch, std::vector<std::string>& changes) {
  if (!options.rename) return std::nullopt;
  const auto name = valid_name(*options.rename);
  if (!name) return name.error();
  if (*name == swatch.name) return std::nullopt;
  changes.push_back("name \"" + *name + "\"");
  swatch.name = *name;
  return std::nullopt;
}

MaybeError edit(const StashEditOptions& options, Stash& stash, Swatch& result,
                std::vector<std::string>& changes) {
  const auto found = find_swatch(stash, options.name);
  if (!found) return found.error();
  Swatch edited = **found;
  if (auto fault = set_name(options, edited, changes)) return fault;
  if (auto fault = set_texts(options, edited, changes)) return fault;
  if (auto fault = set_readings(options, edited, changes)) return fault;
  const Swatch* twin = same_swatch(stash, edited.name, edited.kind, edited.method);
  if (twin != nullptr && twin->id != edited.id) {
    return Error{ErrorKind::bad_usage,
                 "\"" + full_name(*twin) + "\" is in the stash already, as " + id_text(*twin), "",
                 "choose another name"};
  }
  swatch_at(stash, edited.id) = edited;
  result = std::move(edited);
  return std::nullopt;
}

bool asks_nothing(const StashEditOptions& o) {
  return !o.rename && !o.method && !o.on && !o.finish && !o.note && !o.shelf && o.drop_reading == 0 &&
         o.reading.lab.empty() && o.reading.colour.empty() && o.reading.batch.empty();
}

/// CLI11 cannot tell an empty value from none, so each text is kept beside its option.
struct Texts {
  std::string rename, method, on, finish, note, shelf;
};

}  // namespace

ExitStatus run_stash_edit(const StashEditOptions& options, Session& session) {
  if (asks_nothing(options)) {
    return fail(session, {ErrorKind::bad_usage, "nothing to change", "",
                          "say what, as in --name, --note or --reading L,a,b; see 'kithue help stash edit'"});
  }
  Swatch result;
  std::vector<std::string> changes;
  std::vector<Finding> duplicates;
  const auto change = edit_stash(session, options.dry_run, [&](Stash& stash) {
    changes.clear();
    auto fault = edit(options, stash, result, changes);
    if (!fault && !changes.empty()) duplicates = duplicate_findings(stash, {result.id});
    return fault;
  });
  if (!change) return fail(session, change.error());
  if (!options.rename && options.reading.lab.empty() && options.reading.colour.empty()) duplicates.clear();
  if (session.mode == Mode::json) {
    warn_of_duplicates(session, duplicates);
    return answer(session, "stash edit",
                  {{"swatch", swatch_json(result)}, {"changes", changes}, {"dry_run", options.dry_run}});
  }
  if (session.mode == Mode::plain)
    session.out << "id\tname\n" << result.id << '\t' << printable(result.name) << '\n';
  if (changes.empty()) {
    hint(session, id_text(result) + " " + full_name(result) + " is like that already; nothing changed");
  } else {
    tell_change(session, options.dry_run,
                "changed " + id_text(result) + " " + full_name(result) + ": " + joined(changes, ", "));
  }
  warn_of_duplicates(session, duplicates);
  return ExitStatus::done;
}

void add_stash_edit(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<StashEditOptions>();
  const auto texts = std::make_shared<Texts>();
  command.add_option("swatch", options->name, "Name or id of the swatch")->required()->type_name("NAME");
  command.add_option("--name", texts->rename, "A new name")->type_name("NAME");
  command.add_option("--method", texts->method, "How the ink is put on")->type_name("TEXT");
  command.add_option("--on", texts->on, "The stock it was stamped on; with --reading, of that reading only")
      ->type_name("STOCK");
  command.add_option("--finish", texts->finish, "plain, or one that cannot be measured")
      ->type_name("FINISH")
      ->check(CLI::IsMember({"plain", "metallic", "glitter", "pearl", "foil"}));
  command.add_option("--note", texts->note, "Anything worth keeping")->type_name("TEXT");
  command.add_option("--shelf", texts->shelf, "in: there is some left; out: used up")
      ->type_name("in|out")
      ->check(CLI::IsMember({"in", "out"}));
  add_reading_options(command, options->reading, "--reading");
  command
      .add_option("--drop-reading", options->drop_reading,
                  "Take this reading out, by its number in 'stash show'")
      ->type_name("N")
      ->check(CLI::PositiveNumber);
  command.add_flag("-n,--dry-run", options->dry_run, "Say what would change and write nothing");
  call.run = [options, texts, &command](Session& session) {
    const auto given = [&](const char* flag, const std::string& text) {
      return command.count(flag) > 0 ? std::optional<std::string>(text) : std::nullopt;
    };
    options->rename = given("--name", texts->rename);
    options->method = given("--method", texts->method);
    options->on = given("--on", texts->on);
    options->finish = given("--finish", texts->finish);
    options->note = given("--note", texts->note);
    options->shelf = given("--shelf", texts->shelf);
    return run_stash_edit(*options, session);
  };
}

}  // namespace kithue
