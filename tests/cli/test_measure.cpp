// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>

#include "advise/swatches.h"
#include "cli/advice_run.h"
#include "colour/difference.h"
#include "colour/srgb.h"
#include "paper/chip_scene.h"
#include "sheet/outside.h"

using namespace kithue;

namespace {

/// Six chips of known sRGB light under a warm light: 1 to 4 are in the stash, 5 and 6 are new.
const std::array<std::array<double, 3>, 6> kLights{{{0.6, 0.55, 0.5},
                                                    {0.3, 0.05, 0.05},
                                                    {0.05, 0.25, 0.1},
                                                    {0.1, 0.15, 0.4},
                                                    {0.4, 0.3, 0.1},
                                                    {0.2, 0.2, 0.3}}};

Lab true_lab(std::size_t chip) {
  return lab_from_rgb({kLights[chip][0], kLights[chip][1], kLights[chip][2]});
}

paper::ChipScene six_chips() {
  paper::ChipScene scene;
  for (std::size_t i = 0; i < kLights.size(); ++i) {
    const double at = static_cast<double>(i);
    scene.chips.push_back({100 + 140 * at,
                           300,
                           45,
                           45,
                           i % 2 == 1,
                           0,
                           {0.9 * kLights[i][0], 0.8 * kLights[i][1], 0.6 * kLights[i][2]}});
  }
  scene.noise = 0.004;
  return scene;
}

/// The photo of six chips, taken once.
const std::string& six_chips_png() {
  static const std::string bytes = paper::png_bytes(six_chips().shot());
  return bytes;
}

Stash four_stocks() {
  Stash stash;
  const char* const names[] = {"Sailcloth", "Net Float", "Sea Lettuce", "Deep Water"};
  for (int i = 0; i < 4; ++i)
    stash.swatches.push_back(
        swatch_with(i + 1, names[i], Kind::stock, true_lab(static_cast<std::size_t>(i))));
  stash.next_id = 5;
  return stash;
}

/// The program, a stash of four known stocks, and a photo of them with two new ones.
struct Desk {
  AdviceRun run{four_stocks()};
  std::string photo = run.write("chips.png", six_chips_png());
  std::vector<std::string> measure{"measure",     photo,     "--known",       "1=Sailcloth", "--known",
                                   "2=Net Float", "--known", "3=Sea Lettuce", "--known",     "4=Deep Water"};
  [[nodiscard]] AdviceRun::Outcome with(std::vector<std::string> more) const {
    std::vector<std::string> args = measure;
    args.insert(args.end(), more.begin(), more.end());
    return run(args);
  }
};

}  // namespace

TEST_CASE("measure: chips with a name become readings with their white, day, source and error") {
  const Desk desk;
  const auto outcome = desk.with({"--name", "5=Wet Sand", "--name", "6=Slate Quay", "--kind", "stock",
                                  "--batch", "H3", "--date", "2026-03-14", "--source", "flatbed", "--json"});
  CAPTURE(outcome.err);
  REQUIRE(outcome.status == 0);
  CHECK(outcome.data()["stored"]["new_swatches"] == 2);
  CHECK(outcome.data()["stored"]["new_readings"] == 2);
  CHECK(outcome.data()["chips"][4]["stored"] == true);
  CHECK(outcome.data()["chips"][0]["stored"] == false);
  const auto shown = desk.run({"stash", "show", "Wet Sand", "--json"}).data();
  REQUIRE(shown["readings"].size() == 1);
  const auto& reading = shown["readings"][0];
  CHECK(reading["white"] == "D50/2");
  CHECK(reading["source"] == "flatbed");
  CHECK(reading["date"] == "2026-03-14");
  CHECK(reading["batch"] == "H3");
  CHECK(reading["error_de00"] == outcome.data()["error_de00"]);
  CHECK(reading["error_de00"] > 0.0);
  CHECK(reading["note"].get<std::string>().find("chips.png") != std::string::npos);
  const Lab found{reading["lab"][0], reading["lab"][1], reading["lab"][2]};
  CHECK(ciede2000(found, true_lab(4)) < 1.0);
  CHECK(desk.run({"stash", "show", "Sailcloth", "--json"}).data()["readings"].size() == 1);
}

TEST_CASE("measure: the same photo twice adds nothing, and --dry-run writes nothing") {
  const Desk desk;
  const std::vector<std::string> names{"--name", "5=Wet Sand", "--kind", "stock", "--json"};
  std::vector<std::string> dry = names;
  dry.emplace_back("--dry-run");
  CHECK(desk.with(dry).data()["stored"]["new_readings"] == 1);
  CHECK(desk.run({"stash", "show", "Wet Sand"}).status == 4);
  CHECK(desk.with(names).data()["stored"]["new_readings"] == 1);
  const auto again = desk.with(names);
  CHECK(again.data()["stored"]["new_readings"] == 0);
  CHECK(again.data()["stored"]["already_there"] == 1);
}

TEST_CASE("measure: a name or id of the stash gives that swatch another reading") {
  const Desk desk;
  REQUIRE(desk.with({"--name", "5=net float", "--name", "6=id:4"}).status == 0);
  CHECK(desk.run({"stash", "show", "Net Float", "--json"}).data()["readings"].size() == 2);
  CHECK(desk.run({"stash", "show", "Deep Water", "--json"}).data()["readings"].size() == 2);
}

TEST_CASE("measure: two chips of one name are two readings of one swatch") {
  const Desk desk;
  const auto outcome = desk.with(
      {"--name", "5=Wet Sand", "--name", "6=Wet Sand", "--kind", "ink", "--method", "pad", "--json"});
  CHECK(outcome.data()["stored"]["new_swatches"] == 1);
  CHECK(outcome.data()["stored"]["new_readings"] == 2);
}

TEST_CASE("measure: names from a file, - leaves one out") {
  const Desk desk;
  const std::string names = desk.run.write("names.txt", "\xef\xbb\xbf-\r\n-\r\n\r\n-\r\nWet Sand\r\n");
  REQUIRE(desk.with({"--names", names, "--kind", "stock"}).status == 0);
  CHECK(desk.run({"stash", "show", "Wet Sand"}).status == 0);
  CHECK(desk.run({"stash", "list", "--json"}).data()["swatches"].size() == 5);
  CHECK(desk.with({"--names", desk.run.write("long.txt", "1\n2\n3\n4\n5\n6\n7\n")}).status == 3);
}

TEST_CASE("measure: what cannot be kept is refused and nothing is written") {
  const Desk desk;
  const auto unknown = desk.run({"measure", desk.photo, "--name", "5=Wet Sand", "--kind", "stock"});
  CHECK(unknown.status == 8);
  CHECK(unknown.err.find("without a known colour in the frame") != std::string::npos);
  CHECK(desk.with({"--name", "5=Wet Sand"}).status == 2);                     // no kind
  CHECK(desk.with({"--name", "5=Wet Sand", "--kind", "paper"}).status == 2);  // no such kind
  CHECK(desk.with({"--name", "7=Wet Sand", "--kind", "stock"}).status == 2);  // no such chip
  CHECK(desk.with({"--name", "5=", "--kind", "stock"}).status == 2);          // no name
  CHECK(desk.with({"--name", "5=Wet Sand", "--kind", "stock", "--date", "soon"}).status == 3);
  CHECK(desk.with({"--known", "5=Nobody"}).status == 4);
  CHECK(desk.with({"--profile", desk.photo}).status == 3);  // not a profile
  CHECK(desk.with({"--profile", desk.run.path("none.icc")}).status == 5);
  const auto many = desk.run({"measure", desk.photo, "--grid", "101x6"});
  CHECK(many.status == 2);
  CHECK(many.err.find("more than 100 columns") != std::string::npos);
  CHECK(desk.run({"stash", "list", "--json"}).data()["swatches"].size() == 4);
}

TEST_CASE("measure: without names it shows and says how to keep") {
  const Desk desk;
  const auto outcome = desk.with({});
  CHECK(outcome.status == 0);
  CHECK(outcome.err.find("nothing was kept") != std::string::npos);
  CHECK(outcome.out.find("foretold by the others") != std::string::npos);
  CHECK(desk.with({"--json"}).data()["stored"].is_null());
}

TEST_CASE("measure: the background may be the known colour") {
  const AdviceRun run(four_stocks());
  const std::string photo = run.write("chips.png", six_chips_png());
  const auto outcome = run({"measure", photo, "--background", "lab(89 -0.5 2.2)", "--json"});
  REQUIRE(outcome.status == 0);
  CHECK(outcome.data()["corrected"] == true);
  CHECK(outcome.data()["error_de00"].is_null());  // one reference cannot be tried
  CHECK(run({"measure", photo, "--background", "#ffffff", "--grid", "6x1"}).status == 2);
}

TEST_CASE("measure: boxes in a file may meet a chart by name, wrong lines are named") {
  const Desk desk;
  std::string boxes = "# chips of March\nSea, glass,60,260,80,80\n";
  std::string chart = "name,white,L,a,b\n";
  for (std::size_t i = 1; i < 6; ++i) {
    const Lab lab = true_lab(i);
    boxes += "P" + std::to_string(i) + "," + std::to_string(60 + 140 * i) + ",260,80,80\n";
    chart += "P" + std::to_string(i) + ",D50/2," + std::to_string(lab.L) + "," + std::to_string(lab.a) + "," +
             std::to_string(lab.b) + "\n";
  }
  const auto outcome = desk.run({"measure", desk.photo, "--boxes", desk.run.write("boxes.txt", boxes),
                                 "--chart", desk.run.write("chart.csv", chart), "--kind", "stock", "--json"});
  CAPTURE(outcome.err);
  REQUIRE(outcome.status == 0);
  CHECK(outcome.data()["known"] == 5);
  CHECK(outcome.data()["stored"]["new_swatches"] == 1);
  const auto shown = desk.run({"stash", "show", "Sea, glass", "--json"}).data();
  const Lab found{shown["swatch"]["lab"][0], shown["swatch"]["lab"][1], shown["swatch"]["lab"][2]};
  CHECK(ciede2000(found, true_lab(0)) < 1.5);
  const auto wrong =
      desk.run({"measure", desk.photo, "--boxes", desk.run.write("bad.txt", "a,1,2,3,4\nb,1,2\n")});
  CHECK(wrong.status == 3);
  CHECK(wrong.err.find("bad.txt:2") != std::string::npos);
  CHECK(desk.run({"measure", desk.photo, "--boxes", desk.run.write("out.txt", "a,850,2,100,4\n")}).status ==
        3);
  CHECK(desk.run({"measure", desk.photo, "--boxes", desk.run.write("none.txt", "#\n")}).status == 3);
}

TEST_CASE("measure: a chart whose count does not fit, or that is turned, is noticed") {
  const Desk desk;
  std::string chart = "name,L,a,b\n";
  for (std::size_t i = 6; i-- > 0;) {
    const Lab lab = true_lab(i);
    chart += "P" + std::to_string(i) + "," + std::to_string(lab.L) + "," + std::to_string(lab.a) + "," +
             std::to_string(lab.b) + "\n";
  }
  const std::string file = desk.run.write("chart.csv", chart);
  const auto no_white = desk.run({"measure", desk.photo, "--chart", file});
  CHECK(no_white.status == 3);
  CHECK(no_white.err.find("--chart-white") != std::string::npos);
  const auto turned = desk.run({"measure", desk.photo, "--chart", file, "--chart-white", "D50/2"});
  CHECK(turned.status == 0);
  CHECK(turned.err.find("is the chart turned") != std::string::npos);
  CHECK(
      desk.run({"measure", desk.photo, "--chart", file, "--chart-white", "D50/2", "--grid", "4x1"}).status ==
      3);
  CHECK(desk.run({"measure", desk.photo, "--chart-white", "D50/2"}).status == 2);
}

TEST_CASE("measure: a grid that lies askew is given by its four corners") {
  paper::ChipScene scene;
  // A grid of 3 x 2 turned by 90 degrees and sheared: its own first row runs down the right side.
  const double corners[8] = {700, 100, 720, 500, 300, 480, 280, 90};
  for (int r = 0; r < 2; ++r) {
    for (int c = 0; c < 3; ++c) {
      const double u = (c + 0.5) / 3;
      const double v = (r + 0.5) / 2;
      const auto at = [&](int i) {
        return (1 - u) * (1 - v) * corners[i] + u * (1 - v) * corners[2 + i] + u * v * corners[4 + i] +
               (1 - u) * v * corners[6 + i];
      };
      const double light = 0.1 + 0.1 * (3 * r + c);
      scene.chips.push_back({at(0), at(1), 150, 100, false, 0, {light, light, light}});
    }
  }
  const AdviceRun run(four_stocks());
  const std::string photo = run.write("chips.png", paper::png_bytes(scene.shot()));
  const auto outcome =
      run({"measure", photo, "--grid", "3x2", "--within", "700,100,720,500,300,480,280,90", "--json"});
  CAPTURE(outcome.err);
  REQUIRE(outcome.status == 0);
  for (std::size_t i = 0; i < 6; ++i) {
    const double light = 0.1 + 0.1 * static_cast<double>(i);
    const double L = lab_from_rgb({light, light, light}).L;
    CHECK(std::fabs(outcome.data()["chips"][i]["lab"][0].get<double>() - L) < 0.5);
  }
  CHECK(run({"measure", photo, "--grid", "3x2", "--within", "700,100,300,480,720,500,280,90"}).status == 2);
  CHECK(run({"measure", photo, "--grid", "3x2", "--within", "1,1,2000,1,2000,500,1,500"}).status == 3);
  CHECK(run({"measure", photo, "--grid", "3x2", "--within", "1,1,2"}).status == 2);
}

TEST_CASE("measure: the picture frames every region and is not written over") {
  const Desk desk;
  const std::string file = desk.run.path("regions.svg");
  REQUIRE(desk.with({"--name", "5=<Wet & Sand>", "--kind", "stock", "--picture", file}).status == 0);
  CHECK(desk.with({"--picture", file}).status == 5);
  CHECK(desk.with({"--picture", file, "--force"}).status == 0);
  const std::string svg = file_bytes(file);
  std::size_t frames = 0;
  const std::string black = "stroke=\"#000\"";
  for (std::size_t at = svg.find(black); at != std::string::npos; at = svg.find(black, at + 1)) ++frames;
  CHECK(frames == desk.with({"--json"}).data()["chips"].size());
  CHECK(svg.find("href=\"data:image/png;base64,") != std::string::npos);  // it can be moved and mailed
}

TEST_CASE("measure: the picture shows a name as text") {
  const Desk desk;
  const std::string file = desk.run.path("regions.svg");
  REQUIRE(desk.with({"--name", "5=<Wet & Sand>", "--kind", "stock", "--picture", file}).status == 0);
  CHECK(file_bytes(file).find(">&lt;Wet &amp; Sand&gt;") != std::string::npos);
}
