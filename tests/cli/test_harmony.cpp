// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "advise/swatches.h"
#include "base/files.h"
#include "cli/advice_run.h"

using namespace kithue;

namespace {

Stash harmony_stash() {
  Stash stash;
  stash.swatches = {swatch_with(1, "Coral", Kind::stock, {62, 45, 32}),
                    swatch_with(2, "Lagoon", Kind::stock, {50, -35, -25}),
                    swatch_with(3, "Fog", Kind::stock, {88, 1, 2}),
                    swatch_with(4, "Deep Coral", Kind::ink, {38, 40, 29}),
                    swatch_with(5, "Gone", Kind::stock, {52, -35, -25})};
  stash.swatches[4].retired = true;
  stash.next_id = 6;
  return stash;
}

}  // namespace

TEST_CASE("harmony: sets from what is owned and not retired, in every output mode") {
  const AdviceRun run(harmony_stash());
  const auto data = run({"harmony", "Coral", "--json"}).data();
  REQUIRE(data["sets"].size() == 1);
  CHECK(data["sets"][0]["scheme"] == "opposite");
  CHECK(data["sets"][0]["members"][1]["name"] == "Lagoon");
  CHECK(data["sets"][0]["members"][1]["off_degrees"].get<double>() < 15.0);
  const auto text = run({"harmony", "Coral"}).out;
  CHECK(text.find("Opposite") != std::string::npos);
  CHECK(text.find("Lagoon") != std::string::npos);
  CHECK(run({"harmony", "Coral", "--plain"}).out.starts_with("scheme\tpart\tname"));
  CHECK(run({"harmony", "Deep Coral", "--kind", "ink"}).out.find("makes a set with it") != std::string::npos);
}

TEST_CASE("harmony: wrong input gives one clear line and its status") {
  const AdviceRun run(harmony_stash());
  const std::vector<std::pair<std::vector<std::string>, int>> wrong{
      {{"harmony"}, 2},
      {{"harmony", "Corla"}, 4},
      {{"harmony", "Fog"}, 8},
      {{"harmony", "Coral", "--circle", "oval"}, 2}};
  for (const auto& [args, status] : wrong) {
    const auto outcome = run(args);
    CAPTURE(outcome.err);
    CHECK(outcome.status == status);
    CHECK(outcome.error_lines() == 1);
  }
}

TEST_CASE("tones: owned pairs inside the window, for one stock or all") {
  const AdviceRun run(harmony_stash());
  const auto data = run({"tones", "--json"}).data();
  REQUIRE(data["pairs"].size() == 1);
  CHECK(data["pairs"][0]["ink"] == "Deep Coral");
  CHECK(data["pairs"][0]["stock"] == "Coral");
  CHECK(data["pairs"][0]["lightness"].get<double>() < -10.0);
  CHECK(data["pairs"][0]["estimated"] == true);
  CHECK(run({"tones", "Lagoon"}).out.find("No ink and stock") != std::string::npos);
  CHECK(run({"tones", "Coral"}).out.find("~ ") != std::string::npos);
  CHECK(run({"tones", "Deep Coral"}).status == 2);
  CHECK(run({"tones", "Nowhere"}).status == 4);
}

TEST_CASE("harmony: --why gives the numbers, --picture draws every member and replaces nothing unasked") {
  const AdviceRun run(harmony_stash());
  CHECK(run({"harmony", "Coral", "--why"}).out.find("degrees on the circle") != std::string::npos);
  const std::string picture = run.path("sets.svg");
  REQUIRE(run({"harmony", "Coral", "--picture", picture}).status == 0);
  const auto svg = read_file(picture, 1 << 20);
  REQUIRE(svg.has_value());
  CHECK(svg->find("Lagoon") != std::string::npos);
  CHECK(svg->ends_with("</svg>\n"));
  CHECK(run({"harmony", "Coral", "--picture", picture}).status == 5);
  CHECK(run({"harmony", "Coral", "--picture", picture, "--force"}).status == 0);
}
