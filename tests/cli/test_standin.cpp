// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "advise/swatches.h"
#include "cli/advice_run.h"

using namespace kithue;

namespace {

Stash standin_stash() {
  Stash stash;
  stash.swatches = {swatch_with(1, "Wet Sand", Kind::stock, {70, 6, 20}),
                    swatch_with(2, "Dry Sand", Kind::stock, {73, 6, 20}),
                    swatch_with(3, "Sandbar", Kind::stock, {70, 4, 26}),
                    swatch_with(4, "Duffel", Kind::stock, {73.5, 6, 24}),
                    swatch_with(5, "Gone Sand", Kind::stock, {70.2, 6, 20}),
                    swatch_with(6, "Sand Ink", Kind::ink, {70, 6, 20.5}),
                    swatch_with(7, "Foil Moon", Kind::stock, {80, 0, 0})};
  stash.swatches[0].retired = true;
  stash.swatches[4].in_stock = false;
  stash.swatches[6].finish = Finish::unmeasurable;
  stash.swatches[6].readings.clear();
  stash.next_id = 8;
  return stash;
}

}  // namespace

TEST_CASE("standin: JSON has the fields of match, and what each offer would clash with") {
  const AdviceRun run(standin_stash());
  const auto outcome = run({"standin", "Wet Sand", "--with", "Duffel", "--json"});
  REQUIRE(outcome.status == 0);
  const auto data = outcome.data();
  CHECK(data["missing"][0]["name"] == "Wet Sand");
  REQUIRE(data["standins"].size() == 3);  // neither the one out of stock nor the ink
  CHECK(data["standins"][0]["name"] == "Dry Sand");
  CHECK(data["standins"][0]["verdict"] == "near-miss");
  CHECK(data["standins"][0]["words"] == "lighter");
  CHECK(data["standins"][0]["good"] == true);
  CHECK(data["standins"][0]["near_misses"].is_array());
  CHECK(data["left_out"][0]["name"] == "Foil Moon");
}

TEST_CASE("standin: a new clash is marked, one that was there already is not") {
  Stash stash = standin_stash();
  stash.swatches[3].readings[0].lab = {82, 6,
                                       22};  // Duffel: apart from Wet Sand, near to what may replace it
  stash.swatches[1].readings[0].lab = {78, 6, 21};
  const AdviceRun run(stash);
  const auto data = run({"standin", "Wet Sand", "--with", "Duffel", "--json"}).data();
  for (const auto& one : data["standins"]) {
    CAPTURE(one["name"].get<std::string>());
    const bool marked = one["near_misses"] == nlohmann::ordered_json::array({"Duffel"});
    CHECK(marked == (one["name"] == "Dry Sand"));
  }
}

TEST_CASE("standin: --limit says when there is no good one; --kind looks elsewhere") {
  const AdviceRun run(standin_stash());
  const auto outcome = run({"standin", "Wet Sand", "--limit", "1"});
  CHECK(outcome.status == 0);
  CHECK(outcome.out.find("No good stand-in: nothing within 1.0.") != std::string::npos);
  CHECK(run({"standin", "Wet Sand", "--kind", "ink", "--json"}).data()["standins"][0]["name"] == "Sand Ink");
  const auto plain = run({"standin", "Wet Sand", "--plain", "-n", "2"});
  CHECK(std::count(plain.out.begin(), plain.out.end(), '\n') == 3);
}

TEST_CASE("standin: a student's range gives one stand-in each, none twice") {
  const AdviceRun run(standin_stash());
  const auto list = run.write("student.csv",
                              "name,L,a,b,white\n"
                              "Biscuit,71,6,20,D50/2\n"
                              "Toast,68,8,22,D50/2\n"
                              "Sky,70,-10,-25,D50/2\n");
  const auto outcome = run({"standin", "Wet Sand", "Dry Sand", "--for", list, "--json"});
  REQUIRE(outcome.status == 0);
  const auto data = outcome.data();
  REQUIRE(data["standins"].size() == 2);
  // Biscuit is the nearest for both; the pair with the least total gives it to Dry Sand.
  CHECK(data["standins"][0]["for"] == "Wet Sand");
  CHECK(data["standins"][0]["name"] == "Toast");
  CHECK(data["standins"][1]["for"] == "Dry Sand");
  CHECK(data["standins"][1]["name"] == "Biscuit");
  const auto shared = run({"standin", "Wet Sand", "Dry Sand", "--for", list, "--shared", "--json"}).data();
  CHECK(shared["standins"][0]["name"] == "Biscuit");
  CHECK(shared["standins"][1]["name"] == "Biscuit");
  const auto one = run({"standin", "Wet Sand", "--for", list, "--json"}).data();
  CHECK(one["standins"].size() == 3);
}

TEST_CASE("standin: a range with nothing near, or too small, says so") {
  const AdviceRun run(standin_stash());
  const auto list = run.write("student.csv", "name,L,a,b,white\nSky,70,-10,-25,D50/2\n");
  const auto text = run({"standin", "Wet Sand", "Dry Sand", "--for", list}).out;
  CHECK(text.find("no good stand-in") != std::string::npos);
  const auto data = run({"standin", "Wet Sand", "Dry Sand", "--for", list, "--json"}).data();
  REQUIRE(data["standins"].size() == 2);
  CHECK((data["standins"][0]["name"].is_null() || data["standins"][1]["name"].is_null()));
  CHECK(data["standins"][0]["good"] == false);
}

TEST_CASE("standin: a range that cannot be read gives one clear line") {
  const AdviceRun run(standin_stash());
  CHECK(run({"standin", "Wet Sand", "--for", run.path("nowhere.csv")}).status == 5);
  const auto no_white =
      run({"standin", "Wet Sand", "--for", run.write("w.csv", "name,L,a,b\nSky,70,-10,-25\n")});
  CHECK(no_white.status == 3);
  CHECK(no_white.error_lines() == 1);
  CHECK(run({"standin", "Wet Sand", "--for", run.path("w.csv"), "--white", "D50/2"}).status == 0);
}

TEST_CASE("standin: wrong input gives one clear line and its status") {
  const AdviceRun run(standin_stash());
  const std::vector<std::pair<std::vector<std::string>, int>> wrong{
      {{"standin"}, 2},
      {{"standin", "Wet Snad"}, 4},
      {{"standin", "Foil Moon"}, 8},
      {{"standin", "Wet Sand", "--with", "Nowhere"}, 4},
      {{"standin", "Wet Sand", "--limit", "-1"}, 2},
      {{"standin", "Wet Sand", "-n", "0"}, 2}};
  for (const auto& [args, status] : wrong) {
    const auto outcome = run(args);
    CAPTURE(outcome.err);
    CHECK(outcome.status == status);
    CHECK(outcome.out.empty());
    CHECK(outcome.error_lines() == 1);
  }
}

TEST_CASE("standin: --why shows the parts of each distance; a tie within the readings is said") {
  Stash stash = standin_stash();
  stash.swatches[1].readings[0].error_de00 = 3.0;
  const AdviceRun run(stash);
  const auto text = run({"standin", "Wet Sand", "--why"}).out;
  CHECK(text.find("chroma") != std::string::npos);
  CHECK(text.find("equally near as far as the readings can tell") != std::string::npos);
}
