// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "base/executor.h"
#include "colour/light_rows.h"
#include "extract/blocks.h"
#include "extract/line_fit.h"
#include "extract/seek.h"

namespace kithue::extract {

/// Cuts the picture at cells.
class Cutter {
 public:
  Cutter(const LightRows& picture, const Cells& cells, const std::vector<Lab>& known,
         const std::function<double(double, double)>& gain)
      : picture_(picture), cells_(cells), gain_(gain) {
    const Matrix3 from_xyz = inverse(picture.to_xyz());
    for (const Lab& lab : known) lights_.push_back(light_from_lab(lab, from_xyz));
  }
  [[nodiscard]] LinePlace place(int x, int y, std::uint8_t left, std::uint8_t right, bool across_x) const {
    LinePlace place;
    const double middle = (cells_.side - 1) * 0.5;
    place.x = x * cells_.side + middle;
    place.y = cells_.pixel_row(y) + middle;
    place.left = lights_[left];
    place.right = lights_[right];
    place.across_x = across_x;
    place.gain = gain_(place.x, place.y);
    return place;
  }
  [[nodiscard]] Cut at(int x, int y, std::uint8_t left, std::uint8_t right, bool across_x, double before,
                       double after) const {
    return cut_at(picture_, place(x, y, left, right, across_x), before * cells_.side, after * cells_.side);
  }
  /// The known colours in the picture's own light.
  [[nodiscard]] const std::vector<Light>& lights() const { return lights_; }

 private:
  const LightRows& picture_;
  const Cells& cells_;
  const std::function<double(double, double)>& gain_;
  std::vector<Light> lights_;
};

/// One core looked at closely.
struct Look {
  Core core;
  Cut cut;
  CutColour own;
  bool open = true;         ///< not yet explained
  double stands_for = 1.0;  ///< looks like this one that were not taken
};

/// At most so many of the cores, evenly over the picture, with their cuts. Cuts that cannot be made are left
/// out.
std::vector<Look> looks_of(const std::vector<Core>& cores, std::size_t most, const Cutter& cutter, int side,
                           Executor& executor);
/// The place of a look; `thin` is the number of the colour that it shows, `sharp` the smear.
ThinPlace place_of(const Look& look, const Cutter& cutter, std::size_t thin, double sharp);

/// Decides which cuts may show one and the same colour.
class Agreement {
 public:
  explicit Agreement(const std::vector<Look>& looks) {
    std::vector<double> variances;
    for (const Look& look : looks) variances.push_back(look.own.cost / std::max(1.0, look.own.weight));
    // The quieter cuts tell the noise; in the others something else lies in the window.
    std::sort(variances.begin(), variances.end());
    variance_ = std::max(4e-6, variances[variances.size() / 4]);
  }
  /// Tells whether a look may show a light: see agree.
  [[nodiscard]] Worsening worsening(const Look& look) const {
    // The model is not perfect, nor is the sharpness: how strong a line stands out is known to a part only.
    constexpr double kStrength = 0.01;
    Light contrast;
    for (std::size_t c = 0; c < 3; ++c)
      contrast[c] = kStrength * (look.own.light[c] - 0.5 * (look.cut.left[c] + look.cut.right[c]));
    return {look.own, contrast, variance_};
  }
  [[nodiscard]] static bool agree(const Worsening& worsening, const Light& light) {
    constexpr double kMost = 40.0;
    return worsening.by(light) < kMost;
  }
  [[nodiscard]] bool agree(const Look& look, const Light& light) const {
    return agree(worsening(look), light);
  }
  [[nodiscard]] bool clean(const Look& look) const {
    // A line is no perfect model of a dot: what it leaves grows with the contrast.
    constexpr double kModel = 0.025;
    double allowed = 6.0 * variance_;
    if (look.cut.one_way < kRoundOneWay) {
      const double contrast = coded_of(look.own.light)[0] - coded_of(look.cut.left)[0];
      allowed += kModel * kModel * contrast * contrast;
    }
    return look.own.cost / std::max(1.0, look.own.weight) < allowed;
  }
  [[nodiscard]] double variance() const { return variance_; }

 private:
  double variance_ = 0.0;
};

/// The open looks that one colour explains: the largest such group, and its mean colour.
struct Group {
  std::vector<Look*> looks;
  Light light{};
};
/// The mean colour of looks, each counted as surely as it tells.
Light joint_light(const std::vector<Look*>& group);
/// Of the lines in them, pixels.
double median_width(const std::vector<Look*>& looks);
/// Finds such groups, one after the other. `looks` must outlive it; of them only `open` may change.
class Grouping {
 public:
  Grouping(std::vector<Look>& looks, const Agreement& agreement, Executor& executor);
  /// Of the looks that are open now; empty when no six agree.
  [[nodiscard]] Group largest() const;

 private:
  using Row = std::vector<std::uint64_t>;  // a bit for each look
  [[nodiscard]] std::vector<Look*> all_that_agree(const Light& light) const;
  [[nodiscard]] Row open_now() const;

  std::vector<Look>& looks_;
  std::vector<Worsening> worsenings_;
  std::vector<Row> agree_;  // which looks could show the colour of each, where both were open
};

/// Some cuts of a group, evenly: enough to fit together.
std::vector<Cut*> cuts_of(const Group& group);

}  // namespace kithue::extract
