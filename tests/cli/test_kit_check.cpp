// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "advise/swatches.h"
#include "cli/advice_run.h"

using namespace kithue;

TEST_CASE("kit check: one list, worst first, in every mode; --fail-on sets the status") {
  Stash stash;
  stash.swatches = {swatch_with(1, "Quay", Kind::stock, {48, -3, -34}),
                    swatch_with(2, "Mooring", Kind::stock, {48, -8, -33})};
  stash.next_id = 3;
  const AdviceRun run(stash);
  const std::string head = "name = \"K\"\n[[card]]\nname = \"Gulls\"\n";
  const std::string a = "[[card.piece]]\nname = \"a\"\nstock = \"Quay\"\nsize = \"50 x 80 mm\"\n";
  const std::string b = "[[card.piece]]\nname = \"b\"\nstock = \"Mooring\"\nsize = \"50 x 80 mm\"\n";
  const std::string file = run.write("kit.toml", head + a + b + "touches = [\"a\"]\n");
  const auto data = run({"kit", "check", file, "--json"}).data();
  CHECK(data["faults"] == 1);
  REQUIRE(data["findings"].size() == 1);
  CHECK(data["findings"][0]["severity"] == "fault");
  CHECK(data["findings"][0]["kind"] == "clash");
  CHECK(data["findings"][0]["on"] == "Gulls: a + b");
  CHECK(data["findings"][0]["where"].get<std::string>().ends_with("kit.toml:8:1"));
  CHECK(run({"kit", "check", file}).status == 0);
  CHECK(run({"kit", "check", file}).out.find("1 fault, 0 risks, 0 notes") != std::string::npos);
  CHECK(run({"kit", "check", file, "--plain"})
            .out.starts_with("severity\tkind\ton\twhat\tdo\twhere\nfault\tclash"));
  CHECK(run({"kit", "check", file, "--fail-on", "fault"}).status == 1);
  const std::string fine = run.write("fine.toml", head + a + b);
  CHECK(run({"kit", "check", fine, "--fail-on", "note"}).status == 0);
  CHECK(run({"kit", "check", fine}).out == "Nothing wrong was found.\n");
}

TEST_CASE("kit check: wrong input gives one clear line and its status") {
  const AdviceRun run(Stash{});
  const std::string none =
      run.write("none.toml", "name = \"K\"\n[[face]]\nlabel = \"1\"\ncolours = [\"#fff\"]\n");
  const std::vector<std::pair<std::vector<std::string>, int>> wrong{
      {{"kit", "check", none}, 3},
      {{"kit", "check", run.path("absent.toml")}, 5},
      {{"kit", "check"}, 2},
      {{"kit"}, 2},
      {{"kit", "check", none, "--fail-on", "all"}, 2}};
  for (const auto& [args, status] : wrong) {
    const auto outcome = run(args);
    CAPTURE(outcome.err);
    CHECK(outcome.status == status);
    CHECK(outcome.out.empty());
    CHECK(outcome.error_lines() == 1);
  }
}
