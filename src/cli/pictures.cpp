// SPDX-License-Identifier: MIT
#include "cli/pictures.h"

#include "base/files.h"
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
constexpr std::size_t kReasonColumns = 88;
constexpr std::size_t kReasonLines = 2;

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

/// The text in lines of kReasonColumns; what does not fit into kReasonLines is cut with a dot-dot-dot.
std::vector<std::string> reason_lines(const std::string& text) {
  std::vector<std::string> lines(1);
  for (const std::string_view word : split(text, ' ')) {
    const bool fits = display_width(lines.back()) + 1 + display_width(word) <= kReasonColumns;
    if (!fits && lines.size() < kReasonLines) lines.emplace_back();
    if (!lines.back().empty()) lines.back() += ' ';
    lines.back() += word;
  }
  for (std::string& one : lines) one = cut_to_width(one, kReasonColumns);
  return lines;
}

std::string row(const NamedColour& a, const NamedColour& b, const PairVerdict& pair, int y) {
  const std::string verdict(word_for(pair.verdict));
  std::string reason;
  int below = y + 64;
  for (const std::string& text : reason_lines(pair.reasons.front())) {
    reason += line(below, "why", text);
    below += 15;
  }
  return patch(kMargin, y, a.lab) + patch(kMargin + kPatch, y, b.lab) +
         line(y + 24, "name",
              cut_to_width(a.name, kNameColumns) + " + " + cut_to_width(b.name, kNameColumns)) +
         line(y + 45, is_clash(pair.verdict) ? "clash" : "calm",
              verdict + "  " + fixed_number(pair.de00, 2)) +
         reason;
}

/// The opening of a picture of that many rows, with its ground.
std::string opening(const std::string& title, std::size_t rows) {
  const std::string width = std::to_string(kWidth);
  const std::string height = std::to_string(2 * kMargin + kRow * static_cast<int>(rows));
  return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" +
         width + "\" height=\"" + height + "\" viewBox=\"0 0 " + width + " " + height +
         "\" role=\"img\">\n<title>" + title +
         "</title>\n<style>text{font-family:sans-serif;fill:#222}.name{font-size:17px;font-weight:bold}"
         ".clash,.calm{font-size:15px}.clash{font-weight:bold}.why{font-size:12px;fill:#444}</style>\n"
         "<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n";
}

std::string text_at(int x, int y, const char* kind, const std::string& text) {
  return "<text x=\"" + std::to_string(x) + "\" y=\"" + std::to_string(y) + "\" class=\"" + kind + "\">" +
         escaped(text) + "</text>\n";
}

}  // namespace

std::string clash_picture(const std::vector<NamedColour>& colours, const std::vector<PairVerdict>& pairs) {
  std::string out = opening("Pairs of colours, worst first", pairs.size());
  int y = kMargin;
  for (const PairVerdict& pair : pairs) {
    out += row(colours[pair.a], colours[pair.b], pair, y);
    y += kRow;
  }
  return out + "</svg>\n";
}

std::string harmony_picture(const std::vector<HarmonySet>& sets) {
  constexpr int kHigh = 44;  // of a patch; its row has the scheme above and the name below
  constexpr std::size_t kShortName = 18;
  std::string out = opening("Sets of colours", sets.size());
  int y = kMargin;
  for (const HarmonySet& set : sets) {
    out += text_at(kMargin, y + 14, "name", sentence_for(set.scheme));
    int x = kMargin;
    for (const HarmonyMember& member : set.members) {
      out += "<rect x=\"" + std::to_string(x) + "\" y=\"" + std::to_string(y + 20) + "\" width=\"" +
             std::to_string(kPatch + 20) + "\" height=\"" + std::to_string(kHigh) + "\" fill=\"" +
             hex_from_lab(member.colour.lab) + "\"/>\n";
      out += text_at(x, y + 20 + kHigh + 14, "why", cut_to_width(member.colour.name, kShortName));
      x += kPatch + 20;
    }
    y += kRow;
  }
  return out + "</svg>\n";
}

std::string sentence_for(Scheme scheme) {
  switch (scheme) {
    case Scheme::ladder:
      return "One hue, lighter and darker";
    case Scheme::neighbours:
      return "Neighbours";
    case Scheme::opposite:
      return "Opposite";
    case Scheme::split:
      return "Split opposite";
    case Scheme::three:
      return "Three evenly spaced";
    case Scheme::four:
      return "Four evenly spaced";
  }
  return "";
}

MaybeError write_picture(const std::string& path, const std::string& svg, bool force, Session& session) {
  const auto saved = replace_file_atomically(path, svg, {"", !force, kSharedMode});
  if (!saved) {
    Error error = saved.error();
    if (!force && entry_at(path) && *entry_at(path) == Entry::file) error.advice = "--force replaces it";
    return error;
  }
  hint(session, "saved " + path);
  return std::nullopt;
}

}  // namespace kithue
