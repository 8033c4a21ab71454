// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>

#include "base/executor.h"
#include "extract/card.h"
#include "paper/camera.h"

using namespace kithue;

namespace {

constexpr Lab kWhite{94.0, 0.0, 1.0};
constexpr Lab kGrey{50.0, 0.0, 0.0};

/// A sheet of red dots on a brown table with rectangles of the given colours beside it; drawn by us.
paper::Shot table_with(const std::vector<Lab>& cards, double cast_blue = 1.0) {
  paper::Face face{1.0, 0.75, {{{42.0, 12.0, 22.0}}, {{84.0, 2.0, 22.0}}, {{45.0, 48.0, 22.0}}}, {}};
  paper::add_polygon(face, 1, paper::turned(paper::rectangle(0.08, 0.08, 0.62, 0.68), {0.35, 0.38}, 0.05));
  for (int i = 0; i < 20; ++i)
    paper::add_circle(face, 2, {0.16 + 0.1 * (i % 5), 0.16 + 0.14 * static_cast<double>(i / 5)}, 0.03);
  for (std::size_t i = 0; i < cards.size(); ++i) {
    const double top = 0.06 + 0.22 * static_cast<double>(i);
    face.colours.push_back({cards[i]});
    paper::add_polygon(face, static_cast<int>(face.colours.size()) - 1,
                       paper::rectangle(0.76, top, 0.9, top + 0.16));
  }
  paper::Camera camera;
  camera.width = 800;
  camera.samples = 2;
  camera.exposure = 0.9;
  camera.cast.row[2][2] = cast_blue;
  SerialExecutor executor;
  return paper::photograph(face, camera, executor);
}

ReferenceCard card_in(const paper::Shot& shot, const Lab& known) {
  SerialExecutor executor;
  const paper::ShotRows rows(shot);
  const SmallPicture small = small_picture_of(rows, executor);
  return find_card(small, find_sheet(small, rows, executor), known, rows.to_xyz());
}

}  // namespace

TEST_CASE("find_card: a white card beside the sheet is found, under a warm light too") {
  for (const double blue : {1.0, 0.6}) {
    CAPTURE(blue);
    const ReferenceCard card = card_in(table_with({kWhite}, blue), kWhite);
    REQUIRE(card.certain);
    CHECK(card.side > 60);
    CHECK(card.x >= 0.76 * 800);
    CHECK(card.x + card.side <= 0.9 * 800);
    CHECK(card.y >= 0.06 * 800);
    CHECK(card.y + card.side <= 0.22 * 800);
  }
}

TEST_CASE("find_card: a grey card is told from a white one by its known colour") {
  const ReferenceCard card = card_in(table_with({kWhite, kGrey}), kGrey);
  REQUIRE(card.certain);
  CHECK(card.y >= 0.28 * 800);
}

TEST_CASE("find_card: without a card nothing is certain, nor with two greys that could be it") {
  CHECK_FALSE(card_in(table_with({}), kGrey).certain);
  const ReferenceCard card = card_in(table_with({kGrey, {58.0, 1.0, 3.0}}), kGrey);
  CHECK_FALSE(card.certain);
  CHECK_FALSE(card.words.empty());
}

TEST_CASE("find_card: a light ground that fills the frame is no margin") {
  paper::Face face{1.0, 0.75, {{{94.0, 0.0, 2.0}}, {{45.0, 48.0, 22.0}}}, {}};
  for (int i = 0; i < 30; ++i)
    paper::add_circle(face, 1, {0.08 + 0.165 * (i % 6), 0.08 + 0.145 * static_cast<double>(i / 6)}, 0.03);
  paper::Camera camera;
  camera.width = 800;
  SerialExecutor executor;
  CHECK_FALSE(card_in(paper::photograph(face, camera, executor), kWhite).certain);
}
