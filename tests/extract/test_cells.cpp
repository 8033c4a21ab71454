// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "colour/srgb.h"
#include "extract/cells.h"

using namespace kithue;
using namespace kithue::extract;

namespace {

/// A picture in which every row of pixels is a grey of its own.
class Rows final : public LightRows {
 public:
  Rows(int width, int height) : width_(width), height_(height) {}
  [[nodiscard]] int width() const override { return width_; }
  [[nodiscard]] int height() const override { return height_; }
  [[nodiscard]] const Matrix3& to_xyz() const override { return srgb_to_d50(); }
  void read(int, int y, int count, float* light) const override {
    std::fill(light, light + 3 * static_cast<std::ptrdiff_t>(count), light_of(y));
  }
  [[nodiscard]] float light_of(int y) const {
    return (static_cast<float>(y) + 0.5F) / static_cast<float>(height_);
  }

 private:
  int width_;
  int height_;
};

double lightness(double y) {
  return lab_from_xyz({kD50.X * y, kD50.Y * y, kD50.Z * y}).L;
}

}  // namespace

TEST_CASE("cells: a picture of a few megapixels is there whole") {
  const Rows picture(1500, 2001);
  SerialExecutor serial;
  const Cells cells = cells_of(picture, rows_for_colours(picture), serial);
  CHECK(cells.every == 1);
  CHECK(cells.height == 1000);
  for (int y = 0; y < cells.height; ++y) {
    CHECK(cells.place(y) == y);
    CHECK(cells.row_at(2 * y + 1) == y);
    CHECK(cells.run_top(y) == 0);
    CHECK(cells.run_end(y) == 1000);
  }
}

TEST_CASE("cells: of a large picture runs of rows are there, each at the place it says") {
  for (const int height : {2900, 3000, 4100, 6000, 9001}) {
    CAPTURE(height);
    const Rows picture(4000, height);
    SerialExecutor serial;
    const Cells cells = cells_of(picture, rows_for_colours(picture), serial);
    REQUIRE(cells.every > 1);
    CHECK(std::abs(cells.height * cells.every - cells.whole_height) <= cells.every * cells.run);
    std::vector<bool> there(static_cast<std::size_t>(cells.whole_height), false);
    int before = -1;
    for (int y = 0; y < cells.height; ++y) {
      const int place = cells.place(y);
      CHECK(place > before);
      REQUIRE(place < cells.whole_height);
      before = place;
      there[static_cast<std::size_t>(place)] = true;
      const int pixel = cells.pixel_row(y);
      CHECK(cells.row_at(pixel) == y);
      CHECK(cells.row_at(pixel + 1) == y);
      CHECK((cells.run_top(y) <= y && y < cells.run_end(y)));
      CHECK(cells.place(cells.run_end(y) - 1) - cells.place(cells.run_top(y)) ==
            cells.run_end(y) - 1 - cells.run_top(y));
      const double light = 0.5 * (static_cast<double>(picture.light_of(pixel)) +
                                  static_cast<double>(picture.light_of(pixel + 1)));
      CHECK(std::abs(lab_of(cells.row(y)[7]).L - lightness(light)) < 0.01);
    }
    int gap = 0;
    int widest = 0;
    for (int place = 0; place < cells.whole_height; ++place) {
      gap = there[static_cast<std::size_t>(place)] ? 0 : gap + 1;
      widest = std::max(widest, gap);
      if (gap > 0) CHECK(cells.row_at(2 * place) == -1);
    }
    // A spot of 0.25 % of the picture hardly fits into a gap, and single rows meet it many times.
    const double spot = std::sqrt(0.0025 * cells.width * cells.whole_height);
    CHECK(widest < 1.1 * spot);
    const Cells rows = cells_of(picture, single_rows(picture), serial);
    for (int y = 1; y < rows.height; ++y) CHECK(rows.place(y) - rows.place(y - 1) < 0.3 * spot);
  }
}

TEST_CASE("cells: single rows fall in with no pattern that repeats down the picture") {
  const Rows picture(4000, 3000);
  SerialExecutor serial;
  const Cells cells = cells_of(picture, single_rows(picture), serial);
  REQUIRE(cells.every == 8);
  for (int period = 8; period <= 200; ++period) {
    CAPTURE(period);
    for (int phase = 0; phase < period; phase += std::max(1, period / 8)) {
      int seen = 0;
      for (int y = 0; y < cells.height; ++y) seen += (cells.place(y) + phase) % period < period / 2 ? 1 : 0;
      CHECK(std::abs(static_cast<double>(seen) / cells.height - 0.5 * (period / 2 * 2) / period) < 0.09);
    }
  }
}
