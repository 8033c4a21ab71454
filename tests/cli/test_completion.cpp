// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

#include "base/text.h"
#include "cli/program.h"
#include "harness/names.h"
#include "harness/temporary_folder.h"
#include "places.h"
#include "sheet/outside.h"
#include "swatch/edit.h"
#include "swatch/stash_file.h"

using namespace kithue;

namespace {

std::string stash_of(const testing::TemporaryFolder& folder, const std::vector<std::string>& names) {
  Stash stash;
  for (const std::string& name : names) {
    Swatch swatch;
    swatch.name = name;
    swatch.kind = Kind::ink;
    append_swatch(stash, swatch);
  }
  const std::string path = folder / "stash.cgats";
  std::ofstream(path, std::ios::binary) << stash_text(stash);
  return path;
}

std::string words(const std::vector<std::string>& typed, const std::string& stash) {
  std::vector<std::string> args{"completion", "words", "--"};
  args.insert(args.end(), typed.begin(), typed.end());
  return harness::run(args, {{"KITHUE_STASH", stash}}).out;
}

}  // namespace

TEST_CASE("completion: commands, verbs, options and the names of the stash") {
  const testing::TemporaryFolder folder;
  const std::string stash = stash_of(folder, {"Wet Sand", "Sailcloth", "Slipway"});
  CHECK(words({"mat"}, stash) == "match\n");
  CHECK(words({"stash", "re"}, stash) == "remove\nretire\n");
  CHECK(words({"match", "S"}, stash) == "Sailcloth\nSlipway\n");
  CHECK(words({"match", "Wet\\ S"}, stash) == "Wet Sand\n");
  CHECK(words({"match", "\"Wet S"}, stash) == "Wet Sand\n");
  CHECK(words({"stash", "show", ""}, stash) == "Sailcloth\nSlipway\nWet Sand\n");
  CHECK(words({"match", "--js"}, stash) == "--json\n");
  CHECK(words({"clash", "--ki"}, stash) == "--kit\n");
}

TEST_CASE("completion: a broken stash gives no word and no complaint") {
  const testing::TemporaryFolder folder;
  const std::string path = folder / "stash.cgats";
  std::ofstream(path) << "CGATS.17\nbroken";
  const auto ended = harness::run({"completion", "words", "--", "match", ""}, {{"KITHUE_STASH", path}});
  CHECK(ended.status == 0);
  CHECK(ended.out.empty());
  CHECK(ended.err.empty());
}

namespace {

/// What a shell tries in a folder of its own, twice: after nothing and after a quotation mark.
struct Shell {
  std::string start;   ///< the shell, reading no file of the user's
  std::string script;  ///< prints a name a line
};

const Shell kBash{
    "bash --norc",
    // Each reply is put on a command line, as the shell would, and must be one word again.
    "eval \"$(kithue completion bash)\"\n"
    "for typed in '' '\"'; do\n  COMP_WORDS=(kithue match \"$typed\") COMP_CWORD=2\n  _kithue\n"
    "  for reply in \"${COMPREPLY[@]}\"; do\n    [ -n \"$typed\" ] && reply=\"\\\"$reply\\\"\"\n"
    "    eval \"set -- $reply\"\n    [ $# -eq 1 ] && printf '%s\\n' \"$1\"\n  done\ndone\n"};
const Shell kZsh{"zsh -f",
                 // The shell's own parts stand in; what is handed to compadd it quotes by itself.
                 "compdef() { : }\n_files() { : }\n"
                 "compadd() { local name; for name in \"${(@P)2}\"; do print -r -- \"$name\"; done }\n"
                 "eval \"$(kithue completion zsh)\"\n"
                 "for typed in '' '\"'; do\n  words=(kithue match \"$typed\") CURRENT=3\n  _kithue\ndone\n"};
const Shell kFish{
    "fish --no-config",
    "kithue completion fish | source\ncomplete -C 'kithue match '\ncomplete -C 'kithue match \"'\n"};

/// Names as hostile as a stash takes, 60 or more.
std::vector<std::string> hostile_swatches() {
  std::vector<std::string> names;
  for (const std::string& name : harness::hostile_names()) {
    if (is_utf8(name) && valid_name(name) && *valid_name(name) == name && printable(name) == name &&
        std::find(names.begin(), names.end(), name) == names.end() && name.size() < 400 && name[0] != '-' &&
        name[0] != '.')  // fish offers what starts with a dot only after a dot
      names.push_back(name);
  }
  for (int i = 0; names.size() < 60; ++i)
    names.push_back("$(touch ran" + std::to_string(i) + ")`touch ran`;touch ran");
  return names;
}

/// The lines of the first that the second has not, both sorted.
std::string only_in(const std::vector<std::string>& first, const std::vector<std::string>& second) {
  std::vector<std::string> left;
  std::set_difference(first.begin(), first.end(), second.begin(), second.end(), std::back_inserter(left));
  std::string text;
  for (const std::string& line : left) text += line + "\n";
  return text;
}

void check_shell(const Shell& shell) {
  CAPTURE(shell.start);
  const testing::TemporaryFolder folder;
  const testing::TemporaryFolder inside;  // nothing but names can be completed there
  const std::vector<std::string> names = hostile_swatches();
  const std::string stash = stash_of(folder, names);
  const std::string bin = std::string(tests::kProgram).substr(0, std::string(tests::kProgram).rfind('/'));
  std::ofstream(folder / "try") << shell.script;
  const std::string run = "cd '" + inside.path() + "' && HOME='" + folder.path() + "' PATH='" + bin +
                          "':$PATH KITHUE_STASH='" + stash + "' " + shell.start + " '" + (folder / "try") +
                          "' > '" + (folder / "out") + "' 2> '" + (folder / "err") + "'";
  CHECK(std::system(run.c_str()) == 0);  // NOLINT(concurrency-mt-unsafe)
  std::vector<std::string> found;
  std::istringstream out(file_bytes(folder / "out"));
  for (std::string line; std::getline(out, line);) found.push_back(line);
  std::vector<std::string> wanted = names;
  wanted.insert(wanted.end(), names.begin(), names.end());
  std::sort(found.begin(), found.end());
  std::sort(wanted.begin(), wanted.end());
  CHECK(names.size() >= 50);
  CHECK(only_in(wanted, found) == "");
  CHECK(only_in(found, wanted) == "");
  CHECK(file_bytes(folder / "err").empty());
  CHECK(std::filesystem::is_empty(inside.path()));  // nothing that touched a file was run
}

}  // namespace

TEST_CASE("completion in bash, zsh and fish: hostile names come back as one word each, and none is run") {
  check_shell(kBash);
  check_shell(kZsh);
  check_shell(kFish);
}
