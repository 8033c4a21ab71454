// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/command.h"
#include "swatch/swatch.h"

namespace CLI {
class App;
}

namespace kithue {

/// A reading typed on the command line. Numbers are under D50, 2 degrees unless `white` says otherwise.
struct ReadingOptions {
  std::string lab;     ///< "78,4,18"
  std::string colour;  ///< a CSS literal
  std::string white;   ///< "D65/10"
  std::string source;  ///< instrument, scan, "typed" when empty
  std::string date;
  std::string batch;
  bool wet = false;
};
void add_reading_options(CLI::App& command, ReadingOptions& options, const std::string& lab_flag);
/// Nothing when neither a Lab nor a colour was given. Errors: bad_usage, bad_input.
Result<std::optional<Reading>> reading_from(const ReadingOptions& options, const std::string& surface);

struct StashAddOptions {
  std::string name;
  std::string kind;
  std::string method;
  std::string on;
  std::string finish;
  std::string note;
  ReadingOptions reading;
  bool dry_run = false;
};
ExitStatus run_stash_add(const StashAddOptions& options, Session& session);

struct StashListOptions {
  std::string kind;
  std::string method;
  std::string batch;
  std::string like;
  bool retired = false;
  bool in_use = false;
};
ExitStatus run_stash_list(const StashListOptions& options, Session& session);

}  // namespace kithue
