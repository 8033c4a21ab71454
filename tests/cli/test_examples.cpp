// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "base/text.h"
#include "cli/program.h"
#include "harbour_morning/faces.h"
#include "paper/camera.h"
#include "places.h"

namespace {

namespace fs = std::filesystem;

/// The words of a shell line; only double quotes are known.
std::vector<std::string> shell_words(std::string_view line) {
  std::vector<std::string> words;
  bool quoted = false;
  bool open = false;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
      if (!open) words.emplace_back();
      open = true;
    } else if (c == ' ' && !quoted) {
      open = false;
    } else {
      if (!open) words.emplace_back();
      open = true;
      words.back() += c;
    }
  }
  return words;
}

/// A folder with the demo stash, kit, readings and small photos of the demo faces; left behind on return.
class DemoFolder {
 public:
  DemoFolder() : before_(fs::current_path()) {
    std::string place = (fs::temp_directory_path() / "kithue_examples_XXXXXX").string();
    REQUIRE(mkdtemp(place.data()) != nullptr);
    place_ = place;
    fs::create_directory(place_ / "photos");
    kithue::SerialExecutor serial;
    for (const auto& one : kithue::harbour::pack()) {
      kithue::paper::Camera camera;
      camera.width = 320;
      camera.samples = 2;
      const auto shot = kithue::paper::photograph(one.face, camera, serial);
      const std::string name = kithue::folded(one.label) + ".jpg";
      std::ofstream(place_ / "photos" / name, std::ios::binary) << kithue::paper::jpeg_bytes(shot, 92);
    }
    fs::current_path(place_);
  }
  DemoFolder(const DemoFolder&) = delete;
  DemoFolder& operator=(const DemoFolder&) = delete;
  ~DemoFolder() {
    fs::current_path(before_);
    fs::remove_all(place_);
  }
  /// Puts the shipped files back as they were.
  void refresh() const {
    const fs::path shipped = fs::path(kithue::tests::kSourceDir) / "palettes" / "harbour-morning";
    for (const auto& file : fs::directory_iterator(shipped)) {
      fs::copy_file(file.path(), place_ / file.path().filename(), fs::copy_options::overwrite_existing);
    }
  }
  [[nodiscard]] std::string stash() const { return (place_ / "stash.cgats").string(); }
  [[nodiscard]] std::string cache() const { return (place_ / "cache").string(); }

 private:
  fs::path before_;
  fs::path place_;
};

}  // namespace

TEST_CASE("help: every example runs as printed on the demo and succeeds") {
  const DemoFolder demo;
  std::size_t ran = 0;
  for (const auto& info : kithue::command_table()) {
    for (const std::string_view line : kithue::split(info.examples, '\n')) {
      auto words = shell_words(kithue::trimmed(line));
      if (words.empty()) continue;
      words.erase(words.begin());  // the program's own name
      demo.refresh();
      // One change first, so that there is something for undo to take back.
      REQUIRE(
          kithue_test::run({"stash", "edit", "Wet Sand", "--note", "first"}, {{"KITHUE_STASH", demo.stash()}})
              .status == 0);
      const auto said =
          kithue_test::run(words, {{"KITHUE_STASH", demo.stash()}, {"XDG_CACHE_HOME", demo.cache()}});
      CAPTURE(line);
      CAPTURE(said.err);
      CHECK(said.status == 0);
      CHECK(!said.out.empty() + !said.err.empty() >= 1);
      ++ran;
    }
  }
  CHECK(ran >= 20);
}
