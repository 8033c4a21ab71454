// SPDX-License-Identifier: MIT
#include "cli/clash_picture.h"

#include "base/text.h"
#include "colour/srgb.h"

namespace kithue {
namespace {

constexpr int kWidth = 900;
constexpr int kRow = 96;
constexpr int kMargin = 24;
constexpr int kPatch = 120;
constexpr int kGap = 16;
constexpr std::size_t kNameColumns = 34;
constexpr std::size_t kReasonColumns = 92;

/// Text that may stand in an element or an attribute. Control characters have become visible escapes.
std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : printable(text)) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string patch(int x, int y, const Lab& lab) {
  return "<rect x=\"" + std::to_string(x) + "\" y=\"" + std::to_string(y) + "\" width=\"" +
         std::to_string(kPatch) + "\" height=\"" + std::to_string(kRow - kGap) + "\" fill=\"" +
         hex_from_lab(lab) + "\"/>\n";
}

std::string line(int y, const char* kind, const std::string& text) {
  return "<text x=\"" + std::to_string(kMargin + 2 * kPatch + 20) + "\" y=\"" + std::to_string(y) +
         "\" class=\"" + kind + "\">" + escaped(text) + "</text>\n";
}

std::string row(const NamedColour& a, const NamedColour& b, const PairVerdict& pair, int y) {
  const std::string verdict(word_for(pair.verdict));
  return patch(kMargin, y, a.lab) + patch(kMargin + kPatch, y, b.lab) +
         line(y + 24, "name",
              cut_to_width(a.name, kNameColumns) + " + " + cut_to_width(b.name, kNameColumns)) +
         line(y + 46, is_clash(pair.verdict) ? "clash" : "calm",
              verdict + "  " + fixed_number(pair.de00, 2)) +
         line(y + 66, "why", cut_to_width(pair.reasons.front(), kReasonColumns));
}

}  // namespace

std::string clash_picture(const std::vector<NamedColour>& colours, const std::vector<PairVerdict>& pairs) {
  const std::string width = std::to_string(kWidth);
  const std::string height = std::to_string(2 * kMargin + kRow * static_cast<int>(pairs.size()));
  std::string out =
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" +
      width + "\" height=\"" + height + "\" viewBox=\"0 0 " + width + " " + height +
      "\" role=\"img\">\n<title>Pairs of colours, worst first</title>\n"
      "<style>text{font-family:sans-serif;fill:#222}.name{font-size:17px;font-weight:bold}"
      ".clash,.calm{font-size:15px}.clash{font-weight:bold}.why{font-size:12px;fill:#444}</style>\n"
      "<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n";
  int y = kMargin;
  for (const PairVerdict& pair : pairs) {
    out += row(colours[pair.a], colours[pair.b], pair, y);
    y += kRow;
  }
  return out + "</svg>\n";
}

}  // namespace kithue
