// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>

#include "cli/program.h"
#include "paper/camera.h"
#include "sheet/outside.h"
#include "sheet/printer_check.h"

namespace {

using namespace kithue;
using kithue_test::Run;

constexpr const char* kKitToPrint =
    "name = \"Harbour Morning\"\ndate = \"2026-03\"\nkits = 24\n"
    "[[face]]\nlabel = \"1A\"\nphoto = \"1a.png\"\n[[face]]\nlabel = \"1B\"\ncolours = [\"lab(40 50 25)\"]\n"
    "[inks]\nmust = [\"Pitch Black\"]\n[stocks]\nbase = [\"Sailcloth\"]\n"
    "[[card]]\nname = \"Gulls\"\n"
    "[[card.piece]]\nname = \"base\"\nstock = \"Sailcloth\"\nsize = \"8 1/2 x 5 1/2 in\"\nscore = \"4 1/4 "
    "in\"\n"
    "[[card.piece]]\nname = \"panel\"\nface = \"1A\"\nsize = \"4 x 5 in\"\ntouches = [\"base\"]\n"
    "[[card.stamp]]\nink = \"Office Coral\"\non = \"base\"\nwords = \"ahoy\"\n";

/// A folder with a stash, a kit of two faces and a card, and one photo.
class PrintDesk {
 public:
  PrintDesk() {
    add({"Sailcloth", "--kind", "stock", "--lab", "90,0,8"});
    add({"Coral Stock", "--kind", "stock", "--lab", "42,48,24"});
    add({"Office Coral", "--kind", "ink", "--method", "pad", "--lab", "40,50,25"});
    add({"Reef", "--kind", "ink", "--method", "pad", "--lab", "41,49,27"});
    add({"Pitch Black", "--kind", "ink", "--method", "pad", "--lab", "16,0,0"});
    put_photo({40.0, 50.0, 25.0});
    folder.put("kit.toml", kKitToPrint);
  }
  void put_photo(const Lab& spot) const {
    paper::Face face{4.0, 3.0, {{{90.0, 0.0, 8.0}}, {spot}}, {}};
    paper::add_circle(face, 1, {2.0, 1.5}, 1.0);
    paper::Camera camera;
    camera.width = 240;
    SerialExecutor executor;
    folder.put("1a.png", paper::png_bytes(paper::photograph(face, camera, executor)));
  }
  void add(std::vector<std::string> args) const {
    args.insert(args.begin(), {"stash", "add"});
    args.insert(args.end(), {"--white", "D50/2"});
    const Run said = run(args);
    REQUIRE_MESSAGE(said.status == 0, said.err);
  }
  [[nodiscard]] Run run(std::vector<std::string> args,
                        std::map<std::string, std::string> environment = {}) const {
    args.insert(args.end(), {"--stash", folder.at("stash.cgats")});
    return kithue_test::run(args, environment);
  }
  [[nodiscard]] Run sheet(std::vector<std::string> more,
                          std::map<std::string, std::string> environment = {}) const {
    more.insert(more.begin(), {"sheet", folder.at("kit.toml")});
    return run(more, std::move(environment));
  }
  /// All words of a PDF with one space between them, wherever its lines end.
  [[nodiscard]] std::string words_of(const std::string& name) const {
    std::string words;
    for (const char c : output_of("pdftotext " + folder.at(name) + " -")) {
      const char one = c == '\n' ? ' ' : c;
      if (one != ' ' || !words.ends_with(' ')) words += one;
    }
    return words;
  }

  TestFolder folder;
};

}  // namespace

TEST_CASE("sheet: each kind is a file of its own beside the kit") {
  const PrintDesk desk;
  for (const auto& [flag, name] :
       {std::pair("--kit", "kit-kit-sheet.pdf"), std::pair("--pattern-strip", "kit-pattern-strip.pdf"),
        std::pair("--colour-map", "kit-colour-map.pdf")}) {
    CAPTURE(flag);
    const Run said = desk.sheet({flag});
    REQUIRE_MESSAGE(said.status == 0, said.err);
    CHECK(std::filesystem::exists(desk.folder.at(name)));
    CHECK(output_of("qpdf --check " + desk.folder.at(name)).find("No syntax or stream") != std::string::npos);
    CHECK(desk.words_of(name).find("Harbour Morning") != std::string::npos);
  }
}

TEST_CASE("sheet: several kinds go into one file, in a fixed order") {
  const PrintDesk desk;
  const Run said = desk.sheet({"--pattern-strip", "--kit", "--colour-map", "--json"});
  REQUIRE_MESSAGE(said.status == 0, said.err);
  const auto data = nlohmann::json::parse(said.out).at("data");
  CHECK(data.at("file") == desk.folder.at("kit-sheets.pdf"));
  CHECK(data.at("kinds") == nlohmann::json{"kit", "pattern-strip", "colour-map"});
  CHECK(data.at("format") == "pdf");
  CHECK(data.at("pages") == 3);
}

TEST_CASE("sheet: the format is told by the ending or by --format, and the two may not differ") {
  const PrintDesk desk;
  REQUIRE(desk.sheet({"-o", desk.folder.at("a.html")}).status == 0);
  CHECK(file_bytes(desk.folder.at("a.html")).starts_with("<!DOCTYPE html>"));
  REQUIRE(desk.sheet({"-o", desk.folder.at("a.svg")}).status == 0);
  CHECK(file_bytes(desk.folder.at("a.svg")).starts_with("<?xml"));
  REQUIRE(desk.sheet({"--format", "svg"}).status == 0);
  CHECK(std::filesystem::exists(desk.folder.at("kit.svg")));
  const Run piped = desk.sheet({"--format", "html", "-o", "-"});
  CHECK(piped.out.starts_with("<!DOCTYPE html>"));
  const Run differ = desk.sheet({"--format", "svg", "-o", desk.folder.at("b.pdf")});
  CHECK(differ.status == 2);
  CHECK_FALSE(std::filesystem::exists(desk.folder.at("b.pdf")));
}

TEST_CASE("sheet --kit: what goes where, in words, with a stand-in that is no ink of the kit") {
  const PrintDesk desk;
  REQUIRE(desk.sheet({"--kit"}).status == 0);
  const std::string text = desk.words_of("kit-kit-sheet.pdf");
  for (const char* words :
       {"Gulls", "base: Sailcloth", "folded", "panel: face 1A", "Office Coral (pad) on the base", "ahoy",
        "If you lack it: Reef (pad)", "Pitch Black (pad)", "No good stand-in", "2026-03"})
    CHECK_MESSAGE(text.find(words) != std::string::npos, words);
}

TEST_CASE("sheet: --date is printed instead of the kit's, and the same date gives the same bytes") {
  const PrintDesk desk;
  REQUIRE(desk.sheet({"--kit", "--date", "1 May 2026", "-o", desk.folder.at("a.pdf")}).status == 0);
  REQUIRE(desk.sheet({"--kit", "--date", "1 May 2026", "-o", desk.folder.at("b.pdf")}).status == 0);
  CHECK(desk.words_of("a.pdf").find("1 May 2026") != std::string::npos);
  CHECK(file_bytes(desk.folder.at("a.pdf")) == file_bytes(desk.folder.at("b.pdf")));
}

TEST_CASE("sheet --student: a page for each list, her own ink by name, else the nearest of hers") {
  const PrintDesk desk;
  desk.folder.put("Robin.csv",
                  "name,method,L,a,b,white\nPitch Black,pad,17,0,0,D50/2\nCoral Reef,pad,43,50,25,D50/2\n");
  desk.folder.put("Kim.csv", "name,method,L,a,b,white\nLeaf,pad,50,-40,30,D50/2\n");
  const Run said =
      desk.sheet({"--student", "--for", desk.folder.at("Robin.csv"), "--for", desk.folder.at("Kim.csv")});
  REQUIRE_MESSAGE(said.status == 0, said.err);
  const std::string text = desk.words_of("kit-student.pdf");
  for (const char* words : {"Inks for Robin", "Inks for Kim", "You have it", "Coral Reef", "comes near"})
    CHECK_MESSAGE(text.find(words) != std::string::npos, words);
  CHECK(desk.sheet({"--student"}).status == 2);
  CHECK(desk.sheet({"--for", desk.folder.at("Kim.csv")}).status == 2);
}

TEST_CASE("sheet --printer-check: printed, read back, and noted on later sheets") {
  const PrintDesk desk;
  const Run page = desk.run({"sheet", "--printer-check", "-o", desk.folder.at("check.pdf")});
  REQUIRE_MESSAGE(page.status == 0, page.err);
  std::string csv = "name,L,a,b,white\n";
  const std::vector<Lab> patches = printer_patches();
  for (std::size_t i = 0; i < patches.size(); ++i)
    csv += std::to_string(i + 1) + "," + std::to_string(patches[i].L - 1.0) + "," +
           std::to_string(patches[i].a) + "," + std::to_string(patches[i].b) + ",D50/2\n";
  desk.folder.put("printed.csv", csv);
  const Run said = desk.sheet({"--kit", "--printer-readings", desk.folder.at("printed.csv")});
  REQUIRE_MESSAGE(said.status == 0, said.err);
  CHECK(desk.words_of("kit-kit-sheet.pdf").find("This printer, when checked: 0.") != std::string::npos);
  desk.folder.put("wrong.csv", "name,L,a,b,white\nnobody,50,0,0,D50/2\n");
  const Run wrong = desk.sheet({"--kit", "-f", "--printer-readings", desk.folder.at("wrong.csv")});
  CHECK(wrong.status == 3);
  CHECK(wrong.err.find("number") != std::string::npos);
}

TEST_CASE("sheet: a kit without cards has no kit sheet, one without faces no strip") {
  const PrintDesk desk;
  desk.folder.put("kit.toml", "name = \"K\"\n[[face]]\nlabel = \"1A\"\ncolours = [\"lab(40 50 25)\"]\n");
  CHECK(desk.sheet({"--kit"}).status == 3);
  desk.folder.put("kit.toml", "name = \"K\"\n");
  CHECK(desk.sheet({"--pattern-strip"}).status == 3);
  CHECK(desk.run({"sheet"}).status == 2);
}

TEST_CASE("photo cache: a sheet made again is the same, with the cache, without it, and with it spoilt") {
  const PrintDesk desk;
  const std::map<std::string, std::string> cached{{"XDG_CACHE_HOME", desk.folder.at("cache")}};
  const auto bytes_with = [&](const std::map<std::string, std::string>& environment) {
    const Run said = desk.sheet({"-o", desk.folder.at("x.pdf"), "--force"}, environment);
    REQUIRE_MESSAGE(said.status == 0, said.err);
    return file_bytes(desk.folder.at("x.pdf"));
  };
  const std::string plain = bytes_with({});
  CHECK(bytes_with(cached) == plain);
  std::vector<std::filesystem::path> entries;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(desk.folder.at("cache"))) {
    if (entry.is_regular_file()) entries.push_back(entry.path());
  }
  REQUIRE(entries.size() == 1);
  CHECK(bytes_with(cached) == plain);
  const std::string good = file_bytes(entries.front());
  for (std::size_t at : {std::size_t{0}, std::size_t{40}, good.size() / 2, good.size() - 1}) {
    std::string spoilt = good;
    spoilt[at] = static_cast<char>(spoilt[at] ^ 1);
    std::ofstream(entries.front(), std::ios::binary) << spoilt;
    CHECK(bytes_with(cached) == plain);
    std::ofstream(entries.front(), std::ios::binary) << good.substr(0, at);
    CHECK(bytes_with(cached) == plain);
  }
  std::filesystem::remove_all(desk.folder.at("cache"));
  CHECK(bytes_with(cached) == plain);
}

TEST_CASE("photo cache: another photo under the same name is read, and an entry serves no other photo") {
  const PrintDesk desk;
  const std::map<std::string, std::string> cached{{"XDG_CACHE_HOME", desk.folder.at("cache")}};
  const auto stocks = [&] {
    const Run said = desk.sheet({"-o", desk.folder.at("x.pdf"), "--force", "--json"}, cached);
    REQUIRE_MESSAGE(said.status == 0, said.err);
    return nlohmann::json::parse(said.out).at("data").at("faces")[0].at("stocks");
  };
  const auto red = stocks();
  desk.put_photo({50.0, -40.0, 30.0});
  const auto green = stocks();
  CHECK(red != green);
  // An entry is bound to its key: one photo's entry under the name of another is as good as none.
  std::vector<std::filesystem::path> entries;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(desk.folder.at("cache"))) {
    if (entry.is_regular_file()) entries.push_back(entry.path());
  }
  REQUIRE(entries.size() == 2);
  const std::string first = file_bytes(entries[0]);
  std::ofstream(entries[1], std::ios::binary) << first;
  CHECK(stocks() == green);
  desk.put_photo({40.0, 50.0, 25.0});
  CHECK(stocks() == red);
}

TEST_CASE("photo cache: a folder that cannot be made is done without") {
  const PrintDesk desk;
  desk.folder.put("file", "x");
  const Run said = desk.sheet({}, {{"XDG_CACHE_HOME", desk.folder.at("file") + "/below"}});
  CHECK(said.status == 0);
  CHECK(said.err.find("file") == std::string::npos);
}
