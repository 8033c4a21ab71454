// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <functional>
#include <iosfwd>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/executor.h"
#include "base/result.h"

namespace CLI {
class App;
}

namespace kithue {

/// What the program hands back to the shell. 130 (interrupted) is set by the signal handler in main.cpp.
enum class ExitStatus : int {
  done = 0,
  found = 1,  ///< only with --fail-on: a check found something
  wrong_usage = 2,
  bad_input = 3,
  not_found = 4,  ///< or ambiguous
  cannot_read_write = 5,
  busy = 6,
  damaged = 7,  ///< the stash is damaged or too new
  impossible = 8,
  our_fault = 70
};
ExitStatus status_of(ErrorKind kind) noexcept;
/// "bad_input", "not_found", ...: the code of a JSON error.
std::string_view code_of(ErrorKind kind) noexcept;

enum class Mode { text, plain, json };
enum class Paint { none, colours256, truecolour };

/// Everything a command may touch besides its own options. Tests make one with string streams.
struct Session {
  std::ostream& out;   ///< results
  std::ostream& err;   ///< warnings, progress, hints
  Executor& executor;  ///< the threads of this run
  Mode mode = Mode::text;
  Paint paint = Paint::none;  ///< what stdout can show
  bool err_is_terminal = false;
  std::size_t columns = 80;  ///< width of the terminal, 80 when there is none
  bool quiet = false;        ///< no hints and no "saved ..." lines
  bool verbose = false;
  bool no_input = false;              ///< never ask
  std::string stash_path;             ///< where the stash is, or would be
  bool stash_named = false;           ///< the user named it (--stash or KITHUE_STASH)
  std::string cache_folder;           ///< of what photos said before; empty: nothing is kept
  std::istream* in = nullptr;         ///< answers to questions; null when nobody can be asked
  std::vector<std::string> warnings;  ///< said on err as they come, repeated in JSON
};

/// A warning: one line on err, cleaned, and kept for the JSON answer.
void warn(Session& session, const std::string& line);
/// A line for people on err ("saved ...", "next: ..."), left out with --quiet, --json and --plain.
void hint(Session& session, const std::string& line);
/// Prints the error, once: one line on err; in JSON mode the error object on out as well.
ExitStatus fail(Session& session, const Error& error);
/// In JSON mode: prints the one answer object and returns `done`. REQUIRES: session.mode == Mode::json.
ExitStatus answer(Session& session, std::string_view command, const nlohmann::ordered_json& data);

/// Prints an answer the way this run asks for: one of the three.
template <typename Json, typename Plain, typename Text>
ExitStatus present(Session& session, Json json, Plain plain, Text text) {
  if (session.mode == Mode::json) return json();
  if (session.mode == Mode::plain)
    plain();
  else
    text();
  return ExitStatus::done;
}

/// What parsing the command line leaves behind: the command to run.
struct Invocation {
  std::function<ExitStatus(Session&)> run;
};

/// One row of the command table: it makes parsing and help.
struct CommandInfo {
  std::string_view name;      ///< "match", or "stash add" for a verb under a noun
  std::string_view summary;   ///< one line, no full stop
  std::string_view examples;  ///< two or more lines, each a whole command that works on the demo
  void (*add)(CLI::App& command, Invocation& call);  ///< adds the options; nullptr for a noun
};
/// Every command, nouns before their verbs. A new command is one row here and one file beside it.
std::span<const CommandInfo> command_table();

/// Parses, runs, reports. `args` has no program name. Returns the exit status.
struct Surroundings {
  std::ostream& out;
  std::ostream& err;
  std::function<std::optional<std::string>(const char*)> environment;
  bool out_is_terminal = false;
  bool err_is_terminal = false;
  std::size_t columns = 80;
  std::function<std::unique_ptr<Executor>(std::size_t threads)> make_executor;  ///< 0: one a core
  std::istream* in = nullptr;  ///< standard input where somebody can answer a question, else null
};
int run_kithue(const std::vector<std::string>& args, const Surroundings& around);

}  // namespace kithue
