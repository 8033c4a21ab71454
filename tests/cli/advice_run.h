// SPDX-License-Identifier: MIT
#pragma once

#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "cli/program.h"
#include "swatch/stash_file.h"

namespace kithue {

/// A stash in a file of its own, gone with the object, and the program run on it.
class AdviceRun {
 public:
  explicit AdviceRun(const Stash& stash)
      : folder_(std::filesystem::temp_directory_path() /
                ("kithue_advice_" + std::to_string(::getpid()) + "_" + std::to_string(++made()))) {
    std::filesystem::create_directories(folder_);
    write("stash.cgats", stash_text(stash));
  }
  ~AdviceRun() {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }
  AdviceRun(const AdviceRun&) = delete;
  AdviceRun& operator=(const AdviceRun&) = delete;

  /// A file beside the stash; returns its path.
  std::string write(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder_ / name, std::ios::binary) << bytes;
    return (folder_ / name).string();
  }
  [[nodiscard]] std::string path(const std::string& name) const { return (folder_ / name).string(); }

  struct Outcome : kithue_test::Run {
    [[nodiscard]] nlohmann::ordered_json data() const {
      return nlohmann::ordered_json::parse(out).at("data");
    }
    [[nodiscard]] std::ptrdiff_t error_lines() const { return std::count(err.begin(), err.end(), '\n'); }
  };
  [[nodiscard]] Outcome operator()(std::vector<std::string> args) const {
    args.insert(args.end(), {"--stash", path("stash.cgats")});
    return {kithue_test::run(args)};
  }

 private:
  static int& made() {
    static int count = 0;
    return count;
  }
  std::filesystem::path folder_;
};

}  // namespace kithue
