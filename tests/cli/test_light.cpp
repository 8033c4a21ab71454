// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "advise/swatches.h"
#include "cli/advice_run.h"

using namespace kithue;

TEST_CASE("light: without spectra the answer is unknown, and says what is needed") {
  Stash stash;
  stash.swatches = {swatch_with(1, "Wet Sand", Kind::stock, {70, 6, 20}),
                    swatch_with(2, "Sailcloth", Kind::stock, {90, 0, 4})};
  stash.next_id = 3;
  const AdviceRun run(stash);
  const auto outcome = run({"light", "Wet Sand", "Sailcloth", "--json"});
  REQUIRE(outcome.status == 0);
  CHECK(outcome.data()["verdict"] == "unknown");
  CHECK(outcome.data()["words"] == "unknown: needs a spectral reading of Wet Sand and Sailcloth");
  CHECK(outcome.data()["lights"].empty());
  CHECK(run({"light", "Wet Sand", "lab(50 0 0)"}).out.find("unknown: needs") != std::string::npos);
  CHECK(run({"light", "Wet Sand", "Nobody"}).status == 4);
  CHECK(run({"light", "Wet Sand", "Sailcloth", "--reference", "candle"}).status == 2);
}

TEST_CASE("light: spectra give ten lights, and M0 against M1 a warning") {
  Stash stash;
  stash.swatches = {swatch_with(1, "Wet Sand", Kind::stock, {70, 6, 20}),
                    swatch_with(2, "Sailcloth", Kind::stock, {70, 6, 20})};
  stash.next_id = 3;
  for (Swatch& swatch : stash.swatches) {
    Reading& reading = swatch.readings.front();
    reading.spectrum.assign(31, 0.4);
    reading.start_nm = 400;
    reading.step_nm = 10;
    reading.condition = swatch.id == 1 ? "M0" : "M1";
  }
  const AdviceRun run(stash);
  const auto outcome = run({"light", "Wet Sand", "Sailcloth", "--json"});
  REQUIRE(outcome.status == 0);
  CHECK(outcome.data()["lights"].size() == 10);
  CHECK(outcome.data()["verdict"] == "holds");
  CHECK(outcome.err.find("M0") != std::string::npos);
}
