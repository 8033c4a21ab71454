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

struct StashShowOptions {
  std::string name;
};
ExitStatus run_stash_show(const StashShowOptions& options, Session& session);

/// What is not given stays as it is.
struct StashEditOptions {
  std::string name;
  std::optional<std::string> rename;
  std::optional<std::string> method;
  std::optional<std::string> on;
  std::optional<std::string> finish;
  std::optional<std::string> note;
  std::optional<std::string> shelf;  ///< "in" or "out": is there any left
  ReadingOptions reading;
  std::size_t drop_reading = 0;  ///< counted from 1; 0 = none
  bool dry_run = false;
};
ExitStatus run_stash_edit(const StashEditOptions& options, Session& session);

struct StashRetireOptions {
  std::string name;
  bool back = false;
  bool dry_run = false;
};
ExitStatus run_stash_retire(const StashRetireOptions& options, Session& session);

struct StashRemoveOptions {
  std::string name;
  bool force = false;
  bool dry_run = false;
};
ExitStatus run_stash_remove(const StashRemoveOptions& options, Session& session);

struct StashImportOptions {
  std::string file;  ///< "-" is standard input
  std::string kind;
  std::string method;
  std::string white;
  std::string batch;
  std::string source;
  std::string date;
  bool wet = false;
  bool partial = false;
  bool dry_run = false;
};
ExitStatus run_stash_import(const StashImportOptions& options, Session& session);

struct StashExportOptions {
  std::string output = "-";  ///< "-" is standard output
  std::string format;        ///< "csv" or "cgats"; empty = by the file's ending, CSV on standard output
  bool force = false;
};
ExitStatus run_stash_export(const StashExportOptions& options, Session& session);

struct StashDriftOptions {
  std::string name;
  std::optional<std::string> from;
  std::optional<std::string> to;
  double apart = 1.0;
  double stop = 2.0;
  std::string fail_on;  ///< "stop", or empty
};
ExitStatus run_stash_drift(const StashDriftOptions& options, Session& session);

struct StashUndoOptions {
  bool dry_run = false;
};
ExitStatus run_stash_undo(const StashUndoOptions& options, Session& session);

struct StashCheckOptions {
  std::string fail_on;  ///< "findings", or empty
};
ExitStatus run_stash_check(const StashCheckOptions& options, Session& session);

}  // namespace kithue
