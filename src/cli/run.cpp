// SPDX-License-Identifier: MIT
#include <CLI/CLI.hpp>
#include <algorithm>
#include <exception>
#include <map>
#include <ostream>

#include "base/text.h"
#include "cli/command.h"
#include "cli/help.h"
#include "cli/version.h"

namespace kithue {
namespace {

struct GlobalOptions {
  bool json = false;
  bool plain = false;
  bool quiet = false;
  bool verbose = false;
  bool no_input = false;
  bool no_color = false;
  std::string color = "auto";
  std::string stash;
  std::size_t threads = 0;
};

constexpr const char* kShortHelp =
    "kithue: which cardstocks and inks go with a pack of patterned paper.\n"
    "\n"
    "The three things done most:\n"
    "  kithue extract photo.jpg       read the palette out of a photo of patterned paper\n"
    "  kithue match \"lab(52 43 21)\"   find the nearest cardstocks and inks you own\n"
    "  kithue sheet kit.toml          draw the swatch sheet for a kit as a PDF\n"
    "\n"
    "'kithue --help' lists every command; 'kithue help COMMAND' explains one, with examples.\n";

bool is_set(const std::optional<std::string>& value) {
  return value && !value->empty();
}

/// --color beats NO_COLOR beats CLICOLOR_FORCE beats TERM=dumb beats "is it a terminal".
Paint decide_paint(const GlobalOptions& globals, const Surroundings& around) {
  const auto env = [&](const char* name) { return around.environment(name); };
  bool wanted = around.out_is_terminal && env("TERM") != "dumb";
  if (is_set(env("CLICOLOR_FORCE")) && env("CLICOLOR_FORCE") != "0") wanted = true;
  if (is_set(env("NO_COLOR"))) wanted = false;
  if (globals.color != "auto") wanted = globals.color == "always";
  if (globals.no_color) wanted = false;
  if (!wanted) return Paint::none;
  const auto deep = env("COLORTERM");
  return deep == "truecolor" || deep == "24bit" ? Paint::truecolour : Paint::colours256;
}

std::string absolute_or_empty(const std::optional<std::string>& path) {
  return path && path->starts_with('/') ? *path : std::string();
}

/// --stash, else KITHUE_STASH, else the XDG data directory. Empty when even HOME is not known.
std::string decide_stash(const GlobalOptions& globals, const Surroundings& around) {
  if (!globals.stash.empty()) return globals.stash;
  if (const auto named = around.environment("KITHUE_STASH"); is_set(named)) return *named;
  std::string data = absolute_or_empty(around.environment("XDG_DATA_HOME"));
  if (data.empty()) {
    const std::string home = absolute_or_empty(around.environment("HOME"));
    if (home.empty()) return {};
    data = home + "/.local/share";
  }
  return data + "/kithue/stash.cgats";
}

/// Where what was read from photos is remembered; empty when there is no place for it.
std::string decide_cache(const Surroundings& around) {
  std::string cache = absolute_or_empty(around.environment("XDG_CACHE_HOME"));
  if (cache.empty()) {
    const std::string home = absolute_or_empty(around.environment("HOME"));
    if (home.empty()) return {};
    cache = home + "/.cache";
  }
  return cache + "/kithue/faces";
}

void add_globals(CLI::App& app, GlobalOptions& globals) {
  // By option, not by name: CLI11 2.3 looks a name up where memory may not run out.
  CLI::Option* const json = app.add_flag("--json", globals.json, "Print one JSON object");
  app.add_flag("--plain", globals.plain, "Print tab-separated lines for scripts")->excludes(json);
  app.add_option("--stash", globals.stash, "The stash file (else KITHUE_STASH, else the data folder)")
      ->type_name("FILE");
  app.add_option("--threads", globals.threads, "Threads to use; the answer is the same for any number")
      ->type_name("N")
      ->check(CLI::Range(1, 256));
  app.add_option("--color", globals.color, "When to colour the output")
      ->type_name("WHEN")
      ->check(CLI::IsMember({"auto", "always", "never"}));
  app.add_flag("--no-color", globals.no_color, "No colour, whatever the terminal can do");
  app.add_flag("-q,--quiet", globals.quiet, "Say nothing that is not the result");
  app.add_flag("-v,--verbose", globals.verbose, "Say more");
  app.add_flag("--no-input", globals.no_input, "Never ask");
}

std::string_view without_end_of_line(std::string_view text) {
  while (text.ends_with('\n')) text.remove_suffix(1);
  return text;
}

/// The App of every command by its full name.
using Apps = std::map<std::string, CLI::App*, std::less<>>;

/// What each command would run; only the one that was asked for does.
using Calls = std::map<const CLI::App*, Invocation>;

const CLI::App* asked_for(const CLI::App& app) {
  const CLI::App* at = &app;
  while (!at->get_subcommands().empty()) at = at->get_subcommands().front();
  return at;
}

/// A noun without its verb, or nothing at all.
Error no_command(const CLI::App& app) {
  const CLI::App* at = asked_for(app);
  if (at == &app) return {ErrorKind::bad_usage, "no command given", "", "see 'kithue --help'"};
  std::vector<std::string> verbs;
  for (const CLI::App* verb : at->get_subcommands([](const CLI::App*) { return true; }))
    verbs.push_back(verb->get_name());
  return {ErrorKind::bad_usage, "'" + at->get_name() + "' needs to know what to do", "",
          "one of " + joined(verbs, ", ") + "; see 'kithue help " + at->get_name() + "'"};
}

Apps add_commands(CLI::App& app, Calls& calls) {
  Apps apps;
  for (const CommandInfo& info : command_table()) {
    const auto space = info.name.find(' ');
    CLI::App* parent =
        space == std::string_view::npos ? &app : apps.at(std::string(info.name.substr(0, space)));
    const std::string word(space == std::string_view::npos ? info.name : info.name.substr(space + 1));
    CLI::App* command = parent->add_subcommand(word, std::string(info.summary));
    command->fallthrough();
    command->set_help_flag("-h,--help", "Show this help");
    if (!info.examples.empty()) command->footer(std::string(without_end_of_line(info.examples)));
    if (info.add != nullptr) {
      info.add(*command, calls[command]);
    } else {
      command->require_subcommand(0, 1);
    }
    apps.emplace(std::string(info.name), command);
  }
  return apps;
}

std::string without_end(std::string text) {
  while (!text.empty() && (text.back() == '\n' || text.back() == ' ' || text.back() == '.')) text.pop_back();
  return text;
}

/// "in range 0.050000 to 5.000000" as people write it: "0.05 to 5".
std::string short_numbers(const std::string& text) {
  std::vector<std::string> words;
  for (const std::string_view word : split(text, ' ')) {
    std::string_view kept = word;
    const auto value = parse_number(word);
    if (value && word.find('.') != std::string_view::npos) {
      while (kept.ends_with('0')) kept.remove_suffix(1);
      if (kept.ends_with('.')) kept.remove_suffix(1);
    }
    words.emplace_back(kept);
  }
  return joined(words, " ");
}

/// One line that says what is wrong with the words, with near spellings where there are any.
Error usage_error(const CLI::ParseError& fault, const CLI::App& app, const std::vector<std::string>& args) {
  Error error{ErrorKind::bad_usage, short_numbers(without_end(fault.what())), "", "see 'kithue --help'"};
  std::replace(error.what.begin(), error.what.end(), '\n', ' ');
  const CLI::App* at = asked_for(app);
  if (at != &app)
    error.advice = "see 'kithue help " +
                   (at->get_parent() == &app ? "" : at->get_parent()->get_name() + " ") + at->get_name() +
                   "'";
  std::vector<std::string> known;
  for (const CLI::App* command : at->get_subcommands([](const CLI::App*) { return true; }))
    known.push_back(command->get_name());
  for (const CLI::App* level = at; level != nullptr; level = level->get_parent()) {
    for (const CLI::Option* option : level->get_options()) {
      for (const std::string& name : option->get_lnames()) known.push_back("--" + name);
    }
  }
  if (dynamic_cast<const CLI::ExtrasError*>(&fault) == nullptr) return error;
  const auto extras = at->remaining(true);
  const auto extra = extras.empty() ? app.remaining(true) : extras;
  if (extra.empty() || args.empty()) return error;
  const std::string word = extra.front().substr(0, extra.front().find('='));
  const bool flag = word.starts_with('-');
  error.what = flag ? "no such option: " + word
               : at->get_subcommands([](const CLI::App*) { return true; }).empty()
                   ? "one word too many: " + word
                   : "no such command: " + word;
  const auto near = near_spellings(word, known);
  if (!near.empty()) error.advice = "did you mean " + joined(near, " or ") + "?";
  return error;
}

bool asks_for_json(const std::vector<std::string>& args) {
  return std::find(args.begin(), std::find(args.begin(), args.end(), "--"), "--json") != args.end();
}

/// "help stash add" -> "stash add --help"; a lone "help" -> "--help".
std::vector<std::string> help_as_flag(std::vector<std::string> args) {
  if (args.empty() || args.front() != "help") return args;
  args.erase(args.begin());
  args.emplace_back("--help");
  return args;
}

}  // namespace

int run_kithue(const std::vector<std::string>& given, const Surroundings& around) {
  const std::vector<std::string> args = help_as_flag(given);
  const auto serial = std::make_unique<SerialExecutor>();
  Session early{around.out, around.err, *serial};
  early.mode = asks_for_json(args) ? Mode::json : Mode::text;
  const auto finish = [&](Session& session, ExitStatus status) {
    around.out.flush();
    if (around.out.good()) return static_cast<int>(status);
    return static_cast<int>(fail(session, {ErrorKind::cannot_write, "cannot write the result",
                                           "standard output", "is the disk full?"}));
  };
  if (args.empty()) {
    around.out << kShortHelp;
    return finish(early, ExitStatus::done);
  }
  for (const std::string& arg : args) {
    if (!is_utf8(arg)) {
      return finish(early, fail(early, {ErrorKind::bad_usage, "this is not UTF-8 text: " + arg, "", ""}));
    }
  }
  GlobalOptions globals;
  Calls calls;
  CLI::App app{"Colour coordination for paper-craft class kits.", "kithue"};
  try {
    app.set_help_flag("-h,--help", "Show this help");
    app.set_version_flag("--version", version_text());
    app.require_subcommand(0, 1);
    add_globals(app, globals);
    const Apps apps = add_commands(app, calls);
    std::vector<std::string> reversed(args.rbegin(), args.rend());
    app.parse(std::move(reversed));
  } catch (const CLI::CallForHelp&) {
    around.out << help_text(*asked_for(app), around.columns);
    return finish(early, ExitStatus::done);
  } catch (const CLI::CallForVersion&) {
    around.out << version_text() << '\n';
    return finish(early, ExitStatus::done);
  } catch (const CLI::ParseError& fault) {
    return finish(early, fail(early, usage_error(fault, app, args)));
  }
  const Invocation& call = calls[asked_for(app)];
  if (!call.run) return finish(early, fail(early, no_command(app)));
  const auto executor = around.make_executor(globals.threads);
  Session session{around.out, around.err, *executor};
  session.mode = globals.json ? Mode::json : globals.plain ? Mode::plain : Mode::text;
  session.paint = session.mode == Mode::text ? decide_paint(globals, around) : Paint::none;
  session.err_is_terminal = around.err_is_terminal;
  session.columns = around.columns;
  session.quiet = globals.quiet;
  session.verbose = globals.verbose;
  session.no_input = globals.no_input;
  session.stash_path = decide_stash(globals, around);
  session.stash_named = !globals.stash.empty() || is_set(around.environment("KITHUE_STASH"));
  session.cache_folder = decide_cache(around);
  session.in = globals.no_input ? nullptr : around.in;
  try {
    return finish(session, call.run(session));
  } catch (const std::bad_alloc&) {
    return finish(session, fail(session, {ErrorKind::impossible, "not enough memory for this", "",
                                          "try a smaller file"}));
  } catch (const std::exception& fault) {
    return finish(session, fail(session, {ErrorKind::internal, std::string("our fault: ") + fault.what(), "",
                                          "nothing was changed; please report it"}));
  }
}

}  // namespace kithue
