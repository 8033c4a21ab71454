// SPDX-License-Identifier: MIT
#include "sheet/kit_sheet.h"

#include <algorithm>
#include <utility>

#include "sheet/composer.h"

namespace kithue {
namespace {

constexpr double kColumnGap = 8.0;
constexpr double kPictureGap = 4.0;
constexpr double kRowGap = 6.0;
constexpr const char* kKitSheetKind = "Kit sheet";

/// How the pieces of each card lie.
using Arranged = std::vector<std::vector<LaidPiece>>;

class KitSheetLayout {
 public:
  KitSheetLayout(const KitSheet& sheet, const Arranged& placed, PageSize size, double scale, bool large)
      : sheet_(sheet),
        placed_(placed),
        on_(size, sheet.name + " - kit sheet", large ? scale : 1.0),
        large_(large) {
    on_.type_scale = scale;
    on_.note = sheet.printer_note;
    columns_ = large ? 1 : 2;
    column_ = (on_.width() - kColumnGap * (columns_ - 1)) / columns_;
    set_picture_scale();
  }

  Document lay_out();

 private:
  [[nodiscard]] double sized(double size) const { return on_.sized(size); }
  void set_picture_scale();
  std::vector<Panel> entries(const Card& card, double x, double width);
  std::vector<Panel> card_panels(std::size_t card, double x);
  double put_piece(Panel& panel, const CardPiece& piece, double x, double y, double width);
  double put_stamp(Panel& panel, const Card& card, const CardStamp& stamp, double x, double y, double width);
  std::vector<Panel> cards_rows(std::size_t begin, std::size_t end);
  Panel ink_panel(const KitInk& ink, double x, double width);
  Panel inks_row(std::size_t begin, std::size_t end);
  void put(Panel panel, double gap);

  const KitSheet& sheet_;
  const Arranged& placed_;
  Composer on_;
  bool large_;
  int columns_ = 2;
  double column_ = 0.0;
  double picture_width_ = 0.0;  ///< room for a card's picture
  double picture_scale_ = 1.0;  ///< drawn mm per real mm, the same for all cards
  double y_ = 0.0;
  bool page_is_empty_ = true;
};

/// One scale for all cards, so that a small card looks small.
void KitSheetLayout::set_picture_scale() {
  const double shrink = large_ ? 1.0 : on_.type_scale;
  picture_width_ = (large_ ? 62.0 : 36.0) * shrink;
  const double height = (large_ ? 80.0 : 50.0) * shrink;
  picture_scale_ = 1e9;
  for (const auto& card : placed_) {
    for (const LaidPiece& placed : card)
      picture_scale_ =
          std::min({picture_scale_, picture_width_ / placed.at.right, height / placed.at.bottom});
  }
}

void KitSheetLayout::put(Panel panel, double gap) {
  if (!page_is_empty_) y_ += gap;
  if (!page_is_empty_ && y_ + panel.height > on_.bottom - 1.5) {
    on_.new_page();
    y_ = on_.running_head(sheet_.name, kKitSheetKind);
  }
  y_ = on_.put(std::move(panel), y_);
  page_is_empty_ = false;
}

/// A small patch, then "mat: Mooring Blue, 4 x 5 1/4 in"; returns where it ends.
double KitSheetLayout::put_piece(Panel& panel, const CardPiece& piece, double x, double y, double width) {
  const double patch = sized(type::kName);
  Block& shape = panel.block(BlockRole::ornament);
  if (piece.stripes.empty())
    draw_patch(shape, piece.lab, x, y + 0.1 * patch, patch, patch);
  else
    draw_stripes(shape, piece.stripes, x, y + 0.1 * patch, patch, patch);
  const double words_at = x + patch + 1.6;
  const double room = x + width - words_at;
  std::string head = piece.name + ": " + piece.of;
  if (piece.count > 1) head = std::to_string(piece.count) + " x " + head;
  const double end = on_.text(
      panel.block(BlockRole::paragraph),
      fit_text(on_.shaper, head, room, {TextFace::regular, sized(type::kName), sized(type::kSmall), 3}),
      words_at, y, room, type::kBlack);
  std::string detail = piece.size + (piece.folded ? ", folded" : "");
  if (!piece.batch.empty()) detail += ", batch " + piece.batch;
  return on_.text(panel.block(BlockRole::paragraph),
                  fit_text(on_.shaper, detail, room,
                           {TextFace::regular, sized(type::kSmall), sized(type::kTiny), 2}),
                  words_at, end, room, type::kSoft) +
         0.8;
}

/// The print as it comes out, then what is stamped where; returns where it ends.
double KitSheetLayout::put_stamp(Panel& panel, const Card& card, const CardStamp& stamp, double x, double y,
                                 double width) {
  const double sample_width = std::min(sized(42 * type::kPoint), width * 0.34);
  const double sample_height = sized(21 * type::kPoint);
  draw_print(panel.block(BlockRole::ornament), card, stamp,
             {x, y + 0.3, x + sample_width, y + 0.3 + sample_height}, on_.shaper);
  const double words_at = x + sample_width + 1.8;
  const double room = x + width - words_at;
  const std::string method = stamp.method.empty() ? "" : " (" + stamp.method + ")";
  std::string head = stamp.ink + method + " on the " + card.pieces[stamp.on].name;
  const double end = on_.text(
      panel.block(BlockRole::paragraph),
      fit_text(on_.shaper, head, room, {TextFace::regular, sized(type::kName), sized(type::kSmall), 3}),
      words_at, y, room, type::kBlack);
  std::string detail = stamp.words.empty() ? "the picture" : "\xE2\x80\x9C" + stamp.words + "\xE2\x80\x9D";
  if (!stamp.manner.empty()) detail += ", " + stamp.manner;
  const double last = on_.text(
      panel.block(BlockRole::paragraph),
      fit_text(on_.shaper, detail, room, {TextFace::regular, sized(type::kSmall), sized(type::kTiny), 2}),
      words_at, end, room, type::kSoft);
  return std::max(last, y + 0.6 + sample_height) + 0.9;
}

std::vector<Panel> KitSheetLayout::entries(const Card& card, double x, double width) {
  std::vector<Panel> list;
  for (const CardPiece& piece : card.pieces) {
    list.emplace_back();
    list.back().height = put_piece(list.back(), piece, x, 0.0, width);
  }
  for (const CardStamp& stamp : card.stamps) {
    list.emplace_back();
    const double gap = &stamp == card.stamps.data() ? 0.6 : 0.0;
    list.back().height = put_stamp(list.back(), card, stamp, x, gap, width);
  }
  return list;
}

/// The card with its picture; what is too long for a page goes on in further panels.
std::vector<Panel> KitSheetLayout::card_panels(std::size_t index, double x) {
  const Card& card = sheet_.cards[index];
  const std::vector<LaidPiece>& pieces = placed_[index];
  const double most = on_.bottom - on_.top - 30.0;
  const TextStyle style{TextFace::bold, sized(12 * type::kPoint), sized(type::kSmall), 2};
  std::string name = card.name;
  if (card.count > 1) name += "  \xC2\xB7  " + std::to_string(card.count) + " of them";
  std::vector<Panel> all(1);
  const double top = on_.text(all[0].block(BlockRole::heading), fit_text(on_.shaper, name, column_, style), x,
                              0.0, column_, type::kBlack) +
                     1.0;
  double drawn_height = 0.0;
  for (const LaidPiece& placed : pieces)
    drawn_height = std::max(drawn_height, placed.at.bottom * picture_scale_);
  Block& figure = all[0].block(BlockRole::figure, "The card " + card.name + ", drawn flat in its colours");
  draw_card(figure, card, pieces, x, top, picture_scale_, on_.shaper, sheet_.pictures, on_.document);
  all[0].height = top + drawn_height;
  double y = top - 0.4;
  for (Panel& entry :
       entries(card, x + picture_width_ + kPictureGap, column_ - picture_width_ - kPictureGap)) {
    if (y + entry.height > most) {
      all.emplace_back();
      const std::string again = card.name + ", continued";
      y = on_.text(all.back().block(BlockRole::ornament), fit_text(on_.shaper, again, column_, style), x, 0.0,
                   column_, type::kSoft) +
          0.6;
    }
    const double height = entry.height;
    append(all.back(), std::move(entry), y);
    y += height;
  }
  return all;
}

/// Cards side by side: their first panels, then what goes on.
std::vector<Panel> KitSheetLayout::cards_rows(std::size_t begin, std::size_t end) {
  std::vector<Panel> rows;
  for (std::size_t i = begin; i < end; ++i) {
    const double x = on_.left + (column_ + kColumnGap) * static_cast<double>(i - begin);
    std::vector<Panel> own = card_panels(i, x);
    if (rows.size() < own.size()) rows.resize(own.size());
    for (std::size_t k = 0; k < own.size(); ++k) append(rows[k], std::move(own[k]), 0.0);
  }
  return rows;
}

Panel KitSheetLayout::ink_panel(const KitInk& ink, double x, double width) {
  Panel panel;
  const double dot = sized(20 * type::kPoint);
  draw_dot(panel.block(BlockRole::ornament), ink.dot.lab, x, 0.2, dot);
  const double words_at = x + dot + 2.0;
  const double room = width - dot - 2.0;
  std::string head = ink.dot.name + (ink.dot.detail.empty() ? "" : " (" + ink.dot.detail + ")");
  if (!ink.batch.empty()) head += ", batch " + ink.batch;
  const double middle = on_.text(
      panel.block(BlockRole::paragraph),
      fit_text(on_.shaper, head, room, {TextFace::regular, sized(type::kName), sized(type::kSmall), 2}),
      words_at, 0.0, room, type::kBlack);
  const std::string instead = ink.stand_in.empty() ? "No good stand-in: ask before you use another."
                                                   : "If you lack it: " + ink.stand_in;
  const double end = on_.text(
      panel.block(BlockRole::paragraph),
      fit_text(on_.shaper, instead, room, {TextFace::regular, sized(type::kSmall), sized(type::kTiny), 3}),
      words_at, middle, room, type::kSoft);
  panel.height = std::max(end, dot + 0.4);
  return panel;
}

Panel KitSheetLayout::inks_row(std::size_t begin, std::size_t end) {
  Panel row;
  double top = 0.0;
  if (begin == 0) {
    top = on_.line(row.block(BlockRole::heading), "Inks", on_.left, 0.0, on_.width(),
                   sized(12 * type::kPoint), type::kBlack, Align::left, TextFace::bold) +
          1.2;
  }
  for (std::size_t i = begin; i < end; ++i) {
    const double x = on_.left + (column_ + kColumnGap) * static_cast<double>(i - begin);
    append(row, ink_panel(sheet_.inks[i], x, column_), top);
  }
  return row;
}

Document KitSheetLayout::lay_out() {
  on_.new_page();
  y_ = on_.top - 2.0;
  const std::string under =
      sheet_.date.empty() ? kKitSheetKind : std::string(kKitSheetKind) + "  \xC2\xB7  " + sheet_.date;
  put(on_.title_panel(sheet_.name, under), 0.0);
  const auto across = static_cast<std::size_t>(columns_);
  const double gap = kRowGap * (large_ ? 1.2 : on_.type_scale);
  for (std::size_t i = 0; i < sheet_.cards.size(); i += across) {
    for (Panel& row : cards_rows(i, std::min(sheet_.cards.size(), i + across)))
      put(std::move(row), i == 0 ? gap * 0.8 : gap);
  }
  for (std::size_t i = 0; i < sheet_.inks.size(); i += across)
    put(inks_row(i, std::min(sheet_.inks.size(), i + across)), i == 0 ? gap : 2.2 * on_.type_scale);
  on_.add_footers();
  return std::move(on_.document);
}

}  // namespace

Document lay_out_kit_sheet(const KitSheet& sheet, PageSize size, bool large) {
  Arranged placed;
  for (const Card& card : sheet.cards) placed.push_back(arranged(card));
  const auto at = [&](double scale) { return KitSheetLayout(sheet, placed, size, scale, large).lay_out(); };
  if (large) return at(kLargePrint);
  Document document = at(1.0);
  if (document.pages.size() == 1) {
    Document larger = at(1.15);
    return larger.pages.size() == 1 ? larger : document;
  }
  Document smallest = at(0.7);
  if (smallest.pages.size() > 1) return smallest;
  for (const double scale : {0.92, 0.85, 0.78}) {
    document = at(scale);
    if (document.pages.size() == 1) return document;
  }
  return smallest;
}

}  // namespace kithue
