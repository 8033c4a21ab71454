// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "colour/css.h"
#include "colour/difference.h"
#include "colour/distance.h"
#include "colour/random_colours.h"
#include "colour/srgb.h"

using namespace kithue;
using kithue_test::distance;
using test::RandomColours;

namespace {

Lab read(std::string_view text) {
  const auto lab = lab_from_css(text);
  INFO(std::string(text) << ": " << (lab ? "" : lab.error().what));
  REQUIRE(lab.has_value());
  return *lab;
}

double coded(double light) {
  return coded_from_light(light);
}

/// The same sRGB colour written as Lab, LCh and hex or per cent.
struct Sample {
  const char* lab;
  const char* lch;
  const char* hex;
};

/// The examples of W3C CSS Color Module Level 4, sections 9.1 and 9.2 (lab() and lch()); digits from memory.
/// The hex digits are those of the module's swatches.
constexpr Sample kModule[] = {
    {"lab(29.2345% 39.3825 20.0664)", "lch(29.2345% 44.2 27)", "#7d2329"},
    {"lab(52.2345% 40.1645 59.9971)", "lch(52.2345% 72.2 56.2)", "#c65d06"},
    {"lab(60.2345% -5.3654 58.956)", "lch(60.2345% 59.2 95.2)", "#9d9318"},
    {"lab(62.2345% -34.9638 47.7721)", "lch(62.2345% 59.2 126.2)", "#68a639"},
    {"lab(67.5345% -8.6911 -41.6019)", "lch(67.5345% 42.5 258.2)", "#62acef"},
};

/// Web Platform Tests, css/css-color (lab-001, lab-004 to -007): Lab and its sRGB; digits from memory.
struct Percent {
  const char* lab;
  double r, g, b;  // per cent
};
constexpr Percent kPlatform[] = {
    {"lab(46.2775% -47.5621 48.5837)", 0.0, 50.19608, 0.0},
    {"lab(50 50 0)", 75.6208, 30.4487, 47.5634},
    {"lab(70 -45 0)", 10.751, 75.558, 66.398},
    {"lab(70 0 70)", 76.6254, 66.3607, 5.5775},
    {"lab(55 0 -60)", 12.8128, 53.105, 92.7645},
};

}  // namespace

TEST_CASE("lab_from_css: the samples of the W3C colour module, as lab, as lch and as hex") {
  for (const Sample& sample : kModule) {
    CAPTURE(sample.hex);
    CHECK(hex_from_lab(read(sample.lab)) == sample.hex);
    // The module rounds lch to a tenth.
    CHECK(distance(read(sample.lch), read(sample.lab)) < 0.08);
    // Eight bits a channel are worth about half a unit of Lab.
    CHECK(ciede2000(read(sample.hex), read(sample.lab)) < 0.35);
  }
}

TEST_CASE("lab_from_css: the sRGB values of the Web Platform Tests, to a tenth of a byte") {
  // The tests divide by D50 from its chromaticity (0.3457, 0.3585); ours is ICC's, 0.0002 away in Z.
  for (const Percent& sample : kPlatform) {
    CAPTURE(sample.lab);
    const LinearRgb light = rgb_from_lab(read(sample.lab));
    CHECK(std::fabs(coded(light.r) * 100.0 - sample.r) < 0.04);
    CHECK(std::fabs(coded(light.g) * 100.0 - sample.g) < 0.04);
    CHECK(std::fabs(coded(light.b) * 100.0 - sample.b) < 0.04);
  }
}

TEST_CASE("lab_from_css: percentages, none, angles, case, spaces and commas") {
  CHECK(read("lab(50% 100% -100%)") == Lab{50, 125, -125});  // CSS Color 4, 9.3: 100% is 125
  CHECK(distance(read("lch(50% 100% 0)"), {50, 150, 0}) < 1e-12);
  CHECK(read("lab(none none none)") == Lab{0, 0, 0});
  CHECK(read("lab(52.13 43.2 -21)") == Lab{52.13, 43.2, -21});
  CHECK(read("  LAB( 52.13\t43.2\n-21 )  ") == Lab{52.13, 43.2, -21});
  CHECK(read("lab(52.13, 43.2, -21)") == Lab{52.13, 43.2, -21});
  CHECK(read("lab(+5.213e1 .432e2 -21)") == Lab{52.13, 43.2, -21});
  for (const char* hue : {"90", "90deg", "100grad", "1.5707963267948966rad", "0.25turn", "450", "-270deg"}) {
    CAPTURE(hue);
    CHECK(distance(read(std::string("lch(50 40 ") + hue + ")"), {50, 0, 40}) < 1e-12);
  }
  CHECK(read("lch(50 0 none)") == Lab{50, 0, 0});
}

TEST_CASE("lab_from_css: one rgb colour in every way CSS writes it") {
  const Lab expected = read("#c8553d");
  for (const char* text : {"#C8553D", "#c8553dff", "rgb(200 85 61)", "rgb(200, 85, 61)", "rgba(200,85,61,1)",
                           "rgb(200 85 61 / 1)", "rgba(200 85 61/100%)", "RGB( 200 , 85 , 61 )"}) {
    CAPTURE(text);
    CHECK(read(text) == expected);
  }
  CHECK(read("#fff") == read("#ffffff"));
  CHECK(read("#1a3f") == read("#11aa33"));
  CHECK(read("rgb(100% 50% 0%)") == read("rgb(255 127.5 0)"));
  CHECK(distance(read("#ffffff"), {100, 0, 0}) < 1e-11);
}

TEST_CASE("lab_from_css: what is wrong is refused with the reason") {
  const struct {
    const char* text;
    const char* reason;
  } kWrong[] = {
      {"", "not a colour"},
      {"red", "'red' is not a colour"},
      {"52 43 21", "not a colour"},
      {"hsl(10 20% 30%)", "'hsl()' is not read"},
      {"lab (52 43 21)", "is not read"},
      {"lab(52 43 21", "closing bracket"},
      {"lab(52 43 21) x", "closing bracket"},
      {"lab()", "three numbers"},
      {"lab(52 43)", "three numbers"},
      {"lab(52 43 21 1)", "three numbers"},
      {"lab(52 43 / 1)", "three numbers"},
      {"lab(52,5 43,2 21)", "'5 43' is not a number"},
      {"lab(52,,21)", "missing"},
      {"rgb(1,2,3/1)", "'3/1' is not a number"},
      {"rgb(1,2,3,1,5)", "three numbers"},
      {"lab(x 43 21)", "'x' is not a number"},
      {"lab(52 43deg 21)", "'43deg' is not a number"},
      {"lab(nan 0 0)", "'nan' is not a number"},
      {"lab(inf 0 0)", "'inf' is not a number"},
      {"lab(1e999 0 0)", "'1e999' is not a number"},
      {"lab(-1 0 0)", "outside 0 to 100"},
      {"lab(100.1 0 0)", "outside 0 to 100"},
      {"lab(0.5 0.2 400)", "beyond 200"},
      {"lab(50 -201 0)", "beyond 200"},
      {"lab(50 1e308% 0)", "beyond 200"},
      {"lch(50 -1 0)", "below 0"},
      {"lch(50 1e300 0)", "beyond 200"},
      {"lch(50 10 1e308turn)", "is not a number"},
      {"lch(50 10 20%)", "is not a number"},
      {"rgb(256 0 0)", "outside 0 to 255"},
      {"rgb(-1 0 0)", "outside 0 to 255"},
      {"rgb(0 0 1e308%)", "outside 0 to 255"},
      {"#12345", "3 or 6 digits"},
      {"#", "3 or 6 digits"},
      {"#c8553g", "only the digits"},
      {"#\xc3\xa9\xc3\xa9\xc3\xa9", "only the digits"},
      {"#c8553d80", "see-through"},
      {"#1238", "see-through"},
      {"lab(52 43 21 / 0.5)", "see-through"},
      {"rgba(200, 85, 61, 50%)", "see-through"},
      {"lab(52 43 21 / none)", "see-through"},
      {"lab(52 43 21 /)", "alpha '' is not a number"},
      {"lab(52 43 21 / 1 / 1)", "is not a number"},
  };
  for (const auto& wrong : kWrong) {
    CAPTURE(wrong.text);
    const auto lab = lab_from_css(wrong.text);
    REQUIRE_FALSE(lab.has_value());
    CHECK(lab.error().kind == ErrorKind::bad_input);
    CHECK_FALSE(lab.error().advice.empty());
    CAPTURE(lab.error().what);
    CHECK(lab.error().what.find(wrong.reason) != std::string::npos);
  }
}

TEST_CASE("lab_from_css: any junk gives an error or a finite colour") {
  RandomColours random(12);
  const std::string letters = "labchrg()#%/,.+-e0123456789 nondegturn\xff";
  for (int i = 0; i < 50'000; ++i) {
    std::string text = i % 3 == 0 ? "lab(" : i % 3 == 1 ? "lch(" : "#";
    const int length = static_cast<int>(random.between(0, 20));
    for (int k = 0; k < length; ++k) {
      text += letters[static_cast<std::size_t>(random.between(0, static_cast<double>(letters.size())))];
    }
    if (i % 3 != 2) text += ')';
    const auto lab = lab_from_css(text);
    CAPTURE(text);
    if (lab) {
      CHECK((std::isfinite(lab->L) && std::isfinite(lab->a) && std::isfinite(lab->b)));
    } else {
      CHECK_FALSE(lab.error().what.empty());
    }
  }
}

TEST_CASE("css_lab: reads back as the very same numbers; css_lch nearly so") {
  RandomColours random(13);
  for (int i = 0; i < 20'000; ++i) {
    const Lab lab = random.anywhere();
    CHECK(read(css_lab(lab)) == lab);
    CHECK(distance(read(css_lch(lab)), lab) < 1e-12);
  }
}

TEST_CASE("css_lab, css_lch, css_rgb: how they look") {
  CHECK(css_lab({52.126, -0.001, 43.5}, 2) == "lab(52.13 0 43.5)");
  CHECK(css_lab({52, 43, -21}) == "lab(52 43 -21)");
  CHECK(css_lch({50, 0, -40}, 1) == "lch(50 40 270)");
  CHECK(css_lch({50, 40, -0.001}, 1) == "lch(50 40 0)");  // not 360
  CHECK(css_rgb(read("#c8553d")) == "rgb(200 85 61)");
  CHECK(css_rgb({100, 0, 0}) == "rgb(255 255 255)");
}

TEST_CASE("looks_like_css: only what can be nothing else") {
  for (const char* yes : {"#c8553d", "#", "lab(52", "LCH(1 2 3)", "rgb(", " rgba(1"}) {
    CAPTURE(yes);
    CHECK(looks_like_css(yes));
  }
  for (const char* no : {"", "Lab", "Labrador", "lab 52", "red", "rg(", "Wet Sand #2"}) {
    CAPTURE(no);
    CHECK_FALSE(looks_like_css(no));
  }
}
