// SPDX-License-Identifier: MIT
#include "harness/interrupt.h"

#include <algorithm>
#include <csignal>
#include <random>
#include <vector>

#include "harness/process.h"
#include "harness/scene.h"
#include "swatch/store.h"

namespace kithue::harness {
namespace {

constexpr double kLongestLook = 3.0;  ///< seconds; commands that take longer are interrupted within these
constexpr double kMostAfter = 1.0;    ///< seconds from the interrupt to the end
constexpr int kDrawsEach = 20;        ///< for one interrupt that takes effect

struct LongCommand {
  std::vector<std::string> args;
  std::string output;  ///< the file it makes in the scene; empty = none
};

const std::vector<LongCommand>& long_commands() {
  static const std::vector<LongCommand> commands{
      {{"extract", "{}/photo.jpg", "{}/photo.jpg", "{}/photo.jpg", "{}/photo.jpg"}, ""},
      {{"measure", "{}/photo.jpg", "--grid", "8x6"}, ""},
      {{"stash", "import", "{}/rows.csv"}, ""},
      {{"stash", "export", "-o", "{}/out.csv", "--force"}, "out.csv"},
      {{"stash", "check"}, ""},
      {{"match", "#c8553d", "--json"}, ""},
      {{"tones"}, ""},
      {{"choose", "{}/kit.toml"}, ""},
      {{"sheet", "{}/kit.toml", "-o", "{}/out.pdf", "--force"}, "out.pdf"},
  };
  return commands;
}

Files long_scene() {
  Files files = scene_files(10'000);
  files["photo.jpg"] = photo_of_dots(4000);
  std::string rows = "name,kind,white,L,a,b\n";
  for (int i = 0; i < 40'000; ++i) rows += "row " + std::to_string(i) + ",stock,D50/2,50,1,2\n";
  files["rows.csv"] = rows;
  return files;
}

/// What one interrupt left behind; empty = all is well.
std::string fault_after(const Ended& ended, const Scene& scene, const LongCommand& command,
                        const std::string& old_stash, const std::string& whole_output) {
  if (ended.status != 130)
    return "status " + std::to_string(ended.status) + ", signal " + std::to_string(ended.signal) + ": " +
           ended.err;
  if (ended.processor_after > kMostAfter)
    return "it worked on for " + std::to_string(ended.processor_after) + " s";
  if (!load_stash(scene.stash()).has_value()) return "the stash does not load";
  if (text_of(scene.files(), "stash.cgats") != old_stash &&
      (scene.run({"stash", "undo", "--quiet"}).status != 0 ||
       text_of(scene.files(), "stash.cgats") != old_stash))
    return "the stash is neither old nor new";
  const std::string output = command.output.empty() ? "" : text_of(scene.files(), command.output);
  if (!output.empty() && output != whole_output) return "half of " + command.output + " is there";
  return {};
}

void interrupt_command(Tally& tally, const std::string& program, const Scene& scene,
                       const LongCommand& command, int each, std::mt19937_64& random) {
  const Start start = start_on(scene, program, command.args);
  const std::string old_stash = text_of(scene.files(), "stash.cgats");
  double needed = run_process(start, kLongestLook).seconds;
  const std::string whole_output = command.output.empty() ? "" : text_of(scene.files(), command.output);
  if (text_of(scene.files(), "stash.cgats") != old_stash)
    static_cast<void>(scene.run({"stash", "undo", "--quiet"}));
  std::vector<double> waits;
  for (int draw = 0; draw < kDrawsEach * each && static_cast<int>(waits.size()) < each; ++draw) {
    const double moment = std::uniform_real_distribution<double>(0.0, needed)(random);
    const Ended ended = run_process(start, std::max(moment, 1e-6));
    if (ended.status == 0) {  // it was done first
      needed = std::min(needed, ended.seconds);
      if (text_of(scene.files(), "stash.cgats") != old_stash)
        static_cast<void>(scene.run({"stash", "undo", "--quiet"}));
      continue;
    }
    ++tally.tried;
    if (ended.status == 130) ++tally.fired;
    waits.push_back(ended.seconds - ended.interrupted_at);
    if (const auto fault = fault_after(ended, scene, command, old_stash, whole_output); !fault.empty())
      tally.fail(command.args.front() + " interrupted after " + std::to_string(ended.interrupted_at) +
                 " s: " + fault);
  }
  std::sort(waits.begin(), waits.end());
  if (static_cast<int>(waits.size()) < each)
    tally.fail(command.args.front() + ": only " + std::to_string(waits.size()) + " of " +
               std::to_string(each) + " interrupts took effect");
  else if (waits[waits.size() / 2] > kMostAfter)
    tally.fail(command.args.front() + ": as a rule it takes " + std::to_string(waits[waits.size() / 2]) +
               " s to stop");
}

}  // namespace

Tally interrupt_long_commands(const std::string& program, int each, std::uint64_t seed) {
  Tally tally{.name = "Ctrl-C in long commands"};
  const Scene scene(long_scene());
  std::mt19937_64 random(seed);
  for (const LongCommand& command : long_commands())
    interrupt_command(tally, program, scene, command, each, random);
  return tally;
}

}  // namespace kithue::harness
