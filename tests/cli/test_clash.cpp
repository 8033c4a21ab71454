// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "advise/swatches.h"
#include "base/files.h"
#include "cli/advice_run.h"

using namespace kithue;

namespace {

Stash clash_stash() {
  Stash stash;
  stash.swatches = {swatch_with(1, "Wet Sand", Kind::stock, {70, 6, 20}),
                    swatch_with(2, "Dry Sand", Kind::stock, {73, 6, 20}),
                    swatch_with(3, "Deep Water", Kind::stock, {25, 5, -30})};
  stash.next_id = 4;
  return stash;
}

}  // namespace

TEST_CASE("clash: JSON has every pair with the promised fields, worst first, and the number that clash") {
  const AdviceRun run(clash_stash());
  const auto outcome = run({"clash", "Deep Water", "Wet Sand", "Dry Sand", "--json"});
  REQUIRE(outcome.status == 0);
  const auto data = outcome.data();
  CHECK(data["clashes"] == 1);
  REQUIRE(data["pairs"].size() == 3);
  const auto& worst = data["pairs"][0];
  CHECK(worst["a"] == "Wet Sand");
  CHECK(worst["b"] == "Dry Sand");
  CHECK(worst["verdict"] == "near-miss");
  CHECK(worst["de00"].get<double>() > 2.0);
  CHECK(worst["de00"].get<double>() < 3.0);
  CHECK(worst["reasons"].size() == 1);
  CHECK(worst["harmony"].is_number());
  CHECK(data["pairs"][1]["verdict"] == "distinct");
}

TEST_CASE("clash: works on literals alone, and --fail-on sets the status") {
  const AdviceRun run(clash_stash());
  const std::vector<std::string> pair{"clash", "lab(94 6 1)", "lab(93 -1 9)"};
  CHECK(run(pair).status == 0);
  auto failing = pair;
  failing.insert(failing.end(), {"--fail-on", "clash"});
  CHECK(run(failing).status == 1);
  CHECK(run({"clash", "Wet Sand", "Deep Water", "--fail-on", "clash"}).status == 0);
}

TEST_CASE("clash: an uncertain reading near a limit is too close to call, with what to measure") {
  Stash stash = clash_stash();
  stash.swatches[1].readings[0].error_de00 = 3.0;
  const AdviceRun run(stash);
  const auto data = run({"clash", "Wet Sand", "Dry Sand", "--json"}).data();
  CHECK(data["pairs"][0]["verdict"] == "unsure");
  CHECK(data["pairs"][0]["could_be"].size() > 1);
  CHECK(data["pairs"][0]["settle"] ==
        "measure Dry Sand with an instrument: its reading is only good to about 3.0");
  CHECK(data["clashes"] == 0);
  CHECK(run({"clash", "Wet Sand", "Dry Sand", "--fail-on", "clash"}).status == 0);
  CHECK(run({"clash", "Wet Sand", "Dry Sand", "--fail-on", "unsure"}).status == 1);
  CHECK(run({"clash", "Wet Sand", "Dry Sand"}).out.find("to settle it: measure Dry Sand") !=
        std::string::npos);
}

TEST_CASE("clash: the bands can be set") {
  const AdviceRun run(clash_stash());
  const auto data = run({"clash", "Wet Sand", "Dry Sand", "--bands", "2,3,6,12", "--json"}).data();
  CHECK(data["pairs"][0]["verdict"] == "match");
}

TEST_CASE("clash: plain output has one line a pair; text ends with the count") {
  const AdviceRun run(clash_stash());
  const auto plain = run({"clash", "Wet Sand", "Dry Sand", "Deep Water", "--plain"});
  CHECK(std::count(plain.out.begin(), plain.out.end(), '\n') == 4);
  CHECK(plain.out.starts_with("a\tb\tde00\tverdict\twords\treasons\tharmony\nWet Sand\tDry Sand\t"));
  const auto text = run({"clash", "Wet Sand", "Dry Sand", "Deep Water"});
  CHECK(text.out.find("near-miss: Wet Sand + Dry Sand") == 0);
  CHECK(text.out.find("3 pairs: 1 clash.") != std::string::npos);
}

TEST_CASE("clash: --vision names pairs that merge for colour-blind eyes") {
  const AdviceRun run(clash_stash());
  const std::vector<std::string> args{"clash", "lab(50 30 30)", "lab(52 0 30)", "--vision"};
  auto json = args;
  json.emplace_back("--json");
  const auto data = run(json).data();
  REQUIRE(data["merging"].size() >= 1);
  CHECK(data["merging"][0]["vision"] == "deutan");
  CHECK(data["merging"][0]["de00_simulated"].get<double>() < 5.0);
  CHECK(run(args).out.find("nearly merge") != std::string::npos);
  CHECK(run({"clash", "Wet Sand", "Deep Water", "--vision"}).out.find("No pair that parts") !=
        std::string::npos);
}

TEST_CASE("clash: --learn prints bands that clash itself then takes") {
  const AdviceRun run(clash_stash());
  std::string file = "a,b,verdict\n";
  for (int i = 1; i <= 24; ++i) {
    // Steps in lightness around 50; this teacher minds 3 to 8 only.
    const double step = 0.5 * i;
    file += "lab(50 0 0),lab(" + std::to_string(50 + step) + " 0 0)," +
            (step > 3 && step <= 8 ? "clashes" : "goes") + "\n";
  }
  const auto path = run.write("mine.csv", file);
  const auto learned = run({"clash", "--learn", path, "--json"}).data()["learned"];
  CHECK(learned["pairs"] == 24);
  CHECK(learned["agree_after"] == 24);
  CHECK(learned["agree_before"].get<int>() < 24);
  const auto text = run({"clash", "--learn", path}).out;
  const auto at = text.find("--bands ");
  REQUIRE(at != std::string::npos);
  const std::string bands = text.substr(at + 8, text.find('\n', at) - at - 8);
  const auto data = run({"clash", "lab(50 0 0)", "lab(52.5 0 0)", "--bands", bands, "--json"}).data();
  CHECK(data["pairs"][0]["verdict"] == "match");
}

TEST_CASE("clash: a file of verdicts that cannot be used gives its line") {
  const AdviceRun run(clash_stash());
  const auto few = run({"clash", "--learn", run.write("few.csv", "a,b,verdict\nWet Sand,Dry Sand,goes\n")});
  CHECK(few.status == 8);
  CHECK(few.err.find("it takes 20") != std::string::npos);
  const auto odd = run({"clash", "--learn", run.write("odd.csv", "a,b,verdict\nWet Sand,Dry Sand,maybe\n")});
  CHECK(odd.status == 3);
  CHECK(odd.err.find("odd.csv:2: the verdict is \"maybe\"") != std::string::npos);
  CHECK(run({"clash", "--learn", run.write("head.csv", "one,two\n")}).status == 3);
  CHECK(run({"clash", "--learn", run.path("nowhere.csv")}).status == 5);
  CHECK(run({"clash", "Wet Sand", "Dry Sand", "--learn", run.path("few.csv")}).status == 2);
}

TEST_CASE("clash: --picture writes an SVG with names escaped, and replaces nothing unasked") {
  Stash stash = clash_stash();
  stash.swatches[1].name = "Dry <script>&\"Sand\"";
  const AdviceRun run(stash);
  const auto path = run.path("pairs.svg");
  REQUIRE(run({"clash", "#1", "#2", "Deep Water", "--picture", path}).status == 0);
  const auto svg = read_file(path, 1 << 20);
  REQUIRE(svg);
  CHECK(svg->find("<script>") == std::string::npos);
  CHECK(svg->find("Dry &lt;script&gt;&amp;&quot;Sand&quot;") != std::string::npos);
  CHECK(svg->find("near-miss") < svg->find("distinct"));
  const auto again = run({"clash", "#1", "#2", "--picture", path});
  CHECK(again.status == 5);
  CHECK(again.error_lines() == 1);
  CHECK(*read_file(path, 1 << 20) == *svg);
  CHECK(run({"clash", "#1", "#2", "--picture", path, "--force"}).status == 0);
}

TEST_CASE("clash: wrong input gives one clear line and its status") {
  const AdviceRun run(clash_stash());
  const std::vector<std::pair<std::vector<std::string>, int>> wrong{
      {{"clash", "Wet Sand"}, 2},
      {{"clash"}, 2},
      {{"clash", "Wet Sand", "Nowhere"}, 4},
      {{"clash", "Wet Sand", "#zzz"}, 3},
      {{"clash", "Wet Sand", "Dry Sand", "--fail-on", "anything"}, 2}};
  for (const auto& [args, status] : wrong) {
    const auto outcome = run(args);
    CAPTURE(outcome.err);
    CHECK(outcome.status == status);
    CHECK(outcome.out.empty());
    CHECK(outcome.error_lines() == 1);
  }
}

TEST_CASE("clash --kit: judges what touches on the cards, by the kit's bands unless --bands says others") {
  const AdviceRun run(clash_stash());
  const std::string kit = R"(name = "K"
[[card]]
name = "Gulls"
[[card.piece]]
name = "base"
stock = "Wet Sand"
size = "100 x 140 mm"
[[card.piece]]
name = "mat"
stock = "Dry Sand"
size = "90 x 130 mm"
touches = ["base"]
[[card.piece]]
name = "tag"
stock = "Deep Water"
size = "20 x 50 mm"
touches = ["mat"]
)";
  const std::string file = run.write("kit.toml", kit);
  const auto data = run({"clash", "--kit", file, "--json"}).data();
  REQUIRE(data["pairs"].size() == 2);  // base and tag do not touch
  CHECK(data["clashes"] == 1);
  CHECK(data["pairs"][0]["verdict"] == "near-miss");
  CHECK(data["pairs"][0]["where"] == nlohmann::ordered_json::array({"Gulls: base + mat"}));
  CHECK(run({"clash", "--kit", file, "--fail-on", "clash"}).status == 1);
  const std::string eased = run.write("eased.toml", "bands = [1, 4, 6, 12]\n" + kit);
  CHECK(run({"clash", "--kit", eased, "--json"}).data()["clashes"] == 0);
  CHECK(run({"clash", "--kit", eased, "--bands", "1,2,6,12", "--json"}).data()["clashes"] == 1);
  CHECK(run({"clash", "--kit", file, "Wet Sand"}).status == 2);
  CHECK(run({"clash", "--kit",
             run.write("none.toml", "name = \"K\"\n[[face]]\nlabel = \"1\"\ncolours = [\"#fff\"]\n")})
            .status == 3);
}

TEST_CASE("clash: literals alone need no stash, and an empty one is not spoken of") {
  const auto said = kithue_test::run({"clash", "lab(94 6 1)", "lab(93 -1 9)"}, {{"HOME", "/nowhere"}});
  CHECK(said.status == 0);
  CHECK(said.err.empty());
}
