// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "advise/swatches.h"
#include "cli/advice_run.h"

using namespace kithue;

namespace {

Stash match_stash() {
  Stash stash;
  stash.swatches = {swatch_with(1, "Wet Sand", Kind::stock, {70, 6, 20}),
                    swatch_with(2, "Dry Sand", Kind::stock, {73, 6, 20}),
                    swatch_with(3, "Sea Glass", Kind::ink, {70, -15, 4}),
                    swatch_with(4, "Old Sand", Kind::stock, {70.5, 6, 20}),
                    swatch_with(5, "Foil Moon", Kind::stock, {80, 0, 0})};
  stash.swatches[2].method = "pad";
  stash.swatches[3].retired = true;
  stash.swatches[4].finish = Finish::unmeasurable;
  stash.swatches[4].readings.clear();
  stash.next_id = 6;
  return stash;
}

}  // namespace

TEST_CASE("match: JSON has the promised fields, nearest first, the retired left out") {
  const AdviceRun run(match_stash());
  const auto outcome = run({"match", "lab(70 6 20)", "--json"});
  REQUIRE(outcome.status == 0);
  const auto data = outcome.data();
  REQUIRE(data["matches"].size() == 3);
  const auto& first = data["matches"][0];
  CHECK(first["name"] == "Wet Sand");
  CHECK(first["kind"] == "stock");
  CHECK(first["id"] == 1);
  CHECK(first["lab"] == nlohmann::ordered_json::array({70.0, 6.0, 20.0}));
  CHECK(first["de00"] == 0.0);
  CHECK(first["verdict"] == "same");
  CHECK(first["words"] == "no difference");
  CHECK(data["matches"][1]["verdict"] == "near-miss");
  CHECK(data["matches"][1]["words"] == "lighter");
  CHECK(data["matches"][2]["method"] == "pad");
  CHECK(data["matches"][2]["orders_only"] == true);
  REQUIRE(data["left_out"].size() == 1);
  CHECK(data["left_out"][0]["name"] == "Foil Moon");
  CHECK(data["left_out"][0]["reason"] == "not measurable");
}

TEST_CASE("match: --all offers retired swatches, --kind and -n narrow the list") {
  const AdviceRun run(match_stash());
  CHECK(run({"match", "lab(70.5 6 20)", "--all", "--json"}).data()["matches"][0]["name"] == "Old Sand");
  const auto inks = run({"match", "Wet Sand", "--kind", "ink", "--json"}).data();
  REQUIRE(inks["matches"].size() == 1);
  CHECK(inks["matches"][0]["name"] == "Sea Glass");
  CHECK(run({"match", "Wet Sand", "-n", "1", "--json"}).data()["matches"].size() == 1);
}

TEST_CASE("match: plain output has one line a match under a header") {
  const AdviceRun run(match_stash());
  const auto outcome = run({"match", "lab(70 6 20)", "--plain"});
  CHECK(outcome.status == 0);
  CHECK(outcome.out ==
        "name\tkind\tmethod\tid\tlab\tde00\tverdict\twords\n"
        "Wet Sand\tstock\t\t1\tlab(70 6 20)\t0\tsame\tno difference\n" +
            outcome.out.substr(outcome.out.find("Dry Sand")));
}

TEST_CASE("match: text says that a far distance no longer measures, and what was left out") {
  const AdviceRun run(match_stash());
  const auto outcome = run({"match", "lab(70 6 20)"});
  CHECK(outcome.status == 0);
  CHECK(outcome.out.find("it no longer measures how far") != std::string::npos);
  CHECK(outcome.out.find("Foil Moon (not measurable)") != std::string::npos);
  const auto near = run({"match", "lab(70 6 20)", "-n", "2"});
  CHECK(near.out.find("it no longer measures how far") == std::string::npos);
}

TEST_CASE("match: wrong input gives one clear line and its status") {
  const AdviceRun run(match_stash());
  const std::vector<std::pair<std::vector<std::string>, int>> wrong{
      {{"match", "Wet Snad"}, 4},
      {{"match", "lab(70 6)"}, 3},
      {{"match", "Foil Moon"}, 8},
      {{"match"}, 2},
      {{"match", "Wet Sand", "-n", "0"}, 2},
      {{"match", "Wet Sand", "-n", "many"}, 2},
      {{"match", "Wet Sand", "--kind", "paint"}, 2},
      {{"match", "Wet Sand", "--bands", "1,2"}, 2},
      {{"match", "Wet Sand", "--bands", "2,1,6,12"}, 2},
      {{"match", "Wet Sand", "--bands", "1,2,x,12"}, 2},
      {{"match", "Wet", "Sand"}, 2}};
  for (const auto& [args, status] : wrong) {
    const auto outcome = run(args);
    CAPTURE(outcome.err);
    CHECK(outcome.status == status);
    CHECK(outcome.out.empty());
    CHECK(outcome.error_lines() == 1);
  }
}
