// SPDX-License-Identifier: MIT
// Large pictures are read in part. What is checked here is what that could miss; the truth is the drawing's
// own.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "colour/difference.h"
#include "colour/srgb.h"
#include "extract/census.h"
#include "extract/palette.h"

using namespace kithue;
using namespace kithue::extract;

namespace {

using PaperLight = std::array<float, 3>;  // linear
constexpr PaperLight kCardGround{0.85F, 0.78F, 0.66F};
constexpr PaperLight kBlueDot{0.07F, 0.19F, 0.31F};
constexpr PaperLight kRedStripe{0.52F, 0.02F, 0.03F};

/// 12 megapixels of dots in a grid set straight, and one level stripe, with a little noise.
class DotsAndStripe final : public LightRows {
 public:
  DotsAndStripe(int top, int thick) : top_(top), bottom_(top + thick) {}
  [[nodiscard]] int width() const override { return 4000; }
  [[nodiscard]] int height() const override { return 3000; }
  [[nodiscard]] const Matrix3& to_xyz() const override { return srgb_to_d50(); }
  void read(int x, int y, int count, float* light) const override {
    for (int i = 0; i < count; ++i) {
      const PaperLight& colour = colour_at(x + i, y);
      auto lot =
          static_cast<std::uint32_t>(x + i) * 0x9e3779b1U + static_cast<std::uint32_t>(y) * 0x85ebca77U;
      lot = (lot ^ lot >> 15U) * 0x2c1b3c6dU;
      const float noise = 1.0F + 0.02F * (static_cast<float>(lot >> 16U) / 65536.0F - 0.5F);
      for (std::size_t c = 0; c < 3; ++c) *light++ = colour[c] * noise;
    }
  }
  [[nodiscard]] const PaperLight& colour_at(int x, int y) const {
    constexpr int kPitch = 160;
    constexpr int kRadius = 40;
    if (y >= top_ && y < bottom_) return kRedStripe;
    const int dx = x % kPitch - kPitch / 2;
    const int dy = y % kPitch - kPitch / 2;
    return dx * dx + dy * dy < kRadius * kRadius ? kBlueDot : kCardGround;
  }
  [[nodiscard]] double share_of(const PaperLight& colour) const {
    std::int64_t count = 0;
    for (int y = 0; y < height(); ++y) {
      for (int x = 0; x < width(); ++x) count += colour_at(x, y) == colour ? 1 : 0;
    }
    return static_cast<double>(count) / width() / height();
  }

 private:
  int top_, bottom_;
};

Lab lab_of_linear(const PaperLight& rgb) {
  const auto xyz = times(srgb_to_d50(), {double{rgb[0]}, double{rgb[1]}, double{rgb[2]}});
  return lab_from_xyz({xyz[0], xyz[1], xyz[2]});
}

/// The palette colour that is this one; nullptr when there is none.
const PaletteColour* found_in(const Palette& palette, const PaperLight& rgb) {
  const auto found =
      std::find_if(palette.colours.begin(), palette.colours.end(),
                   [&](const PaletteColour& one) { return ciede2000(one.lab, lab_of_linear(rgb)) < 1.5; });
  return found == palette.colours.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("census: a stripe that comes but once is found wherever it lies") {
  for (const auto& [top, thick] : {std::array{500, 14}, std::array{777, 14}, std::array{1490, 30},
                                   std::array{2222, 20}, std::array{2801, 40}}) {
    CAPTURE(top);
    const DotsAndStripe picture(top, thick);
    SerialExecutor serial;
    const Palette palette = extract_palette(picture, {}, serial);
    CHECK(palette.colours.size() == 3);
    CHECK(found_in(palette, kRedStripe) != nullptr);
  }
}

TEST_CASE("census: shares are right though the pattern comes back as often as the rows that are read") {
  const DotsAndStripe picture(0, 0);
  SerialExecutor serial;
  const Palette palette = extract_palette(picture, {}, serial);
  REQUIRE(palette.colours.size() == 2);
  const PaletteColour* const dot = found_in(palette, kBlueDot);
  REQUIRE(dot != nullptr);
  CHECK(std::abs(dot->share - picture.share_of(kBlueDot)) < 0.005);
}

TEST_CASE("census: counts what is near to each colour, and what no two of them mix to") {
  const DotsAndStripe picture(600, 300);
  SerialExecutor serial;
  const Cells cells = cells_of(picture, single_rows(picture), serial);
  CHECK(cells.run == 1);
  CHECK(cells.every > 1);
  const Census census = census_of(cells, 1, {lab_of_linear(kCardGround), lab_of_linear(kBlueDot)}, serial);
  REQUIRE(census.plain.size() == 2);
  CHECK(std::abs(census.plain[0] - picture.share_of(kCardGround)) < 0.02);  // edges are of neither
  CHECK(std::abs(census.plain[1] - picture.share_of(kBlueDot)) < 0.02);
  CHECK(std::abs(census.strange - 0.1) < 0.01);
  const Census nothing_new{{0.7, 0.2}, 0.0};
  CHECK(shows_more(census, nothing_new));
  CHECK_FALSE(shows_more(nothing_new, census));
  CHECK_FALSE(shows_more(census, census));
}

TEST_CASE("census: shares grow as much as the single rows show more, and sum to 1") {
  std::vector<double> shares{0.5, 0.4, 0.1};
  set_right(shares, {{0.6, 0.2, 0.0}, 0.0}, {{0.4, 0.4, 0.0}, 0.0});
  CHECK(shares[0] + shares[1] + shares[2] == doctest::Approx(1.0).epsilon(1e-12));
  // 0.5 * 1.5 : 0.4 * 0.5, the small amount that keeps lines apart.
  CHECK(shares[0] / shares[1] == doctest::Approx(3.75).epsilon(0.005));
  CHECK(shares[2] / shares[0] == doctest::Approx(0.1 / 0.75).epsilon(0.005));
}
