// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "kit/kit.h"

using kithue::ErrorKind;
using kithue::Kit;
using kithue::parse_kit;
using kithue::Result;

namespace {

const std::string kFace = "[[face]]\nlabel = \"1A\"\nphoto = \"photos/1a.jpg\"\n";

Kit read(const std::string& toml) {
  Result<Kit> kit = parse_kit(toml, "kit.toml");
  REQUIRE_MESSAGE(kit.has_value(), (kit ? "" : describe(kit.error())));
  return *kit;
}

kithue::Error fault(const std::string& toml) {
  const Result<Kit> kit = parse_kit(toml, "kit.toml");
  REQUIRE_FALSE_MESSAGE(kit.has_value(), toml);
  return kit.error();
}

}  // namespace

TEST_CASE("parse_kit: every field of a full kit is read") {
  const Kit kit = read(R"toml(name = "Harbour Morning"
kits = 24
page = "letter"
date = 2026-11-01

[[face]]
label = "1A"
photo = "photos/1a.jpg"
crop = "10%,10%,80%,80%"
stocks = ["Wet Sand", "Gull"]
inks = ["Pitch Black"]

[[face]]
label = "1B"
colours = [{ colour = "lab(52 43 21)", share = 0.4, role = "accent" }, "#ffffff"]

[inks]
from = ["Pitch Black", "Samphire"]
choose = 4
must = ["Pitch Black"]
never = ["Buoy"]

[stocks]
base = ["Sailcloth"]
from = "stash"
)toml");
  CHECK(kit.name == "Harbour Morning");
  CHECK(kit.kits == 24);
  CHECK(kit.page == "Letter");
  CHECK(kit.date == "2026-11-01");
  REQUIRE(kit.faces.size() == 2);
  CHECK(kit.faces[0].label == "1A");
  CHECK(kit.faces[0].photo == "photos/1a.jpg");
  CHECK(kit.faces[0].crop == "10%,10%,80%,80%");
  CHECK(kit.faces[0].stocks == std::vector<std::string>{"Wet Sand", "Gull"});
  CHECK(kit.faces[0].inks == std::vector<std::string>{"Pitch Black"});
  CHECK(kit.faces[0].where == "kit.toml:6:1");
  REQUIRE(kit.faces[1].colours.size() == 2);
  CHECK(kit.faces[1].colours[0].lab == kithue::Lab{52, 43, 21});
  CHECK(kit.faces[1].colours[0].share == 0.4);
  CHECK(kit.faces[1].colours[0].role == "accent");
  CHECK(kit.faces[1].colours[1].role == "motif");
  CHECK(std::abs(kit.faces[1].colours[1].lab.L - 100.0) < 1e-9);
  CHECK_FALSE(kit.inks.from_stash);
  CHECK(kit.inks.names == std::vector<std::string>{"Pitch Black", "Samphire"});
  CHECK(kit.inks.choose == 4);
  CHECK(kit.inks.must == std::vector<std::string>{"Pitch Black"});
  CHECK(kit.inks.never == std::vector<std::string>{"Buoy"});
  CHECK(kit.stocks.from_stash);
  CHECK(kit.base == std::vector<std::string>{"Sailcloth"});
  CHECK(kit.warnings.empty());
}

TEST_CASE("parse_kit: the least kit is a name and a face") {
  const Kit kit = read("name = \"K\"\n" + kFace);
  CHECK(kit.kits == 1);
  CHECK(kit.page.empty());
  CHECK(kit.date.empty());
  CHECK(kit.inks.from_stash);
}

TEST_CASE("parse_kit: an unknown key is a warning with its place and a near spelling") {
  const Kit kit = read(
      "name = \"K\"\nkit = 24\n[[face]]\nlabel = \"1A\"\nfoto = \"x\"\nphoto = \"y\"\n[ink]\nchose = 2\n");
  REQUIRE(kit.warnings.size() == 3);
  CHECK(kit.warnings[0].find("kit.toml:7:") != std::string::npos);
  CHECK(kit.warnings[0].find("'ink'") != std::string::npos);
  CHECK(kit.warnings[0].find("did you mean inks?") != std::string::npos);
  CHECK(kit.warnings[1].find("kit.toml:2:1: unknown key 'kit'") != std::string::npos);
  CHECK(kit.warnings[1].find("kits") != std::string::npos);
  CHECK(kit.warnings[2].find("kit.toml:5:1: unknown key 'foto' in [[face]]") != std::string::npos);
}

TEST_CASE("parse_kit: a file full of unknown keys gives twenty warnings and says that there are more") {
  std::string toml = "name = \"K\"\n";
  for (int i = 0; i < 5'000; ++i) toml += "unknown" + std::to_string(i) + " = 1\n";
  const Kit kit = read(toml + kFace);
  REQUIRE(kit.warnings.size() == 21);
  CHECK(kit.warnings.back().find("more unknown keys") != std::string::npos);
}

TEST_CASE("parse_kit: what is wrong is said with line, column and what to write") {
  struct Row {
    const char* toml;
    const char* where;
    const char* what;
  };
  const std::string face = kFace;
  const Row rows[] = {
      {"kits = 2\n", "kit.toml:1:1", "no name"},
      {"name = 3\n", "kit.toml:1:8", "'name' must be text"},
      {"name = \" \"\n", "kit.toml:1:8", "empty"},
      {"name = \"K\"\n", "kit.toml:1:1", "no face"},
      {"name = \"K\"\nkits = 0\n", "kit.toml:2:8", "out of range"},
      {"name = \"K\"\nkits = 2.5\n", "kit.toml:2:8", "whole number"},
      {"name = \"K\"\npage = \"A3\"\n", "kit.toml:2:8", "'page' does not know"},
      {"name = \"a\\nb\"\n", "kit.toml:1:8", "line break"},
      {"name = \"K\"\nface = 3\n", "kit.toml:2:8", "list of sections"},
      {"name = \"K\"\nface = [3]\n", "kit.toml:2:9", "section"},
      {"name = \"K\"\n[[face]]\nphoto = \"x\"\n", "kit.toml:2:1", "no label"},
      {"name = \"K\"\n[[face]]\nlabel = \"1A\"\n", "kit.toml:2:1", "neither a photo nor colours"},
      {"name = \"K\"\n[[face]]\nlabel = \"1A\"\nphoto = 3\n", "kit.toml:4:9", "'photo' must be text"},
      {"name = \"K\"\n[[face]]\nlabel = \"1A\"\nphoto = \"x\"\n[[face]]\nlabel = \"1a\"\nphoto = \"x\"\n",
       "kit.toml:6:9", "stands twice"},
      {"name = \"K\"\n[[face]]\nlabel = \"1A\"\ncolours = []\n", "kit.toml:4:11", "empty"},
      {"name = \"K\"\n[[face]]\nlabel = \"1A\"\ncolours = [\"red\"]\n", "kit.toml:4:12", ""},
      {"name = \"K\"\n[[face]]\nlabel = \"1A\"\ncolours = [{ share = 0.2 }]\n", "kit.toml:4:12",
       "no 'colour'"},
      {"name = \"K\"\n[[face]]\nlabel = \"1A\"\ncolours = [{ colour = \"#fff\", share = 1.2 }]\n",
       "kit.toml:4:39", "out of range"},
      {"name = \"K\"\n[[face]]\nlabel = \"1A\"\ncolours = [{ colour = \"#fff\", share = nan }]\n",
       "kit.toml:4:39", "out of range"},
      {"name = \"K\"\n[[face]]\nlabel = \"1A\"\ncolours = [{ colour = \"#fff\", share = 0.7 }, { colour = "
       "\"#000\", share = 0.7 }]\n",
       "kit.toml:4:11", "add up to 1.40"},
      {"name = \"K\"\n[[face]]\nlabel = \"1A\"\ncolours = [{ colour = \"#fff\", role = \"sky\" }]\n",
       "kit.toml:4:38", "no such role"},
      {"name = \"K\"\n[[face]]\nlabel = \"1A\"\ncolours = [\"#fff\"]\ncrop = \"1,1,2,2\"\n", "kit.toml:5:8",
       "no photo"},
      {"name = \"K\"\n[[face]]\nlabel = \"1A\"\nphoto = \"x\"\nstocks = \"Sand\"\n", "kit.toml:5:10",
       "list of names"},
      {"name = \"K\"\n[[face]]\nlabel = \"1A\"\nphoto = \"x\"\ninks = [\"A\", \"A\"]\n", "kit.toml:5:14",
       "twice"},
      {"name = \"K\"\ninks = 3\n[[face]]\nlabel = \"1A\"\nphoto = \"x\"\n", "kit.toml:2:8", "section"},
      {"name = \"K\"\n[inks]\nfrom = \"shelf\"\n[[face]]\nlabel = \"1A\"\nphoto = \"x\"\n", "kit.toml:3:8",
       "does not know"},
      {"name = \"K\"\n[inks]\nmust = [\"A\"]\nnever = [\"A\"]\n[[face]]\nlabel = \"1A\"\nphoto = \"x\"\n",
       "kit.toml:4:9", "both"},
      {"name = \"K\"\n[inks]\nchoose = -1\n[[face]]\nlabel = \"1A\"\nphoto = \"x\"\n", "kit.toml:3:10",
       "out of range"},
      {"name = Harbour\n", "kit.toml:1:8", ""},
      {"name = \"K\"\nname = \"L\"\n", "kit.toml:2:", ""},
  };
  for (const Row& row : rows) {
    CAPTURE(std::string(row.toml));
    const kithue::Error error = fault(row.toml);
    CAPTURE(describe(error));
    CHECK(error.kind == ErrorKind::bad_input);
    CHECK(error.where.starts_with(row.where));
    CHECK(error.what.find(row.what) != std::string::npos);
    CHECK_FALSE(error.what.empty());
    CHECK_FALSE(error.advice.empty());
    CHECK(describe(error).find('\n') == std::string::npos);
  }
}

TEST_CASE("parse_kit: files that are no kit are refused in one line") {
  std::string deep = "name = ";
  deep += std::string(100'000, '[') + std::string(100'000, ']');
  std::string dotted = "a";
  for (int i = 0; i < 100'000; ++i) dotted += ".a";
  const std::string rows[] = {
      std::string(2 * 1024 * 1024, '#'),
      std::string("name = \"K") + '\0' + "\"\n",
      "name = \"K\xFF\"\n",
      deep,
      dotted + " = 1\n",
      "[" + dotted + "]\n",
      "x = {" + dotted + " = 1}\n",
      "x = {b = '''\n \" ''', " + dotted + " = 1}\n",
      "x = \"\"\"\n ' \\\" \"\"\"\"\"\n" + dotted + " = 1\nx = ?",
      "name = \"" + std::string(500'000, 'x') + "\"\n",
      std::string("\xFF\xFE") + "n" + '\0',
      "PK\x03\x04 zip",
      "[[[[",
      "name = \"\"\"\n",
      "name = \"\\ud800\"\n",
      "",
      "{\"name\": 3}",
      "name = {{{{{{{{",
  };
  for (const std::string& toml : rows) {
    CAPTURE(toml.substr(0, 40));
    const kithue::Error error = fault(toml);
    CHECK(error.kind == ErrorKind::bad_input);
    CHECK(error.where.starts_with("kit.toml"));
    CHECK(describe(error).size() < 400);
    CHECK(describe(error).find('\n') == std::string::npos);
  }
}

TEST_CASE("parse_kit: cut off anywhere, a kit is read or refused, never a crash") {
  const std::string whole =
      "name = \"Harbour Morning\"\nkits = 24\n" + kFace +
      "[[face]]\nlabel = \"1B\"\ncolours = [{ colour = \"lab(52 43 21)\", share = 0.4 }]\n"
      "[inks]\nfrom = [\"Ä\"]\n[stocks]\nbase = [\"Sailcloth\"]\n";
  int refused = 0;
  for (std::size_t length = 0; length < whole.size(); ++length)
    refused += parse_kit(whole.substr(0, length), "kit.toml") ? 0 : 1;
  CHECK(refused > 100);
}
