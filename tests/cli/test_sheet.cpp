// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <sys/stat.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/program.h"
#include "cli/sheet.h"
#include "paper/camera.h"
#include "sheet/outside.h"

namespace {

using namespace kithue;
using kithue_test::Run;

/// A folder with a stash of four swatches, a photo and a kit.
class Desk {
 public:
  Desk() {
    add({"Sailcloth", "--kind", "stock", "--lab", "90,0,8", "--white", "D50/2"});
    add({"Coral Stock", "--kind", "stock", "--lab", "42,48,24", "--white", "D50/2"});
    add({"Office Coral", "--kind", "ink", "--method", "pad", "--lab", "40,50,25", "--white", "D50/2"});
    add({"Brass", "--kind", "ink", "--method", "powder", "--finish", "metallic"});
    paper::Face face{4.0, 3.0, {{{90.0, 0.0, 8.0}}, {{40.0, 50.0, 25.0}}}, {}};
    paper::add_circle(face, 1, {2.0, 1.5}, 1.0);
    paper::Camera camera;
    camera.width = 320;
    SerialExecutor executor;
    folder.put("photos/1a.png", paper::png_bytes(paper::photograph(face, camera, executor)));
    kit("name = \"Harbour Morning\"\n[[face]]\nlabel = \"1A\"\nphoto = \"photos/1a.png\"\n");
  }
  void add(std::vector<std::string> args) const {
    args.insert(args.begin(), {"stash", "add"});
    const Run said = run(args);
    REQUIRE_MESSAGE(said.status == 0, said.err);
  }
  void kit(const std::string& toml) const { folder.put("kit.toml", toml); }
  [[nodiscard]] Run run(std::vector<std::string> args) const {
    args.insert(args.end(), {"--stash", folder.at("stash.cgats")});
    return kithue_test::run(args);
  }
  [[nodiscard]] Run sheet(std::vector<std::string> more = {}) const {
    more.insert(more.begin(), {"sheet", folder.at("kit.toml")});
    return run(more);
  }

  TestFolder folder;
};

bool one_line(const std::string& text) {
  return std::count(text.begin(), text.end(), '\n') == 1;
}

}  // namespace

TEST_CASE("sheet: a kit becomes a PDF beside it, with its names on it") {
  const Desk desk;
  const Run said = desk.sheet();
  REQUIRE_MESSAGE(said.status == 0, said.err);
  CHECK(said.out.find("Coral Stock") != std::string::npos);
  CHECK(said.err.find("kit.pdf (1 page)") != std::string::npos);
  const std::string pdf = desk.folder.at("kit.pdf");
  CHECK(output_of("qpdf --check " + pdf).find("No syntax or stream encoding errors") != std::string::npos);
  const std::string text = output_of("pdftotext " + pdf + " -");
  for (const char* word :
       {"Harbour Morning", "1A", "Sailcloth", "Coral Stock", "Office Coral", "pad", "Page 1 of 1"})
    CHECK(text.find(word) != std::string::npos);
  CHECK(output_of("pdfinfo " + pdf).find("(A4)") != std::string::npos);
}

TEST_CASE("sheet: the photo is on the page in its own colours") {
  const Desk desk;
  REQUIRE(desk.sheet().status == 0);
  const std::string images = output_of("pdfimages -list " + desk.folder.at("kit.pdf"));
  CHECK(images.find("icc") != std::string::npos);
  const Pixmap page = drawn_page(desk.folder, desk.folder.at("kit.pdf"), 1, 127);
  // Somewhere on the left third of the page the red disc of the photo must show: lab(40 50 25) is #a92b37.
  int red = 0;
  for (int y = 0; y < page.height; ++y) {
    for (int x = 75; x < 255; ++x)
      red +=
          std::abs(page.channel(x, y, 0) - 0xa9) < 14 && std::abs(page.channel(x, y, 1) - 0x2b) < 24 ? 1 : 0;
  }
  CHECK(red > 2000);
}

TEST_CASE("sheet: --page beats the kit, the kit beats A4") {
  const Desk desk;
  desk.kit("name = \"K\"\npage = \"Letter\"\n[[face]]\nlabel = \"1A\"\ncolours = [\"lab(90 0 8)\"]\n");
  REQUIRE(desk.sheet().status == 0);
  CHECK(output_of("pdfinfo " + desk.folder.at("kit.pdf")).find("612 x 792 pts (letter)") !=
        std::string::npos);
  REQUIRE(desk.sheet({"--page", "A4", "--force"}).status == 0);
  CHECK(output_of("pdfinfo " + desk.folder.at("kit.pdf")).find("(A4)") != std::string::npos);
}

TEST_CASE(
    "sheet: a file that is there is only replaced with --force, and the same kit gives the same bytes") {
  const Desk desk;
  REQUIRE(desk.sheet().status == 0);
  const std::string first = file_bytes(desk.folder.at("kit.pdf"));
  const Run again = desk.sheet();
  CHECK(again.status == 5);
  CHECK(again.err.find("--force") != std::string::npos);
  CHECK(one_line(again.err));
  REQUIRE(desk.sheet({"--force"}).status == 0);
  CHECK(file_bytes(desk.folder.at("kit.pdf")) == first);
  REQUIRE(desk.sheet({"-o", desk.folder.at("other.pdf"), "--threads", "4"}).status == 0);
  CHECK(file_bytes(desk.folder.at("other.pdf")) == first);
}

TEST_CASE("sheet: -o - writes the PDF to standard output, but not together with --json") {
  const Desk desk;
  const Run said = desk.sheet({"-o", "-"});
  REQUIRE(said.status == 0);
  CHECK(said.out.starts_with("%PDF-1.7"));
  CHECK(said.out.ends_with("%%EOF\n"));
  CHECK(desk.sheet({"-o", "-", "--json"}).status == 2);
}

TEST_CASE("sheet --json: file, pages and what goes with each face") {
  const Desk desk;
  const Run said = desk.sheet({"--json"});
  REQUIRE(said.status == 0);
  const auto data = nlohmann::json::parse(said.out).at("data");
  CHECK(data.at("file") == desk.folder.at("kit.pdf"));
  CHECK(data.at("pages") == 1);
  REQUIRE(data.at("faces").size() == 1);
  const auto& face = data.at("faces")[0];
  CHECK(face.at("label") == "1A");
  CHECK(face.at("stocks")[0].at("name") == "Sailcloth");
  CHECK(face.at("stocks")[1].at("name") == "Coral Stock");
  CHECK(face.at("inks")[0].at("name") == "Office Coral");
  CHECK(face.at("inks")[0].at("de00").get<double>() < 6.0);
}

TEST_CASE(
    "sheet: what the kit names wins over what would be found, and what has no number is shown as such") {
  const Desk desk;
  desk.kit(
      "name = \"K\"\n[[face]]\nlabel = \"1A\"\nphoto = \"photos/1a.png\"\nstocks = [\"coral stock\"]\n"
      "inks = [\"Brass\"]\n");
  const Run said = desk.sheet({"--json"});
  REQUIRE_MESSAGE(said.status == 0, said.err);
  const auto face = nlohmann::json::parse(said.out).at("data").at("faces")[0];
  REQUIRE(face.at("stocks").size() == 1);
  CHECK(face.at("stocks")[0].at("name") == "Coral Stock");
  CHECK(face.at("stocks")[0].at("named") == true);
  CHECK(face.at("inks")[0].at("lab").is_null());
  CHECK(output_of("pdftotext " + desk.folder.at("kit.pdf") + " -").find("not measured") != std::string::npos);
}

TEST_CASE("sheet: every fault of a kit is one line with its place, and leaves no file behind") {
  const Desk desk;
  const std::string head = "name = \"K\"\n[[face]]\nlabel = \"1A\"\n";
  struct Row {
    std::string toml;
    int status;
    const char* says;
  };
  const Row rows[] = {
      {head + "photo = \"photos/none.png\"\n", 5, "kit.toml:2:1: face 1A: photos/none.png"},
      {head + "photo = \"kit.toml\"\n", 3, "kit.toml:2:1: face 1A: kit.toml"},
      {head + "photo = \"photos/1a.png\"\ncrop = \"9,9\"\n", 3, "kit.toml:2:1: face 1A"},
      {head + "photo = \"photos/1a.png\"\ncrop = \"900,900,10,10\"\n", 3, "kit.toml:2:1: face 1A"},
      {head + "photo = \"photos/1a.png\"\nstocks = [\"Coral Stok\"]\n", 4, "Coral Stock"},
      {head + "photo = \"photos/1a.png\"\ninks = [\"Sailcloth\"]\n", 3, "of kind stock"},
      {head + "photo = \"photos/1a.png\"\n[stocks]\nbase = [\"Nobody\"]\n", 4, "kit.toml"},
      {head + "photo = 7\n", 3, "kit.toml:4:9"},
      {"\x01\x02", 3, "kit.toml"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.toml);
    desk.kit(row.toml);
    const Run said = desk.sheet();
    CHECK(said.status == row.status);
    CHECK(one_line(said.err));
    CHECK_MESSAGE(said.err.find(row.says) != std::string::npos, said.err);
    CHECK(said.out.empty());
    CHECK_FALSE(std::filesystem::exists(desk.folder.at("kit.pdf")));
  }
}

TEST_CASE("sheet: a missing kit, a folder in the way, an unwritable place and an empty stash are told") {
  const Desk desk;
  CHECK(desk.run({"sheet", desk.folder.at("nothing.toml")}).status == 5);
  const Run folder = desk.sheet({"-o", desk.folder.at("photos"), "--force"});
  CHECK(folder.status == 5);
  CHECK(one_line(folder.err));
  const Run nowhere = desk.sheet({"-o", desk.folder.at("no/such/place.pdf")});
  CHECK(nowhere.status == 5);
  CHECK(one_line(nowhere.err));
  const Run empty =
      kithue_test::run({"sheet", desk.folder.at("kit.toml")}, {{"HOME", desk.folder.at("home")}});
  CHECK(empty.status == 8);
  CHECK(empty.err.find("stash add") != std::string::npos);
}

TEST_CASE("sheet: unknown keys, retired names and letters without a font are warnings") {
  const Desk desk;
  REQUIRE(desk.run({"stash", "add", "Ink \xF3\xB0\x80\x80", "--kind", "ink", "--lab", "40,50,25", "--white",
                    "D50/2"})
              .status == 0);
  desk.kit(
      "name = \"K\"\ncolor = 1\n[[face]]\nlabel = \"1A\"\ncolours = [\"lab(0 60 -60)\"]\n"
      "inks = [\"Ink \xF3\xB0\x80\x80\"]\n");
  const Run said = desk.sheet({"--json"});
  REQUIRE_MESSAGE(said.status == 0, said.err);
  const auto warnings = nlohmann::json::parse(said.out).at("warnings");
  REQUIRE(warnings.size() == 3);
  CHECK(warnings[0].get<std::string>().find("unknown key 'color'") != std::string::npos);
  CHECK(warnings[1].get<std::string>().find("none of the stocks") != std::string::npos);
  CHECK(warnings[2].get<std::string>().find("print as boxes") != std::string::npos);
}
