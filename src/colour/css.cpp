// SPDX-License-Identifier: MIT
#include "colour/css.h"

#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <vector>

#include "base/text.h"
#include "colour/srgb.h"

namespace kithue {
namespace {

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

Error unreadable(std::string what, std::string advice = {}) {
  if (advice.empty()) advice = "write for example lab(52 43 21), lch(52 48 26), rgb(200 85 61) or #c8553d";
  return {ErrorKind::bad_input, std::move(what), "", std::move(advice)};
}

/// The words between the brackets; alpha, the part after a slash, apart.
struct Arguments {
  std::vector<std::string> words;
  std::optional<std::string> alpha;
};

bool is_space(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f';
}

std::vector<std::string> spaced_words(std::string_view text) {
  std::vector<std::string> words;
  bool inside = false;
  for (const char c : text) {
    if (!is_space(c) && !inside) words.emplace_back();
    inside = !is_space(c);
    if (inside) words.back() += c;
  }
  return words;
}

/// Words with commas between them, or with white space and a slash. Never a mixture: "52,5 43,2 21" has
/// decimal commas, and must not be read as other numbers. An empty place between commas is an empty word.
Arguments arguments(std::string_view inside) {
  Arguments out;
  if (inside.find(',') != std::string_view::npos) {
    for (const std::string_view part : split(inside, ',')) out.words.emplace_back(trimmed(part));
    if (out.words.size() == 4) {
      out.alpha = out.words.back();
      out.words.pop_back();
    }
    return out;
  }
  const auto slash = inside.find('/');
  out.words = spaced_words(inside.substr(0, slash));
  if (slash != std::string_view::npos) out.alpha = std::string(trimmed(inside.substr(slash + 1)));
  return out;
}

/// A number or a percentage, of which 100 % is `whole`; "none" is zero.
std::optional<double> amount(std::string_view word, double whole) {
  if (word == "none") return 0.0;
  if (word.ends_with('%')) {
    const auto percent = parse_number(word.substr(0, word.size() - 1));
    return percent ? std::optional(*percent / 100.0 * whole) : std::nullopt;
  }
  return parse_number(word);
}

std::optional<double> angle_degrees(std::string_view word) {
  if (word == "none") return 0.0;
  struct Unit {
    std::string_view name;
    double degrees;
  };
  // "grad" before "rad": one ends with the other.
  constexpr std::array<Unit, 4> kUnits{
      {{"deg", 1.0}, {"grad", 0.9}, {"rad", 57.295779513082320877}, {"turn", 360.0}}};
  for (const Unit& unit : kUnits) {
    if (!word.ends_with(unit.name)) continue;
    const auto value = parse_number(word.substr(0, word.size() - unit.name.size()));
    if (!value || !std::isfinite(*value * unit.degrees)) return std::nullopt;
    return *value * unit.degrees;
  }
  return parse_number(word);
}

Result<Lab> checked(const Lab& lab) {
  if (lab.L < 0.0 || lab.L > 100.0) {
    return unreadable("lightness " + exact_number(lab.L) + " is outside 0 to 100", "is the scale right?");
  }
  if (std::fabs(lab.a) > 200.0 || std::fabs(lab.b) > 200.0) {
    return unreadable("a* or b* is beyond 200", "no paper or ink is that vivid; is the scale right?");
  }
  return lab;
}

Lab lab_from_coded(double r, double g, double b) {
  return lab_from_rgb({light_from_coded(r), light_from_coded(g), light_from_coded(b)});
}

Result<Lab> lab_from_hex(std::string_view digits) {
  const std::size_t count = digits.size();
  std::vector<int> values;
  for (const char c : digits) {
    const auto at = std::string_view("0123456789abcdef").find(c);
    if (at == std::string_view::npos) return unreadable("a hex colour has only the digits 0-9 and a-f");
    values.push_back(static_cast<int>(at));
  }
  std::vector<int> bytes;
  if (count == 3 || count == 4) {
    for (const int value : values) bytes.push_back(value * 17);
  } else if (count == 6 || count == 8) {
    for (std::size_t i = 0; i < count; i += 2) bytes.push_back(values[i] * 16 + values[i + 1]);
  } else {
    return unreadable("a hex colour has 3 or 6 digits, not " + std::to_string(count));
  }
  if (bytes.size() == 4 && bytes[3] != 255)
    return unreadable("a swatch cannot be see-through", "leave the alpha out");
  return lab_from_coded(bytes[0] / 255.0, bytes[1] / 255.0, bytes[2] / 255.0);
}

Result<Lab> lab_from_function(std::string_view name, const std::array<std::string, 3>& words) {
  std::array<std::optional<double>, 3> v;
  const auto need = [&](std::size_t i, std::optional<double> value) { v[i] = value; };
  if (name == "lab") {
    need(0, amount(words[0], 100.0));
    need(1, amount(words[1], 125.0));  // CSS: 100 % is 125
    need(2, amount(words[2], 125.0));
  } else if (name == "lch") {
    need(0, amount(words[0], 100.0));
    need(1, amount(words[1], 150.0));  // CSS: 100 % is 150
    need(2, angle_degrees(words[2]));
  } else {
    for (std::size_t i = 0; i < 3; ++i) need(i, amount(words[i], 255.0));
  }
  for (std::size_t i = 0; i < 3; ++i) {
    if (words[i].empty()) return unreadable("a number is missing in " + std::string(name) + "()");
    if (!v[i]) return unreadable("'" + words[i] + "' is not a number");
  }
  if (name == "lab") return checked({*v[0], *v[1], *v[2]});
  if (name == "lch") {
    if (*v[1] < 0.0) return unreadable("chroma " + exact_number(*v[1]) + " is below 0");
    return checked(lab_from_lch({*v[0], *v[1], *v[2]}));
  }
  for (std::size_t i = 0; i < 3; ++i) {
    if (*v[i] < 0.0 || *v[i] > 255.0) return unreadable("'" + words[i] + "' is outside 0 to 255");
  }
  return lab_from_coded(*v[0] / 255.0, *v[1] / 255.0, *v[2] / 255.0);
}

std::string number(double value, int decimals) {
  return decimals < 0 ? exact_number(value) : exact_number(*parse_number(fixed_number(value, decimals)));
}

}  // namespace

bool looks_like_css(std::string_view text) {
  const std::string word = lower(trimmed(text));
  for (const std::string_view start : {"#", "lab(", "lch(", "rgb(", "rgba("}) {
    if (word.starts_with(start)) return true;
  }
  return false;
}

Result<Lab> lab_from_css(std::string_view text) {
  const std::string word = lower(trimmed(text));
  if (word.starts_with('#')) return lab_from_hex(std::string_view(word).substr(1));
  const auto open = word.find('(');
  if (open == std::string::npos) return unreadable("'" + word + "' is not a colour");
  const std::string name = word.substr(0, open) == "rgba" ? "rgb" : word.substr(0, open);
  if (name != "lab" && name != "lch" && name != "rgb") return unreadable("'" + name + "()' is not read here");
  if (!word.ends_with(')')) return unreadable("the closing bracket of " + name + "() is missing");
  const auto inside = std::string_view(word).substr(open + 1, word.size() - open - 2);
  const Arguments given = arguments(inside);
  if (given.alpha) {
    const auto alpha = amount(*given.alpha, 1.0);
    if (!alpha) return unreadable("the alpha '" + *given.alpha + "' is not a number");
    if (*alpha < 1.0) return unreadable("a swatch cannot be see-through", "leave the alpha out");
  }
  if (given.words.size() != 3) return unreadable(name + "() takes three numbers");
  return lab_from_function(name, {given.words[0], given.words[1], given.words[2]});
}

std::string css_lab(const Lab& lab, int decimals) {
  return "lab(" + number(lab.L, decimals) + " " + number(lab.a, decimals) + " " + number(lab.b, decimals) +
         ")";
}

std::string css_lch(const Lab& lab, int decimals) {
  const Lch lch = lch_from_lab(lab);
  const std::string hue = number(lch.hue_degrees, decimals);
  return "lch(" + number(lch.L, decimals) + " " + number(lch.C, decimals) + " " + (hue == "360" ? "0" : hue) +
         ")";  // 359.99 may round to a full turn
}

std::string css_rgb(const Lab& lab) {
  const Rgb8 rgb = screen_rgb(lab);
  return "rgb(" + std::to_string(rgb.r) + " " + std::to_string(rgb.g) + " " + std::to_string(rgb.b) + ")";
}

}  // namespace kithue
