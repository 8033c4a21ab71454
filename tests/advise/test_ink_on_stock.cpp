// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "advise/ink_on_stock.h"
#include "advise/match.h"
#include "advise/swatches.h"
#include "colour/difference.h"

using namespace kithue;

namespace {

/// Sailcloth, Kraft and Night, a black and a blue ink read on Sailcloth, an opaque white.
Stash stash_of_inks() {
  Stash stash;
  stash.swatches = {
      swatch_with(1, "Sailcloth", Kind::stock, {94, 1, 6}), swatch_with(2, "Kraft", Kind::stock, {62, 9, 24}),
      swatch_with(3, "Night", Kind::stock, {22, 2, -12}),   swatch_with(4, "Pitch", Kind::ink, {18, 0, 1}),
      swatch_with(5, "Lagoon", Kind::ink, {48, -18, -30}),  swatch_with(6, "Chalk", Kind::ink, {93, 0, 2})};
  for (const std::size_t i : {3U, 4U, 5U}) {
    stash.swatches[i].surface = "Sailcloth";
    stash.swatches[i].method = "pad";
  }
  stash.swatches[5].method = "embossing powder";
  stash.next_id = 7;
  return stash;
}

NamedColour named(const Stash& stash, std::size_t at) {
  const auto colour = named_colour_of(stash.swatches[at]);
  REQUIRE(colour.has_value());
  return *colour;
}

}  // namespace

TEST_CASE("ink_on_stock: a transparent blue on kraft is darker and is marked as an estimate") {
  const Stash stash = stash_of_inks();
  const InkModel lagoon = ink_model(stash, named(stash, 4));
  CHECK(lagoon.paper_name == "Sailcloth");
  CHECK(lagoon.paper_known);
  const InkOnStock print = ink_on_stock(lagoon, named(stash, 1));
  CHECK(print.estimated);
  CHECK(print.lab.L < 48.0);
  CHECK(print.error > 1.0);
  CHECK(ink_on_stock(ink_model(stash, named(stash, 3)), named(stash, 1)).reads == Reads::fine);
}

TEST_CASE("ink_on_stock: on the surface of its reading the colour is measured") {
  const Stash stash = stash_of_inks();
  const InkOnStock print = ink_on_stock(ink_model(stash, named(stash, 4)), named(stash, 0));
  CHECK_FALSE(print.estimated);
  CHECK(print.lab == Lab{48, -18, -30});
}

TEST_CASE("ink_on_stock: a stored overprint wins, and leaves the ink's own colour as it was") {
  Stash stash = stash_of_inks();
  Reading on_kraft;
  on_kraft.lab = {33, -6, -2};
  on_kraft.surface = "kraft";  // spelling forgiven
  stash.swatches[4].readings.push_back(on_kraft);
  CHECK(colour_of(stash.swatches[4]) == Lab{48, -18, -30});
  CHECK(uncertainty_of(stash.swatches[4]) == 0.0);
  const InkModel lagoon = ink_model(stash, named(stash, 4));
  CHECK(lagoon.ink.lab == Lab{48, -18, -30});
  CHECK(lagoon.measured == 1);
  const InkOnStock print = ink_on_stock(lagoon, named(stash, 1));
  CHECK_FALSE(print.estimated);
  CHECK(print.lab == on_kraft.lab);
  // not for another impression
  CHECK(ink_on_stock(ink_model(stash, named(stash, 4), {.strength = 0.5}), named(stash, 1)).estimated);
}

TEST_CASE("ink_on_stock: a stored overprint corrects the prediction on other stocks") {
  Stash stash = stash_of_inks();
  stash.swatches.push_back(swatch_with(7, "Dune", Kind::stock, {75, 6, 18}));
  const InkOnStock before = ink_on_stock(ink_model(stash, named(stash, 4)), named(stash, 6));
  Reading on_kraft;
  on_kraft.lab = {44, -14, -22};  // this ink hides the kraft more than a transparent one would
  on_kraft.surface = "Kraft";
  stash.swatches[4].readings.push_back(on_kraft);
  const InkModel lagoon = ink_model(stash, named(stash, 4));
  CHECK(lagoon.manner.cover > 0.2);
  const InkOnStock after = ink_on_stock(lagoon, named(stash, 6));
  CHECK(after.estimated);
  CHECK(after.lab.L > before.lab.L);
  CHECK(ciede2000(after.lab, {48, -18, -30}) < ciede2000(before.lab, {48, -18, -30}));
}

TEST_CASE("ink_on_stock: an opaque white reads on a dark stock where a black does not") {
  const Stash stash = stash_of_inks();
  const NamedColour night = named(stash, 2);
  CHECK(ink_on_stock(ink_model(stash, named(stash, 5)), night).reads == Reads::fine);
  const InkModel pitch = ink_model(stash, named(stash, 3));
  CHECK(ink_on_stock(pitch, night).reads > Reads::bold);
  const LegibleInstead instead = legible_instead(stash, pitch, night);
  REQUIRE(instead.inks.size() == 1);
  CHECK(instead.inks[0].swatch->name == "Chalk");
  REQUIRE(instead.stocks.size() == 2);
  CHECK(instead.stocks[0].swatch->name == "Kraft");
  CHECK(instead.stocks[1].swatch->name == "Sailcloth");
}

TEST_CASE("ink_model: without a known paper white card is taken and said; --on names another") {
  const Stash stash = stash_of_inks();
  const InkModel bare = ink_model(stash, {"lab(48 -18 -30)", {48, -18, -30}, 0.0, nullptr});
  CHECK_FALSE(bare.paper_known);
  CHECK(bare.paper.lab == kStatedWhite);
  InkOptions options;
  options.paper = named(stash, 1);
  const InkModel on_kraft = ink_model(stash, named(stash, 4), options);
  CHECK(on_kraft.paper_name == "Kraft");
  CHECK(on_kraft.paper_known);
}

// No outside value: what is checked is that the measured curves, and not ones made up from Lab, are used.
TEST_CASE("ink_on_stock: an ink and a stock read as spectra are predicted from their own curves") {
  Stash stash = stash_of_inks();
  const auto give = [&](std::size_t at, auto reflectance) {
    Reading& reading = stash.swatches[at].readings[0];
    reading.start_nm = 400.0;
    reading.step_nm = 10.0;
    Curve curve{};
    for (std::size_t k = 0; k < kBands; ++k) {
      const double nm = std::clamp(380.0 + 10.0 * static_cast<double>(k), 400.0, 700.0);
      curve[k] = reflectance(nm);
    }
    for (std::size_t k = 2; k <= 32; ++k) reading.spectrum.push_back(curve[k]);  // 400 to 700 nm
    reading.lab = lab_from_curve(curve);
    return layer_of(reading.lab, curve);
  };
  const Layer paper = give(0, [](double) { return 0.87; });
  // A stock with a deep notch, which no smooth curve of its colour has.
  const Layer kraft = give(1, [](double nm) { return nm > 560 && nm < 600 ? 0.1 : 0.6; });
  const Layer ink = give(4, [](double nm) { return nm < 500 ? 0.5 : 0.08; });
  const auto print = ink_on_stock(ink_model(stash, named(stash, 4)), named(stash, 1));
  CHECK(print.estimated);
  CHECK(ciede2000(print.lab, overprint_colour(ink, paper, kraft)) < 1e-9);
  const Lab made_up = overprint_colour(layer_of(ink.lab), layer_of(paper.lab), layer_of(kraft.lab));
  CHECK(ciede2000(print.lab, made_up) > 0.3);
}

TEST_CASE("measured_curve: only spectra that reach over the visible range in fine steps count") {
  Swatch swatch = swatch_with(1, "S", Kind::stock, {60, 0, 0});
  Reading& reading = swatch.readings[0];
  const auto with = [&](double start, double step, std::size_t bands) {
    reading.start_nm = start;
    reading.step_nm = step;
    reading.spectrum.assign(bands, 0.3);
    return measured_curve(swatch).has_value();
  };
  CHECK(with(380, 10, 36));
  CHECK(with(400, 20, 16));
  CHECK_FALSE(with(420, 10, 31));
  CHECK_FALSE(with(400, 10, 30));
  CHECK_FALSE(with(400, 50, 7));
  CHECK_FALSE(with(400, 10, 0));
  REQUIRE(with(360, 5, 85));
  CHECK((*measured_curve(swatch))[0] == doctest::Approx(0.3));
}
