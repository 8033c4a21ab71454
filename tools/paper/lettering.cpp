// SPDX-License-Identifier: MIT
#include <array>
#include <cctype>
#include <cmath>

#include "paper/face.h"

namespace kithue::paper {
namespace {

/// A letter as strokes on a grid of 0-4 across and 0-6 up: pairs of digits, strokes parted by spaces.
struct Letter {
  char sign;
  std::string_view strokes;
};

constexpr std::array kLetters = {Letter{'A', "002640 1333"},
                                 Letter{'B', "00063645443303 33424130 30 00 3000"},
                                 Letter{'C', "4536160501104041"},
                                 Letter{'D', "00062644422000"},
                                 Letter{'E', "46060040 0333"},
                                 Letter{'F', "460600 0333"},
                                 Letter{'G', "453616050110304143 4323"},
                                 Letter{'H', "0006 4046 0343"},
                                 Letter{'I', "1030 2026 1636"},
                                 Letter{'J', "0110203146"},
                                 Letter{'K', "0006 4603 1440"},
                                 Letter{'L', "060040"},
                                 Letter{'M', "0006234640"},
                                 Letter{'N', "00064046"},
                                 Letter{'O', "1030414536160501 0110"},
                                 Letter{'P', "00063645443303"},
                                 Letter{'Q', "1030414536160501 0110 2240"},
                                 Letter{'R', "00063645443303 2340"},
                                 Letter{'S', "4536160504133342413010 1001"},
                                 Letter{'T', "2026 0646"},
                                 Letter{'U', "060110304146"},
                                 Letter{'V', "062046"},
                                 Letter{'W', "0610233046"},
                                 Letter{'X', "0046 0640"},
                                 Letter{'Y', "062346 2320"},
                                 Letter{'Z', "06460040"},
                                 Letter{'0', "1030414536160501 0110"},
                                 Letter{'1', "142620"},
                                 Letter{'2', "051636450040"},
                                 Letter{'3', "06462343413001"},
                                 Letter{'4', "36024230 3036"},
                                 Letter{'5', "460603334140 4000"},
                                 Letter{'6', "3604011030414233 3302"},
                                 Letter{'7', "064610"},
                                 Letter{'8', "13050616364533134241301001 0102 0213"},
                                 Letter{'9', "1042453616050414 1443"},
                                 Letter{'.', "2021"},
                                 Letter{',', "2110"},
                                 Letter{'-', "1333"},
                                 Letter{'!', "2622 2120"},
                                 Letter{'\'', "2624"}};

constexpr double kGridHeight = 6.0;
constexpr double kAdvance = 5.6;

std::string_view strokes_of(char sign) {
  const char capital = static_cast<char>(std::toupper(static_cast<unsigned char>(sign)));
  for (const Letter& letter : kLetters) {
    if (letter.sign == capital) return letter.strokes;
  }
  return {};
}

}  // namespace

double width_of_words(std::string_view words, double height) {
  return static_cast<double>(words.size()) * kAdvance * height / kGridHeight;
}

void add_words(Face& face, int colour, std::string_view words, Point at, double height, double thickness,
               double turn_radians) {
  const double unit = height / kGridHeight;
  const double c = std::cos(turn_radians);
  const double s = std::sin(turn_radians);
  double pen = 0.0;
  for (const char sign : words) {
    std::vector<Point> line;
    const auto finish = [&] {
      if (line.size() > 1) add_stroke(face, colour, line, thickness);
      line.clear();
    };
    const std::string_view strokes = strokes_of(sign);
    for (std::size_t i = 0; i < strokes.size();) {
      if (strokes[i] == ' ') {
        finish();
        ++i;
        continue;
      }
      const double x = pen + (strokes[i] - '0') * unit;
      const double y = -(strokes[i + 1] - '0') * unit;
      line.push_back({at.x + c * x - s * y, at.y + s * x + c * y});
      i += 2;
    }
    finish();
    pen += kAdvance * unit;
  }
}

}  // namespace kithue::paper
