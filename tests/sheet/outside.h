// SPDX-License-Identifier: MIT
#pragma once

#include <doctest/doctest.h>
#include <stdlib.h>
#include <sys/wait.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>

namespace kithue {

/// A folder of its own for one test, removed at the end.
class TestFolder {
 public:
  TestFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "kithue-test-XXXXXX").string();
    REQUIRE(::mkdtemp(name.data()) != nullptr);
    path_ = name;
  }
  TestFolder(const TestFolder&) = delete;
  TestFolder& operator=(const TestFolder&) = delete;
  ~TestFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  [[nodiscard]] std::string at(const std::string& name) const { return path_ + "/" + name; }
  std::string put(const std::string& name, const std::string& bytes) const {
    std::filesystem::create_directories(std::filesystem::path(at(name)).parent_path());
    std::ofstream(at(name), std::ios::binary) << bytes;
    return at(name);
  }

 private:
  std::string path_;
};

inline std::string file_bytes(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  REQUIRE_MESSAGE(in.good(), path);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// What another program prints on its standard output and error. It must be there and end well: the programs
/// that the tests look through are part of what they need.
inline std::string output_of(const std::string& command) {
  FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::string text;
  char part[4096];
  for (std::size_t got = 0; (got = std::fread(part, 1, sizeof part, pipe)) > 0;) text.append(part, got);
  const int status = ::pclose(pipe);
  REQUIRE_MESSAGE((WIFEXITED(status) && WEXITSTATUS(status) == 0), command, ": ", text);
  return text;
}

/// A picture in the portable pixmap format (P6, 8 bits), as pdftoppm writes it.
struct Pixmap {
  int width = 0;
  int height = 0;
  std::string rgb;
  [[nodiscard]] int channel(int x, int y, int c) const {
    const auto pixel =
        static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
    return static_cast<unsigned char>(rgb[3 * pixel + static_cast<std::size_t>(c)]);
  }
};

/// One page of a PDF as poppler draws it.
inline Pixmap drawn_page(const TestFolder& folder, const std::string& pdf, int page, int dpi) {
  const std::string number = std::to_string(page);
  output_of("pdftoppm -r " + std::to_string(dpi) + " -f " + number + " -l " + number + " -singlefile " + pdf +
            " " + folder.at("page"));
  const std::string bytes = file_bytes(folder.at("page.ppm"));
  Pixmap picture;
  int most = 0;
  int used = 0;
  REQUIRE(std::sscanf(bytes.c_str(), "P6 %d %d %d%n", &picture.width, &picture.height, &most, &used) == 3);
  REQUIRE(most == 255);
  picture.rgb = bytes.substr(static_cast<std::size_t>(used) + 1);
  REQUIRE(picture.rgb.size() ==
          3 * static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height));
  return picture;
}

}  // namespace kithue
