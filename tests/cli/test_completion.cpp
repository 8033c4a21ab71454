// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <sstream>

#include "base/text.h"
#include "cli/program.h"
#include "harness/names.h"
#include "harness/temporary_folder.h"
#include "places.h"
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

TEST_CASE("completion in bash: hostile names come back as one word each, and none is run") {
  const testing::TemporaryFolder folder;
  std::vector<std::string> names;
  for (const std::string& name : harness::hostile_names()) {
    if (is_utf8(name) && valid_name(name) && *valid_name(name) == name && printable(name) == name &&
        std::find(names.begin(), names.end(), name) == names.end() && name.size() < 400 && name[0] != '-')
      names.push_back(name);
  }
  for (int i = 0; names.size() < 60; ++i)
    names.push_back("$(touch ran" + std::to_string(i) + ")`touch ran`;touch ran");
  const std::string stash = stash_of(folder, names);
  std::sort(names.begin(), names.end());
  const std::string bin = std::string(tests::kProgram).substr(0, std::string(tests::kProgram).rfind('/'));
  // Each reply is put on a command line, as the shell would, and must be the name again.
  std::ofstream(folder / "try.sh")
      << "cd '" << folder.path() << "'\nexport PATH='" << bin << "':$PATH KITHUE_STASH='" << stash
      << "'\neval \"$(kithue completion bash)\"\n"
         "for typed in '' '\"'; do\n  COMP_WORDS=(kithue match \"$typed\") COMP_CWORD=2\n  _kithue\n"
         "  for reply in \"${COMPREPLY[@]}\"; do\n    [ -n \"$typed\" ] && reply=\"\\\"$reply\\\"\"\n"
         "    eval \"set -- $reply\"\n    printf '%s %s\\n' $# \"$1\"\n  done\ndone\n";
  const std::string run =
      "bash '" + (folder / "try.sh") + "' > '" + (folder / "out") + "' 2> '" + (folder / "err") + "'";
  CHECK(std::system(run.c_str()) == 0);  // NOLINT(concurrency-mt-unsafe)
  std::string wanted;
  for (const std::string& name : names) wanted += "1 " + name + "\n";
  std::stringstream out;
  out << std::ifstream(folder / "out").rdbuf();
  std::stringstream err;
  err << std::ifstream(folder / "err").rdbuf();
  CHECK(names.size() >= 50);
  CHECK(out.str() == wanted + wanted);
  CHECK(err.str().empty());
  CHECK_FALSE(std::ifstream(folder / "x").good());
  CHECK_FALSE(std::ifstream(folder / "ran").good());
}
