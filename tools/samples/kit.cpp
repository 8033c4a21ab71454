// SPDX-License-Identifier: MIT
#include <array>

#include "samples/kinds.h"
#include "samples/table.h"

namespace kithue::samples {
namespace {

/// The parts of a kit file, so that one can be spoilt.
struct Parts {
  std::string head = "name = \"Harbour Morning\"\nkits = 24\nspares = 1\npage = \"A4\"\n";
  std::string pack = "[pack]\nsheet = \"12 x 12 in\"\ncopies = 2\nprice = 8.50\nhave = 1\n";
  std::string face =
      "[[face]]\nlabel = \"1A\"\ncolours = [{ colour = \"lab(52 43 21)\", share = 0.4, role = \"motif\" }, "
      "\"#f2efe6\"]\ndirection = \"up\"\n[[face]]\nlabel = \"1B\"\nphoto = \"photos/1b.jpg\"\ncrop = "
      "\"10%,10%,80%,80%\"\n";
  std::string inks = "[inks]\nfrom = \"stash\"\nchoose = 4\nmust = [\"Pitch Black\"]\nnever = []\n";
  std::string stocks = "[stocks]\nbase = [\"Sailcloth\"]\nfrom = [\"Sailcloth\", \"Wet Sand\"]\n";
  std::string card =
      "[[card]]\nname = \"Slipway\"\n[[card.piece]]\nname = \"base\"\nstock = \"Sailcloth\"\nsize = \"148 x "
      "105 "
      "mm\"\nscore = \"74 mm\"\n[[card.piece]]\nname = \"mat\"\nface = \"1A\"\nsize = \"4 x 5 1/4 "
      "in\"\ntouches = [\"base\"]\n[[card.stamp]]\nink = \"Pitch Black\"\non = \"mat\"\nuse = "
      "\"bold\"\nstrength = 0.5\nwords = \"hello\"\n";
  std::string rest =
      "[[portion]]\nsize = \"6 x 12 in\"\nof = [\"1\"]\n[[supply]]\nstock = \"Sailcloth\"\nprice "
      "= 3.20\nhave = 12\n";
  [[nodiscard]] std::string text() const { return head + pack + face + inks + stocks + card + rest; }
};

/// Changes a piece of the text that is known to be there.
std::string swapped(std::string text, const std::string& from, const std::string& to) {
  return text.replace(text.find(from), from.size(), to);
}

struct Fault {
  const char* what;
  const char* from;                ///< in the text of the parts
  std::array<const char*, 12> to;  ///< what may stand there instead; the first null ends the list
};

constexpr Fault kFaults[] = {
    {"text never closed",
     "\"Harbour Morning\"",
     {"\"Harbour Morning", "'Harbour", "\"\"\"Harbour", "\"a\nb\""}},
    {"text without quotes",
     "\"Harbour Morning\"",
     {"Harbour", "Harbour Morning", "\xE2\x80\x9CHarbour\xE2\x80\x9D"}},
    {"a wrong escape",
     "\"Harbour Morning\"",
     {"\"\\q\"", "\"\\u12\"", "\"\\ud800\"", "\"\\U00110000\"", "\"\\\""}},
    {"a control character in text",
     "\"Harbour Morning\"",
     {"\"a\x01"
      "b\"",
      "\"a\\u0007\"", "\"a\\nb\"", "\"a\x7F\"", "\"a\\u001b[31m\""}},
    {"text that is not UTF-8", "Harbour", {"\xFF", "a\xC3", "\xED\xA0\x80", "\xC0\xAF", "\xF4\x90\x80\x80"}},
    {"an empty name", "\"Harbour Morning\"", {"\"\"", "\" \"", "''"}},
    {"a key twice",
     "kits = 24\n",
     {"kits = 24\nkits = 25\n", "kits = 1\nname = \"x\"\n", "kits.a = 1\nkits = 2\n"}},
    {"no value", "kits = 24", {"kits =", "kits", "= 24", "kits = = 24", "kits : 24", "kits = 24 25"}},
    {"a number out of range",
     "kits = 24",
     {"kits = 0", "kits = -1", "kits = 100001", "kits = 9223372036854775807", "kits = -9223372036854775808"}},
    {"a number that TOML does not know",
     "kits = 24",
     {"kits = 9223372036854775808", "kits = 1e999999x", "kits = 0x", "kits = 1__0", "kits = 01", "kits = +-1",
      "kits = 1_", "kits = .5", "kits = 1.", "kits = 0o9", "kits = 0b2"}},
    {"a number of the wrong kind",
     "kits = 24",
     {"kits = 2.5", "kits = nan", "kits = inf", "kits = \"24\"", "kits = true", "kits = [24]", "kits = {}",
      "kits = 2026-03-14", "kits = -inf", "kits = 12:00:00"}},
    {"a day that does not exist",
     "kits = 24",
     {"date = 2026-02-30", "date = 2026-13-01", "date = 2026-00-10", "date = 2026-1-1", "date = 2026-04-31"}},
    {"a page that does not exist",
     "page = \"A4\"",
     {"page = \"A44\"", "page = \"\"", "page = 4", "page = [\"A4\"]"}},
    {"a unit that does not exist", "page = \"A4\"", {"units = \"feet\"", "units = 1", "units = \"\""}},
    {"limits that do not rise",
     "page = \"A4\"",
     {"bands = [6, 2, 1, 12]", "bands = [1, 2, 6]", "bands = [1, 2, 6, nan]", "bands = [1, 2, 6, \"x\"]",
      "bands = 6", "bands = [-1, 2, 6, 12]", "bands = [1, 2, 6, inf]"}},
    {"a size that is none",
     "\"12 x 12 in\"",
     {"\"12\"", "\"12 x 12\"", "\"12 x in\"", "\"0 x 12 in\"", "\"-1 x 12 in\"", "\"12 x 12 furlongs\"", "12",
      "\"1e9 x 12 in\"", "\"nan x 12 in\"", "\"1/0 x 12 in\"", "\"12 x 12 x 12 in\""}},
    {"a price that is none",
     "price = 8.50",
     {"price = -1", "price = 8.505", "price = nan", "price = inf", "price = \"8.50\"", "price = 1e300",
      "price = 8,50"}},
    {"a section that is a value",
     "[pack]\n",
     {"pack = 3\n[other]\n", "pack = []\n[other]\n", "pack = \"x\"\n[other]\n"}},
    {"a section twice", "[inks]", {"[pack]", "[inks]\n[inks]", "[[pack]]", "[name]", "[face]"}},
    {"a section head never closed", "[inks]", {"[inks", "[[inks]", "[inks]]", "[]", "[ ]", "[in ks]", "[.]"}},
    {"a face without a label",
     "label = \"1A\"\n",
     {"", "label = \"\"\n", "label = 1\n", "label = [\"1A\"]\n"}},
    {"a label twice", "label = \"1B\"", {"label = \"1A\"", "label = \"1a\"", "label = \" 1A \""}},
    {"a colour that is none",
     "lab(52 43 21)",
     {"lab(52 43)", "#12", "#gggggg", "", "rgb(", "lab(nan 1 2)", "lab(1e999 0 0)", "puce?", "lab(52 43 21",
      "lch(52 -)"}},
    {"a share that is none",
     "share = 0.4",
     {"share = -0.1", "share = 1.5", "share = nan", "share = inf", "share = \"0.4\"", "share = 1e999"}},
    {"a role that does not exist", "\"motif\"", {"\"middle\"", "\"\"", "3", "[\"motif\"]"}},
    {"colours that are no list",
     "colours = [{ colour",
     {"colours = 3\nx = [{ colour", "colours = []\nx = [{ colour", "colours = [3]\nx = [{ colour",
      "colours = [{}]\nx = [{ colour", "colours = [[]]\nx = [{ colour"}},
    {"a list never closed",
     "never = []",
     {"never = [", "never = [\"a\"", "never = [\"a\" \"b\"]", "never = [,]", "never = [\"a\",,]"}},
    {"a direction that does not exist", "\"up\"", {"\"down\"", "1", "true"}},
    {"a source that does not exist",
     "from = \"stash\"",
     {"from = \"shelf\"", "from = 3", "from = [3]", "from = {}"}},
    {"a name in both lists",
     "never = []",
     {"never = [\"Pitch Black\"]", "never = [\"a\", \"a\"]", "never = 3"}},
    {"a card without a name", "name = \"Slipway\"\n", {"", "name = \"\"\n", "name = 3\n"}},
    {"a piece without a source",
     "stock = \"Sailcloth\"\nsize = \"148",
     {"size = \"148", "stock = \"Sailcloth\"\nface = \"1A\"\nsize = \"148", "face = \"9Z\"\nsize = \"148",
      "stock = 3\nsize = \"148"}},
    {"a piece that does not fit",
     "\"148 x 105 mm\"",
     {"\"148 x 405 mm\"", "\"3 x 3 m\"", "\"2999 x 2999 mm\"", "\"9999999 x 1 mm\""}},
    {"a fold off the piece",
     "\"74 mm\"",
     {"\"148 mm\"", "\"1000 mm\"", "[\"74 mm\", \"999 mm\"]", "3", "\"74\""}},
    {"a piece that touches none",
     "touches = [\"base\"]",
     {"touches = [\"bse\"]", "touches = [\"mat\"]", "touches = \"base\"", "touches = [3]",
      "touches = [\"base\", \"base\"]"}},
    {"a stamp on nothing", "on = \"mat\"", {"on = \"matt\"", "", "on = 3", "on = \"\""}},
    {"a stamp without an ink", "ink = \"Pitch Black\"\non", {"on", "ink = 3\non", "ink = \"\"\non"}},
    {"a use that does not exist", "use = \"bold\"", {"use = \"thin\"", "use = 3", "use = \"\""}},
    {"a strength out of range",
     "strength = 0.5",
     {"strength = 0", "strength = 9", "strength = nan", "strength = \"x\"", "strength = -1"}},
    {"a portion of nothing",
     "of = [\"1\"]",
     {"of = [\"2\"]", "of = \"1\"", "of = [1]", "of = [\"1\", \"1\"]"}},
    {"a supply of two things",
     "stock = \"Sailcloth\"\nprice = 3.20",
     {"stock = \"Sailcloth\"\nink = \"x\"\nprice = 3.20", "price = 3.20",
      "ink = \"x\"\nsheet = \"1 x 1 in\"\nprice = 3.20"}},
};

std::string deep(Dice& dice) {
  constexpr std::size_t kDeep = 100'000;
  switch (dice.below(4)) {
    case 0:
      return "x = " + std::string(kDeep, '[');
    case 1:
      return "x = " + std::string(kDeep / 2, '[') + std::string(kDeep / 2, ']');
    case 2: {
      std::string keys;
      for (std::size_t i = 0; i < kDeep / 2; ++i) keys += "a.";
      return keys + "a = 1";
    }
    default: {
      std::string tables = "x = ";
      for (std::size_t i = 0; i < kDeep / 5; ++i) tables += "{a = ";
      return tables;
    }
  }
}

std::string other_file(Dice& dice) {
  return dice.one_of({"{\"name\": \"x\"}", "<html></html>", "%PDF-1.7\n", "PK\x03\x04",
                      "name,kind,white,L,a,b\n", "CGATS.17\nBEGIN_DATA\n", "", "# nothing\n", "kits = 3\n",
                      "name = \"x\"\n"});
}

}  // namespace

Sample sound_kit(Dice& dice) {
  Parts parts;
  const std::string kits = std::to_string(dice.between(1, 60));
  parts.head = "name = " +
               std::string(dice.one_of(
                   {"\"Harbour Morning\"", "'Low Water'", "\"\"\"Gulls\"\"\"", "\"Caf\\u00e9\""})) +
               "\nkits = " + kits + "\n";
  if (dice.chance(3))
    parts.head += "date = " + std::string(dice.one_of({"2026-03-14", "\"November 2026\""})) + "\n";
  if (dice.chance(3)) parts.head += "units = \"" + std::string(dice.one_of({"mm", "cm", "in"})) + "\"\n";
  if (dice.chance(3)) parts.head += "bands = [1, 2.5, 6, 12]\n";
  if (dice.chance(4)) parts.head += "spoilage_percent = 5\n# a remark with \" in it\n";
  if (dice.chance(2)) parts.pack.clear();
  if (dice.chance(3)) parts.rest = "[strip]\npunch = \"1 in\"\n";
  if (dice.chance(4)) parts.stocks.clear();
  if (dice.chance(4)) {
    parts.card.clear();
  } else {
    const int width = dice.between(50, 140);
    parts.card = swapped(parts.card, "148 x 105 mm", "148 x " + std::to_string(width) + " mm");
    parts.card = swapped(parts.card, "4 x 5 1/4 in",
                         dice.one_of({"4 x 5 1/4 in", "10 x 12.5 cm", "3-1/2 x 5in", "90 x 120 mm"}));
  }
  const int faces = dice.between(0, 6);
  for (int i = 0; i < faces; ++i) {
    parts.face += "[[face]]\nlabel = \"" + std::to_string(i + 2) + "A\"\ncolours = [\"lab(" +
                  number_text(dice, 10, 95) + " " + number_text(dice, -40, 40) + " " +
                  number_text(dice, -40, 60) + ")\", \"#" + std::to_string(dice.between(100000, 999999)) +
                  "\"]\n";
  }
  std::string text = parts.text();
  if (dice.chance(3)) text = replaced_all(text, "\n", "\r\n");
  if (dice.chance(5)) text.insert(0, "\xEF\xBB\xBF");
  return {std::move(text), std::to_string(faces + 2) + " faces", 0, static_cast<std::size_t>(faces) + 2};
}

Sample spoilt_kit(std::size_t turn, Dice& dice) {
  constexpr std::size_t kOthers = 5;
  const std::size_t fault = turn % (std::size(kFaults) + kOthers);
  std::string text = Parts{}.text();
  if (fault < std::size(kFaults)) {
    const Fault& one = kFaults[fault];
    std::size_t ways = 0;
    while (ways < one.to.size() && one.to[ways] != nullptr) ++ways;
    return {swapped(text, one.from, one.to[dice.below(ways)]), one.what, 0, 0};
  }
  switch (fault - std::size(kFaults)) {
    case 0:
      return {deep(dice), "100,000 deep", 0, 0};
    case 1:
      return {other_file(dice), "another kind of file, or none of what a kit needs", 0, 0};
    case 2:
      return {text.insert(dice.below(text.size()), 1, '\0'), "a NUL byte", 0, 0};
    case 3:
      return {utf16_of(text, dice.chance(2)), "UTF-16", 0, 0};
    default:
      return {text + "# " + std::string(std::size_t{2} << 20U, 'x'), "larger than 1 MB", 0, 0};
  }
}

}  // namespace kithue::samples
