// SPDX-License-Identifier: MIT
#include "harness/outputs.h"

#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <filesystem>
#include <set>

#include "base/text.h"
#include "cli/command.h"
#include "harness/process.h"
#include "harness/scene.h"

namespace kithue::harness {
namespace {

constexpr int kNobody = 65534;

const std::string& small_photo() {
  static const std::string bytes = photo_of_dots(320);
  return bytes;
}

struct Place {
  const Scene& scene;
  const std::string& program;

  [[nodiscard]] Start start(const std::vector<std::string>& args,
                            const std::string& out = "/dev/null") const {
    Start start = start_on(scene, program, args);
    start.out = out;
    return start;
  }
};

std::size_t lines_in(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

Files scene_with_photo() {
  Files files = scene_files(12);
  files["photo.jpg"] = small_photo();
  return files;
}

/// Changes the stash, so that its standard output is empty.
bool is_silent(std::string_view command) {
  return command.starts_with("stash ") && command != "stash list" && command != "stash show" &&
         command != "stash export" && command != "stash check" && command != "stash drift";
}

void check_full(Tally& tally, const Place& place, std::string_view name,
                const std::vector<std::string>& words) {
  const Ended ended = run_process(place.start(words, "/dev/full"));
  ++tally.tried;
  ++tally.fired;
  const std::string where = std::string(name) + " to a full device: ";
  if (is_silent(name)) return;  // nothing to print: nothing was lost
  if (ended.status != 5) tally.fail(where + "status " + std::to_string(ended.status));
  if (ended.err.find("cannot write") == std::string::npos) tally.fail(where + "no message");
}

void check_pipe(Tally& tally, const Place& place, std::string_view name,
                const std::vector<std::string>& words) {
  const Ended ended = run_process(place.start(words, "|"));
  ++tally.tried;
  ++tally.fired;
  const std::string where = std::string(name) + " to a closed pipe: ";
  if (ended.signal != 0 && ended.signal != SIGPIPE)
    tally.fail(where + "signal " + std::to_string(ended.signal));
  if (ended.err.find("terminate") != std::string::npos || ended.err.find("our fault") != std::string::npos)
    tally.fail(where + ended.err);
}

/// The stash cannot be reached or written in some way; `wanted` are the statuses that are right.
void check_stash_place(Tally& tally, const std::string& where, const Start& start,
                       const std::set<int>& wanted) {
  const Ended ended = run_process(start);
  ++tally.tried;
  ++tally.fired;
  if (wanted.count(ended.status) == 0)
    tally.fail(where + "status " + std::to_string(ended.status) + ": " + ended.err);
  if (ended.status != 0 && (lines_in(ended.err) < 1 || lines_in(ended.err) > 3))
    tally.fail(where + std::to_string(lines_in(ended.err)) + " lines: " + ended.err);
}

void check_places(Tally& tally, const Place& place, std::string_view name,
                  const std::vector<std::string>& words) {
  const bool writes = is_silent(name) || name == "stash add";
  const Files before = place.scene.files();
  Start locked = place.start(words);
  locked.user = kNobody;
  ::chmod(place.scene.path().c_str(), 0555);
  for (const auto& [file, bytes] : before) ::chmod((place.scene.path() + "/" + file).c_str(), 0444);
  // A user who may read but not write: reading goes on, writing says so.
  check_stash_place(tally, std::string(name) + " in a folder that may not be written: ", locked,
                    writes ? std::set<int>{5} : std::set<int>{0, 5});
  ::chmod(place.scene.path().c_str(), 0700);
  for (const auto& [file, bytes] : before) ::chmod((place.scene.path() + "/" + file).c_str(), 0600);
  if (place.scene.files() != before)
    tally.fail(std::string(name) + ": a file changed that could not be written");

  Start homeless = place.start(words);
  homeless.environment = {"PATH=/usr/bin:/bin"};
  check_stash_place(tally, std::string(name) + " with HOME unset: ", homeless, {0, 4, 5, 8});
  Start missing = place.start(words);
  missing.environment.front() = "KITHUE_STASH=" + place.scene.path() + "/no/such/stash.cgats";
  missing.user = kNobody;
  check_stash_place(tally, std::string(name) + " with the stash in a folder that is not there: ", missing,
                    {0, 4, 5, 8});
}

}  // namespace

const std::map<std::string, std::vector<std::string>>& working_arguments() {
  static const std::map<std::string, std::vector<std::string>> arguments{
      {"stash add", {"New", "--kind", "stock", "--lab", "50,1,2", "--white", "D50/2"}},
      {"stash list", {}},
      {"stash show", {"swatch 0"}},
      {"stash edit", {"swatch 0", "--note", "x"}},
      {"stash retire", {"swatch 0"}},
      {"stash remove", {"swatch 0", "--force"}},
      {"stash import", {"{}/readings.csv"}},
      {"stash export", {}},
      {"stash undo", {}},
      {"stash check", {}},
      {"extract", {"{}/photo.jpg"}},
      {"match", {"#c8553d"}},
      {"clash", {"#c8553d", "#336699"}},
      {"sheet", {"{}/kit.toml", "-o", "-"}},
      {"standin", {"swatch 0"}},
      {"overprint", {"#222222", "#dddddd"}},
      {"measure", {"{}/photo.jpg", "--grid", "8x6"}},
      {"kit new", {"{}/new.toml", "--dry-run"}},
      {"kit check", {"{}/kit.toml"}},
      {"kit count", {"{}/kit.toml"}},
      {"kit cut", {"{}/kit.toml"}},
      {"kit scraps", {"{}/kit.toml"}},
      {"kit repeat", {"{}/kit.toml"}},
      {"light", {"swatch 0", "swatch 2"}},
      {"stash drift", {"swatch 0"}},
      {"harmony", {"#c8553d"}},
      {"tones", {}},
      {"choose", {"{}/kit.toml"}},
      {"completion", {"bash"}},
  };
  return arguments;
}

std::vector<std::string> words_of(std::string_view command, const std::vector<std::string>& args) {
  std::vector<std::string> words;
  for (const std::string_view word : split(command, ' ')) words.emplace_back(word);
  words.insert(words.end(), args.begin(), args.end());
  return words;
}

Tally spoil_outputs(const std::string& built) {
  Tally tally{.name = "full devices, closed pipes, odd places"};
  // Some of it is tried as another user, who may not look into the folder of the build.
  const testing::TemporaryFolder folder;
  const std::string program = folder / "kithue";
  std::error_code fault;
  std::filesystem::copy_file(built, program, fault);
  if (fault || ::chmod(folder.path().c_str(), 0755) != 0 || ::chmod(program.c_str(), 0755) != 0)
    tally.fail("cannot copy " + built);
  for (const CommandInfo& command : command_table()) {
    if (command.add == nullptr) continue;
    const auto at = working_arguments().find(std::string(command.name));
    if (at == working_arguments().end()) {
      tally.fail("no arguments are known for '" + std::string(command.name) + "': add them to the harness");
      continue;
    }
    const auto words = words_of(command.name, at->second);
    const auto fresh = [&](auto check) {
      const Scene scene(scene_with_photo());
      check(tally, Place{scene, program}, command.name, words);
    };
    const Scene scene(scene_with_photo());
    const Ended plain = run_process(Place{scene, program}.start(words));
    if (plain.status != 0) tally.fail(std::string(command.name) + " does not work at all: " + plain.err);
    fresh(check_full);
    fresh(check_pipe);
    fresh(check_places);
  }
  return tally;
}

}  // namespace kithue::harness
