// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "base/text.h"
#include "cli/program.h"

using kithue::command_table;
using kithue_test::run;

namespace {

std::vector<std::string> words_of(std::string_view name) {
  std::vector<std::string> words;
  for (const std::string_view word : kithue::split(name, ' ')) words.emplace_back(word);
  return words;
}

}  // namespace

TEST_CASE("kithue alone: short help on stdout, status 0") {
  const auto said = run({});
  CHECK(said.status == 0);
  CHECK(said.out.find("kithue extract") != std::string::npos);
  CHECK(said.err.empty());
}

TEST_CASE("help: 'help X', 'X --help' and 'X -h' print the same bytes on stdout, for every command") {
  REQUIRE(!command_table().empty());
  for (const auto& info : command_table()) {
    CAPTURE(info.name);
    auto with_help = words_of(info.name);
    with_help.insert(with_help.begin(), "help");
    auto with_flag = words_of(info.name);
    with_flag.emplace_back("--help");
    auto with_short = words_of(info.name);
    with_short.emplace_back("-h");
    const auto first = run(with_help);
    CHECK(first.status == 0);
    CHECK(first.err.empty());
    CHECK(first.out.find(info.summary) != std::string::npos);
    CHECK(first.out == run(with_flag).out);
    CHECK(first.out == run(with_short).out);
  }
}

TEST_CASE("command table: every command has a summary and two examples that start with its own words") {
  std::set<std::string_view> names;
  for (const auto& info : command_table()) {
    CAPTURE(info.name);
    CHECK(names.insert(info.name).second);
    CHECK(!info.summary.empty());
    CHECK(!info.summary.ends_with('.'));
    if (info.add == nullptr) continue;
    std::size_t examples = 0;
    for (const std::string_view line : kithue::split(info.examples, '\n')) {
      if (kithue::trimmed(line).empty()) continue;
      ++examples;
      CHECK(kithue::trimmed(line).starts_with("kithue " + std::string(info.name)));
    }
    CHECK(examples >= 2);
  }
}

TEST_CASE("wrong words: one line, status 2, near spellings offered, nothing abbreviated") {
  const auto flag = run({"extract", "--jsn", "x"});
  CHECK(flag.status == 2);
  CHECK(flag.err.find("--json") != std::string::npos);
  CHECK(std::count(flag.err.begin(), flag.err.end(), '\n') == 1);
  for (const auto& info : command_table()) {
    if (info.name.find(' ') != std::string_view::npos) continue;
    const std::string prefix(info.name.substr(0, info.name.size() - 1));
    CAPTURE(prefix);
    const auto said = run({prefix});
    CHECK(said.status == 2);
    CHECK(said.out.empty());
    CHECK(said.err.find(info.name) != std::string::npos);
    CHECK(std::count(said.err.begin(), said.err.end(), '\n') == 1);
  }
}

TEST_CASE("wrong words with --json: the error object is on stdout and the line on stderr") {
  const auto said = run({"--json", "nosuch"});
  CHECK(said.status == 2);
  const auto object = nlohmann::json::parse(said.out);
  CHECK(object["schema"] == 1);
  CHECK(object["error"]["code"] == "bad_usage");
  CHECK(said.err.starts_with("kithue: "));
}

TEST_CASE("arguments that are not UTF-8: status 2 and the bytes shown escaped") {
  const auto said = run({"match", "\xff\x1b[31m"});
  CHECK(said.status == 2);
  CHECK(said.err.find('\x1b') == std::string::npos);
  CHECK(said.err.find("\\xff\\x1b") != std::string::npos);
}

TEST_CASE("every error kind: an exit status of its own family and a code") {
  using kithue::ErrorKind;
  using kithue::ExitStatus;
  CHECK(kithue::status_of(ErrorKind::bad_usage) == ExitStatus{2});
  CHECK(kithue::status_of(ErrorKind::bad_input) == ExitStatus{3});
  CHECK(kithue::status_of(ErrorKind::ambiguous) == ExitStatus{4});
  CHECK(kithue::status_of(ErrorKind::cannot_write) == ExitStatus{5});
  CHECK(kithue::status_of(ErrorKind::busy) == ExitStatus{6});
  CHECK(kithue::status_of(ErrorKind::too_new) == ExitStatus{7});
  CHECK(kithue::status_of(ErrorKind::impossible) == ExitStatus{8});
  CHECK(kithue::status_of(ErrorKind::internal) == ExitStatus{70});
}
