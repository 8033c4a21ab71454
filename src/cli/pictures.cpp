// SPDX-License-Identifier: MIT
#include "cli/pictures.h"

#include <algorithm>
#include <cmath>

#include "base/files.h"
#include "base/markup.h"
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

std::string rectangle(int x, int y, int width, int height, const Lab& lab) {
  return "<rect x=\"" + std::to_string(x) + "\" y=\"" + std::to_string(y) + "\" width=\"" +
         std::to_string(width) + "\" height=\"" + std::to_string(height) + "\" fill=\"" + hex_from_lab(lab) +
         "\"/>\n";
}

std::string patch(int x, int y, const Lab& lab) {
  return rectangle(x, y, kPatch, kRow - kGap, lab);
}

std::string line(int y, const char* kind, const std::string& text) {
  return "<text x=\"" + std::to_string(kMargin + 2 * kPatch + 20) + "\" y=\"" + std::to_string(y) +
         "\" class=\"" + kind + "\">" + markup_text(text) + "</text>\n";
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
         markup_text(text) + "</text>\n";
}

/// The colours of a face side by side, each as wide as its share; the ink, if there is one, on the first.
std::string panel(const CardPicture& card, int x, int y, int width, int height) {
  double sum = 0.0;
  for (const auto& [lab, share] : card.panel) sum += share > 0.0 ? share : 0.0;
  std::string out;
  double at = 0.0;
  for (const auto& [lab, share] : card.panel) {
    const double part = sum > 0.0 ? std::max(share, 0.0) / sum : 1.0 / static_cast<double>(card.panel.size());
    const int from = static_cast<int>(std::lround(at * width));
    at += part;
    const int to = static_cast<int>(std::lround(at * width));
    out += rectangle(x + from, y, to - from, height, lab);
  }
  if (card.ink) {
    constexpr int kRadius = 18;
    out += "<circle cx=\"" + std::to_string(x + kRadius + 10) + "\" cy=\"" +
           std::to_string(y + height - kRadius - 10) + "\" r=\"" + std::to_string(kRadius) + "\" fill=\"" +
           hex_from_lab(card.ink->lab) + "\"/>\n";
  }
  return out;
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
      out += rectangle(x, y + 20, kPatch + 20, kHigh, member.colour.lab);
      out += text_at(x, y + 20 + kHigh + 14, "why", cut_to_width(member.colour.name, kShortName));
      x += kPatch + 20;
    }
    y += kRow;
  }
  return out + "</svg>\n";
}

std::string cards_picture(const std::vector<CardPicture>& cards) {
  constexpr int kAcross = 3;
  constexpr int kCardWidth = 268;
  constexpr int kCardHeight = 2 * kRow;  // with the two lines below it
  constexpr int kInset = 14;             // what shows of a layer round the next
  constexpr int kTall = 140;
  constexpr std::size_t kCaption = 40;
  const auto rows = (cards.size() + kAcross - 1) / kAcross;
  std::string out = opening("Every face on its card", 2 * rows);
  for (std::size_t i = 0; i < cards.size(); ++i) {
    const CardPicture& card = cards[i];
    const int x = kMargin + static_cast<int>(i % kAcross) * (kCardWidth + 24);
    const int y = kMargin + static_cast<int>(i / kAcross) * kCardHeight;
    int inset = 0;
    std::vector<std::string> names;
    for (const NamedColour& layer : card.layers) {
      out += rectangle(x + inset, y + inset, kCardWidth - 2 * inset, kTall - 2 * inset, layer.lab);
      names.push_back(layer.name);
      inset += kInset;
    }
    out += panel(card, x + inset, y + inset, kCardWidth - 2 * inset, kTall - 2 * inset);
    if (card.ink) names.push_back(card.ink->name);
    out += text_at(x, y + kTall + 18, "name", cut_to_width(card.label, kCaption / 2));
    out += text_at(x, y + kTall + 34, "why", cut_to_width(joined(names, " / "), kCaption));
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
