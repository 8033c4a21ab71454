// SPDX-License-Identifier: MIT
#pragma once

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "base/executor.h"
#include "cli/command.h"
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

  struct Outcome {
    int status = 0;
    std::string out;
    std::string err;
    [[nodiscard]] nlohmann::ordered_json data() const {
      return nlohmann::ordered_json::parse(out).at("data");
    }
    [[nodiscard]] std::size_t error_lines() const {
      std::size_t lines = 0;
      for (const char c : err) lines += c == '\n' ? 1 : 0;
      return lines;
    }
  };
  [[nodiscard]] Outcome operator()(std::vector<std::string> args) const {
    std::ostringstream out;
    std::ostringstream err;
    args.insert(args.end(), {"--stash", path("stash.cgats")});
    const Surroundings around{
        .out = out,
        .err = err,
        .environment = [](const char*) { return std::optional<std::string>(); },
        .make_executor = [](std::size_t) -> std::unique_ptr<Executor> {
          return std::make_unique<SerialExecutor>();
        },
    };
    const int status = run_kithue(args, around);
    return {status, out.str(), err.str()};
  }

 private:
  static int& made() {
    static int count = 0;
    return count;
  }
  std::filesystem::path folder_;
};

}  // namespace kithue
