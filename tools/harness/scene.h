// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "harness/process.h"
#include "harness/run.h"
#include "harness/temporary_folder.h"

namespace kithue::harness {

/// A command that writes. In `args`, "{}" stands for the folder it works in.
struct WritingCommand {
  std::string name;
  std::vector<std::string> args;
  std::string output;      ///< the file it makes in the folder; empty for a command that changes the stash
  bool overwrites = true;  ///< false: it adds to its file, and needs no --force a second time
};
/// Every command that writes a file, each with arguments that work on a scene of 1 swatch or more.
const std::vector<WritingCommand>& writing_commands();

/// Files by name, relative to the folder.
using Files = std::map<std::string, std::string, std::less<>>;

/// A folder with a stash of `swatches` invented swatches (0 = no stash; otherwise two earlier states are
/// kept), a kit, readings to import and a photo to measure. Built once a size, copied for each use.
const Files& scene_files(std::size_t swatches);

/// A scene laid out on disk, gone with the object.
class Scene {
 public:
  explicit Scene(const Files& files);
  [[nodiscard]] const std::string& path() const { return folder_.path(); }
  [[nodiscard]] std::string stash() const { return folder_ / "stash.cgats"; }
  /// All files as they are now.
  [[nodiscard]] Files files() const;
  /// Runs a command on the scene in this process.
  [[nodiscard]] Run run(const std::vector<std::string>& args) const;
  /// Left-over temporaries of the program's writing.
  [[nodiscard]] std::size_t temporaries() const;

 private:
  testing::TemporaryFolder folder_;
};

/// A program of its own on the scene: nothing of this process's environment, "{}" as above.
Start start_on(const Scene& scene, const std::string& program, const std::vector<std::string>& args);

/// A sheet of 8 x 6 dots, invented, photographed as a JPEG of this width (height: three quarters).
std::string photo_of_dots(int width);

/// The text of a file among `files`, or "" when it is not there.
std::string text_of(const Files& files, const std::string& name);

}  // namespace kithue::harness
