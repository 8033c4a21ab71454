// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "advise/swatches.h"
#include "cli/advice_run.h"
#include "paper/chip_scene.h"

using namespace kithue;

namespace {

/// Stocks and inks that were read alike, but for what `spoil` does to one of each.
template <typename Spoil>
Stash three_swatches(Spoil spoil) {
  Stash stash;
  stash.swatches = {swatch_with(1, "Sailcloth", Kind::stock, {92, 12, 30}),
                    swatch_with(2, "Tarred Rope", Kind::ink, {30, 16, 28}),
                    swatch_with(3, "Sunburnt Nose", Kind::ink, {55, 30, 42}),
                    swatch_with(4, "Tide Line", Kind::stock, {60, -10, 5})};
  for (Swatch& swatch : stash.swatches) {
    Reading& reading = swatch.readings.front();
    reading.condition = "M1";
    reading.dryness = Dryness::dry;
  }
  spoil(stash.swatches[2].readings.front());
  spoil(stash.swatches[3].readings.front());
  stash.next_id = 5;
  return stash;
}

constexpr const char* kKitWithStamps =
    "name = \"Harbour Morning\"\nkits = 3\n[[face]]\nlabel = \"1A\"\n"
    "colours = [{ colour = \"lab(55 30 42)\", share = 0.6 }, { colour = \"lab(30 16 28)\", share = 0.4 }]\n"
    "[inks]\nchoose = 2\n[stocks]\nbase = [\"Sailcloth\"]\n[[card]]\nname = \"Slipway\"\n[[card.piece]]\n"
    "name = \"base\"\nstock = \"Sailcloth\"\nsize = \"210 x 148 mm\"\n[[card.piece]]\nname = \"mat\"\n"
    "stock = \"Tide Line\"\nsize = \"90 x 130 mm\"\ntouches = [\"base\"]\n";

/// Every command line whose answer compares a spoilt reading with others.
std::vector<std::vector<std::string>> comparing(const AdviceRun& run) {
  const std::string kit = run.write("kit.toml", kKitWithStamps);
  paper::ChipScene scene;
  scene.chips = {{200, 300, 60, 60, false, 0, {0.4, 0.1, 0.05}},
                 {500, 300, 60, 60, false, 0, {0.1, 0.1, 0.2}}};
  const std::string photo = run.write("chips.png", paper::png_bytes(scene.shot()));
  return {{"match", "Sunburnt Nose"},
          {"match", "Tarred Rope"},
          {"clash", "Sunburnt Nose", "Sailcloth"},
          {"clash", "--kit", kit},
          {"harmony", "Tarred Rope", "--tolerance", "30"},
          {"tones", "--hue", "60"},
          {"standin", "Tarred Rope"},
          {"standin", "Tarred Rope", "--with", "Sunburnt Nose"},
          {"overprint", "Sunburnt Nose", "Sailcloth"},
          {"light", "Sunburnt Nose", "Sailcloth"},
          {"choose", kit},
          {"kit", "check", kit},
          {"sheet", kit, "-o", run.path("kit.pdf"), "--force"},
          {"measure", photo, "--known", "1=Sunburnt Nose", "--known", "2=Tarred Rope"}};
}

}  // namespace

TEST_CASE("wet against dry: no command that compares them is silent") {
  const AdviceRun run(three_swatches([](Reading& reading) { reading.dryness = Dryness::wet; }));
  for (const auto& args : comparing(run)) {
    CAPTURE(args[0]);
    const auto outcome = run(args);
    CAPTURE(outcome.err);
    CHECK(outcome.status == 0);
    CHECK(outcome.err.find(", the others not: inks change as they dry") != std::string::npos);
  }
}

TEST_CASE("M0 against M1: no command that compares them is silent") {
  const AdviceRun run(three_swatches([](Reading& reading) { reading.condition = "M0, white backing"; }));
  for (const auto& args : comparing(run)) {
    CAPTURE(args[0]);
    const auto outcome = run(args);
    CAPTURE(outcome.err);
    CHECK(outcome.status == 0);
    CHECK(outcome.err.find("read under M0: ") != std::string::npos);
  }
}

TEST_CASE("readings made alike: no command warns of them") {
  const AdviceRun run(three_swatches([](Reading&) {}));
  for (const auto& args : comparing(run)) {
    CAPTURE(args[0]);
    const auto outcome = run(args);
    CHECK(outcome.err.find("read wet") == std::string::npos);
    CHECK(outcome.err.find("read under") == std::string::npos);
  }
}

TEST_CASE("wet against dry: a literal counts as dry, a swatch with both is named") {
  Stash stash = three_swatches([](Reading& reading) { reading.dryness = Dryness::wet; });
  Reading dry = stash.swatches[2].readings.front();
  dry.dryness = Dryness::dry;
  dry.batch = "H2";
  stash.swatches[2].readings.push_back(dry);
  const AdviceRun run(stash);
  CHECK(run({"match", "lab(55 30 42)", "-n", "1"}).err.find("read wet: Sunburnt Nose") != std::string::npos);
  for (const std::vector<std::string>& args :
       {std::vector<std::string>{"stash", "show", "Sunburnt Nose"}, {"stash", "drift", "Sunburnt Nose"}})
    CHECK(run(args).err.find("readings made wet and others not") != std::string::npos);
  CHECK(run({"stash", "check"}).out.find("readings made wet and others not") != std::string::npos);
}
