// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "harbour_morning/faces.h"
#include "paper/camera.h"
#include "places.h"
#include "sheet/outside.h"

namespace {

namespace fs = std::filesystem;

/// Every line inside the ```sh fences of the README's section "A first hour".
std::string first_hour(const std::string& readme) {
  const auto start = readme.find("\n## A first hour");
  REQUIRE(start != std::string::npos);
  const auto end = readme.find("\n## ", start + 4);
  std::istringstream section(readme.substr(start, end - start));
  std::string script;
  bool inside = false;
  for (std::string line; std::getline(section, line);) {
    if (line.starts_with("```")) {
      inside = line == "```sh";
    } else if (inside) {
      script += line + "\n";
    }
  }
  return script;
}

}  // namespace

TEST_CASE("README: every command of the first hour runs as printed, and leaves the PDF") {
  const std::string script =
      first_hour(kithue::file_bytes(fs::path(kithue::tests::kSourceDir) / "README.md"));
  std::size_t commands = 0;
  for (auto at = script.find("kithue "); at != std::string::npos; at = script.find("kithue ", at + 1))
    ++commands;
  REQUIRE(commands >= 8);

  std::string place = (fs::temp_directory_path() / "kithue_readme_XXXXXX").string();
  REQUIRE(mkdtemp(place.data()) != nullptr);
  kithue::paper::Camera camera;
  camera.width = 800;
  kithue::SerialExecutor serial;
  const auto shot = kithue::paper::photograph(kithue::harbour::pack().front().face, camera, serial);
  std::ofstream(fs::path(place) / "face.jpg", std::ios::binary) << kithue::paper::jpeg_bytes(shot, 92);
  std::ofstream(fs::path(place) / "script.sh") << script;

  const fs::path program = fs::path(kithue::tests::kProgram).parent_path();
  const std::string run = "cd '" + place + "' && unset KITHUE_STASH XDG_DATA_HOME && HOME='" + place +
                          "' PATH='" + program.string() +
                          "':\"$PATH\" bash -eux script.sh >out.txt 2>err.txt";
  const int status = std::system(run.c_str());  // NOLINT(concurrency-mt-unsafe)
  CAPTURE(kithue::file_bytes(fs::path(place) / "err.txt"));
  CHECK(status == 0);
  CHECK(kithue::file_bytes(fs::path(place) / "harbour-morning.pdf").starts_with("%PDF-"));
  fs::remove_all(place);
}
