// SPDX-License-Identifier: MIT
#include "sheet/card_picture.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

#include "sheet/composer.h"
#include "sheet/paragraph.h"

namespace kithue {
namespace {

constexpr int kMostDrawn = 6;
constexpr double kTouch = 0.05;      // mm: pieces of one size lie on each other
constexpr double kLeastPrint = 1.9;  // mm of height on the page under which words are not drawn

double width_of(const Bounds& box) {
  return box.right - box.left;
}
double height_of(const Bounds& box) {
  return box.bottom - box.top;
}
double common_area(const Bounds& a, const Bounds& b) {
  const double width = std::min(a.right, b.right) - std::max(a.left, b.left);
  const double height = std::min(a.bottom, b.bottom) - std::max(a.top, b.top);
  return width > 0 && height > 0 ? width * height : 0.0;
}

bool touch(const Card& card, std::size_t a, std::size_t b) {
  const auto says = [&](std::size_t x, std::size_t y) {
    const auto& list = card.pieces[x].touches;
    return std::find(list.begin(), list.end(), y) != list.end();
  };
  return says(a, b) || says(b, a);
}

/// Puts pieces down one by one, making room for those that `before` had laid later.
class Arrangement {
 public:
  Arrangement(const Card& card, const std::vector<LaidPiece>& before) : card_(card), before_(before) {}

  std::vector<LaidPiece> run() {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < card_.pieces.size(); ++i) order.push_back(i);
    const auto area = [&](std::size_t i) { return card_.pieces[i].width_mm * card_.pieces[i].height_mm; };
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return area(a) > area(b); });
    for (const std::size_t piece : order) put(piece);
    return std::move(placed_);
  }

 private:
  /// The smallest piece below that this one touches and fits on; else the first of all.
  [[nodiscard]] const LaidPiece& support(std::size_t piece) const {
    const CardPiece& own = card_.pieces[piece];
    const LaidPiece* best = &placed_.front();
    double least = 1e300;
    for (const LaidPiece& below : placed_) {
      const double area = width_of(below.at) * height_of(below.at);
      const bool fits =
          own.width_mm <= width_of(below.at) + kTouch && own.height_mm <= height_of(below.at) + kTouch;
      if (!touch(card_, piece, below.piece) || !fits || area >= least) continue;
      best = &below;
      least = area;
    }
    return *best;
  }

  void put(std::size_t piece) {
    const CardPiece& own = card_.pieces[piece];
    const int copies = std::clamp(own.count, 1, kMostDrawn);
    if (placed_.empty()) {
      // Further copies of the lowest piece lie exactly under it.
      placed_.push_back({piece, {0.0, 0.0, own.width_mm, own.height_mm}});
      return;
    }
    const LaidPiece on = support(piece);
    const double pitch =
        std::min(own.width_mm * 1.15, (width_of(on.at) - own.width_mm) / std::max(1, copies - 1));
    const bool several = copies > 1 && pitch > 0.2 * own.width_mm;
    const double run = several ? pitch * (copies - 1) : 0.0;
    const Bounds place = best_place(piece, on, own.width_mm + run, own.height_mm);
    for (int i = 0; i < (several ? copies : 1); ++i) {
      const double left = place.left + pitch * i;
      placed_.push_back({piece, {left, place.top, left + own.width_mm, place.top + own.height_mm}});
    }
  }

  /// Of a grid of places on the support, the one that hides least of what the piece does not touch, then the
  /// nearest to the middle.
  [[nodiscard]] Bounds best_place(std::size_t piece, const LaidPiece& on, double width, double height) const {
    constexpr int kSteps = 8;
    const double spare_x = width_of(on.at) - width;
    const double spare_y = height_of(on.at) - height;
    const std::vector<Bounds> others = obstacles(piece, on);
    Bounds best;
    double least = 1e300;
    for (int row = 0; row <= kSteps; ++row) {
      for (int column = 0; column <= kSteps; ++column) {
        // Never flush with an edge: a margin is what makes a mat.
        const double right = (0.06 + 0.88 * column / kSteps) * spare_x;
        const double down = (0.06 + 0.88 * row / kSteps) * spare_y;
        const Bounds at{on.at.left + right, on.at.top + down, on.at.left + right + width,
                        on.at.top + down + height};
        const double off = std::hypot(right - spare_x / 2, down - spare_y / 2);
        double cost = off;
        for (const Bounds& other : others) cost += 1000.0 * common_area(other, at);
        if (cost < least - 1e-9) {
          least = cost;
          best = at;
        }
      }
    }
    return best;
  }

  /// What lies there already, that the piece does not touch and its support does not hide anyway.
  [[nodiscard]] std::vector<Bounds> obstacles(std::size_t piece, const LaidPiece& on) const {
    std::vector<Bounds> list;
    for (const LaidPiece& below : placed_) {
      if (below.piece == on.piece || touch(card_, piece, below.piece)) continue;
      if (common_area(below.at, on.at) >= 0.98 * width_of(on.at) * height_of(on.at)) continue;
      list.push_back(below.at);
    }
    for (const LaidPiece& later : before_) {
      const bool is_laid =
          later.piece == piece || std::any_of(placed_.begin(), placed_.end(),
                                              [&](const LaidPiece& one) { return one.piece == later.piece; });
      if (!is_laid && !touch(card_, piece, later.piece) && &support(later.piece) == &support(piece))
        list.push_back(later.at);
    }
    return list;
  }

  const Card& card_;
  const std::vector<LaidPiece>& before_;
  std::vector<LaidPiece> placed_;
};

Bounds drawn(const Bounds& real, double x, double y, double scale) {
  return {x + real.left * scale, y + real.top * scale, x + real.right * scale, y + real.bottom * scale};
}

/// A flower of six petals: what stands for a stamped picture.
void draw_flower(Block& into, const Bounds& box, const Lab& lab) {
  const double reach = std::min(width_of(box), height_of(box)) / 2 * 0.82;
  const double petal = reach * 0.36;
  const double x = (box.left + box.right) / 2;
  const double y = (box.top + box.bottom) / 2;
  constexpr int kPetals = 6;
  for (int i = 0; i < kPetals; ++i) {
    const double angle = 2.0 * std::numbers::pi * i / kPetals - std::numbers::pi / 2;
    into.items.emplace_back(CircleItem{x + (reach - petal) * std::cos(angle),
                                       y + (reach - petal) * std::sin(angle),
                                       petal * 0.8,
                                       {},
                                       {lab_ink(lab), petal * 0.32, 0.0}});
  }
  into.items.emplace_back(CircleItem{x, y, petal * 0.5, lab_ink(lab), {}});
}

/// In one line, or in two where the box is high enough for them.
void draw_words(Block& into, const CardStamp& stamp, const Bounds& box, TextShaper& shaper) {
  const double inset = std::min(0.6, 0.06 * width_of(box));
  const double room = width_of(box) - 2 * inset;
  const double most = std::min(height_of(box) * 0.62, 4.2);
  Paragraph fitted = fit_text(shaper, stamp.words, room, {TextFace::regular, most, most * 0.35, 1});
  const double half = height_of(box) / (2 * type::kLeading) * 0.92;
  const Paragraph two =
      fit_text(shaper, stamp.words, room, {TextFace::regular, std::min(most, half), half * 0.5, 2});
  if (fitted.cut || two.size_mm > fitted.size_mm * 1.15) fitted = two;
  const double size = fitted.size_mm;
  const double all = Composer::height_of(fitted);
  double top = (box.top + box.bottom - all) / 2;
  for (const ShapedText& line : fitted.lines) {
    const double x = box.left + inset + (room - line.width * size) / 2;
    into.items.emplace_back(TextItem{x, top + 0.96 * size, size, line, lab_ink(*stamp.lab), true});
    top += size * type::kLeading;
  }
}

void draw_stamp(Block& into, const CardStamp& stamp, const Bounds& box, TextShaper& shaper) {
  if (!stamp.lab) return;
  if (stamp.words.empty())
    draw_flower(into, box, *stamp.lab);
  else
    draw_words(into, stamp, box, shaper);
}

void draw_piece(Block& into, const CardPiece& piece, const Bounds& box,
                const std::vector<SheetPicture>& pictures, Document& document) {
  const double width = width_of(box);
  const double height = height_of(box);
  if (piece.picture) {
    into.items.emplace_back(PictureItem{box.left, box.top, width, height, document.pictures.size()});
    document.pictures.push_back(cropped(pictures[*piece.picture], width / height));
  } else if (!piece.stripes.empty()) {
    draw_stripes(into, piece.stripes, box.left, box.top, width, height);
  } else if (piece.lab) {
    into.items.emplace_back(BoxItem{box.left, box.top, width, height, lab_ink(*piece.lab), {}});
  } else {
    into.items.emplace_back(BoxItem{box.left, box.top, width, height, grey_ink(1.0), {}});
  }
  // An edge round every layer: two that are alike in grey still show as two.
  into.items.emplace_back(
      BoxItem{box.left, box.top, width, height, {}, {grey_ink(type::kSoft), type::kHairline, 0.0}});
}

}  // namespace

std::vector<LaidPiece> arranged(const Card& card) {
  std::vector<LaidPiece> placed = Arrangement(card, {}).run();
  constexpr int kRounds = 2;  // after these, pieces that can lie beside each other do
  for (int i = 0; i < kRounds; ++i) placed = Arrangement(card, placed).run();
  // A long piece may reach beyond the one it lies on.
  double left = 0.0;
  double top = 0.0;
  for (const LaidPiece& one : placed) {
    left = std::min(left, one.at.left);
    top = std::min(top, one.at.top);
  }
  for (LaidPiece& one : placed)
    one.at = {one.at.left - left, one.at.top - top, one.at.right - left, one.at.bottom - top};
  return placed;
}

std::optional<Bounds> free_part(const std::vector<LaidPiece>& placed, std::size_t index,
                                const std::vector<Bounds>& taken) {
  const Bounds& own = placed[index].at;
  std::vector<Bounds> covers = taken;
  for (std::size_t i = index + 1; i < placed.size(); ++i) covers.push_back(placed[i].at);
  std::erase_if(covers, [&](const Bounds& cover) { return common_area(cover, own) <= 0.0; });
  std::set<double> xs{own.left, own.right};
  std::set<double> ys{own.top, own.bottom};
  // With more than these a card is so full that the best room no longer matters.
  constexpr std::size_t kMostEdges = 10;
  for (std::size_t i = 0; i < std::min(covers.size(), kMostEdges); ++i) {
    const Bounds& cover = covers[i];
    for (const double x : {cover.left, cover.right}) xs.insert(std::clamp(x, own.left, own.right));
    for (const double y : {cover.top, cover.bottom}) ys.insert(std::clamp(y, own.top, own.bottom));
  }
  std::optional<Bounds> best;
  double most = 0.0;
  for (auto left = xs.begin(); left != xs.end(); ++left) {
    for (auto right = std::next(left); right != xs.end(); ++right) {
      for (auto top = ys.begin(); top != ys.end(); ++top) {
        for (auto bottom = std::next(top); bottom != ys.end(); ++bottom) {
          const Bounds box{*left, *top, *right, *bottom};
          // Words are wide and low: height counts up to a third of the width.
          const double worth = width_of(box) * std::min(height_of(box), width_of(box) / 3);
          if (worth <= most) continue;
          const bool is_free = std::none_of(covers.begin(), covers.end(), [&](const Bounds& cover) {
            return common_area(cover, box) > 1e-6;
          });
          if (!is_free) continue;
          most = worth;
          best = box;
        }
      }
    }
  }
  return best;
}

void draw_card(Block& into, const Card& card, const std::vector<LaidPiece>& placed, double x, double y,
               double scale, TextShaper& shaper, const std::vector<SheetPicture>& pictures,
               Document& document) {
  std::vector<Bounds> taken;
  std::vector<bool> done(card.stamps.size(), false);
  for (std::size_t i = 0; i < placed.size(); ++i) {
    draw_piece(into, card.pieces[placed[i].piece], drawn(placed[i].at, x, y, scale), pictures, document);
    for (std::size_t s = 0; s < card.stamps.size(); ++s) {
      if (done[s] || card.stamps[s].on != placed[i].piece) continue;
      done[s] = true;
      auto room = free_part(placed, i, taken);
      if (!room) continue;
      // A stamp takes the middle of its room, so that another finds the rest.
      constexpr double kTallest = 16.0;  // mm on the real card
      if (height_of(*room) > kTallest * 2) {
        const double middle = (room->top + room->bottom) / 2;
        room->top = middle - kTallest / 2;
        room->bottom = middle + kTallest / 2;
      }
      const Bounds box = drawn(*room, x, y, scale);
      if (height_of(box) * 0.62 < kLeastPrint || width_of(box) < 4 * kLeastPrint) continue;
      taken.push_back(*room);
      draw_stamp(into, card.stamps[s], box, shaper);
    }
  }
}

void draw_print(Block& into, const Card& card, const CardStamp& stamp, const Bounds& box,
                TextShaper& shaper) {
  const CardPiece& piece = card.pieces[stamp.on];
  draw_patch(into, piece.lab, box.left, box.top, width_of(box), height_of(box));
  draw_stamp(into, stamp, box, shaper);
}

}  // namespace kithue
