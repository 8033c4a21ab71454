// SPDX-License-Identifier: MIT
#include "sheet/colour_map.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "sheet/composer.h"

namespace kithue {
namespace {

constexpr double kPlane = 132.0;     // mm, side of the a* b* square
constexpr double kLadderGap = 15.0;  // from the square to the ladder
constexpr double kRing = 2.1;        // radius of a chosen swatch
constexpr double kHalo = 0.46;       // white around it
constexpr double kMapNumber = 7 * type::kPoint;
constexpr const char* kColourMapKind = "Colour map";

class MapLayout {
 public:
  MapLayout(const ColourMap& map, PageSize size) : map_(map), on_(size, map.name + " - colour map") {
    on_.note = map.printer_note;
    double most = 50.0;
    const auto widen = [&](const Lab& lab) { most = std::max({most, std::abs(lab.a), std::abs(lab.b)}); };
    for (const MapColour& one : map.pack) widen(one.lab);
    for (const SheetDot& one : map.swatches) {
      if (one.lab) widen(*one.lab);
    }
    reach_ = std::ceil(std::min(most, 160.0) / 20.0 + 0.15) * 20.0;
  }

  Document lay_out();

 private:
  struct Mark {
    double x = 0.0;
    double y = 0.0;
    double radius = 0.0;
  };
  void draw_plane(double top);
  void draw_grid(Block& into, double top);
  void put_words_around(double top);
  void draw_ladder(double top);
  void put_numbers(Block& into, const std::vector<std::pair<std::size_t, Mark>>& marks, const Bounds& within);
  bool is_free(const Bounds& box, const Bounds& within) const;
  void put_list(double top);
  [[nodiscard]] double plane_x(double a) const { return centre_x_ + a / reach_ * kPlane / 2; }
  [[nodiscard]] double plane_y(double b) const { return centre_y_ - b / reach_ * kPlane / 2; }

  const ColourMap& map_;
  Composer on_;
  double reach_ = 60.0;  ///< largest |a*| or |b*| on the map
  double centre_x_ = 0.0;
  double centre_y_ = 0.0;
  std::vector<Bounds> taken_;  ///< by marks and words
};

Bounds around(double x, double y, double radius) {
  return {x - radius, y - radius, x + radius, y + radius};
}

bool MapLayout::is_free(const Bounds& box, const Bounds& within) const {
  if (box.left < within.left || box.right > within.right || box.top < within.top ||
      box.bottom > within.bottom)
    return false;
  return std::none_of(taken_.begin(), taken_.end(), [&](const Bounds& other) { return overlap(box, other); });
}

/// Each number as near to its mark as there is room, on a line when that is not beside it.
void MapLayout::put_numbers(Block& into, const std::vector<std::pair<std::size_t, Mark>>& marks,
                            const Bounds& within) {
  for (const auto& [number, mark] : marks) {
    const ShapedText words = on_.shaper.shape(std::to_string(number), TextFace::bold);
    const double width = words.width * kMapNumber;
    const double height = 1.23 * kMapNumber;
    constexpr int kDirections = 16;
    bool placed = false;
    for (double away = mark.radius + 0.3; away < 60.0 && !placed; away += 0.8) {
      for (int i = 0; i < kDirections && !placed; ++i) {
        const double angle = 2 * std::numbers::pi * i / kDirections - std::numbers::pi / 4;
        const double reach_x = away + width / 2;
        const double reach_y = away + height / 2;
        const double x = mark.x + reach_x * std::cos(angle);
        const double y = mark.y + reach_y * std::sin(angle);
        const Bounds box{x - width / 2, y - height / 2, x + width / 2, y + height / 2};
        if (!is_free(box, within)) continue;
        placed = true;
        taken_.push_back(box);
        if (away > mark.radius + 1.5) {
          const double from = mark.radius + 0.1;
          const double to = std::hypot(x - mark.x, y - mark.y) - std::max(width, height) / 2 - 0.2;
          const double dx = std::cos(std::atan2(y - mark.y, x - mark.x));
          const double dy = std::sin(std::atan2(y - mark.y, x - mark.x));
          if (to > from)
            into.items.emplace_back(LineItem{mark.x + dx * from,
                                             mark.y + dy * from,
                                             mark.x + dx * to,
                                             mark.y + dy * to,
                                             {grey_ink(type::kSoft), 0.12, 0.0}});
        }
        into.items.emplace_back(
            TextItem{box.left, box.top + 0.95 * kMapNumber, kMapNumber, words, grey_ink(type::kBlack), true});
      }
    }
  }
}

void MapLayout::draw_grid(Block& into, double top) {
  const double left = centre_x_ - kPlane / 2;
  draw_frame(into, left, top, kPlane, kPlane);
  const Stroke line{grey_ink(0.86), type::kHairline, 0.0};
  const Stroke axis{grey_ink(type::kFaint), type::kHairline, 0.0};
  for (double chroma = 20.0; chroma < reach_; chroma += 20.0)
    into.items.emplace_back(CircleItem{centre_x_, centre_y_, chroma / reach_ * kPlane / 2, {}, line});
  into.items.emplace_back(LineItem{left, centre_y_, left + kPlane, centre_y_, axis});
  into.items.emplace_back(LineItem{centre_x_, top, centre_x_, top + kPlane, axis});
}

void MapLayout::put_words_around(double top) {
  const double left = centre_x_ - kPlane / 2;
  // Outside the frame, where no colour can cover them.
  const auto word = [&](const char* words, double x, double y, Align align) {
    on_.line(on_.block(BlockRole::ornament), words, x, y, 22.0, type::kSmall, type::kSoft, align);
  };
  word("yellower", centre_x_ - 11.0, top - 4.6, Align::centre);
  const double below = top + kPlane + 1.4;
  word("greener", left, below, Align::left);
  word("bluer", centre_x_ - 11.0, below, Align::centre);
  word("redder", left + kPlane - 22.0, below, Align::right);
}

void MapLayout::draw_plane(double top) {
  centre_x_ = on_.left + kPlane / 2;
  centre_y_ = top + kPlane / 2;
  taken_.clear();
  Block& figure = on_.block(BlockRole::figure,
                            "Map of the colours of the pack and of the chosen swatches: redder to the right, "
                            "yellower upwards, greyer towards the middle");
  draw_grid(figure, top);
  const auto inside = [&](double v) { return std::clamp(v, -reach_, reach_); };
  for (const MapColour& one : map_.pack) {
    const double radius = 1.0 + 2.4 * std::sqrt(std::clamp(one.share, 0.0, 1.0));
    const double x = plane_x(inside(one.lab.a));
    const double y = plane_y(inside(one.lab.b));
    const Stroke edge =
        one.lab.L >= kPaleLightness ? Stroke{grey_ink(type::kFaint), type::kHairline, 0.0} : Stroke{};
    figure.items.emplace_back(CircleItem{x, y, radius, lab_ink(one.lab), edge});
    taken_.push_back(around(x, y, radius + type::kHairline));
  }
  std::vector<std::pair<std::size_t, Mark>> marks;
  for (std::size_t i = 0; i < map_.swatches.size(); ++i) {
    const auto& lab = map_.swatches[i].lab;
    if (!lab) continue;
    const double x = plane_x(inside(lab->a));
    const double y = plane_y(inside(lab->b));
    figure.items.emplace_back(CircleItem{x, y, kRing, lab_ink(*lab), {grey_ink(1.0), 2 * kHalo - 0.02, 0.0}});
    figure.items.emplace_back(CircleItem{x, y, kRing, {}, {grey_ink(type::kBlack), 0.3, 0.0}});
    taken_.push_back(around(x, y, kRing + kHalo));
    marks.emplace_back(i + 1, Mark{x, y, kRing + kHalo});
  }
  const double left = centre_x_ - kPlane / 2;
  put_numbers(figure, marks, {left + 0.4, top + 0.4, left + kPlane - 0.4, top + kPlane - 0.4});
  put_words_around(top);
}

void MapLayout::draw_ladder(double top) {
  const double x = on_.left + kPlane + kLadderGap;
  const auto level = [&](double lightness) {
    return top + kPlane * (1.0 - std::clamp(lightness, 0.0, 100.0) / 100.0);
  };
  taken_.clear();
  Block& figure = on_.block(BlockRole::figure, "Ladder of lightness: white at the top, black at the bottom");
  figure.items.emplace_back(
      LineItem{x, top, x, top + kPlane, {grey_ink(type::kFaint), type::kHairline, 0.0}});
  for (int step = 0; step <= 10; ++step) {
    const double y = level(10.0 * step);
    figure.items.emplace_back(
        LineItem{x - (step % 5 == 0 ? 1.4 : 0.8), y, x, y, {grey_ink(type::kFaint), type::kHairline, 0.0}});
  }
  constexpr double kAcross = 22.0;  // mm to the right of the ladder
  for (const MapColour& one : map_.pack) {
    const Stroke edge =
        one.lab.L >= kPaleLightness ? Stroke{grey_ink(type::kFaint), type::kHairline, 0.0} : Stroke{};
    figure.items.emplace_back(BoxItem{x + 1.0, level(one.lab.L) - 0.5, 5.0, 1.0, lab_ink(one.lab), edge});
    taken_.push_back(bounds_of(figure.items.back()));
  }
  std::vector<std::pair<std::size_t, Mark>> marks;
  for (std::size_t i = 0; i < map_.swatches.size(); ++i) {
    const auto& lab = map_.swatches[i].lab;
    if (!lab) continue;
    Mark mark{x + 8.4, level(lab->L), 1.5};
    // Marks of one lightness stand side by side.
    while (mark.x < x + kAcross - 6.0 && std::any_of(marks.begin(), marks.end(), [&](const auto& other) {
             return std::hypot(other.second.x - mark.x, other.second.y - mark.y) < 3.1;
           }))
      mark.x += 3.3;
    figure.items.emplace_back(
        CircleItem{mark.x, mark.y, mark.radius, lab_ink(*lab), {grey_ink(type::kBlack), 0.25, 0.0}});
    taken_.push_back(around(mark.x, mark.y, mark.radius + 0.2));
    marks.emplace_back(i + 1, mark);
  }
  put_numbers(figure, marks, {x + 0.5, top - 2.5, on_.right, top + kPlane + 2.5});
  Block& words = on_.block(BlockRole::ornament);
  on_.line(words, "lighter", x - 8.0, top - 4.6, 16.0, type::kSmall, type::kSoft, Align::left);
  on_.line(words, "darker", x - 8.0, top + kPlane + 1.4, 16.0, type::kSmall, type::kSoft, Align::left);
}

/// The numbers with their names, in three columns down the page.
void MapLayout::put_list(double top) {
  constexpr std::size_t kColumns = 3;
  constexpr double kGap = 6.0;
  constexpr double kDot = 4.4;
  constexpr double kNumberWidth = 6.0;
  const double width = (on_.width() - kGap * (kColumns - 1)) / kColumns;
  double y = top;
  for (std::size_t begin = 0; begin < map_.swatches.size(); begin += kColumns) {
    Panel row;
    for (std::size_t i = begin; i < std::min(map_.swatches.size(), begin + kColumns); ++i) {
      const SheetDot& dot = map_.swatches[i];
      const double x = on_.left + (width + kGap) * static_cast<double>(i - begin);
      // The number stands by itself, so that it keeps its place before a name that reads from right to left.
      on_.line(row.block(BlockRole::paragraph), std::to_string(i + 1), x, 0.2, kNumberWidth - 1.0,
               type::kName, type::kBlack, Align::right, TextFace::bold);
      draw_dot(row.block(BlockRole::ornament), dot.lab, x + kNumberWidth, 0.2, kDot);
      std::string words = dot.name;
      if (!dot.detail.empty()) words += " (" + dot.detail + ")";
      if (!dot.lab) words += ": not measured";
      const double words_at = x + kNumberWidth + kDot + 1.8;
      const double room = width - kNumberWidth - kDot - 1.8;
      const double end =
          on_.text(row.block(BlockRole::paragraph),
                   fit_text(on_.shaper, words, room, {TextFace::regular, type::kName, type::kSmall, 2}),
                   words_at, 0.2, room, type::kBlack, Align::left);
      row.height = std::max({row.height, end, kDot + 0.2});
    }
    if (y + row.height > on_.bottom - 1.5) {
      on_.new_page();
      y = on_.running_head(map_.name, kColourMapKind);
    }
    y = on_.put(std::move(row), y) + 1.2;
  }
}

Document MapLayout::lay_out() {
  on_.new_page();
  const std::string under =
      map_.date.empty() ? kColourMapKind : std::string(kColourMapKind) + "  \xC2\xB7  " + map_.date;
  Panel head = on_.title_panel(map_.name, under);
  const double end = on_.lines(head.block(BlockRole::paragraph),
                               "Dots: the colours of the faces, larger where there is more of them. Numbered "
                               "rings: the chosen stocks and inks.",
                               on_.left, head.height, on_.width(), type::kName, type::kSoft);
  head.height = end;
  const double top = on_.put(std::move(head), on_.top - 2.0) + 6.0;
  draw_plane(top);
  draw_ladder(top);
  put_list(top + kPlane + 7.0);
  on_.add_footers();
  return std::move(on_.document);
}

}  // namespace

Document lay_out_colour_map(const ColourMap& map, PageSize size) {
  return MapLayout(map, size).lay_out();
}

}  // namespace kithue
