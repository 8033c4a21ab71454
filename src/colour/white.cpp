// SPDX-License-Identifier: MIT
#include "colour/white.h"

#include <array>
#include <string>

#include "base/text.h"

namespace kithue {
namespace {

// ASTM E308 Tables 5 and 6, divided by 100; D50/2 is ICC's.
constexpr std::array<White, 19> kWhites{{
    {"D50/2", kD50},
    {"D55/2", {0.95682, 1.0, 0.92149}},
    {"D65/2", {0.95047, 1.0, 1.08883}},
    {"D75/2", {0.94972, 1.0, 1.22638}},
    {"A/2", {1.09850, 1.0, 0.35585}},
    {"C/2", {0.98074, 1.0, 1.18232}},
    {"F2/2", {0.99186, 1.0, 0.67393}},
    {"F7/2", {0.95041, 1.0, 1.08747}},
    {"F11/2", {1.00962, 1.0, 0.64350}},
    {"D50/10", {0.96720, 1.0, 0.81427}},
    {"D55/10", {0.95799, 1.0, 0.90926}},
    {"D65/10", {0.94811, 1.0, 1.07304}},
    {"D75/10", {0.94416, 1.0, 1.20641}},
    {"A/10", {1.11144, 1.0, 0.35200}},
    {"C/10", {0.97285, 1.0, 1.16145}},
    {"F2/10", {1.03279, 1.0, 0.69027}},
    {"F7/10", {0.95792, 1.0, 1.07686}},
    {"F11/10", {1.03863, 1.0, 0.65607}},
    {"E/2", {1.0, 1.0, 1.0}},
}};

/// Upper case; "FL2" is the newer name of F2; space, dash or "°" never matter.
std::string plain_name(std::string_view name) {
  std::string plain;
  for (const char c : folded(name)) {
    if (c == ' ' || c == '-' || c == '_' || c == '/') {
      if (!plain.empty() && plain.back() != '/') plain += '/';
    } else if (c >= 'a' && c <= 'z') {
      plain += static_cast<char>(c - 'a' + 'A');
    } else if (static_cast<unsigned char>(c) < 0x80) {
      plain += c;
    }
  }
  if (plain.starts_with("FL")) plain.erase(1, 1);
  for (const std::string_view ending : {"DEGREES", "DEGREE", "DEG"}) {
    if (plain.ends_with(ending)) plain.resize(plain.size() - ending.size());
  }
  if (plain.ends_with('/')) plain.pop_back();
  return plain;
}

}  // namespace

std::span<const White> known_whites() {
  return kWhites;
}

std::optional<White> find_white(std::string_view name) {
  const std::string wanted = plain_name(name);
  for (const White& white : kWhites) {
    if (white.name == wanted) return white;
  }
  return std::nullopt;
}

}  // namespace kithue
