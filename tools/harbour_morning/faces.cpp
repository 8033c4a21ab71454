// SPDX-License-Identifier: MIT
#include "harbour_morning/faces.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <utility>

namespace kithue::harbour {
namespace {

using paper::Dice;
using paper::Point;

constexpr double kSide = 305.0;  // 12 in
constexpr double kPi = std::numbers::pi;

struct Printed {
  std::string word;
  Lab lab;
  double wash = 0.0;
};

PackFace blank(std::string label, std::string title, const std::vector<Printed>& colours) {
  PackFace made;
  made.label = std::move(label);
  made.title = std::move(title);
  made.face.width = kSide;
  made.face.height = kSide;
  for (const Printed& one : colours) {
    made.colours.push_back(one.word);
    made.face.colours.push_back({one.lab, one.wash});
  }
  return made;
}

/// Places on a loose grid, `step` apart, each nudged by up to `play`.
std::vector<Point> scattered(double step, double play, Dice& dice) {
  std::vector<Point> places;
  int row = 0;
  for (double y = step / 2.0; y < kSide + step; y += step, ++row) {
    for (double x = row % 2 == 0 ? step / 2.0 : step; x < kSide + step; x += step) {
      places.push_back({x + dice.between(-play, play), y + dice.between(-play, play)});
    }
  }
  return places;
}

PackFace thrift_on_the_cliff() {
  auto made = blank("1A", "thrift on the cliff",
                    {{"cream", {94.0, 1.0, 7.5}},
                     {"thrift pink", {69.5, 35.0, -2.5}},
                     {"dark heart", {36.5, 33.5, 3.0}},
                     {"leaf", {41.0, -14.5, 23.0}},
                     {"pollen", {83.5, 8.0, 63.0}}});
  Dice dice(101);
  for (const Point at : scattered(44.0, 6.0, dice)) {
    const double turn = dice.between(0.0, 2.0 * kPi);
    for (int i = 0; i < 3; ++i) {
      paper::add_leaf(made.face, 3, at, dice.between(17.0, 22.0), 6.0, turn + 2.1 * i);
    }
    const double radius = dice.between(9.0, 13.0);
    paper::add_flower(made.face, 1, at, radius, 6, turn);
    paper::add_circle(made.face, 2, at, radius * 0.36);
    paper::add_circle(made.face, 4, at, radius * 0.15);
  }
  return made;
}

PackFace deckchair() {
  auto made = blank("1B", "deckchair stripe",
                    {{"canvas", {93.5, 0.5, 6.0}},
                     {"mooring blue", {47.5, -7.5, -32.5}},
                     {"buoy orange", {63.5, 43.5, 53.0}}});
  for (double x = 0.0; x < kSide; x += 30.5) {
    paper::add_polygon(made.face, 1, paper::rectangle(x + 4.0, 0.0, x + 16.0, kSide));
    paper::add_polygon(made.face, 2, paper::rectangle(x + 20.0, 0.0, x + 22.5, kSide));
  }
  return made;
}

PackFace net_floats() {
  auto made = blank("2A", "net floats",
                    {{"tide pool", {57.5, -26.0, -14.0}},
                     {"cork", {88.0, 2.5, 14.0}},
                     {"orange float", {64.5, 44.5, 54.0}},
                     {"red float", {44.5, 54.5, 33.0}}});
  Dice dice(202);
  int i = 0;
  for (const Point at : scattered(25.0, 1.0, dice)) {
    ++i;
    paper::add_circle(made.face, i % 5 == 2 ? 2 : 1, at, 5.6);
    if (i % 7 == 3) paper::add_circle(made.face, 3, {at.x + 12.5, at.y}, 2.1);
  }
  return made;
}

PackFace galley_check() {
  const Lab white{95.5, 0.3, 1.0};
  const Lab blue{42.5, 0.0, -41.0};
  auto made = blank("2B", "galley check",
                    {{"white", white}, {"half tone", paper::half_tone(white, blue)}, {"ferry blue", blue}});
  const std::vector<std::uint8_t> thread{1, 2, 2};
  for (double at = 0.0; at < kSide; at += 20.0) {
    paper::add_overlay(made.face, thread, paper::rectangle(at, 0.0, at + 10.0, kSide));
    paper::add_overlay(made.face, thread, paper::rectangle(0.0, at, kSide, at + 10.0));
  }
  return made;
}

PackFace small_boats() {
  auto made = blank("3A", "small boats",
                    {{"morning sky", {84.0, -7.0, -11.0}},
                     {"hull red", {44.0, 53.0, 31.5}},
                     {"sail", {95.0, 0.8, 5.5}},
                     {"mast", {25.0, 1.0, -20.0}}});
  Dice dice(303);
  for (const Point at : scattered(38.0, 5.0, dice)) {
    paper::add_polygon(
        made.face, 1, {{at.x - 10, at.y}, {at.x + 10, at.y}, {at.x + 6.5, at.y + 5}, {at.x - 6.5, at.y + 5}});
    paper::add_stroke(made.face, 3, {{at.x, at.y}, {at.x, at.y - 17.0}}, 1.0);
    paper::add_polygon(made.face, 2,
                       {{at.x + 1.2, at.y - 16.0}, {at.x + 1.2, at.y - 2.0}, {at.x + 9.0, at.y - 2.0}});
    paper::add_polygon(made.face, 2,
                       {{at.x - 1.2, at.y - 12.0}, {at.x - 1.2, at.y - 2.0}, {at.x - 7.0, at.y - 2.0}});
  }
  return made;
}

PackFace oilskin_plaid() {
  auto made = blank("3B", "oilskin plaid",
                    {{"wet sand", {74.5, 5.0, 18.0}},
                     {"navy band", {28.5, -1.5, -28.0}},
                     {"rust band", {45.0, 35.5, 38.0}},
                     {"chalk line", {94.5, 0.6, 4.0}}});
  for (double at = 8.0; at < kSide; at += 61.0) {
    paper::add_polygon(made.face, 1, paper::rectangle(0.0, at, kSide, at + 14.0));
    paper::add_polygon(made.face, 2, paper::rectangle(0.0, at + 30.0, kSide, at + 36.0));
    paper::add_polygon(made.face, 1, paper::rectangle(at, 0.0, at + 14.0, kSide));
    paper::add_polygon(made.face, 2, paper::rectangle(at + 30.0, 0.0, at + 36.0, kSide));
    paper::add_polygon(made.face, 3, paper::rectangle(at + 48.0, 0.0, at + 49.5, kSide));
    paper::add_polygon(made.face, 3, paper::rectangle(0.0, at + 48.0, kSide, at + 49.5));
  }
  return made;
}

PackFace quiet_swell() {
  auto made = blank("4A", "quiet swell", {{"swell", {48.5, -8.0, -33.0}}, {"crest", {56.0, -9.5, -31.0}}});
  for (int row = 0; row * 15.0 < kSide + 30.0; ++row) {
    for (double x = row % 2 == 0 ? 0.0 : 15.0; x < kSide + 30.0; x += 30.0) {
      paper::add_circle(made.face, 1, {x, row * 15.0}, 14.0);
      paper::add_circle(made.face, 0, {x, row * 15.0}, 9.0);
    }
  }
  return made;
}

PackFace tide_table() {
  auto made = blank(
      "4B", "tide table",
      {{"newsprint", {92.0, 1.2, 8.5}}, {"type", {23.0, 0.8, 1.8}}, {"spring tide", {46.0, 57.0, 37.0}}});
  const std::vector<std::string> lines{"LOW 0412  HIGH 1027", "WIND SOUTH WEST 3", "LOW 1641  HIGH 2258",
                                       "FAIR  VISIBILITY GOOD"};
  int i = 0;
  for (double y = 16.0; y < kSide + 10.0; y += 14.0, ++i) {
    const bool spring = i % 7 == 4;
    paper::add_words(made.face, spring ? 2 : 1,
                     spring ? "SPRING TIDE" : lines[static_cast<std::size_t>(i) % lines.size()],
                     {6.0 + 7.0 * (i % 3), y}, 7.0, 1.5);
    paper::add_words(made.face, 1, lines[static_cast<std::size_t>(i + 2) % lines.size()],
                     {168.0 + 5.0 * (i % 4), y}, 7.0, 1.5);
  }
  return made;
}

PackFace gulls_over_wash() {
  auto made = blank("5A", "gulls over a wash",
                    {{"spindrift wash", {80.5, -14.0, -8.5}, 0.03},
                     {"gull", {96.0, 0.2, 1.5}},
                     {"wing tip", {41.5, -2.0, -7.5}}});
  Dice dice(505);
  for (const Point at : scattered(50.0, 9.0, dice)) {
    const double turn = dice.between(-0.4, 0.4);
    paper::add_leaf(made.face, 1, at, 22.0, 6.5, turn - 0.35);
    paper::add_leaf(made.face, 1, at, 22.0, 6.5, kPi + turn + 0.35);
    paper::add_circle(made.face, 2,
                      {at.x + 21.0 * std::cos(turn - 0.35), at.y + 21.0 * std::sin(turn - 0.35)}, 2.4);
    paper::add_circle(made.face, 2,
                      {at.x - 21.0 * std::cos(turn + 0.35), at.y - 21.0 * std::sin(turn + 0.35)}, 2.4);
  }
  return made;
}

PackFace chandlery() {
  auto made = blank("5B", "chandlery",
                    {{"net cord", {66.0, 8.5, 24.0}}, {"rope", {94.0, 0.5, 4.0}}, {"tar", {25.0, 2.0, 3.5}}});
  Dice dice(606);
  for (const Point at : scattered(50.0, 3.0, dice)) {
    std::vector<Point> coil;
    for (double t = 0.0; t < 6.0 * kPi; t += 0.2)
      coil.push_back({at.x + (4.0 + t * 0.62) * std::cos(t), at.y + (4.0 + t * 0.62) * std::sin(t)});
    paper::add_stroke(made.face, 1, coil, 1.8);
    const Point pin{at.x + 25.0, at.y};
    paper::add_stroke(made.face, 2, {{pin.x, pin.y - 8.0}, {pin.x, pin.y + 8.0}}, 1.8);
    paper::add_stroke(made.face, 2,
                      {{pin.x - 6.0, pin.y + 3.0},
                       {pin.x - 3.5, pin.y + 7.0},
                       {pin.x, pin.y + 8.0},
                       {pin.x + 3.5, pin.y + 7.0},
                       {pin.x + 6.0, pin.y + 3.0}},
                      1.8);
    paper::add_stroke(made.face, 2, {{pin.x - 3.5, pin.y - 4.0}, {pin.x + 3.5, pin.y - 4.0}}, 1.8);
  }
  return made;
}

PackFace hedge_of_the_lane() {
  auto made = blank("6A", "hedge of the lane",
                    {{"chalk", {96.0, 0.1, -1.5}},
                     {"bottle green", {82.5, -16.5, 2.5}},
                     {"stem", {41.0, -13.5, 21.5}},
                     {"berry", {47.5, 59.0, 37.0}}});
  Dice dice(707);
  for (const Point at : scattered(41.0, 5.0, dice)) {
    const double turn = dice.between(0.0, 2.0 * kPi);
    const Point tip{at.x + 26.0 * std::cos(turn), at.y + 26.0 * std::sin(turn)};
    for (int side = -1; side <= 1; side += 2) {
      for (double along = 0.25; along < 1.0; along += 0.3) {
        paper::add_leaf(made.face, 1, {at.x + (tip.x - at.x) * along, at.y + (tip.y - at.y) * along}, 13.0,
                        6.0, turn + side * 0.9);
      }
    }
    paper::add_stroke(made.face, 2, {at, tip}, 1.4);
    paper::add_circle(made.face, 3, tip, 1.9);
  }
  return made;
}

PackFace signal_chevron() {
  auto made = blank("6B", "signal chevron",
                    {{"sailcloth", {95.0, 0.8, 5.5}},
                     {"deep channel", {28.5, -1.5, -28.5}},
                     {"spindrift", {80.0, -14.5, -8.0}},
                     {"lantern", {83.5, 8.5, 62.0}}});
  const auto band = [&](int colour, double top, double thick) {
    for (double x = -40.0; x < kSide + 40.0; x += 40.0) {
      paper::add_polygon(made.face, colour,
                         {{x, top},
                          {x + 20, top - 20},
                          {x + 40, top},
                          {x + 40, top + thick},
                          {x + 20, top + thick - 20},
                          {x, top + thick}});
    }
  };
  for (double y = 0.0; y < kSide + 60.0; y += 48.0) {
    band(1, y, 12.0);
    band(2, y + 18.0, 9.0);
    band(3, y + 31.0, 5.0);
  }
  return made;
}

}  // namespace

std::vector<PackFace> pack() {
  std::vector<PackFace> faces;
  faces.push_back(thrift_on_the_cliff());
  faces.push_back(deckchair());
  faces.push_back(net_floats());
  faces.push_back(galley_check());
  faces.push_back(small_boats());
  faces.push_back(oilskin_plaid());
  faces.push_back(quiet_swell());
  faces.push_back(tide_table());
  faces.push_back(gulls_over_wash());
  faces.push_back(chandlery());
  faces.push_back(hedge_of_the_lane());
  faces.push_back(signal_chevron());
  return faces;
}

}  // namespace kithue::harbour
