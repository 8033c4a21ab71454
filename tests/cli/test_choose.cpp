// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "advise/swatches.h"
#include "base/files.h"
#include "cli/advice_run.h"

using namespace kithue;

namespace {

Stash choose_stash() {
  Stash stash;
  stash.swatches = {swatch_with(1, "Sailcloth", Kind::stock, {94, 1, 6}),
                    swatch_with(2, "Pitch", Kind::ink, {18, 0, 1}),
                    swatch_with(3, "Lagoon", Kind::ink, {55, -25, -20}),
                    swatch_with(4, "Lagoon Two", Kind::ink, {57, -25, -22}),
                    swatch_with(5, "Buoy", Kind::ink, {50, 58, 40}),
                    swatch_with(6, "Glitter", Kind::ink, {50, 0, 0})};
  stash.swatches[5].finish = Finish::unmeasurable;
  stash.swatches[5].readings.clear();
  stash.next_id = 7;
  return stash;
}

constexpr const char* kKitToChooseFor =
    "name = \"Harbour Morning\"\n"
    "[[face]]\n"
    "label = \"1A\"\n"
    "colours = [{ colour = \"lab(94 1 6)\", share = 0.6, role = \"ground\" },\n"
    "           { colour = \"lab(55 -24 -20)\", share = 0.35, role = \"motif\" },\n"
    "           { colour = \"lab(51 57 39)\", share = 0.05, role = \"accent\" }]\n"
    "[[face]]\n"
    "label = \"1B\"\n"
    "colours = [{ colour = \"lab(57 -25 -22)\", share = 0.9, role = \"motif\" }]\n"
    "[inks]\n"
    "choose = 3\n"
    "[stocks]\n"
    "base = [\"Sailcloth\"]\n";

}  // namespace

TEST_CASE("choose: JSON has the promised fields, and the set keeps the rules") {
  const AdviceRun run(choose_stash());
  const auto outcome = run({"choose", run.write("kit.toml", kKitToChooseFor), "--json"});
  CAPTURE(outcome.err);
  REQUIRE(outcome.status == 0);
  const auto data = outcome.data();
  CHECK(data["inks"].size() == 3);
  CHECK(data["proved"] == true);
  CHECK(data["cost"].get<double>() > 0.0);
  CHECK(data["cost"].get<double>() < 2.0);
  // Pitch must be there to be read on the base; the two lagoons are a near-miss, so only one may.
  const auto has = [&](const char* name) {
    return std::find(data["inks"].begin(), data["inks"].end(), name) != data["inks"].end();
  };
  CHECK(has("Pitch"));
  CHECK(has("Buoy"));
  CHECK(has("Lagoon") != has("Lagoon Two"));
  REQUIRE(data["faces"].size() == 2);
  CHECK(data["faces"][0]["label"] == "1A");
  CHECK(data["faces"][0]["de00"].get<double>() < 2.0);
  CHECK(data["runner_up"]["cost"].get<double>() >= data["cost"].get<double>());
  CHECK(data["left_out"][0]["name"] == "Glitter");
}

TEST_CASE("choose: text says what each is there for, that it is proved, and the runner-up") {
  const AdviceRun run(choose_stash());
  const auto kit = run.write("kit.toml", kKitToChooseFor);
  const auto text = run({"choose", kit}).out;
  CHECK(text.find("words on Sailcloth") != std::string::npos);
  CHECK(text.find("Proved:") != std::string::npos);
  CHECK(text.find("Runner-up") != std::string::npos);
  CHECK(text.find("Glitter (not measurable)") != std::string::npos);
  const auto plain = run({"choose", kit, "--plain"}).out;
  CHECK(std::count(plain.begin(), plain.end(), '\n') == 4);
}

TEST_CASE("choose: --fewest and -n; what blocks every set is named with status 8") {
  const AdviceRun run(choose_stash());
  const auto kit = run.write("kit.toml", kKitToChooseFor);
  CHECK(run({"choose", kit, "-n", "1", "--json"}).data()["inks"] == nlohmann::ordered_json::array({"Pitch"}));
  CHECK(run({"choose", kit, "--fewest", "--within", "3", "--json"}).data()["inks"].size() == 3);
  const auto blocked = run({"choose", kit, "-n", "4"});
  CHECK(blocked.status == 8);
  CHECK(blocked.err.find("no set can do this") != std::string::npos);
  CHECK(blocked.err.find("near-miss") != std::string::npos);
}

TEST_CASE("choose: wrong input gives one clear line and its status") {
  const AdviceRun run(choose_stash());
  const auto kit = run.write("kit.toml", kKitToChooseFor);
  const auto empty = run.write("empty.toml", "name = \"Nothing\"\n");
  const auto broken = run.write("broken.toml", "name = \n");
  const auto unknown = run.write("unknown.toml", std::string(kKitToChooseFor) + "\n[extra]\n");
  const auto misspelt =
      run.write("misspelt.toml",
                "name = \"K\"\n[[face]]\nlabel = \"1\"\ncolours = [{ colour = \"lab(50 0 0)\" }]\n"
                "[inks]\nmust = [\"Pithc\"]\n");
  const auto no_photo =
      run.write("photo.toml", "name = \"K\"\n[[face]]\nlabel = \"1\"\nphoto = \"nowhere.jpg\"\n");
  const std::vector<std::pair<std::vector<std::string>, int>> wrong{
      {{"choose"}, 2},
      {{"choose", run.path("nowhere.toml")}, 5},
      {{"choose", broken}, 3},
      {{"choose", misspelt}, 4},
      {{"choose", no_photo}, 5},
      {{"choose", kit, "-n", "0"}, 2},
      {{"choose", kit, "--sentiment", "thin"}, 2}};
  for (const auto& [args, status] : wrong) {
    const auto outcome = run(args);
    CAPTURE(outcome.err);
    CHECK(outcome.status == status);
    CHECK(outcome.out.empty());
    CHECK(outcome.error_lines() == 1);
  }
  CHECK(run({"choose", empty}).status == 3);
}

TEST_CASE("choose: prices of pads are summed in whole cents, and a budget is kept or named as what blocks") {
  const AdviceRun run(choose_stash());
  const std::string kit = std::string(kKitToChooseFor);
  const auto inks = kit.find("choose = 3");
  const std::string priced = kit.substr(0, inks) + "choose = 3\nprice = 8.35\n" + kit.substr(inks + 11) +
                             "[[supply]]\nink = \"Lagoon Two\"\nprice = 0.10\n";
  const std::string file = run.write("kit.toml", priced);
  const auto dear = run({"choose", file, "--budget", "25.05", "--json"}).data();
  const auto cheap = run({"choose", file, "--budget", "25.04", "--json"}).data();
  CHECK(dear["price_cents"].get<int>() <= 2505);
  CHECK(cheap["price_cents"].get<int>() == 1680);
  CHECK(cheap["cost"].get<double>() >= dear["cost"].get<double>());
  const auto none = run({"choose", file, "--budget", "16.79"});
  CHECK(none.status == 8);
  CHECK(none.err.find("budget") != std::string::npos);
  CHECK(run({"choose", file, "--budget", "-1"}).status == 2);
  CHECK(run({"choose", file}).out.find("The set costs") != std::string::npos);
}

TEST_CASE("choose: mats leave the bases out and clash with none; bases carry words") {
  Stash stash = choose_stash();
  stash.swatches.push_back(swatch_with(7, "Off Sail", Kind::stock, {92, 3, 9}));
  stash.swatches.push_back(swatch_with(8, "Lagoon Card", Kind::stock, {56, -25, -20}));
  stash.swatches.push_back(swatch_with(9, "Night Card", Kind::stock, {15, 1, -6}));
  stash.next_id = 10;
  const AdviceRun run(stash);
  const std::string file = run.write("kit.toml", kKitToChooseFor);
  const auto mats = run({"choose", file, "--kind", "mat", "-n", "2", "--json"}).data();
  REQUIRE(mats["inks"].size() == 2);
  for (const auto& name : mats["inks"]) {
    CHECK(name != "Sailcloth");
    CHECK(name != "Off Sail");
  }
  const auto bases = run({"choose", file, "--kind", "base", "-n", "1", "--json"}).data();
  CHECK(bases["inks"][0] != "Night Card");
  CHECK(run({"choose", file, "--kind", "base", "-n", "4"}).status == 8);  // three stocks carry words at most
  CHECK(run({"choose", file, "--why"}).out.find("no set below") != std::string::npos);
}

TEST_CASE("choose: --picture draws every face on its card, and keeps a file that is there") {
  const AdviceRun run(choose_stash());
  const auto kit = run.write("kit.toml", kKitToChooseFor);
  const std::string svg = run.path("cards.svg");
  REQUIRE(run({"choose", kit, "--picture", svg}).status == 0);
  const auto drawn = read_file(svg, 1 << 20);
  REQUIRE(drawn);
  CHECK(drawn->find("Sailcloth / ") != std::string::npos);
  CHECK(drawn->find(">1A<") != std::string::npos);
  CHECK(drawn->find("<circle") != std::string::npos);
  CHECK(run({"choose", kit, "--picture", svg}).status == 5);
  CHECK(run({"choose", kit, "--picture", svg, "--force"}).status == 0);
}

TEST_CASE("choose: a set that is larger than the pack needs says which are to spare") {
  Stash stash;
  stash.swatches = {swatch_with(1, "Sailcloth", Kind::stock, {95, 1, 6}),
                    swatch_with(2, "Reef", Kind::ink, {50, 40, 20}),
                    swatch_with(3, "Far", Kind::ink, {30, -60, 40})};
  stash.next_id = 4;
  const AdviceRun run(stash);
  const auto kit = run.write("kit.toml",
                             "name = \"Harbour Morning\"\n[[face]]\nlabel = \"1A\"\ncolours = [{ colour = "
                             "\"lab(50 40 20)\", share = 1 }]\n"
                             "[inks]\nchoose = 2\n");
  const auto text = run({"choose", kit}).out;
  CHECK(text.find("nearest on 1A") != std::string::npos);
  CHECK(text.find("to spare: no colour of the pack needs it") != std::string::npos);
}
