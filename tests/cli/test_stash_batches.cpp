// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <sys/stat.h>

#include <filesystem>

#include "advise/swatches.h"
#include "cli/advice_run.h"

using namespace kithue;

namespace {

Stash one_stock() {
  Stash stash;
  stash.swatches = {swatch_with(1, "Wet Sand", Kind::stock, {70, 6, 20}),
                    swatch_with(2, "Sea Glass", Kind::ink, {60, -15, 4})};
  stash.swatches[0].readings[0].batch = "H1";
  stash.swatches[0].batch = "H1";
  stash.swatches[1].method = "pad";
  stash.next_id = 3;
  return stash;
}

}  // namespace

TEST_CASE("stash add --batch: a reading of another batch joins the swatch, the same twice adds nothing") {
  const AdviceRun run(one_stock());
  const std::vector<std::string> add{"stash",   "add",     "Wet Sand", "--kind",  "stock", "--lab",
                                     "72,6,20", "--white", "D50/2",    "--batch", "H2",    "--json"};
  CHECK(run(add).data()["added"] == true);
  const auto again = run(add);
  CHECK(again.status == 0);
  CHECK(again.data()["added"] == false);
  CHECK(again.data()["swatch"]["readings"] == 2);
  CHECK(again.data()["swatch"]["batch"] == "H2");
  const auto drift = run({"stash", "drift", "Wet Sand", "--json"});
  REQUIRE(drift.status == 0);
  CHECK(drift.data()["from"]["batch"] == "H1");
  CHECK(drift.data()["to"]["batch"] == "H2");
  CHECK(drift.data()["sure"] == false);
  CHECK(drift.data()["words"].get<std::string>().find("lighter") != std::string::npos);
  CHECK(run({"stash", "drift", "Wet Sand"}).out.find("too few readings to be sure") != std::string::npos);
  CHECK(run({"stash", "drift", "Wet Sand", "--from", "H7"}).status == 4);
  CHECK(run({"stash", "drift", "Wet Sand", "--apart", "3"}).status == 2);
}

TEST_CASE("stash drift: one batch only is said, not failed") {
  const AdviceRun run(one_stock());
  const auto outcome = run({"stash", "drift", "Wet Sand", "--json"});
  CHECK(outcome.status == 0);
  CHECK(outcome.data()["verdict"] == "unknown");
}

TEST_CASE("stash edit: --on with a reading is of that reading, alone it moves the ink") {
  const AdviceRun run(one_stock());
  REQUIRE(run({"stash", "edit", "Sea Glass", "--reading", "40,-8,10", "--white", "D50/2", "--on", "Kraft"})
              .status == 0);
  auto shown = run({"stash", "show", "Sea Glass", "--json"}).data();
  CHECK(shown["swatch"]["surface"] == "");
  CHECK(shown["readings"][1]["surface"] == "Kraft");
  CHECK(shown["swatch"]["lab"][0] == 60.0);
  REQUIRE(run({"stash", "edit", "Sea Glass", "--on", "Sailcloth"}).status == 0);
  CHECK(run({"stash", "show", "Sea Glass", "--json"}).data()["swatch"]["surface"] == "Sailcloth");
}

TEST_CASE("a refused change on an absent stash leaves no folder and no lock behind") {
  const AdviceRun run(one_stock());
  const std::string absent = run.path("nowhere/stash.cgats");
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"stash", "edit", "Nobody", "--note", "x"}, {"stash", "retire", "Nobody"}}) {
    auto args = words;
    args.insert(args.end(), {"--stash", absent});
    CHECK(kithue_test::run(args).status == 4);
    CHECK_FALSE(std::filesystem::exists(run.path("nowhere")));
  }
}

TEST_CASE("stash export: the file is readable by whom the umask lets, the stash stays private") {
  const AdviceRun run(one_stock());
  const mode_t before = umask(022);
  REQUIRE(run({"stash", "export", "--output", run.path("out.csv")}).status == 0);
  umask(before);
  struct stat facts = {};
  REQUIRE(stat(run.path("out.csv").c_str(), &facts) == 0);
  CHECK((facts.st_mode & 0777U) == 0644U);
}

TEST_CASE("stash: a newcomer that may be there already is pointed out and never merged") {
  const AdviceRun run(one_stock());
  const auto near =
      run({"stash", "add", "Dune", "--kind", "stock", "--lab", "70.1,6.1,20.1", "--white", "D50/2"});
  CHECK(near.status == 0);
  CHECK(near.err.find("the same thing under two names?") != std::string::npos);
  const auto twin =
      run({"stash", "add", "wet  sand", "--kind", "stock", "--lab", "50,6,20", "--white", "D50/2"});
  CHECK(twin.err.find("have the same name") != std::string::npos);
  const auto batch = run({"stash", "add", "Wet Sand", "--kind", "stock", "--lab", "72,6,20", "--white",
                          "D50/2", "--batch", "H2"});
  CHECK(batch.err.find("mixes readings of batches \"H1\", \"H2\"") != std::string::npos);
  const std::string file = run.write("more.csv", "name,kind,white,L,a,b\nShell Grit,stock,D50/2,70,6.1,20\n");
  CHECK(run({"stash", "import", file}).err.find("Shell Grit (stock) are only") != std::string::npos);
  CHECK(run({"stash", "import", file}).err.find("are only") ==
        std::string::npos);  // nothing new the second time
  CHECK(run({"stash", "edit", "Dune", "--name", "WET SAND"}).err.find("have the same name") !=
        std::string::npos);
  CHECK(run({"stash", "list", "--json"}).data()["swatches"].size() == 5);
}

TEST_CASE("stash show: draws the readings around the value and points out the odd one") {
  Stash stash;
  stash.swatches = {swatch_with(1, "Wet Sand", Kind::stock, {70, 6, 20})};
  stash.next_id = 2;
  auto& readings = stash.swatches[0].readings;
  for (const Lab& lab : {Lab{70.4, 6.2, 19.8}, Lab{69.8, 5.7, 20.3}, Lab{74, 9, 17}}) {
    readings.push_back(readings.front());
    readings.back().lab = lab;
  }
  const AdviceRun run(stash);
  const std::string text = run({"stash", "show", "Wet Sand"}).out;
  CHECK(text.find("yellower") != std::string::npos);
  CHECK(text.find("4!") != std::string::npos);
  CHECK(text.find("reading 4 lies") != std::string::npos);
  CHECK(text.find("--drop-reading 4") != std::string::npos);
  CHECK(run({"stash", "show", "Wet Sand", "--plain"}).out.find("yellower") == std::string::npos);
}
