// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <clocale>
#include <cstdlib>

#include "harness/process.h"
#include "harness/scene.h"
#include "places.h"
#include "sheet/outside.h"
#include "swatch/export.h"
#include "swatch/import.h"

using namespace kithue;

namespace {

/// Where German numbers are to be found, made once from glibc's own source of the locale.
const std::string& locales() {
  static const testing::TemporaryFolder folder;
  static const std::string said = output_of("localedef -i de_DE -f UTF-8 '" + (folder / "de_DE.UTF-8") + "'");
  return folder.path();
}

/// German numbers for this process while it lasts.
class CommaLocale {
 public:
  CommaLocale() {
    ::setenv("LOCPATH", locales().c_str(), 1);                  // NOLINT(concurrency-mt-unsafe)
    REQUIRE(std::setlocale(LC_ALL, "de_DE.UTF-8") != nullptr);  // NOLINT(concurrency-mt-unsafe)
    REQUIRE(std::string(std::localeconv()->decimal_point) == ",");
  }
  ~CommaLocale() {
    std::setlocale(LC_ALL, "C");  // NOLINT(concurrency-mt-unsafe)
    ::unsetenv("LOCPATH");        // NOLINT(concurrency-mt-unsafe)
  }
  CommaLocale(const CommaLocale&) = delete;
  CommaLocale& operator=(const CommaLocale&) = delete;
};

/// All files after a command, and what it printed as "said".
harness::Files files_after(const std::vector<std::string>& args, const std::vector<std::string>& more) {
  const harness::Scene scene(harness::scene_files(12));
  harness::Start start = harness::start_on(scene, tests::kProgram, args);
  start.environment.insert(start.environment.end(), more.begin(), more.end());
  start.folder = scene.path();
  start.out = scene.path() + "/said";
  const harness::Ended ended = harness::run_process(start);
  CHECK_MESSAGE(ended.status == 0, ended.err);
  return scene.files();
}

}  // namespace

TEST_CASE("locale: a decimal comma changes nothing that a command says or writes") {
  std::vector<std::vector<std::string>> commands{
      {"match", "lab(50.5 1.25 -3)", "--json"},
      {"clash", "swatch 1", "swatch 2", "--why", "--bands", "0.5,1.5,6.5,9.5"},
      {"choose", "{}/kit.toml", "--json", "--within", "8.5"},
      {"overprint", "swatch 1", "swatch 0", "--why"},
      {"extract", "chips.jpg", "--crop", "5.5%,5%,90%,90%"},
  };
  for (const harness::WritingCommand& command : harness::writing_commands()) commands.push_back(command.args);
  for (const std::vector<std::string>& args : commands) {
    CAPTURE(args.front() + " " + args.at(1));
    const auto plain = files_after(args, {"LC_ALL=C"});
    CHECK(plain == files_after(args, {"LC_ALL=de_DE.UTF-8", "LOCPATH=" + locales()}));
  }
}

TEST_CASE("locale: a program that embeds the engine may have set a decimal comma") {
  const auto round = [] {
    const auto import = read_import("name,L,a,b\nWet Sand,78.5,-4.25,18\n", "readings.csv",
                                    {Kind::stock, "", "D50/2", "", ""});
    REQUIRE(import.has_value());
    Stash stash;
    merge_import(stash, *import);
    return csv_text(stash);
  };
  const std::string plain = round();
  CHECK(plain.find("78.5") != std::string::npos);
  const CommaLocale comma;
  CHECK(plain == round());
}
