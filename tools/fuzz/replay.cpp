// SPDX-License-Identifier: MIT
// Writes the seeds of every target, or runs targets on the files of a corpus.
// Usage: kithue_replay seeds FOLDER     FOLDER/TARGET/0000 ...
//        kithue_replay run FOLDER...    every file of every FOLDER/TARGET
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "fuzz/targets.h"

namespace {

namespace fs = std::filesystem;

int write_seeds(const fs::path& folder) {
  for (const kithue::fuzz::Target& target : kithue::fuzz::targets()) {
    const fs::path place = folder / target.name;
    fs::create_directories(place);
    std::size_t number = 0;
    for (const std::string& seed : kithue::fuzz::seeds_for(target))
      std::ofstream(place / std::to_string(number++), std::ios::binary) << seed;
  }
  return 0;
}

int run_corpus(const fs::path& folder) {
  for (const kithue::fuzz::Target& target : kithue::fuzz::targets()) {
    std::size_t files = 0;
    const fs::path place = folder / target.name;
    if (!fs::is_directory(place)) continue;
    for (const auto& entry : fs::directory_iterator(place)) {
      std::ifstream in(entry.path(), std::ios::binary);
      target.run(std::string(std::istreambuf_iterator<char>(in), {}));
      ++files;
    }
    std::printf("%-8s %zu files\n", std::string(target.name).c_str(), files);
  }
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  const std::string verb = argc > 1 ? argv[1] : "";
  if (verb == "seeds" && argc == 3) return write_seeds(argv[2]);
  if (verb != "run" || argc < 3) {
    std::fputs("usage: kithue_replay seeds FOLDER | run FOLDER...\n", stderr);
    return 2;
  }
  for (int i = 2; i < argc; ++i) run_corpus(argv[i]);
  return 0;
}
