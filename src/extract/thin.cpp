// SPDX-License-Identifier: MIT
#include "extract/thin.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "colour/difference.h"
#include "extract/flat.h"
#include "extract/mixture.h"
#include "extract/profile.h"

namespace kithue::extract {
namespace {

constexpr int kReach = 9;           // cells to look for a known colour on each side
constexpr double kStandsOut = 6.0;  // Lab units from what the two sides could mix to
constexpr double kEdgePart = 0.3;   // and this part of the sides' own distance: coding smears colour at edges
constexpr std::size_t kCuts = 512;  // looked at in all
constexpr std::size_t kTogether = 96;  // fitted together for one colour

/// A cell in the middle of something narrow.
struct Core {
  int x = 0;
  int y = 0;
  std::uint8_t left = kNoLabel;  ///< known colours on its sides
  std::uint8_t right = kNoLabel;
  std::uint8_t before = 0;  ///< cells to them
  std::uint8_t after = 0;
  bool across_x = true;
  CellLab lab;
};

struct Edge {
  int x = 0;
  int y = 0;
  std::uint8_t left = kNoLabel;
  std::uint8_t right = kNoLabel;
  bool across_x = true;
};

/// The mixtures of every two known colours.
class Mixtures {
 public:
  explicit Mixtures(const std::vector<Lab>& known) : known_(known) {
    for (const Lab& x : known) {
      for (const Lab& y : known) chains_.push_back(mixture_chain(x, y));
    }
  }
  [[nodiscard]] double miss(const Lab& lab, std::size_t i, std::size_t j) const {
    if (i == j) return lab_distance(lab, known_[i]);
    return distance_to(lab, chains_[i * known_.size() + j]);
  }

 private:
  const std::vector<Lab>& known_;
  std::vector<MixtureChain> chains_;
};

/// Looks along rows and columns of labels.
class Seeker {
 public:
  Seeker(const Cells& cells, const std::vector<std::uint8_t>& labels, const Mixtures& mixtures,
         const std::vector<Lab>& known, std::size_t sure, int grain)
      : cells_(cells),
        labels_(labels),
        mixtures_(mixtures),
        known_(known),
        sure_(sure),
        stands_out_(std::max(kStandsOut, 7.0 * grain / kSteps)) {}

  void look_at(int x, int y, std::vector<Core>& cores, std::vector<Edge>& edges) const {
    const Side left = seek(x, y, -1, 0);
    const Side right = seek(x, y, 1, 0);
    const Side up = seek(x, y, 0, -1);
    const Side down = seek(x, y, 0, 1);
    const int level = left.found() && right.found() ? left.steps + right.steps : 99;
    const int upright = up.found() && down.found() ? up.steps + down.steps : 99;
    if (std::min(level, upright) > 2 * kReach) return;
    const bool across_x = level <= upright;
    const Side& first = across_x ? left : up;
    const Side& second = across_x ? right : down;
    const int span = std::min(level, upright);
    if (first.label != second.label && span <= 5 && first.label < sure_ && second.label < sure_ &&
        std::abs(known_[first.label].L - known_[second.label].L) > 12.0) {
      edges.push_back({x, y, first.label, second.label, across_x});
    }
    const int dx = across_x ? 1 : 0;
    const int dy = across_x ? 0 : 1;
    const double here = stands_out(x, y, first.label, second.label);
    const double needed =
        kStandsOut + (first.label == second.label
                          ? 0.0
                          : kEdgePart * lab_distance(known_[first.label], known_[second.label]));
    if (here < needed || here < stands_out(x - dx, y - dy, first.label, second.label) ||
        here <= stands_out(x + dx, y + dy, first.label, second.label)) {
      return;
    }
    cores.push_back({x, y, first.label, second.label, static_cast<std::uint8_t>(first.steps),
                     static_cast<std::uint8_t>(second.steps), across_x, cells_.row(y)[x]});
  }

 private:
  struct Side {
    std::uint8_t label = kNoLabel;
    int steps = 99;
    [[nodiscard]] bool found() const { return label != kNoLabel; }
  };
  [[nodiscard]] Side seek(int x, int y, int dx, int dy) const {
    for (int step = 1; step <= kReach; ++step) {
      x += dx;
      y += dy;
      if (x < 0 || y < 0 || x >= cells_.width || y >= cells_.height) break;
      const std::uint8_t label =
          labels_[static_cast<std::size_t>(y) * static_cast<std::size_t>(cells_.width) +
                  static_cast<std::size_t>(x)];
      if (label != kNoLabel) return {label, step};
    }
    return {};
  }
  [[nodiscard]] double stands_out(int x, int y, std::uint8_t i, std::uint8_t j) const {
    if (x < 0 || y < 0 || x >= cells_.width || y >= cells_.height) return 0.0;
    return mixtures_.miss(lab_of(cells_.row(y)[x]), i, j);
  }

  const Cells& cells_;
  const std::vector<std::uint8_t>& labels_;
  const Mixtures& mixtures_;
  const std::vector<Lab>& known_;
  std::size_t sure_;
  double stands_out_;
};
struct Found {
  std::vector<Core> cores;
  std::vector<Edge> edges;
};

Found look_everywhere(const Cells& cells, const std::vector<std::uint8_t>& labels,
                      const std::vector<Lab>& known, const Mixtures& mixtures, std::size_t sure, int grain,
                      Executor& executor) {
  std::vector<Found> parts(bands(cells.height));
  const Seeker seeker(cells, labels, mixtures, known, sure, grain);
  executor.run(parts.size(), [&](std::size_t band) {
    const int first = static_cast<int>(band) * kBand;
    for (int y = first; y < std::min(first + kBand, cells.height); ++y) {
      const std::uint8_t* row =
          labels.data() + static_cast<std::size_t>(y) * static_cast<std::size_t>(cells.width);
      for (int x = 0; x < cells.width; ++x) {
        if (row[x] == kNoLabel) seeker.look_at(x, y, parts[band].cores, parts[band].edges);
      }
    }
  });
  Found all;
  for (const Found& part : parts) {
    all.cores.insert(all.cores.end(), part.cores.begin(), part.cores.end());
    all.edges.insert(all.edges.end(), part.edges.begin(), part.edges.end());
  }
  return all;
}

/// Cuts the picture at cells.
class Cutter {
 public:
  Cutter(const LightRows& picture, const Cells& cells, const std::vector<Lab>& known,
         const std::function<double(double, double)>& gain)
      : picture_(picture), side_(cells.side), gain_(gain) {
    const Matrix3 from_xyz = inverse(picture.to_xyz());
    for (const Lab& lab : known) lights_.push_back(light_from_lab(lab, from_xyz));
  }
  [[nodiscard]] Cut at(int x, int y, std::uint8_t left, std::uint8_t right, bool across_x, double before,
                       double after) const {
    LinePlace place;
    place.x = x * side_ + (side_ - 1) * 0.5;
    place.y = y * side_ + (side_ - 1) * 0.5;
    place.left = lights_[left];
    place.right = lights_[right];
    place.across_x = across_x;
    place.gain = gain_(place.x, place.y);
    return cut_at(picture_, place, before * side_, after * side_);
  }

 private:
  const LightRows& picture_;
  int side_;
  const std::function<double(double, double)>& gain_;
  std::vector<Light> lights_;
};

double sharpness_of(const std::vector<Edge>& edges, const Cutter& cutter) {
  constexpr std::size_t kMost = 48;
  std::vector<Cut> cuts;
  const std::size_t step = std::max<std::size_t>(1, edges.size() / kMost);
  for (std::size_t i = step / 2; i < edges.size(); i += step) {
    const Edge& e = edges[i];
    cuts.push_back(cutter.at(e.x, e.y, e.left, e.right, e.across_x, 2.5, 2.5));
  }
  return edge_sharpness(cuts);
}

/// One core looked at closely.
struct Look {
  Core core;
  Cut cut;
  CutColour own;
  bool open = true;  ///< not yet explained
};

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
  [[nodiscard]] bool agree(const Look& look, const Light& light) const {
    // The model is not perfect: near enough in light agrees whatever the statistics say.
    constexpr double kMost = 40.0;
    const double worse = worse_by(look.own, light) / variance_;
    return worse < kMost;
  }
  [[nodiscard]] bool clean(const Look& look) const {
    return look.own.cost / std::max(1.0, look.own.weight) < 6.0 * variance_;
  }
  [[nodiscard]] double variance() const { return variance_; }

 private:
  double variance_ = 0.0;
};

/// The mean colour of some cuts, each weighted by how surely it knows.
Light joint_light(const std::vector<const Look*>& group) {
  std::array<std::array<double, 3>, 3> m{};
  Light v{};
  for (const Look* look : group) {
    for (std::size_t p = 0; p < 3; ++p) {
      for (std::size_t q = 0; q < 3; ++q) {
        m[p][q] += look->own.information[p][q];
        v[p] += look->own.information[p][q] * look->own.light[q];
      }
    }
  }
  const double trace = m[0][0] + m[1][1] + m[2][2];
  for (std::size_t p = 0; p < 3; ++p) m[p][p] += 1e-9 * trace + 1e-12;
  const Matrix3 inverted = inverse(Matrix3{m});
  Light out = times(inverted, v);
  for (double& one : out) one = std::clamp(one, 0.0, 1.3);
  return out;
}

bool same_as_known(const Lab& lab, const std::vector<Lab>& known) {
  return std::any_of(known.begin(), known.end(),
                     [&](const Lab& other) { return ciede2000(other, lab) < 4.0; });
}

/// True when a thin colour is no more than light and shade on the fibres or relief of a sheet.
bool is_relief(const Lab& lab, const std::vector<Lab>& grounds, int grain) {
  const double roughness = static_cast<double>(grain) / kSteps;
  return std::any_of(grounds.begin(), grounds.end(), [&](const Lab& ground) {
    // Shade takes L* + 16, a* and b* down alike.
    const double part = (lab.L + 16.0) / (ground.L + 16.0);
    const bool shade = std::hypot(lab.a - part * ground.a, lab.b - part * ground.b) < 5.0;
    return ciede2000(lab, ground) < 6.0 + (shade ? 6.0 : 2.5) * roughness;
  });
}

/// X, Y, Z over the white: where mixtures are straight and noise in the dark is small.
using Mix = std::array<double, 3>;
Mix mix_of(const Lab& lab) {
  const Xyz xyz = xyz_from_lab(lab, {1.0, 1.0, 1.0});
  return {xyz.X, xyz.Y, xyz.Z};
}

/// True when `lab` lies on the way from the ground to the other colour, or as far past it.
bool on_way(const Lab& lab, const Lab& ground, const Lab& other) {
  constexpr double kLeastPart = 0.4;
  constexpr double kMostPart = 1.6;
  const Mix g = mix_of(ground);
  const Mix s = mix_of(other);
  const Mix p = mix_of(lab);
  double along = 0.0;
  double length2 = 1e-12;
  for (std::size_t c = 0; c < 3; ++c) {
    along += (p[c] - g[c]) * (s[c] - g[c]);
    length2 += (s[c] - g[c]) * (s[c] - g[c]);
  }
  const double t = along / length2;
  double miss2 = 0.0;
  for (std::size_t c = 0; c < 3; ++c) {
    const double miss = p[c] - g[c] - t * (s[c] - g[c]);
    miss2 += miss * miss;
  }
  const double near = 0.008 + 0.008 * std::sqrt(length2);
  return t > kLeastPart && t < kMostPart && miss2 < near * near;
}

/// True when the colour is one found before, seen through a worse cut: it lies on the way from a ground to
/// that colour, or a little past it. A line wide enough to be sure of is its own colour.
bool same_ray(const Lab& lab, double width, const std::vector<Lab>& grounds,
              const std::vector<ThinColour>& found) {
  // A line this narrow may be any part of the way to a colour that is there in larger things as well.
  constexpr double kUnsureWidth = 3.5;
  constexpr double kSureWidth = 5.0;
  if (width < kUnsureWidth && is_mixture(lab, grounds, 6.0)) return true;
  return std::any_of(found.begin(), found.end(), [&](const ThinColour& other) {
    if (ciede2000(other.lab, lab) < 4.0) return true;
    return width <= kSureWidth && std::any_of(grounds.begin(), grounds.end(), [&](const Lab& ground) {
             return on_way(lab, ground, other.lab);
           });
  });
}

std::vector<Look> looks_of(const std::vector<Core>& cores, const Cutter& cutter, int side) {
  std::vector<Look> looks;
  const std::size_t step = std::max<std::size_t>(1, cores.size() / kCuts);
  for (std::size_t i = step / 2; i < cores.size(); i += step) {
    const Core& c = cores[i];
    Look look{c, cutter.at(c.x, c.y, c.left, c.right, c.across_x, c.before + 0.5, c.after + 0.5), {}, true};
    look.cut.width = std::max(1.5, (c.before + c.after - 2.0) * side * 0.7);
    if (look.cut.usable) looks.push_back(std::move(look));
  }
  return looks;
}

}  // namespace

ThinFindings thin_colours(const LightRows& picture, const Cells& cells,
                          const std::vector<std::uint8_t>& labels, const std::vector<Lab>& known,
                          std::size_t sure, int grain, const std::vector<ThinColour>& earlier,
                          const std::function<double(double, double)>& gain, Executor& executor) {
  ThinFindings out;
  std::vector<ThinColour> found_so_far = earlier;
  const Mixtures mixtures(known);
  const Found found = look_everywhere(cells, labels, known, mixtures, sure, grain, executor);
  const Cutter cutter(picture, cells, known, gain);
  out.sharp = std::max(0.0, sharpness_of(found.edges, cutter));
  const double area = static_cast<double>(cells.count());
  if (static_cast<double>(found.cores.size()) < std::max(12.0, 0.0002 * area)) return out;
  std::vector<Look> looks = looks_of(found.cores, cutter, cells.side);
  if (looks.size() < 8) return out;
  if (out.sharp <= 0.0) {
    std::vector<Cut> some;
    const std::size_t step = std::max<std::size_t>(1, looks.size() / 160);
    for (std::size_t i = 0; i < looks.size(); i += step) some.push_back(looks[i].cut);
    out.sharp = line_sharpness(std::move(some), 1.0, executor);
  }
  const Smear smear{out.sharp, 0.5, 1.0};
  executor.run(looks.size(), [&](std::size_t i) { looks[i].own = fit_cut(looks[i].cut, smear); });
  const Agreement agreement(looks);
  const Matrix3 from_xyz = inverse(picture.to_xyz());

  std::size_t open = 0;
  for (Look& look : looks) {
    look.open = look.own.found && agreement.clean(look);
    for (const Lab& lab : known) {
      if (look.open && agreement.agree(look, light_from_lab(lab, from_xyz))) look.open = false;
    }
    open += look.open ? 1 : 0;
  }
  const double cores_a_look = static_cast<double>(found.cores.size()) / static_cast<double>(looks.size());
  for (int turn = 0; turn < 24; ++turn) {
    // The colour that most open cuts agree with.
    std::vector<const Look*> best;
    for (const Look& look : looks) {
      if (!look.open) continue;
      std::vector<const Look*> group;
      for (const Look& other : looks) {
        if (other.open && agreement.agree(other, look.own.light)) group.push_back(&other);
      }
      if (group.size() > best.size()) best = std::move(group);
    }
    if (best.size() < 6) break;
    Light light = joint_light(best);
    for (int round = 0; round < 3; ++round) {
      std::vector<const Look*> group;
      for (const Look& look : looks) {
        if (look.open && agreement.agree(look, light)) group.push_back(&look);
      }
      if (group.size() < 6) break;
      best = std::move(group);
      light = joint_light(best);
    }
    std::vector<Cut*> cuts;
    const std::size_t step = std::max<std::size_t>(1, best.size() / kTogether);
    for (std::size_t i = 0; i < best.size(); i += step) {
      cuts.push_back(&looks[static_cast<std::size_t>(best[i] - looks.data())].cut);
    }
    const LineColour line = fit_together(cuts, smear, light);
    std::size_t explained = 0;
    for (Look& look : looks) {
      if (look.open && (agreement.agree(look, line.light) || agreement.agree(look, light))) {
        look.open = false;
        ++explained;
      }
    }
    const Lab lab = lab_from_light(line.light, picture.to_xyz());
    const double covered =
        static_cast<double>(explained) * cores_a_look * std::max(1.0, line.width / cells.side);
    if (covered < 0.001 * area) continue;
    const bool seen = same_as_known(lab, known) || is_relief(lab, known, grain) ||
                      same_ray(lab, line.width, known, found_so_far);
    if (!seen) {
      found_so_far.push_back({lab, line.width, 0.0, 0});
      out.colours.push_back({lab, line.width, line.misfit,
                             static_cast<std::size_t>(static_cast<double>(explained) * cores_a_look)});
    }
  }
  return out;
}

}  // namespace kithue::extract
