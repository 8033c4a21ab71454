// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "colour/difference.h"
#include "colour/difference_batch.h"
#include "colour/random_colours.h"
#include "colour/sharma_table.h"

using namespace kithue;
using test::RandomColours;

namespace {

/// One pair by one variant: the pair in every lane, which must all agree.
double by_variant(const BatchVariant& variant, const Lab& x, const Lab& y) {
  const LabColumns columns(std::vector<Lab>(8, y));
  double out[8];
  variant.run(LabColumns::row_from(x), columns.L(), columns.a(), columns.b(), columns.C(), 8, out);
  for (const double value : out) {
    REQUIRE(std::bit_cast<std::uint64_t>(value) == std::bit_cast<std::uint64_t>(out[0]));
  }
  return out[0];
}

struct Pairs {
  std::vector<Lab> x, y;
  void add(const Lab& first, const Lab& second) {
    x.push_back(first);
    y.push_back(second);
  }
};

/// The largest difference between plain and batch, by the variant, over x[i] against y[i ... i + 7].
double worst_of(const BatchVariant& variant, const Pairs& pairs) {
  const LabColumns columns(pairs.y);
  double worst = 0.0;
  double out[8];
  for (std::size_t i = 0; i + 8 <= pairs.y.size(); i += 8) {
    for (std::size_t k = 0; k < 8; ++k) {
      variant.run(LabColumns::row_from(pairs.x[i + k]), columns.L() + i, columns.a() + i, columns.b() + i,
                  columns.C() + i, 8, out);
      for (std::size_t j = 0; j < 8; ++j) {
        const double error = std::fabs(out[j] - ciede2000(pairs.x[i + k], pairs.y[i + j]));
        if (!(error <= worst)) worst = error;  // a NaN sticks
      }
    }
  }
  return worst;
}

/// A lattice of round numbers: greys, axes, hues exactly opposite, hues mirrored at 0, equal colours.
std::vector<Lab> round_colours() {
  std::vector<Lab> out;
  for (const double L : {0.0, 50.0, 63.0}) {
    for (const double a : {-90.0, -31.0, -2.5, -0.001, 0.0, 0.001, 2.5, 31.0, 90.0}) {
      for (const double b : {-90.0, -31.0, -2.5, -0.001, -0.0, 0.001, 2.5, 31.0, 90.0})
        out.push_back({L, a, b});
    }
  }
  return out;
}

}  // namespace

TEST_CASE("batch: the 34 published pairs, in both directions, by every variant") {
  for (const BatchVariant& variant : batch_variants()) {
    for (const test::SharmaRow& row : test::kSharmaTable) {
      CAPTURE(std::string(variant.name));
      CAPTURE(row.pair);
      CHECK(std::fabs(by_variant(variant, row.x, row.y) - row.de00) <= 0.00005);
      CHECK(std::fabs(by_variant(variant, row.y, row.x) - row.de00) <= 0.00005);
    }
  }
}

TEST_CASE("batch: within 1e-9 of the plain function on random pairs, by every variant") {
  RandomColours random(2000);
  Pairs pairs;
  for (int i = 0; i < 40'000; ++i) {
    const auto [x, y] = random.pair(i / 8);
    pairs.add(x, y);
  }
  for (const BatchVariant& variant : batch_variants()) {
    CAPTURE(std::string(variant.name));
    CHECK(worst_of(variant, pairs) <= 1e-9);
  }
}

TEST_CASE("batch: within 1e-9 of the plain function where the formula jumps, by every variant") {
  RandomColours random(360);
  Pairs pairs;
  for (int i = 0; i < 40'000; ++i) {
    const Lab x = random.polar(random.between(0.01, 120), random.between(0, 360));
    const double scale = random.between(0.1, 3.0);
    if (i % 3 == 0) {  // opposite to the last bit or so
      pairs.add(x, {random.between(0, 100), -x.a * scale, -x.b * scale});
    } else if (i % 3 == 1) {  // mirrored at hue 0: the mean is on the jump of the rotation term
      pairs.add(x, {random.between(0, 100), x.a * scale, -x.b * scale});
    } else {  // near-neutral against anything
      pairs.add(x, {random.between(0, 100), random.between(-1e-9, 1e-9), random.between(-1e-9, 1e-9)});
    }
  }
  for (const BatchVariant& variant : batch_variants()) {
    CAPTURE(std::string(variant.name));
    CHECK(worst_of(variant, pairs) <= 1e-9);
  }
}

TEST_CASE("batch: within 1e-9 of the plain function on round numbers, each with each") {
  const std::vector<Lab> colours = round_colours();
  const LabColumns columns(colours);
  std::vector<double> all(colours.size() * colours.size());
  ciede2000_matrix(columns, columns, all);
  double worst = 0.0;
  for (std::size_t i = 0; i < colours.size(); ++i) {
    for (std::size_t j = 0; j < colours.size(); ++j) {
      const double error = std::fabs(all[i * colours.size() + j] - ciede2000(colours[i], colours[j]));
      if (!(error <= worst)) worst = error;
    }
  }
  CHECK(worst <= 1e-9);
}

TEST_CASE("batch: every variant gives the same bytes") {
  RandomColours random(512);
  std::vector<Lab> colours = round_colours();
  for (int i = 0; i < 20'000; ++i) colours.push_back(random.pair(i).y);
  colours.push_back({std::nan(""), 0, 0});
  colours.push_back({50, 1e300, -1e300});
  while (colours.size() % 8 != 0) colours.push_back({});
  const LabColumns columns(colours);
  const auto bits = [&](const BatchVariant& variant, const Lab& from) {
    std::vector<double> out(colours.size());
    variant.run(LabColumns::row_from(from), columns.L(), columns.a(), columns.b(), columns.C(), out.size(),
                out.data());
    std::vector<std::uint64_t> as_bits(out.size());
    // A NaN's own bits may differ; which values are NaN may not.
    std::transform(out.begin(), out.end(), as_bits.begin(), [](double v) {
      return std::isnan(v) ? ~std::uint64_t{0} : std::bit_cast<std::uint64_t>(v);
    });
    return as_bits;
  };
  for (const Lab& from : {Lab{50, 20, -30}, Lab{50, 0, 0}, Lab{10, -60, 0}, Lab{95, 2.5, 31}, colours[300]}) {
    const auto expected = bits(batch_variants().front(), from);
    for (const BatchVariant& variant : batch_variants()) {
      CAPTURE(std::string(variant.name));
      CHECK(bits(variant, from) == expected);
    }
  }
}

TEST_CASE("batch: 0 from a colour to itself, the same bits when swapped") {
  RandomColours random(77);
  std::vector<Lab> colours = round_colours();
  for (int i = 0; i < 800; ++i) colours.push_back(random.pair(i).x);
  const std::size_t n = colours.size();
  const LabColumns columns(colours);
  std::vector<double> all(n * n);
  ciede2000_matrix(columns, columns, all);
  bool zero = true;
  bool symmetric = true;
  for (std::size_t i = 0; i < n; ++i) {
    zero = zero && all[i * n + i] == 0.0;
    for (std::size_t j = 0; j < i; ++j) symmetric = symmetric && all[i * n + j] == all[j * n + i];
  }
  CHECK(zero);
  CHECK(symmetric);
}

TEST_CASE("batch: a NaN or an infinity gives NaN on its own row only") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinity = std::numeric_limits<double>::infinity();
  std::vector<Lab> colours(19, Lab{60, 10, 10});
  colours[1] = {nan, 0, 0};
  colours[4] = {50, nan, 0};
  colours[7] = {50, 0, -infinity};
  colours[18] = {50, infinity, 0};
  std::vector<double> out(colours.size());
  ciede2000_batch({50, 20, -30}, LabColumns(colours), out);
  for (std::size_t i = 0; i < out.size(); ++i) {
    CAPTURE(i);
    CHECK(std::isnan(out[i]) == (i == 1 || i == 4 || i == 7 || i == 18));
  }
  ciede2000_batch({50, 20, infinity}, LabColumns(colours), out);
  CHECK(std::all_of(out.begin(), out.end(), [](double v) { return std::isnan(v); }));
}

TEST_CASE("batch: finite colours never give NaN or an infinity, and agree with the plain function") {
  using Limits = std::numeric_limits<double>;
  std::vector<Lab> colours;
  const double kOdd[] = {0.0,  -0.0,  Limits::denorm_min(), -Limits::min(), 1e-160, -1e-70, 1e-9, 50.0,
                         -1e9, 1e154, Limits::max()};
  for (const double L : {0.0, 1e-300, 100.0, -1e308}) {
    for (const double a : kOdd) {
      for (const double b : kOdd) colours.push_back({L, a, b});
    }
  }
  const std::size_t n = colours.size();
  const LabColumns columns(colours);
  std::vector<double> all(n * n);
  ciede2000_matrix(columns, columns, all);
  double worst = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) {
      const double plain = ciede2000(colours[i], colours[j]);
      const double error = std::fabs(all[i * n + j] - plain) / std::max(1.0, plain);
      if (!(error <= worst)) worst = error;
    }
  }
  CHECK(worst <= 1e-9);
}

TEST_CASE("batch: any number of colours, none included, and nothing past the end is written") {
  RandomColours random(19);
  std::vector<Lab> colours(140);
  for (Lab& colour : colours) colour = random.on_screen();
  for (const std::size_t count : {0U, 1U, 7U, 8U, 9U, 63U, 64U, 65U, 72U, 129U}) {
    CAPTURE(count);
    const LabColumns columns{std::span<const Lab>(colours).first(count)};
    REQUIRE(columns.size() == count);
    std::vector<double> out(count + 1, -1.0);
    ciede2000_batch(colours[139], columns, std::span<double>(out).first(count));
    for (std::size_t i = 0; i < count; ++i) {
      CHECK(std::fabs(out[i] - ciede2000(colours[139], colours[i])) <= 1e-9);
    }
    CHECK(out[count] == -1.0);
  }
}

TEST_CASE("batch: this machine's variants run from slow to fast, the first on every machine") {
  REQUIRE_FALSE(batch_variants().empty());
  CHECK(batch_variants().front().name == "two lanes");
}
