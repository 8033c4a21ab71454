// SPDX-License-Identifier: MIT
#include "kit/new_kit.h"

#include <algorithm>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/text.h"

namespace kithue {
namespace {

/// A TOML basic string. Source: toml.io v1.0.0.
std::string quoted(std::string_view text) {
  constexpr std::string_view kHex = "0123456789ABCDEF";
  std::string out = "\"";
  for (const char letter : text) {
    const auto byte = static_cast<unsigned char>(letter);
    if (letter == '"' || letter == '\\') {
      out += '\\';
      out += letter;
    } else if (byte < 0x20 || byte == 0x7F) {
      out += "\\u00";
      out += kHex[byte >> 4];
      out += kHex[byte & 15];
    } else {
      out += letter;
    }
  }
  return out + "\"";
}

/// Sizes of a folded card in the habit of the page. Common practice, no source.
struct CardSizes {
  const char* base;
  const char* score;
  const char* mat;
  const char* panel;
  const char* portion;
  const char* stock_sheet;
};
constexpr CardSizes kLetterCard{"8 1/2 x 5 1/2 in", "4 1/4 in", "4 x 5 1/4 in",
                                "3 3/4 x 5 in",     "6 x 6 in", "12 x 12 in"};
constexpr CardSizes kA4Card{"210 x 148 mm", "105 mm",       "99 x 142 mm",
                            "93 x 136 mm",  "150 x 150 mm", "210 x 297 mm"};

std::vector<std::string> labels_of(const NewKit& kit) {
  const std::size_t sides = kit.photos.empty()
                                ? static_cast<std::size_t>(std::max(kit.sheets, 1)) * (kit.one_sided ? 1 : 2)
                                : kit.photos.size();
  std::vector<std::string> labels;
  for (std::size_t i = 0; i < sides; ++i) {
    labels.push_back(kit.one_sided ? std::to_string(i + 1)
                                   : std::to_string(i / 2 + 1) + (i % 2 == 0 ? "A" : "B"));
  }
  return labels;
}

/// Millimetres for those who think in them, unless only inches say it plainly.
std::string sheet_text(const NewKit& kit) {
  const Size& size = kit.pack_sheet;
  const bool whole_mm = size.width.nm % kNanometresPerMm == 0 && size.height.nm % kNanometresPerMm == 0;
  return size_text(size, !kit.letter && whole_mm ? Unit::mm : Unit::inch);
}

std::string faces(const NewKit& kit, const std::vector<std::string>& labels) {
  std::string text;
  for (std::size_t i = 0; i < labels.size(); ++i) {
    text += "[[face]]\nlabel = \"" + labels[i] + "\"\n";
    if (kit.photos.empty())
      text += "colours = [{ colour = \"lab(55 0 0)\", share = 1, role = \"ground\" }]\n";
    else
      text += "photo = " + quoted(kit.photos[i]) + "\n";
    if (i > 0) continue;
    if (!kit.photos.empty()) text += "#crop = \"10%,10%,80%,80%\"\n";  // a crop belongs to a photo
    text += "#direction = \"up\"\n#sheet = \"1\"\n";
  }
  return text;
}

constexpr std::string_view kMat = R"toml([[card.piece]]
name = "mat"
stock = @mat@
size = "@mat size@"
touches = ["base"]
)toml";

/// What stands between two @ is filled in.
constexpr std::string_view kFile =
    R"toml(# A kit. Lines with # are notes; take the # away from a line such as #date to use it.
# Sizes are width x height with a unit: mm, cm, in, fractions as in 5 1/2 in.
name = @name@
#date = "2026-03"
kits = @kits@
spares = @spares@  # whole kits beyond those
spoilage_percent = @spoilage@  # pieces cut beyond what is needed
page = "@page@"  # paper in the printer: A4 or Letter
units = "@units@"  # sizes are shown in mm, cm or in
#bands = [1, 2, 6, 12]  # where same, match, near-miss and step end, in dE00

# The patterned paper.
[pack]
sheet = "@pack sheet@"
copies = @copies@  # of each sheet in one pack
#price = 13.50
#have = 1  # packs at hand

# A section for each side of each sheet.
# direction = "up" keeps the pattern upright when it is cut; crop = "10%,10%,80%,80%" reads a part of
# the photo; stocks and inks name what goes with the side; sheet says which sheet it is a side of.@grey@
@faces@
# Inks in play: all of the stash, or a list of names.
[inks]
from = "stash"
choose = 4  # how many 'kithue choose' settles on
must = [@ink@]
never = []
pads = "one"  # one pad serves the class; each: one in every kit
#price = 8.50  # of a pad
#budget = 30.00  # the most that the set may cost

# Stocks in play. Words must read on every base.
[stocks]
base = [@base@]
from = "stash"
#choose = 3
#must = [@base@]
#never = []
sheet = "@stock sheet@"
#grain = "up"  # folds then run along the grain: up or across the sheet

# The pattern strip: a snippet of every side, a punched dot of every stock that goes with it.
#[strip]
#punch = "20 mm"
#snippet = "20 x 20 mm"  # else as wide and high as a dot

# How a stock or an ink is bought, and what is there.
#[[supply]]
#stock = @base@
#sheet = "@stock sheet@"
#grain = "up"
#pack = 10  # sheets that come together
#price = 7.50
#have = 6

# What every student cuts for herself: a piece of every sheet, or of = ["1"].
#[[portion]]
#size = "@portion@"
#of = ["1"]
#count = 1

# A card: its pieces, what lies on what, and what is stamped on it. The first card is an example.
[[card]]
name = "First card"
count = 1  # in each kit
[[card.piece]]
name = "base"
stock = @base@
size = "@base size@"
count = 1  # in each card
score = "@score@"  # the fold, along the longer side
#turn = "never"  # free, never or always: how it may lie on the sheet
@mat piece@[[card.piece]]
name = "panel"
face = "@face@"
#or = ["2A"]  # does as well when paper is short
#wish = 3  # what it is worth then, beside other pieces
size = "@panel size@"
touches = ["@under@"]
#from = "sheet"  # portion: the student cuts it
[[card.stamp]]
ink = @ink@
#method = "pad"
on = "base"
use = "fine"  # fine, bold or picture: how well it must read
#strength = 0.5  # stamped off; 1.5 stamped twice
words = "thank you"
)toml";

/// Fills in what stands between two @, once: what is put in is not looked at again.
std::string filled(std::string_view text, const std::map<std::string_view, std::string>& values) {
  std::string out;
  for (;;) {
    const auto first = text.find('@');
    out += text.substr(0, first);
    if (first == std::string_view::npos) return out;
    const auto second = text.find('@', first + 1);
    out += values.at(text.substr(first + 1, second - first - 1));
    text = text.substr(second + 1);
  }
}

}  // namespace

std::string new_kit_text(const NewKit& kit) {
  const CardSizes& sizes = kit.letter ? kLetterCard : kA4Card;
  const std::vector<std::string> labels = labels_of(kit);
  const std::string mat = filled(kMat, {{"mat", quoted(kit.mat)}, {"mat size", sizes.mat}});
  return filled(
      kFile, {{"name", quoted(kit.name)},
              {"kits", std::to_string(kit.kits)},
              {"spares", std::to_string(kit.spares)},
              {"spoilage", exact_number(kit.spoilage_percent)},
              {"page", kit.letter ? "Letter" : "A4"},
              {"units", kit.letter ? "in" : "mm"},
              {"pack sheet", sheet_text(kit)},
              {"copies", std::to_string(kit.copies)},
              {"grey", kit.photos.empty() ? "\n# The colours are a plain grey until there is a photo." : ""},
              {"faces", faces(kit, labels)},
              {"ink", quoted(kit.ink)},
              {"base", quoted(kit.base)},
              {"stock sheet", sizes.stock_sheet},
              {"portion", sizes.portion},
              {"base size", sizes.base},
              {"score", sizes.score},
              {"mat piece", kit.mat.empty() ? "" : mat},
              {"face", labels.front()},
              {"panel size", sizes.panel},
              {"under", kit.mat.empty() ? "base" : "mat"}});
}

}  // namespace kithue
