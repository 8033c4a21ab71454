// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "base/files.h"
#include "base/text.h"
#include "colour/difference.h"
#include "colour/spectrum.h"
#include "places.h"

using namespace kithue;

namespace {

struct WhiteRow {
  std::string_view light;
  Observer observer;
  double X, Z;
};
// ASTM E308, Tables 5 and 6 (1 nm sums), Y = 100, and CIE 015:2018 where it differs by more than a rounding.
constexpr WhiteRow kWhites[] = {
    {"A", Observer::two_degrees, 109.850, 35.585},    {"C", Observer::two_degrees, 98.074, 118.232},
    {"D50", Observer::two_degrees, 96.422, 82.521},   {"D55", Observer::two_degrees, 95.682, 92.149},
    {"D65", Observer::two_degrees, 95.047, 108.883},  {"D75", Observer::two_degrees, 94.972, 122.638},
    {"FL2", Observer::two_degrees, 99.186, 67.393},   {"FL7", Observer::two_degrees, 95.041, 108.747},
    {"FL11", Observer::two_degrees, 100.962, 64.350}, {"A", Observer::ten_degrees, 111.144, 35.200},
    {"C", Observer::ten_degrees, 97.285, 116.145},    {"D50", Observer::ten_degrees, 96.720, 81.427},
    {"D55", Observer::ten_degrees, 95.799, 90.926},   {"D65", Observer::ten_degrees, 94.811, 107.32},
    {"D75", Observer::ten_degrees, 94.416, 120.641},  {"FL2", Observer::ten_degrees, 103.279, 69.027},
    {"FL7", Observer::ten_degrees, 95.792, 107.686},  {"FL11", Observer::ten_degrees, 103.863, 65.607},
};

struct PublishedChromaticity {
  std::string_view light;
  double x, y;
};
// 2 degrees, LED-V1 not at hand. FL: CIE 15:2004, Table T.6; LED: CIE 015:2018, Table 12; A, C, D: CIE
// 015:2018. Here from memory, four decimals as printed there.
constexpr PublishedChromaticity kChromaticities[] = {
    {"A", 0.4476, 0.4074},        {"C", 0.3101, 0.3162},      {"D50", 0.3457, 0.3585},
    {"D55", 0.3324, 0.3474},      {"D65", 0.3127, 0.3290},    {"D75", 0.2990, 0.3149},
    {"FL1", 0.3131, 0.3371},      {"FL2", 0.3721, 0.3751},    {"FL3", 0.4091, 0.3941},
    {"FL4", 0.4402, 0.4031},      {"FL5", 0.3138, 0.3452},    {"FL6", 0.3779, 0.3882},
    {"FL7", 0.3129, 0.3292},      {"FL8", 0.3458, 0.3586},    {"FL9", 0.3741, 0.3727},
    {"FL10", 0.3458, 0.3588},     {"FL11", 0.3805, 0.3769},   {"FL12", 0.4370, 0.4042},
    {"LED-B1", 0.4560, 0.4078},   {"LED-B2", 0.4357, 0.4012}, {"LED-B3", 0.3756, 0.3723},
    {"LED-B4", 0.3422, 0.3502},   {"LED-B5", 0.3118, 0.3236}, {"LED-BH1", 0.4474, 0.4066},
    {"LED-RGB1", 0.4557, 0.4211}, {"LED-V2", 0.3781, 0.3775},
};

struct Paper {
  std::vector<double> values;
  std::vector<Lab> lab;  ///< five lights, 2 degrees then 10
};

std::vector<Paper> papers() {
  const auto text = read_file(std::string(tests::kTestData) + "/colour/munsell_colord.csv", 1 << 20);
  REQUIRE(text);
  std::vector<Paper> all;
  for (const std::string_view line : split(*text, '\n')) {
    if (line.empty() || line.starts_with('#')) continue;
    const auto fields = split(line, ',');
    REQUIRE(fields.size() == 1 + 81 + 30);
    Paper paper;
    for (std::size_t i = 1; i <= 81; ++i) paper.values.push_back(*parse_number(fields[i]));
    for (std::size_t i = 82; i < fields.size(); i += 3)
      paper.lab.push_back(
          {*parse_number(fields[i]), *parse_number(fields[i + 1]), *parse_number(fields[i + 2])});
    all.push_back(std::move(paper));
  }
  return all;
}

std::vector<double> every(const std::vector<double>& values, std::size_t step) {
  std::vector<double> some;
  for (std::size_t i = 0; i < values.size(); i += step) some.push_back(values[i]);
  return some;
}

constexpr std::string_view kFive[] = {"D50", "D65", "A", "FL2", "FL11"};

/// The largest difference from libcolord's over papers, lights and observers, the papers read every
/// `step`-th.
double furthest(std::size_t step) {
  double most = 0.0;
  for (const Paper& paper : papers()) {
    const auto values = every(paper.values, step);
    const Power power = resampled({values, 380.0, 5.0 * static_cast<double>(step)});
    for (std::size_t i = 0; i < paper.lab.size(); ++i) {
      const auto observer = i < 5 ? Observer::two_degrees : Observer::ten_degrees;
      most =
          std::max(most, ciede2000(lab_under(power, *find_illuminant(kFive[i % 5]), observer), paper.lab[i]));
    }
  }
  return most;
}

}  // namespace

TEST_CASE("white_of: the whites of ASTM E308 and CIE 015, to what a 5 nm sum can give") {
  for (const WhiteRow& row : kWhites) {
    CAPTURE(row.light);
    const Xyz white = white_of(*find_illuminant(row.light), row.observer);
    CHECK(std::fabs(100.0 * white.X - row.X) < 0.005);  // half of 0.01: E308 sums at 1 nm
    CHECK(white.Y == doctest::Approx(1.0).epsilon(1e-12));
    CHECK(std::fabs(100.0 * white.Z - row.Z) < 0.025);
  }
}

TEST_CASE("white_of: published chromaticities, 2 degrees") {
  for (const PublishedChromaticity& row : kChromaticities) {
    CAPTURE(row.light);
    const Illuminant* light = find_illuminant(row.light);
    REQUIRE(light != nullptr);
    const Xyz white = white_of(*light, Observer::two_degrees);
    const double sum = white.X + white.Y + white.Z;
    CHECK(std::fabs(white.X / sum - row.x) < 0.00011);  // half the last digit, and the 5 nm sum
    CHECK(std::fabs(white.Y / sum - row.y) < 0.00011);
  }
}

TEST_CASE("lab_under: 23 Munsell papers as another library has them, five lights, two observers") {
  CHECK(furthest(1) <
        0.12);  // libcolord sums at 1 nm, its tables and the spectra straight between their bands
}

TEST_CASE("lab_under: 10 nm data give nearly what 5 nm data give, 20 nm data a little less near") {
  CHECK(furthest(2) < 0.15);
  CHECK(furthest(4) < 0.9);
}

TEST_CASE("resampled: passes through its own wavelengths, and through a cubic exactly") {
  std::vector<double> values;
  const auto cubic = [](double nm) { return 0.3 + 1e-3 * (nm - 550) - 3e-8 * std::pow(nm - 550, 3); };
  for (int i = 0; i < 21; ++i) values.push_back(cubic(380.0 + 20.0 * i));
  const Power even = resampled({values, 380.0, 20.0});
  for (std::size_t i = 4; i + 4 < kPowerBands; ++i)
    CHECK(std::fabs(even[i] - cubic(380.0 + 5.0 * static_cast<double>(i))) < 1e-12);
  for (std::size_t i = 0; i < kPowerBands; i += 4) CHECK(even[i] == values[i / 4]);
}

TEST_CASE("resampled: a short range goes on level, never to zero") {
  const std::vector<double> values{0.5, 0.6, 0.7};
  const Power even = resampled({values, 500.0, 10.0});
  CHECK(even.front() == 0.5);
  CHECK(even.back() == 0.7);
  CHECK(share_beyond({values, 500.0, 10.0}) > 0.9);
  const std::vector<double> flat(31, 0.4);
  const Spectrum usual{flat, 400.0, 10.0};
  CHECK(lab_from_spectrum(usual).L == doctest::Approx(116.0 * std::cbrt(0.4) - 16.0).epsilon(1e-9));
  CHECK(share_beyond(usual) > 0.001);
  CHECK(share_beyond(usual) < 0.01);
  const std::vector<double> whole(81, 0.4);
  CHECK(share_beyond({whole, 380.0, 5.0}) == 0.0);
}

TEST_CASE("lab_from_spectrum: the perfect diffuser is white, a neutral has no hue, at any step") {
  for (const double step : {1.0, 3.3333333333333335, 5.0, 7.0, 10.0, 20.0}) {
    const auto count = static_cast<std::size_t>(400.0 / step) + 1;
    const std::vector<double> ones(count, 1.0);
    const std::vector<double> grey(count, 0.18);
    CAPTURE(step);
    CHECK(std::fabs(lab_from_spectrum({ones, 380.0, step}).L - 100.0) < 1e-9);
    CHECK(std::fabs(lab_from_spectrum({grey, 380.0, step}).a) < 1e-9);
    CHECK(std::fabs(lab_from_spectrum({grey, 380.0, step}).b) < 1e-9);
  }
}

TEST_CASE("find_illuminant: every light by its name in any spelling, and no other") {
  CHECK(known_illuminants().size() == 38);
  for (const Illuminant& light : known_illuminants()) CHECK(find_illuminant(light.name) == &light);
  CHECK(find_illuminant("led b3") == find_illuminant("LED-B3"));
  CHECK(find_illuminant("f11") == find_illuminant("FL11"));
  CHECK(find_illuminant("fl3.10") != find_illuminant("FL3.1"));
  CHECK(find_illuminant("FL13") == nullptr);
  CHECK(find_illuminant("") == nullptr);
}
