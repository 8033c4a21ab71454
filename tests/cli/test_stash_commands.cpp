// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "base/files.h"
#include "base/temporary_folder.h"
#include "cli/command.h"

namespace {

using kithue::testing::TemporaryFolder;

/// Runs the program in this process, with a stash of its own.
struct Program {
  TemporaryFolder folder;
  std::string stash = folder / "stash.cgats";
  std::istringstream answers;
  bool can_ask = false;
  std::string out;
  std::string err;

  int run(std::vector<std::string> args) {
    std::ostringstream out_stream;
    std::ostringstream err_stream;
    kithue::Surroundings around{
        .out = out_stream,
        .err = err_stream,
        .environment = [this](const char* name) -> std::optional<std::string> {
          return std::string(name) == "KITHUE_STASH" ? std::optional<std::string>(stash) : std::nullopt;
        },
        .make_executor = [](std::size_t) -> std::unique_ptr<kithue::Executor> {
          return std::make_unique<kithue::SerialExecutor>();
        },
        .in = can_ask ? &answers : nullptr,
    };
    const int status = kithue::run_kithue(args, around);
    out = out_stream.str();
    err = err_stream.str();
    return status;
  }
  nlohmann::json json(std::vector<std::string> args) {
    args.emplace_back("--json");
    run(std::move(args));
    return nlohmann::json::parse(out);
  }
  std::string stash_bytes() {
    const auto bytes = kithue::read_file(stash, 1 << 24);
    return bytes ? *bytes : std::string();
  }
};

}  // namespace

TEST_CASE("stash add: a swatch is stored with the id and the Lab that JSON shows") {
  Program kithue;
  CHECK(kithue.run({"stash", "add", "Wet Sand", "--kind", "stock", "--lab", "78,4,18", "--white", "D50/2"}) ==
        0);
  CHECK(kithue.err == "added #1 Wet Sand (stock); 'kithue stash undo' takes it back\n");
  const auto list = kithue.json({"stash", "list"});
  const auto& swatch = list["data"]["swatches"][0];
  CHECK(swatch["id"] == 1);
  CHECK(swatch["name"] == "Wet Sand");
  CHECK(swatch["kind"] == "stock");
  CHECK(swatch["lab"] == nlohmann::json{78.0, 4.0, 18.0});
  CHECK(swatch["readings"] == 1);
  CHECK(swatch["retired"] == false);
}

TEST_CASE("stash add: wrong words and numbers give one line, a status, and no file") {
  Program kithue;
  struct Case {
    std::vector<std::string> args;
    int status;
    const char* says;
  };
  for (const Case& one : {
           Case{{"--lab", "1,2,3", "--white", "D50/2"}, 2, "is it a stock, an ink or something else?"},
           Case{{"--kind", "paper", "--lab", "1,2,3", "--white", "D50/2"}, 2, "no such kind: paper"},
           Case{{"--kind", "stock"}, 2, "no reading given"},
           Case{{"--kind", "stock", "--lab", "50,1,3"}, 2, "a reading needs --white"},
           Case{{"--kind", "stock", "--lab", "1,2", "--white", "D50/2"},
                3,
                "expected L, a and b as three numbers"},
           Case{{"--kind", "stock", "--lab", "1,2,x", "--white", "D50/2"},
                3,
                "expected L, a and b as three numbers"},
           Case{{"--kind", "stock", "--lab", "nan,2,3", "--white", "D50/2"},
                3,
                "expected L, a and b as three numbers"},
           Case{{"--kind", "stock", "--lab", "101,2,3", "--white", "D50/2"}, 3, "L is 101, outside 0 to 100"},
           Case{{"--kind", "stock", "--lab", "50,201,3", "--white", "D50/2"}, 3, "a or b is 201"},
           Case{{"--kind", "stock", "--lab", "50,1,3", "--white", "D99/2"},
                3,
                "the white \"D99/2\" is not known"},
           Case{{"--kind", "stock", "--lab", "50,1,3", "--white", "D50/2", "--date", "14.3.2026"},
                3,
                "not a day"},
           Case{{"--kind", "stock", "--method", "pad", "--lab", "50,1,3", "--white", "D50/2"},
                2,
                "--method and --on belong to inks"},
           Case{{"--kind", "stock", "--colour", "#zzz"}, 3, ""},
       }) {
    std::vector<std::string> args{"stash", "add", "Wet Sand"};
    args.insert(args.end(), one.args.begin(), one.args.end());
    CAPTURE(one.says);
    CHECK(kithue.run(args) == one.status);
    CHECK(kithue.err.starts_with(std::string("kithue: ") + one.says));
    CHECK(std::count(kithue.err.begin(), kithue.err.end(), '\n') == 1);
    CHECK_FALSE(std::filesystem::exists(kithue.stash));
  }
  CHECK(kithue.run({"stash", "add", "two\nlines", "--kind", "stock", "--lab", "1,2,3", "--white", "D50/2"}) ==
        3);
  CHECK(kithue.err.find("two\\x0alines") != std::string::npos);
}

TEST_CASE("stash add: the same again changes nothing, another of that name is refused with the way") {
  Program kithue;
  const std::vector<std::string> sea{"stash", "add",       "Sea Glass", "--method", "pad",
                                     "--lab", "60,-18,-4", "--white",   "D50/2"};
  REQUIRE(kithue.run(sea) == 0);
  const std::string before = kithue.stash_bytes();
  CHECK(kithue.run(sea) == 0);
  CHECK(kithue.stash_bytes() == before);
  CHECK(kithue.run(
            {"stash", "add", "Sea Glass", "--method", "pad", "--lab", "61,-18,-4", "--white", "D50/2"}) == 2);
  CHECK(kithue.err.find("kithue stash edit id:1 --reading L,a,b") != std::string::npos);
  CHECK(kithue.run({"stash", "add", "Sea Glass", "--method", "marker", "--lab", "61,-18,-4", "--white",
                    "D50/2"}) == 0);
  CHECK(kithue.run({"stash", "edit", "id:1", "--reading", "61,-18,-4", "--white", "D50/2"}) == 0);
  CHECK(kithue.json({"stash", "show", "Sea Glass (pad)"})["data"]["readings"].size() == 2);
  CHECK(kithue.run({"stash", "show", "Sea Glass"}) == 4);
}

TEST_CASE("stash commands: an absent stash explains how to start; a wrong --stash is an error") {
  Program kithue;
  CHECK(kithue.run({"stash", "list"}) == 5);
  CHECK(kithue.err.find("there is no stash here") != std::string::npos);
  kithue.stash = "";
  CHECK(kithue.run({"stash", "list", "--stash", kithue.folder / "other"}) == 5);
}

TEST_CASE("stash commands: a dry run writes nothing") {
  Program kithue;
  REQUIRE(kithue.run({"stash", "add", "A", "--kind", "stock", "--lab", "50,1,2", "--white", "D50/2"}) == 0);
  std::ofstream(kithue.folder / "in.csv") << "name,L,a,b\nB,51,1,2\n";
  const std::string before = kithue.stash_bytes();
  const auto names = kithue::names_in(kithue.folder.path());
  for (const std::vector<std::string>& args : std::vector<std::vector<std::string>>{
           {"stash", "add", "B", "--kind", "stock", "--lab", "50,1,2", "--white", "D50/2", "-n"},
           {"stash", "edit", "A", "--note", "x", "--dry-run"},
           {"stash", "retire", "A", "-n"},
           {"stash", "remove", "A", "-n"},
           {"stash", "undo", "-n"},
           {"stash", "import", kithue.folder / "in.csv", "--kind", "stock", "--white", "D50/2", "-n"},
       }) {
    CAPTURE(args[1]);
    CHECK(kithue.run(args) == 0);
    CHECK(kithue.err.starts_with("dry run, nothing written: "));
    CHECK(kithue.stash_bytes() == before);
    CHECK(kithue::names_in(kithue.folder.path()) == names);
  }
}

TEST_CASE("stash remove: asks where somebody can answer, else wants --force; undo brings it back") {
  Program kithue;
  REQUIRE(kithue.run({"stash", "add", "A", "--kind", "stock", "--lab", "50,1,2", "--white", "D50/2"}) == 0);
  const std::string before = kithue.stash_bytes();
  CHECK(kithue.run({"stash", "remove", "A"}) == 2);
  CHECK(kithue.err.find("--force") != std::string::npos);
  kithue.can_ask = true;
  kithue.answers.str("n\n");
  CHECK(kithue.run({"stash", "remove", "A"}) == 2);
  CHECK(kithue.stash_bytes() == before);
  kithue.answers.clear();
  kithue.answers.str("y\n");
  CHECK(kithue.run({"stash", "remove", "A", "--no-input"}) == 2);
  CHECK(kithue.run({"stash", "remove", "A"}) == 0);
  CHECK(kithue.json({"stash", "list"})["data"]["swatches"].empty());
  CHECK(kithue.run({"stash", "undo"}) == 0);
  CHECK(kithue.stash_bytes() == before);
}

TEST_CASE("stash retire: marks the swatch, and --back takes the mark off") {
  Program kithue;
  REQUIRE(kithue.run({"stash", "add", "A", "--kind", "stock", "--lab", "50,1,2", "--white", "D50/2"}) == 0);
  CHECK(kithue.json({"stash", "retire", "a"})["data"]["swatch"]["retired"] == true);
  CHECK(kithue.json({"stash", "retire", "a"})["data"]["changed"] == false);
  CHECK(kithue.json({"stash", "list", "--in-use"})["data"]["swatches"].empty());
  CHECK(kithue.json({"stash", "retire", "a", "--back"})["data"]["swatch"]["retired"] == false);
}

TEST_CASE("stash import: all or nothing, unless --partial") {
  Program kithue;
  const std::string file = kithue.folder / "in.csv";
  std::ofstream(file) << "name,L,a,b\nA,50,1,2\nB,x,1,2\n";
  CHECK(kithue.run({"stash", "import", file, "--kind", "stock", "--white", "D50/2"}) == 3);
  CHECK(
      kithue.err.find(
          "in.csv:3: nothing was imported: 1 of 2 rows cannot be taken; the first: L \"x\": not a number") !=
      std::string::npos);
  CHECK_FALSE(std::filesystem::exists(kithue.stash));
  const auto data =
      kithue.json({"stash", "import", file, "--kind", "stock", "--white", "D50/2", "--partial"})["data"];
  CHECK(data["rows"] == 2);
  CHECK(data["new_readings"] == 1);
  CHECK(data["rejected"][0]["line"] == 3);
  CHECK(kithue.json({"stash", "import", file, "--kind", "stock", "--white", "D50/2",
                     "--partial"})["data"]["already_there"] == 1);
  CHECK(kithue.run({"stash", "import", kithue.folder / "none.csv"}) == 5);
}

TEST_CASE("stash export: what it writes is taken back whole, and a file is not overwritten unasked") {
  Program kithue;
  REQUIRE(kithue.run(
              {"stash", "add", "=A \"1\"", "--kind", "stock", "--lab", "50,1,-2", "--white", "D50/2"}) == 0);
  REQUIRE(kithue.run({"stash", "add", "Foil", "--kind", "ink", "--finish", "foil"}) == 0);
  const std::string before = kithue.stash_bytes();
  for (const char* name : {"out.csv", "out.cgats"}) {
    const std::string file = kithue.folder / name;
    CHECK(kithue.run({"stash", "export", "--output", file}) == 0);
    CHECK(kithue.run({"stash", "export", "--output", file}) == 5);
    CHECK(kithue.run({"stash", "export", "--output", file, "--force"}) == 0);
    Program other;
    CHECK(other.run({"stash", "import", file}) == 0);
    CHECK(other.stash_bytes() == before);
  }
}

TEST_CASE("stash check: twins, close colours and missing numbers are found") {
  Program kithue;
  REQUIRE(kithue.run({"stash", "add", "A", "--kind", "stock", "--lab", "50,1,2", "--white", "D50/2"}) == 0);
  REQUIRE(kithue.run({"stash", "add", "B", "--kind", "stock", "--lab", "50,1,2.2", "--white", "D50/2"}) == 0);
  REQUIRE(kithue.run({"stash", "add", "b", "--kind", "stock", "--lab", "70,1,2", "--white", "D50/2"}) == 0);
  const auto findings = kithue.json({"stash", "check"})["data"]["findings"];
  REQUIRE(findings.size() == 2);
  CHECK(findings[0]["code"] == "twin_name");
  CHECK(findings[1]["code"] == "close");
  CHECK(kithue.run({"stash", "check"}) == 0);
  CHECK(kithue.run({"stash", "check", "--fail-on", "findings"}) == 1);
  std::ofstream(kithue.stash, std::ios::app) << "x";
  CHECK(kithue.run({"stash", "check"}) == 7);
  CHECK(kithue.err.find("'kithue stash undo' brings it back") != std::string::npos);
  CHECK(kithue.run({"stash", "undo"}) == 0);
  CHECK(kithue.run({"stash", "check"}) == 0);
}
