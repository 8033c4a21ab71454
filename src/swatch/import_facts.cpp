// SPDX-License-Identifier: MIT
#include "swatch/import_facts.h"

#include <algorithm>
#include <array>
#include <cctype>

#include "base/text.h"
#include "colour/white.h"
#include "swatch/day.h"

namespace kithue {
namespace {

using Key = std::string_view;

bool is_one_of(const std::string& key, std::initializer_list<Key> keys) {
  return std::find(keys.begin(), keys.end(), key) != keys.end();
}

/// Lower case, everything but letters, digits and one kind of slash as one space.
std::string plain_words(std::string_view given) {
  std::string text = " ";
  for (const char c : folded(given)) {
    const bool word = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    const char plain = word ? c : c == '/' || c == ':' ? '/' : ' ';
    if (plain != ' ' || text.back() != ' ') text += plain;
  }
  return text.back() == ' ' ? text : text + ' ';
}

/// ISO 13655: M0 is a lamp like illuminant A, M1 D50, M2 without ultraviolet, M3 with crossed polarisers.
std::string mode_in(const std::string& words) {
  for (const Key mode : {" m0 ", " m1 ", " m2 ", " m3 "}) {
    if (words.find(mode) != std::string::npos) return "M" + std::string(mode.substr(2, 1));
  }
  if (words.find(" uv cut ") != std::string::npos || words.find(" uvcut ") != std::string::npos) return "M2";
  if (words.find(" tungsten ") != std::string::npos) return "M0";
  return {};
}

std::string backing_in(const std::string& words) {
  for (const Key backing : {"white", "black", "self"}) {
    if (words.find(" " + std::string(backing) + " backing ") != std::string::npos ||
        words.find(" backing " + std::string(backing) + " ") != std::string::npos)
      return std::string(backing) + " backing";
  }
  return {};
}

std::string geometry_in(const std::string& words) {
  for (const Key geometry : {"45/0", "0/45", "d/8", "8/d", "d/0"}) {
    if (words.find(" " + std::string(geometry) + " ") != std::string::npos) return std::string(geometry);
  }
  return {};
}

std::string joined_facts(std::initializer_list<std::string> facts) {
  std::vector<std::string> kept;
  for (const std::string& fact : facts) {
    if (!fact.empty()) kept.push_back(fact);
  }
  return joined(kept, ", ");
}

void read_keyword(const std::string& key, const std::string& value, FileFacts& facts, std::string& white,
                  std::string& condition) {
  if (is_one_of(key, {"weighting_function", "illuminant", "observer", "instrumentation", "illumination_name",
                      "observer_angle", "white", "computational_parameter", "measurement_source"})) {
    white += (key.starts_with("illumin")    ? "illuminant "
              : key.starts_with("observer") ? "observer "
                                            : "") +
             value + " ; ";
  }
  if (is_one_of(key, {"instrumentation", "measurement_source", "measurement_condition",
                      "measurement_conditions", "illumination_condition", "filter", "filter_status"}))
    condition += value + " ; ";
  if (key == "sample_backing") condition += "backing " + value + " ; ";
  if (key == "measurement_geometry") condition += "geometry " + value + " ; ";
  if (is_one_of(key, {"instrumentation", "target_instrument", "instrument"}) && folded(value) != "unknown")
    facts.source = value;
  if (is_one_of(key, {"created", "measurement_date", "date"})) {
    if (std::string day = day_from(value); !day.empty()) facts.date = std::move(day);
  }
  if (key == "spectral_norm") {
    const auto whole = parse_number(trimmed(value));
    if (whole && *whole > 0.0) facts.whole = whole;
  }
  if (key == "device_class" && is_one_of(folded(value), {"display", "emission", "emis"}))
    facts.not_surfaces = "the readings in this file are of a display, not of paper or ink";
}

}  // namespace

FileFacts facts_of(const CgatsTable& table, std::string_view first_line) {
  FileFacts facts;
  std::string white;
  std::string condition;
  for (const CgatsKeyword& keyword : table.keywords)
    read_keyword(folded(keyword.name), keyword.value, facts, white, condition);
  facts.white = white_in_text(white).value_or("");
  facts.condition = condition_in_text(condition);
  const std::string type = folded(trimmed(first_line));
  if (is_one_of(type, {"ccss", "ccmx", "cal", "cmf"}))
    facts.not_surfaces = "this file describes a display or an observer; it has no readings of paper or ink";
  if (is_one_of(type, {"cti1", "cti2"}))
    facts.caution = "this file describes a chart: its numbers are what was expected, not what was measured";
  return facts;
}

std::optional<std::string> white_in_text(std::string_view given) {
  std::string text;
  for (const char c : folded(given)) {
    const bool word = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    text += word ? c : ' ';
  }
  std::string illuminant;
  std::string observer;
  std::string before;
  for (const std::string_view part : split(text, ' ')) {
    if (part.empty()) continue;
    const std::string word(part);
    const bool named = before == "illuminant";
    if (word.size() == 3 && word[0] == 'd' && std::isdigit(static_cast<unsigned char>(word[1])) != 0)
      illuminant = word;
    if (named && illuminant.empty() && find_white(word + "/2")) illuminant = word;
    const bool degrees = word.starts_with("deg");
    if (degrees && (before == "2" || before == "10")) observer = before;
    if ((before == "observer" || before == "angle") && (word == "2" || word == "10")) observer = word;
    if (word == "2deg" || word == "10deg") observer = word.substr(0, word.size() - 3);
    before = word;
  }
  if (illuminant.empty() || observer.empty()) return std::nullopt;
  const auto white = find_white(illuminant + "/" + observer);
  if (!white) return std::nullopt;
  return std::string(white->name);
}

std::optional<std::string> white_in_brackets(std::string_view given) {
  std::string text;
  for (const char c : folded(given)) {
    const bool word = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    text += word ? c : ' ';
  }
  std::string illuminant;
  std::string observer;
  for (const std::string_view word : split(text, ' ')) {
    if (word == "2" || word == "10" || word == "2deg" || word == "10deg")
      observer = word.substr(0, word.starts_with("10") ? 2 : 1);
    else if (find_white(std::string(word) + "/2"))
      illuminant = word;
  }
  const auto white = find_white(illuminant + "/" + observer);
  if (!white) return std::nullopt;
  return std::string(white->name);
}

std::string condition_in_text(std::string_view text) {
  const std::string words = plain_words(text);
  return joined_facts({mode_in(words), backing_in(words), geometry_in(words)});
}

std::string_view mode_of(std::string_view condition) {
  constexpr std::array<Key, 4> kModes{"M0", "M1", "M2", "M3"};
  const std::string_view start = trimmed(condition).substr(0, 2);
  const bool ends =
      trimmed(condition).size() == 2 ||
      (trimmed(condition).size() > 2 && std::isalnum(static_cast<unsigned char>(trimmed(condition)[2])) == 0);
  for (const Key mode : kModes) {
    if (ends && start.size() == 2 && start[1] == mode[1] && (start[0] == 'M' || start[0] == 'm')) return mode;
  }
  return {};
}

}  // namespace kithue
