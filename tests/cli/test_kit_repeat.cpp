// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "advise/swatches.h"
#include "cli/advice_run.h"
#include "sheet/outside.h"

using namespace kithue;

namespace {

std::string kit_of(const std::string& name, const std::string& colour) {
  return "name = \"" + name + "\"\n[pack]\nsheet = \"12 x 12 in\"\n[stocks]\nsheet = \"12 x 12 in\"\n" +
         "[[face]]\nlabel = \"1A\"\ncolours = [\"" + colour + "\"]\n[[card]]\nname = \"C\"\n" +
         "[[card.piece]]\nname = \"a\"\nstock = \"Sail\"\nturn = \"never\"\nsize = \"10 x 12 in\"\n";
}

}  // namespace

TEST_CASE("kit repeat: remembers palettes beside the stash and finds the nearest of them") {
  const AdviceRun run(Stash{});
  CHECK(run({"kit", "repeat", run.write("a.toml", kit_of("Spring", "lab(70 20 20)")), "--remember"})
            .out.find("No earlier") == 0);
  CHECK(run({"kit", "repeat", run.write("b.toml", kit_of("Winter", "lab(40 0 -40)")), "--remember"}).status ==
        0);
  const std::string third = run.write("c.toml", kit_of("Again", "lab(70 21 20)"));
  const auto data = run({"kit", "repeat", third, "--json"}).data();
  REQUIRE(data["kits"].size() == 2);
  CHECK(data["kits"][0]["name"] == "Spring");
  CHECK(data["kits"][0]["de00"].get<double>() < 2.0);
  CHECK(data["kits"][0]["words"] == "much the same palette");
  CHECK(data["kits"][1]["words"] == "another palette");
  CHECK(run({"kit", "repeat", third, "--plain"}).out.starts_with("kit\tdate\tde00\thow near\nSpring\t"));
  // Remembered twice is remembered once, and a dry run changes nothing.
  const std::string history = file_bytes(run.path("kit-history.csv"));
  CHECK(run({"kit", "repeat", run.path("a.toml"), "--remember"}).status == 0);
  CHECK(file_bytes(run.path("kit-history.csv")) == history);
  CHECK(run({"kit", "repeat", third, "--remember", "--dry-run"}).status == 0);
  CHECK(file_bytes(run.path("kit-history.csv")) == history);
  CHECK(run({"kit", "repeat", third, "--history", run.path("none.csv")}).status == 5);
  CHECK(run({"kit", "repeat", third, "--history", run.write("bad.csv", "x,y\n")}).status == 3);
}

TEST_CASE(
    "kit scraps: offcuts are kept by size and offered to later kits, never where a piece does not fit") {
  const AdviceRun run(Stash{});
  const std::string file = run.write("a.toml", kit_of("Spring", "#fff"));
  const auto first = run({"kit", "scraps", file, "--keep", "--json"}).data();
  CHECK(first["fits"].empty());
  REQUIRE(first["left"].size() == 1);  // two inches of twelve
  CHECK(first["left"][0]["width_mm"] == 50.8);
  CHECK(first["kept"] == true);
  const auto with = [&](const std::string& size) {
    std::string kit = kit_of("Summer", "#fff");
    kit.replace(kit.find("10 x 12 in"), 10, size);
    return run({"kit", "scraps", run.write("b.toml", kit), "--json"}).data();
  };
  CHECK(with("2 x 3 in")["fits"][0]["each"] == 4);
  CHECK(with("2 1/8 x 3 in")["fits"].empty());
  CHECK(run({"kit", "scraps", file}).out.find("No piece of this kit fits") == 0);
  CHECK(run({"kit", "scraps", file, "--scraps", run.path("none.csv")}).status == 5);
  CHECK(run({"kit", "scraps", file, "--least", "2"}).status == 2);
}
