// SPDX-License-Identifier: MIT
#include "swatch/day.h"

#include <array>
#include <optional>
#include <vector>

#include "base/text.h"
#include "swatch/edit.h"

namespace kithue {
namespace {

constexpr std::array<std::string_view, 12> kMonths{"jan", "feb", "mar", "apr", "may", "jun",
                                                   "jul", "aug", "sep", "oct", "nov", "dec"};

struct Word {
  std::string text;  ///< lower case
  char after = ' ';  ///< what ended it
};

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// Runs of letters and runs of digits; times of day ("10:22:05") are left out.
std::vector<Word> words_of(std::string_view text) {
  std::vector<Word> words;
  bool in_time = false;
  const std::string key = folded(text);
  for (std::size_t at = 0; at < key.size();) {
    const bool digit = is_digit(key[at]);
    if (!digit && (key[at] < 'a' || key[at] > 'z')) {
      ++at;
      continue;
    }
    std::size_t end = at;
    while (end < key.size() && (digit ? is_digit(key[end]) : key[end] >= 'a' && key[end] <= 'z')) ++end;
    const char after = end < key.size() ? key[end] : ' ';
    const bool time = in_time || (digit && after == ':');
    in_time = digit && (after == ':' || (in_time && after == '.'));
    if (!time) words.push_back({key.substr(at, end - at), after});
    at = end;
  }
  return words;
}

std::string iso(std::string_view year, int month, std::string_view day) {
  const auto two = [](const std::string& digits) { return digits.size() < 2 ? "0" + digits : digits; };
  const std::string text = std::string(year) + "-" + two(std::to_string(month)) + "-" + two(std::string(day));
  const auto valid = valid_date(text);
  return valid ? *valid : std::string();
}

}  // namespace

std::string day_from(std::string_view text) {
  std::optional<int> month;
  std::vector<Word> numbers;
  for (const Word& word : words_of(text)) {
    if (is_digit(word.text[0])) {
      if (word.text.size() <= 4) numbers.push_back(word);
      continue;
    }
    for (std::size_t m = 0; m < kMonths.size(); ++m) {
      if (word.text.starts_with(kMonths[m])) month = static_cast<int>(m) + 1;
    }
  }
  const auto is_year = [](const Word& word) { return word.text.size() == 4; };
  if (month) {
    if (numbers.size() != 2) return {};
    if (is_year(numbers[0])) return iso(numbers[0].text, *month, numbers[1].text);
    return is_year(numbers[1]) ? iso(numbers[1].text, *month, numbers[0].text) : std::string();
  }
  if (numbers.size() < 3) return {};
  const auto value = [&](std::size_t i) {
    return static_cast<int>(parse_whole(numbers[i].text).value_or(0));
  };
  if (is_year(numbers[0])) return iso(numbers[0].text, value(1), numbers[2].text);
  if (numbers.size() != 3 || !is_year(numbers[2])) return {};
  // Points stand between day, month and year; a slash may be either way round, unless one number tells.
  const bool day_first = numbers[0].after == '.' || value(0) > 12 || value(0) == value(1);
  if (!day_first && value(1) <= 12) return {};
  return day_first ? iso(numbers[2].text, value(1), numbers[0].text)
                   : iso(numbers[2].text, value(0), numbers[1].text);
}

}  // namespace kithue
