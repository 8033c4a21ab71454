// SPDX-License-Identifier: MIT
#include "extract/sheet.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "base/text.h"
#include "extract/sheet_side.h"
#include "extract/surround.h"

namespace kithue {
namespace {

using extract::Likeness;
using extract::Seen;
using extract::Side;
using extract::SideEnds;
using extract::SideLine;
using extract::Surround;

constexpr double kLeastSeen = 0.92;
constexpr double kLeastSheetShare = 0.12;
constexpr double kTurned = 0.7;  // degrees
constexpr double kDegree = 180.0 / std::numbers::pi;

/// One side of the sheet: across = p + q * along, in places from the upper left corner.
struct Edge {
  double p = 0.0;
  double q = 0.0;
  bool closed = false;
  bool shadow = false;
  const std::vector<double>* ends = nullptr;
  SideLine line;
};

using Edges = std::array<Edge, 4>;
using Sides = std::array<bool, 4>;

bool upright(std::size_t side) {
  return side == static_cast<std::size_t>(Side::left) || side == static_cast<std::size_t>(Side::right);
}

Spot meet(const Edge& up, const Edge& level) {
  const double x = (up.p + up.q * level.p) / (1.0 - up.q * level.q);
  return {x, level.p + level.q * x};
}

std::array<Spot, 4> corners_of(const Edges& e) {
  return {meet(e[0], e[1]), meet(e[2], e[1]), meet(e[2], e[3]), meet(e[0], e[3])};
}

double area(const std::array<Spot, 4>& c) {
  double twice = 0.0;
  for (std::size_t i = 0; i < 4; ++i) {
    const Spot& p = c[i];
    const Spot& q = c[(i + 1) % 4];
    twice += p.x * q.y - q.x * p.y;
  }
  return 0.5 * twice;
}

bool inside(const std::array<Spot, 4>& c, double x, double y, double grown) {
  for (std::size_t i = 0; i < 4; ++i) {
    const Spot& p = c[i];
    const Spot& q = c[(i + 1) % 4];
    const double length = std::hypot(q.x - p.x, q.y - p.y);
    if ((q.x - p.x) * (y - p.y) - (q.y - p.y) * (x - p.x) < -grown * length) return false;
  }
  return true;
}

/// The stretch of each side between its corners.
std::array<std::array<double, 2>, 4> spans_of(const std::array<Spot, 4>& c) {
  return {{{c[0].y, c[3].y}, {c[0].x, c[1].x}, {c[1].y, c[2].y}, {c[3].x, c[2].x}}};
}

/// Puts a line in the place of an edge.
void set_line(Edge& edge, std::size_t side, const SideLine& line, const SmallPicture& small) {
  const int deep = upright(side) ? small.width : small.height;
  const bool far = side >= static_cast<std::size_t>(Side::right);
  edge.line = line;
  edge.p = far ? deep - line.at : line.at;
  edge.q = far ? -line.slope : line.slope;
}

/// The lines of the sides that are looked at, the frame's own for the others.
std::optional<Edges> edges_of(const SmallPicture& small, const Sides& sides,
                              const std::array<SideEnds, 4>& ends) {
  Edges edges;
  for (std::size_t side = 0; side < 4; ++side) {
    Edge& edge = edges[side];
    if (!sides[side]) {
      edge.p = side < static_cast<std::size_t>(Side::right) ? 0.0
               : upright(side)                              ? small.width
                                                            : small.height;
      continue;
    }
    const SideLine line = extract::line_of(ends[side].strict);
    if (!line.found) return std::nullopt;
    edge.closed = true;
    edge.ends = &ends[side].strict;
    set_line(edge, side, line, small);
  }
  return edges;
}

/// Moves each side in past the shadow that lies beside it: darker than the surround, of its hue, and ending
/// in a straight line. Where the sheet's own edge could be such a shadow the ends lie deeper, never before.
void pass_shadows(Edges& edges, const SmallPicture& small, const Surround& surround,
                  const std::array<SideEnds, 4>& ends) {
  constexpr double kLeastNear = 0.5;
  constexpr double kMostBefore = 0.06;
  for (int round = 0; round < 2; ++round) {  // the second time between better corners
    const auto spans = spans_of(corners_of(edges));
    for (std::size_t side = 0; side < 4; ++side) {
      Edge& edge = edges[side];
      if (!edge.closed || edge.shadow) continue;
      const SideLine line = extract::line_of(ends[side].shadow);
      const double middle = 0.5 * (spans[side][0] + spans[side][1]);
      if (!line.found || line.d(middle) < edge.line.d(middle) + 0.8) continue;
      const Seen seen = extract::seen_of(line, ends[side].shadow, spans[side][0], spans[side][1], surround,
                                         small, static_cast<Side>(side));
      if (seen.near < kLeastNear || seen.before > kMostBefore) continue;
      set_line(edge, side, line, small);
      edge.ends = &ends[side].shadow;
      edge.shadow = true;
    }
  }
}

/// True when the closed sides are seen along their length: the whole of it, or most of it when nothing is in
/// the way and the lines are turned or lie in a shadow, which no pattern of a face that fills the frame has.
bool seen_enough(const Edges& edges, const SmallPicture& small, const Surround& surround,
                 const std::array<Spot, 4>& c, bool turned) {
  const auto spans = spans_of(c);
  double least = 1.0;
  double sum = 0.0;
  double before = 0.0;
  int n = 0;
  for (std::size_t side = 0; side < 4; ++side) {
    const Edge& edge = edges[side];
    if (!edge.closed) continue;
    const Seen seen = extract::seen_of(edge.line, *edge.ends, spans[side][0], spans[side][1], surround, small,
                                       static_cast<Side>(side));
    least = std::min(least, seen.near);
    before = std::max(before, seen.before);
    sum += seen.near;
    ++n;
  }
  if (least >= kLeastSeen) return true;
  return turned && n == 4 && before <= 0.04 && least >= 0.55 && sum / n >= 0.75;
}

/// What is outside is surround, what is inside mostly is not. Cards and chips may lie outside, at some
/// distance from the sheet.
bool parted(const SmallPicture& small, const Surround& surround, const std::array<Spot, 4>& c) {
  constexpr double kLeastBeside = 0.97;
  constexpr double kLeastOutside = 0.7;
  constexpr double kMostInside = 0.55;
  constexpr double kBeside = 4.5;  // places
  struct Part {
    int all = 0;
    int like = 0;
    void add(bool yes) {
      ++all;
      like += yes ? 1 : 0;
    }
    [[nodiscard]] double share() const { return all > 0 ? static_cast<double>(like) / all : 0.0; }
  };
  Part beside;
  Part outside;
  Part within;
  for (int y = 0; y < small.height; ++y) {
    for (int x = 0; x < small.width; ++x) {
      const Likeness like = surround.at(x, y);
      if (inside(c, x + 0.5, y + 0.5, -1.5)) {
        within.add(like == Likeness::surround);
      } else if (!inside(c, x + 0.5, y + 0.5, 1.5)) {
        outside.add(like != Likeness::other);
        if (inside(c, x + 0.5, y + 0.5, kBeside)) beside.add(like != Likeness::other);
      }
    }
  }
  return beside.share() >= kLeastBeside && outside.share() >= kLeastOutside && within.all > 0 &&
         within.share() <= kMostInside;
}

struct Turn {
  double mean = 0.0;
  double low = 90.0;
  double high = -90.0;
};

/// Degrees clockwise of the closed sides.
Turn turn_of(const Edges& edges) {
  Turn turn;
  int n = 0;
  for (std::size_t side = 0; side < 4; ++side) {
    if (!edges[side].closed) continue;
    const double degrees = kDegree * std::atan(upright(side) ? -edges[side].q : edges[side].q);
    turn.mean += degrees;
    turn.low = std::min(turn.low, degrees);
    turn.high = std::max(turn.high, degrees);
    ++n;
  }
  turn.mean /= std::max(1, n);
  return turn;
}

/// True when the border could as well be printed on a sheet that fills the frame: straight and as wide on
/// every side.
bool like_a_printed_border(const Edges& edges, const Turn& turn, const std::array<Spot, 4>& c,
                           const SmallPicture& small) {
  constexpr double kStraight = 0.4;
  if (std::max(std::abs(turn.low), std::abs(turn.high)) > kStraight) return false;
  const std::array<double, 4> margins{0.5 * (c[0].x + c[3].x), 0.5 * (c[0].y + c[1].y),
                                      small.width - 0.5 * (c[1].x + c[2].x),
                                      small.height - 0.5 * (c[2].y + c[3].y)};
  double least = 1e9;
  double most = 0.0;
  for (std::size_t side = 0; side < 4; ++side) {
    if (!edges[side].closed) continue;
    if (edges[side].shadow) return false;
    least = std::min(least, margins[side]);
    most = std::max(most, margins[side]);
  }
  return most - least < std::max(2.5, 0.25 * most);
}

/// True when each pixel of the border is the same, as only a program makes it, while the sheet's own differ.
bool made_by_a_program(const LightRows& picture, const std::array<Spot, 4>& c) {
  const int left = static_cast<int>(std::min(c[0].x, c[3].x));
  const int top = static_cast<int>(std::min(c[0].y, c[1].y));
  if (left < 4 || top < 4) return false;
  std::vector<float> row(3 * static_cast<std::size_t>(picture.width()));
  const auto pixel_is = [&](int x, const float* other) {
    const float* p = row.data() + 3 * static_cast<std::ptrdiff_t>(x);
    return p[0] == other[0] && p[1] == other[1] && p[2] == other[2];
  };
  picture.read(0, 0, 1, row.data());
  const std::array<float, 3> first{row[0], row[1], row[2]};
  for (const int y : {0, top / 2, top - 3}) {
    picture.read(0, y, picture.width(), row.data());
    for (int x = 0; x < picture.width(); ++x) {
      if (!pixel_is(x, first.data())) return false;
    }
  }
  int same = 0;
  int all = 0;
  for (int i = 1; i <= 5; ++i) {
    const int y = top + (picture.height() - 2 * top) * i / 6;
    picture.read(0, y, picture.width(), row.data());
    for (int x = left + 3; x < picture.width() - left - 3; ++x) {
      ++all;
      same += pixel_is(x, row.data() + 3 * static_cast<std::ptrdiff_t>(x - 1)) ? 1 : 0;
    }
  }
  return all > 0 && same < all / 2;
}

struct Try {
  Sheet sheet;
  bool maybe_printed = false;
};

/// Moves every closed side inwards, so that no mixed place is left.
std::array<Spot, 4> drawn_in(Edges edges) {
  constexpr double kInset = 1.6;  // places
  for (std::size_t side = 0; side < 4; ++side) {
    if (!edges[side].closed) continue;
    edges[side].p += side < static_cast<std::size_t>(Side::right) ? kInset : -kInset;
  }
  return corners_of(edges);
}

Try try_sides(const SmallPicture& small, const LightRows& picture, const Sides& sides) {
  Try out;
  const Surround surround(small, sides);
  if (!surround.plain()) return out;
  std::array<SideEnds, 4> ends;
  int closed = 0;
  for (std::size_t side = 0; side < 4; ++side) {
    if (!sides[side]) continue;
    ends[side] = extract::ends_of(surround, small, static_cast<Side>(side));
    ++closed;
  }
  auto edges = edges_of(small, sides, ends);
  if (!edges) return out;
  pass_shadows(*edges, small, surround, ends);
  const auto corners = corners_of(*edges);
  const Turn turn = turn_of(*edges);
  constexpr double kMostTurn = 15.0;
  constexpr double kMostSkew = 7.0;
  if (std::max(std::abs(turn.low), std::abs(turn.high)) > kMostTurn || turn.high - turn.low > kMostSkew)
    return out;
  for (const Spot& corner : corners) {
    if (corner.x < -2.0 || corner.y < -2.0 || corner.x > small.width + 2.0 || corner.y > small.height + 2.0)
      return out;
  }
  const double frame = static_cast<double>(small.width) * small.height;
  const auto kept = drawn_in(*edges);
  const double share = area(kept) / frame;
  bool shadow = false;
  for (const Edge& edge : *edges) shadow = shadow || edge.shadow;
  const bool turned = std::abs(turn.mean) >= kTurned;
  if (share < kLeastSheetShare || !seen_enough(*edges, small, surround, corners, turned) ||
      !parted(small, surround, corners))
    return out;
  out.sheet.share = share;
  out.sheet.turned_degrees = turn.mean;
  out.sheet.shadow = shadow;
  for (std::size_t i = 0; i < 4; ++i) {
    out.sheet.corners[i] = {kept[i].x * small.step, kept[i].y * small.step};
    out.sheet.open[i] = !sides[i];
  }
  // Where it is not all around it may be a band of the pattern; only a turned sheet or a shadow tells.
  const bool few = closed < 4 && !turned && !shadow;
  const bool printed = like_a_printed_border(*edges, turn, corners, small);
  out.maybe_printed = few || (printed && (closed < 4 || !made_by_a_program(picture, out.sheet.corners)));
  out.sheet.certain = !out.maybe_printed;
  return out;
}

std::string words_of(const Sheet& sheet) {
  std::string words = "the sheet was found and what is around it left out: it is " +
                      fixed_number(100.0 * sheet.share, 0) + " % of the photo";
  if (std::abs(sheet.turned_degrees) >= 0.5) {
    words += ", turned by " + fixed_number(std::abs(sheet.turned_degrees), 1) + " degrees";
  }
  if (sheet.shadow) words += "; the shadow beside it was left out too";
  return words;
}

}  // namespace

Sheet find_sheet(const SmallPicture& small, const LightRows& picture, Executor& executor) {
  constexpr int kLeastSide = 64;
  Sheet whole;
  const double right = picture.width();
  const double bottom = picture.height();
  whole.corners = {Spot{0, 0}, Spot{right, 0}, Spot{right, bottom}, Spot{0, bottom}};
  whole.open.fill(true);
  whole.words = "nothing was cut off: no edge of a sheet is certain in the photo";
  if (std::min(small.width, small.height) < kLeastSide) return whole;
  constexpr std::array<Sides, 9> kTries{{{true, true, true, true},
                                         {false, true, true, true},
                                         {true, false, true, true},
                                         {true, true, false, true},
                                         {true, true, true, false},
                                         {true, true, false, false},
                                         {false, true, true, false},
                                         {false, false, true, true},
                                         {true, false, false, true}}};
  std::array<Try, kTries.size()> tries;
  tries[0] = try_sides(small, picture, kTries[0]);
  if (!tries[0].sheet.certain && !tries[0].maybe_printed) {
    executor.run(kTries.size() - 1,
                 [&](std::size_t i) { tries[i + 1] = try_sides(small, picture, kTries[i + 1]); });
  }
  for (Try& one : tries) {
    if (one.sheet.certain) {
      one.sheet.words = words_of(one.sheet);
      return one.sheet;
    }
    if (one.maybe_printed) {
      whole.border = true;
      whole.words =
          "nothing was cut off: there is a border, but it may be printed on the sheet; --crop leaves it out";
      return whole;
    }
  }
  return whole;
}

}  // namespace kithue
