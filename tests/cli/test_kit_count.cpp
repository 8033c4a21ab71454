// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "advise/swatches.h"
#include "cli/advice_run.h"
#include "kit/cut_plan.h"
#include "sheet/outside.h"

using namespace kithue;

namespace {

Stash two_stocks() {
  Stash stash;
  stash.swatches = {swatch_with(1, "Sail", Kind::stock, {95, 1, 5}),
                    swatch_with(2, "Quay", Kind::stock, {48, -3, -34})};
  stash.next_id = 3;
  return stash;
}

const std::string kKitToCount =
    "name = \"=SUM(1)\"\nkits = 9\nspares = 1\nspoilage_percent = 10\nunits = \"in\"\n"
    "[pack]\nprice = 13.50\n"
    "[stocks]\nbase = [\"Sail\"]\nsheet = \"12 x 12 in\"\n"
    "[[face]]\nlabel = \"1A\"\ndirection = \"up\"\ncolours = [\"lab(50 -3 -34)\"]\n"
    "[[portion]]\nsize = \"6 x 6 in\"\n"
    "[[supply]]\nstock = \"Sail\"\npack = 5\nprice = 0.35\nhave = 1\n"
    "[[card]]\nname = \"Gulls\"\n"
    "[[card.piece]]\nname = \"base\"\nstock = \"Sail\"\nsize = \"8 1/2 x 5 1/2 in\"\nscore = \"4 1/4 in\"\n"
    "[[card.piece]]\nname = \"panel\"\nface = \"1A\"\nsize = \"3 3/4 x 5 in\"\nfrom = \"portion\"\n";

}  // namespace

TEST_CASE("kit count: the same figures as text, table, JSON and CSV") {
  const AdviceRun run(two_stocks());
  const std::string file = run.write("kit.toml", kKitToCount);
  const auto data = run({"kit", "count", file, "--json"}).data();
  // Eleven bases, two on a sheet: six sheets, one there, five missing: one pack of five.
  REQUIRE(data["stocks"].size() == 1);
  const auto& sail = data["stocks"][0];
  CHECK(sail["stock"] == "Sail");
  CHECK(sail["sheets"] == 6);
  CHECK(sail["missing"] == 5);
  CHECK(sail["packs"] == 1);
  CHECK(sail["cost_cents"] == 35);
  CHECK(sail["fewest"] == true);
  // Eleven portions, four on a sheet.
  CHECK(data["sheets"][0]["sheets"] == 3);
  CHECK(data["packs"]["needed"] == 3);
  CHECK(data["portions"] == 10);
  CHECK(data["cost_cents"] == 35 + 3 * 1350);
  const auto text = run({"kit", "count", file}).out;
  for (const char* part :
       {"9 kits and 1 spare", "10 % of the pieces", "pack of 5 Sail", "Cost: 40.85", "3 needed"})
    CHECK(text.find(part) != std::string::npos);
  const auto plain = run({"kit", "count", file, "--plain"}).out;
  CHECK(
      plain.starts_with("kind\tname\tsheet\tpieces\tdots\tneeded\thave\tmissing\tpack\tpacks\tprice\tcost\n"
                        "stock\tSail\t12 x 12 in\t11\t\t6\t1\t5\t5\t1\t0.35\t0.35\n"));
  const std::string csv = run.path("count.csv");
  CHECK(run({"kit", "count", file, "-o", csv}).status == 0);
  CHECK(
      file_bytes(csv).starts_with("kind,name,sheet,pieces,dots,needed,have,missing,pack,packs,price,cost\r\n"
                                  "\"stock\",\"Sail\",\"12 x 12 in\",11,,6,1,5,5,1,0.35,0.35\r\n"));
  CHECK(file_bytes(csv).find("\"'=SUM(1)\"") != std::string::npos);  // no formula for a spreadsheet
  CHECK(run({"kit", "count", file, "-o", csv}).status == 5);
  CHECK(run({"kit", "count", file, "-o", csv, "--force"}).status == 0);
  CHECK(run({"kit", "count", file, "-o", "-"}).out == file_bytes(csv));
}

TEST_CASE("kit count: strips take a dot of every solid and a snippet of every face") {
  const AdviceRun run(two_stocks());
  const std::string file = run.write("kit.toml", kKitToCount + "[strip]\npunch = \"1 in\"\n");
  const auto data = run({"kit", "count", file, "--json"}).data();
  CHECK(data["strips"] == 10);
  REQUIRE(data["stocks"].size() == 2);
  CHECK(data["stocks"][0]["dots"] == 11);       // the base
  CHECK(data["stocks"][1]["stock"] == "Quay");  // found for the blue face
  CHECK(data["stocks"][1]["dots"] == 11);
  CHECK(data["stocks"][1]["sheets"] == 1);
}

TEST_CASE("kit cut: every paper with steps, folds, totals and the caution, in every mode") {
  const AdviceRun run(two_stocks());
  const std::string file = run.write("kit.toml", kKitToCount);
  const auto data = run({"kit", "cut", file, "--json"}).data();
  CHECK(data["caution"].get<std::string>() == kBladeCaution);
  REQUIRE(data["papers"].size() == 2);
  const auto& plan = data["papers"][0]["plans"][0];
  CHECK(data["papers"][0]["sheets"] == 6);
  CHECK(plan["sheets"] == 5);
  CHECK(plan["pieces"].size() == 2);
  CHECK(plan["pieces"][0]["scores"].size() == 1);
  CHECK(plan["cuts"].size() >= 2);
  CHECK(plan["done"][0]["cut"] == 10);
  CHECK(data["papers"][0]["plans"][1]["done"][0]["cut"] == 11);
  const auto text = run({"kit", "cut", file}).out;
  for (const char* part :
       {"Sail, 12 x 12 in: 6 sheets", "5 sheets like this", "score Gulls: base at 4 1/4 in",
        "then cut: Gulls: base 11 of 11", "Sheet 1, ", "Trimmer blades are sharp"}) {
    CAPTURE(part);
    CHECK(text.find(part) != std::string::npos);
  }
  CHECK(run({"kit", "cut", file, "--plain"}).out.starts_with("paper\tplan\tsheets\tpiece\tx_mm"));
  CHECK(run({"kit", "cut", file, "--paper", "sail", "--json"}).data()["papers"].size() == 1);
  const auto student = run({"kit", "cut", file, "--student", "--json"}).data();
  CHECK(student["papers"][0]["plans"][0]["pieces"][0]["name"] == "Gulls: panel");
  CHECK(student["papers"][0]["plans"][0]["pieces"][0]["turned"] == false);
}

TEST_CASE("kit count and cut: wrong input gives one clear line and its status") {
  const AdviceRun run(two_stocks());
  const std::string none =
      run.write("none.toml", "name = \"K\"\n[[face]]\nlabel = \"1\"\ncolours = [\"#fff\"]\n");
  const std::string file = run.write("kit.toml", kKitToCount);
  const std::vector<std::pair<std::vector<std::string>, int>> wrong{
      {{"kit", "count", none}, 3},
      {{"kit", "count", run.path("absent.toml")}, 5},
      {{"kit", "count"}, 2},
      {{"kit", "count", file, "-o", "-", "--plain"}, 2},
      {{"kit", "cut", none}, 3},
      {{"kit", "cut", file, "--paper", "Sial"}, 4},
      {{"kit", "cut", file, "--student", "--paper", "Sail"}, 4}};
  for (const auto& [args, status] : wrong) {
    const auto outcome = run(args);
    CAPTURE(outcome.err);
    CHECK(outcome.status == status);
    CHECK(outcome.out.empty());
    CHECK(outcome.error_lines() == 1);
  }
}
