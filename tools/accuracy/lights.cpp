// SPDX-License-Identifier: MIT
#include "accuracy/lights.h"

#include <cmath>
#include <fstream>

#include "base/text.h"
#include "colour/spectrum.h"

namespace kithue::accuracy {
namespace {

using Triple = std::array<double, 3>;

/// The matrix that takes the one to the other, by least squares.
Matrix3 fitted(const std::vector<Triple>& from, const std::vector<Triple>& to) {
  Matrix3 own;
  Matrix3 both;
  own.row = {};
  both.row = {};
  for (std::size_t k = 0; k < from.size(); ++k) {
    for (std::size_t i = 0; i < 3; ++i) {
      for (std::size_t j = 0; j < 3; ++j) {
        own.row[i][j] += from[k][i] * from[k][j];
        both.row[i][j] += to[k][i] * from[k][j];
      }
    }
  }
  return product(both, inverse(own));
}

}  // namespace

std::vector<Power> papers_of(const std::string& path) {
  std::vector<Power> papers;
  std::ifstream file(path);
  std::string line;
  while (std::getline(file, line)) {
    if (line.empty() || line[0] == '#') continue;
    const auto words = split(line, ',');
    if (words.size() < kPowerBands + 1) continue;
    Power paper{};
    bool sound = true;
    for (std::size_t i = 0; i < kPowerBands; ++i) {
      const auto number = parse_number(words[i + 1]);
      sound = sound && number.has_value();
      paper[i] = number.value_or(0.0);
    }
    if (sound) papers.push_back(paper);
  }
  return papers;
}

Lab true_lab(const Power& reflectance) {
  return lab_under(reflectance, *find_illuminant("D50"), Observer::two_degrees);
}

LightAndCamera::LightAndCamera(const SpectralCamera& camera, const Illuminant& light, double balance,
                               const std::vector<Power>& papers)
    : camera_(camera), light_(light) {
  Power white{};
  white.fill(1.0);
  const Illuminant& day = *find_illuminant("D65");
  const Triple by_day = raw(white, day);
  const Triple here = raw(white, light);
  for (std::size_t i = 0; i < 3; ++i) gain_[i] = 1.0 / (by_day[i] * std::pow(here[i] / by_day[i], balance));
  if (camera.eye) {
    to_xyz_ = {{{{kD50.X, 0.0, 0.0}, {0.0, kD50.Y, 0.0}, {0.0, 0.0, kD50.Z}}}};
    return;
  }
  std::vector<Triple> from;
  std::vector<Triple> to;
  for (const Power& paper : papers) {
    Triple one = raw(paper, day);
    for (std::size_t i = 0; i < 3; ++i) one[i] /= by_day[i];
    from.push_back(one);
    const Xyz xyz = xyz_from_lab(true_lab(paper));
    to.push_back({xyz.X, xyz.Y, xyz.Z});
  }
  to_xyz_ = fitted(from, to);
}

std::array<double, 3> LightAndCamera::raw(const Power& reflectance, const Illuminant& light) const {
  if (camera_.eye) {
    const Xyz xyz = xyz_from_power(reflectance, light, Observer::two_degrees);
    return {xyz.X, xyz.Y, xyz.Z};
  }
  Triple sum{};
  double all = 0.0;
  for (std::size_t i = 0; i < kPowerBands; ++i) {
    const double nm = kPowerStartNm + kPowerStepNm * static_cast<double>(i);
    const auto bell = [&](std::size_t c) {
      const double off = (nm - camera_.peak_nm[c]) / camera_.width_nm[c];
      return std::exp(-0.5 * off * off);
    };
    const double power = (*light.power)[i];
    for (std::size_t c = 0; c < 3; ++c) sum[c] += reflectance[i] * power * bell(c);
    all += power * bell(1);
  }
  for (double& one : sum) one /= all;
  return sum;
}

std::array<double, 3> LightAndCamera::seen(const Power& reflectance) const {
  Triple one = raw(reflectance, light_);
  for (std::size_t i = 0; i < 3; ++i) one[i] *= gain_[i];
  return times(to_xyz_, one);
}

}  // namespace kithue::accuracy
