// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "advise/swatches.h"
#include "cli/advice_run.h"

using namespace kithue;

namespace {

Stash overprint_stash() {
  Stash stash;
  stash.swatches = {
      swatch_with(1, "Sailcloth", Kind::stock, {94, 1, 6}), swatch_with(2, "Kraft", Kind::stock, {62, 9, 24}),
      swatch_with(3, "Night", Kind::stock, {22, 2, -12}), swatch_with(4, "Pitch", Kind::ink, {18, 0, 1}),
      swatch_with(5, "Chalk", Kind::ink, {93, 0, 2})};
  stash.swatches[3].surface = "Sailcloth";
  stash.swatches[3].method = "pad";
  stash.swatches[4].method = "embossing powder";
  stash.next_id = 6;
  return stash;
}

}  // namespace

TEST_CASE("overprint: JSON has the promised fields, and marks an estimate") {
  const AdviceRun run(overprint_stash());
  const auto outcome = run({"overprint", "Pitch", "Kraft", "--json"});
  REQUIRE(outcome.status == 0);
  const auto data = outcome.data();
  CHECK(data["lab"].size() == 3);
  CHECK(data["lab"][0].get<double>() < 18.5);
  CHECK(data["estimated"] == true);
  CHECK(data["de00_error"].get<double>() > 1.0);
  CHECK(data["contrast"].get<double>() > 4.5);
  CHECK(data["reads"] == "fine");
  CHECK(data["paper"]["name"] == "Sailcloth");
  CHECK(run({"overprint", "Pitch", "Sailcloth", "--json"}).data()["estimated"] == false);
}

TEST_CASE("overprint: says where colour-blind eyes lose the words") {
  const AdviceRun run(overprint_stash());
  // A red on near-black: brighter for most than for protan eyes.
  const std::vector<std::string> args{"overprint", "lab(52 70 50)", "lab(10 0 0)", "--cover",
                                      "1",         "--on",          "Sailcloth"};
  auto json = args;
  json.emplace_back("--json");
  const auto data = run(json).data();
  CHECK(data["contrast_seen"]["protan"].get<double>() < data["contrast"].get<double>());
  CHECK(run(args).out.find("To protan eyes the contrast falls to") != std::string::npos);
  CHECK(run({"overprint", "Pitch", "Sailcloth"}).out.find("eyes the contrast") == std::string::npos);
}

TEST_CASE("overprint: every output mode marks the estimate") {
  const AdviceRun run(overprint_stash());
  CHECK(run({"overprint", "Pitch", "Kraft"}).out.find("Estimated, right to about") != std::string::npos);
  CHECK(run({"overprint", "Pitch", "Kraft"}).out.find("~ lab(") != std::string::npos);
  CHECK(run({"overprint", "Pitch", "Kraft", "--plain"}).out.find("\tyes\t") != std::string::npos);
  CHECK(run({"overprint", "Pitch", "Sailcloth"}).out.find("Measured on this stock.") != std::string::npos);
}

TEST_CASE("overprint: where the ink does not read it says what would") {
  const AdviceRun run(overprint_stash());
  const auto text = run({"overprint", "Pitch", "Night"}).out;
  CHECK(text.find("Inks of yours that read on it: Chalk") != std::string::npos);
  CHECK(text.find("Nearest stocks on which it reads: Kraft") != std::string::npos);
  const auto data = run({"overprint", "Pitch", "Night", "--json"}).data();
  CHECK(data["reads"] == "picture");
  CHECK(data["instead"]["inks"][0]["name"] == "Chalk");
  CHECK(data["instead"]["inks"][0]["opaque"] == true);
}

TEST_CASE("overprint: literals serve for both; an unknown paper is said") {
  const AdviceRun run(overprint_stash());
  const auto outcome = run({"overprint", "lab(30 5 -30)", "lab(80 5 20)"});
  CHECK(outcome.status == 0);
  CHECK(outcome.err.find("white card was taken") != std::string::npos);
  const auto named = run({"overprint", "lab(30 5 -30)", "lab(80 5 20)", "--on", "Sailcloth"});
  CHECK(named.err.empty());
}

TEST_CASE("overprint: --cover and --strength change the answer") {
  const AdviceRun run(overprint_stash());
  const auto lightness = [&](std::vector<std::string> more) {
    std::vector<std::string> args{"overprint", "Pitch", "Kraft", "--json"};
    args.insert(args.end(), more.begin(), more.end());
    return run(args).data()["lab"][0].get<double>();
  };
  CHECK(lightness({"--strength", "0.5"}) > lightness({}) + 5.0);
  CHECK(lightness({"--strength", "1.5"}) < lightness({}));
  CHECK(std::abs(lightness({"--cover", "1"}) - 18.0) < 0.01);
}

TEST_CASE("overprint: wrong input gives one clear line and its status") {
  const AdviceRun run(overprint_stash());
  const std::vector<std::pair<std::vector<std::string>, int>> wrong{
      {{"overprint", "Pitch"}, 2},
      {{"overprint", "Kraft", "Pitch"}, 2},
      {{"overprint", "Pithc", "Kraft"}, 4},
      {{"overprint", "Pitch", "Kraft", "--on", "Nowhere"}, 4},
      {{"overprint", "Pitch", "Kraft", "--cover", "2"}, 2},
      {{"overprint", "Pitch", "Kraft", "--strength", "0"}, 2},
      {{"overprint", "Pitch", "#zzzzzz"}, 3}};
  for (const auto& [args, status] : wrong) {
    const auto outcome = run(args);
    CAPTURE(outcome.err);
    CHECK(outcome.status == status);
    CHECK(outcome.out.empty());
    CHECK(outcome.error_lines() == 1);
  }
}

TEST_CASE("overprint: --why names the curves, the error and how to settle it") {
  const AdviceRun run([] {
    Stash stash;
    stash.swatches = {swatch_with(1, "Sailcloth", Kind::stock, {94, 1, 6}),
                      swatch_with(2, "Kraft", Kind::stock, {62, 9, 24}),
                      swatch_with(3, "Lagoon", Kind::ink, {48, -18, -30})};
    stash.swatches[2].surface = "Sailcloth";
    stash.next_id = 4;
    return stash;
  }());
  const auto text = run({"overprint", "Lagoon", "Kraft", "--why"}).out;
  CHECK(text.find("curve made up from its Lab") != std::string::npos);
  CHECK(text.find("To settle it: stamp it") != std::string::npos);
  CHECK(run({"overprint", "Lagoon", "Kraft", "--json"}).data()["curves_measured"]["ink"] == false);
}

TEST_CASE("overprint: a number out of range is said in short numbers") {
  const AdviceRun run(Stash{});
  const auto outcome = run({"overprint", "lab(40 0 0)", "lab(90 0 0)", "--strength", "0"});
  CHECK(outcome.status == 2);
  CHECK(outcome.err.find("0.05 to 5 ") != std::string::npos);
}
