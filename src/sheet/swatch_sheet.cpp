// SPDX-License-Identifier: MIT
#include "sheet/swatch_sheet.h"

#include <algorithm>
#include <cassert>
#include <utility>

#include "sheet/composer.h"

namespace kithue {
namespace {

constexpr double kPunch = 20.0;  ///< mm across: dots and rings
constexpr double kSnippetHeight = 20.0;
constexpr double kSwatchColumnGap = 8.0;
constexpr double kPairGap = 1.2;    ///< between a dot and its ring
constexpr std::size_t kAcross = 3;  ///< dots side by side
constexpr double kBlockGap = 7.0;
constexpr double kSwatchRowGap = 2.6;
constexpr double kRowHead = 4.4;

/// Up to three dots side by side, measured and ready to draw.
struct Row {
  std::string head;  ///< "Stocks", "Inks", or empty for a further row of the same
  std::vector<const SheetDot*> dots;
  std::vector<Paragraph> names;
  std::vector<Paragraph> details;
  double height = 0.0;
};

class SheetLayout {
 public:
  SheetLayout(const SwatchSheet& sheet, PageSize size)
      : sheet_(sheet), on_(size, sheet.name + " - swatch sheet") {
    on_.document.pictures = sheet.pictures;
    on_.note = sheet.printer_note;
    column_ = on_.left + kFacePictureWidth + kSwatchColumnGap;
    pitch_ = (on_.right - column_) / static_cast<double>(kAcross);
  }

  Document lay_out();

 private:
  void open_page();
  void spread_faces(bool last_page);
  void put_title();
  double put_whole_kit(double x, double y);
  void put_face(const SheetFace& face);
  double put_left_column(const SheetFace& face, const Paragraph& label, double y, double block_end);
  void put_row(const Row& row, double y);
  std::vector<Row> rows_of(const SheetFace& face);
  void add_rows(std::vector<Row>& rows, const std::string& head, const std::vector<SheetDot>& dots);
  std::pair<double, double> picture_extent(const SheetFace& face) const;

  const SwatchSheet& sheet_;
  Composer on_;
  double column_ = 0.0;  ///< left edge of the dots
  double pitch_ = 0.0;   ///< from one pair of dot and ring to the next
  double y_ = 0.0;
  bool page_is_empty_ = true;
  std::vector<std::size_t> face_starts_;  ///< index of each face's first block on this page
  double spread_ = 0.0;                   ///< mm added between the faces of the last full page
};

Document SheetLayout::lay_out() {
  open_page();
  for (const SheetFace& face : sheet_.faces) put_face(face);
  spread_faces(true);
  on_.add_footers();
  return std::move(on_.document);
}

/// Shares what is left of the page's height among the gaps between its faces.
void SheetLayout::spread_faces(bool last_page) {
  constexpr double kMostSpread = 9.0;
  if (face_starts_.size() < 2) return;
  const double spare = on_.bottom - 2.0 - y_;
  const double spread = std::min(kMostSpread, spare / static_cast<double>(face_starts_.size()));
  // The last page keeps the rhythm of the one before it where it can.
  if (!last_page || spread_ == 0.0) spread_ = spread;
  const double step = std::min(spread_, spread);
  std::vector<Block>& blocks = on_.page().blocks;
  for (std::size_t i = 1; i < face_starts_.size(); ++i) {
    const std::size_t end = i + 1 < face_starts_.size() ? face_starts_[i + 1] : blocks.size();
    const double down = step * static_cast<double>(i);
    move_down(blocks[face_starts_[i]], down - step / 2);  // the rule keeps to the middle of the gap
    for (std::size_t k = face_starts_[i] + 1; k < end; ++k) move_down(blocks[k], down);
  }
}

void SheetLayout::open_page() {
  if (!on_.document.pages.empty()) spread_faces(false);
  face_starts_.clear();
  on_.new_page();
  page_is_empty_ = true;
  y_ = on_.top;
  if (on_.document.pages.size() == 1) {
    put_title();
    return;
  }
  y_ = on_.running_head(sheet_.name, "Swatch sheet");
}

/// The kit's name on the left; on the right what every kit holds.
void SheetLayout::put_title() {
  const bool alone = sheet_.base.empty() && sheet_.always.empty();
  const double room = alone ? on_.width() : column_ + pitch_ - kSwatchColumnGap - on_.left;
  const Paragraph title =
      fit_text(on_.shaper, sheet_.name, room, {TextFace::light, type::kTitle, type::kTitle * 0.55, 3});
  double end = on_.text(on_.block(BlockRole::title), title, on_.left, y_ - 2.0, room, type::kBlack);
  const std::string under = sheet_.date.empty() ? "Swatch sheet" : "Swatch sheet  \xC2\xB7  " + sheet_.date;
  end = on_.line(on_.block(BlockRole::paragraph), under, on_.left, end + 0.4, room, type::kName, type::kSoft);
  if (!alone) end = std::max(end, put_whole_kit(column_ + pitch_, y_));
  y_ = end + 5.0;
}

/// The base stocks and the inks of every kit, as small dots in two columns from `x`; returns where they end.
double SheetLayout::put_whole_kit(double x, double y) {
  constexpr double kSmallDot = 8.0;
  constexpr std::size_t kColumns = 2;
  std::vector<std::pair<const SheetDot*, std::string>> all;
  for (const SheetDot& dot : sheet_.base) all.emplace_back(&dot, "base stock");
  for (const SheetDot& dot : sheet_.always)
    all.emplace_back(&dot, dot.detail.empty() ? "in every kit" : dot.detail + ", in every kit");
  for (std::size_t begin = 0; begin < all.size(); begin += kColumns) {
    double end = y + kSmallDot;
    for (std::size_t i = begin; i < std::min(all.size(), begin + kColumns); ++i) {
      const double at = x + pitch_ * static_cast<double>(i - begin);
      draw_dot(on_.block(BlockRole::ornament), all[i].first->lab, at, y, kSmallDot);
      const double words_at = at + kSmallDot + 2.0;
      const double room = std::min(at + pitch_ - 2.0, on_.right) - words_at;
      const Paragraph name =
          fit_text(on_.shaper, all[i].first->name, room, {TextFace::regular, type::kName, type::kSmall, 2});
      Block& words = on_.block(BlockRole::paragraph);
      const double middle = on_.text(words, name, words_at, y + 0.3, room, type::kBlack, Align::left);
      Block& detail = on_.block(BlockRole::paragraph);
      end = std::max(end, on_.line(detail, all[i].second, words_at, middle, room, type::kSmall, type::kSoft));
    }
    y = end + 2.0;
  }
  return y - 2.0;
}

std::pair<double, double> SheetLayout::picture_extent(const SheetFace& face) const {
  if (!face.picture) return {kFacePictureWidth, kFacePictureHeight};
  const SheetPicture& picture = sheet_.pictures[*face.picture];
  const double scale = std::min(kFacePictureWidth / picture.width, kFacePictureHeight / picture.height);
  return {picture.width * scale, picture.height * scale};
}

void SheetLayout::add_rows(std::vector<Row>& rows, const std::string& head,
                           const std::vector<SheetDot>& dots) {
  if (dots.empty()) return;
  const double room = 2 * kPunch + kPairGap;
  for (std::size_t begin = 0; begin < dots.size(); begin += kAcross) {
    Row row;
    if (begin == 0) row.head = head;
    double words = 0.0;
    for (std::size_t i = begin; i < std::min(dots.size(), begin + kAcross); ++i) {
      row.dots.push_back(&dots[i]);
      row.names.push_back(
          fit_text(on_.shaper, dots[i].name, room, {TextFace::regular, type::kName, type::kSmall * 0.95, 2}));
      row.details.push_back(
          fit_text(on_.shaper, dots[i].detail, room, {TextFace::regular, type::kSmall, type::kTiny, 1}));
      words =
          std::max(words, Composer::height_of(row.names.back()) + Composer::height_of(row.details.back()));
    }
    row.height = (row.head.empty() ? 0.0 : kRowHead) + kPunch + 1.0 + words;
    rows.push_back(std::move(row));
  }
}

std::vector<Row> SheetLayout::rows_of(const SheetFace& face) {
  std::vector<Row> rows;
  add_rows(rows, "Stocks", face.stocks);
  add_rows(rows, "Inks", face.inks);
  return rows;
}

void SheetLayout::put_row(const Row& row, double y) {
  if (!row.head.empty()) {
    on_.line(on_.block(BlockRole::paragraph), row.head, column_, y, 60.0, type::kSmall, type::kSoft,
             Align::left, TextFace::bold);
    y += kRowHead;
  }
  for (std::size_t i = 0; i < row.dots.size(); ++i) {
    const double x = column_ + pitch_ * static_cast<double>(i);
    const double ring = x + kPunch + kPairGap;
    Block& shapes = on_.block(BlockRole::ornament);
    draw_dot(shapes, row.dots[i]->lab, x, y, kPunch);
    const double middle = y + kPunch / 2 - 0.6 * type::kTiny;
    if (!row.dots[i]->lab)
      on_.line(shapes, "not measured", x + 2.0, middle, kPunch - 4.0, type::kTiny, type::kSoft, Align::centre,
               TextFace::regular, true);
    shapes.items.emplace_back(CircleItem{
        ring + kPunch / 2, y + kPunch / 2, kPunch / 2 - 0.1, {}, {grey_ink(type::kFaint), 0.2, 0.9}});
    on_.line(shapes, "real chip", ring + 2.0, middle, kPunch - 4.0, type::kTiny, type::kFaint, Align::centre,
             TextFace::regular, true);
    Block& words = on_.block(BlockRole::paragraph);
    const double room = 2 * kPunch + kPairGap;
    const double next = on_.text(words, row.names[i], x, y + kPunch + 1.0, room, type::kBlack);
    const bool leftwards = !row.names[i].lines.empty() && row.names[i].lines.front().right_to_left;
    on_.text(on_.block(BlockRole::paragraph), row.details[i], x, next, room, type::kSoft,
             leftwards ? Align::right : Align::start);
  }
}

double SheetLayout::put_left_column(const SheetFace& face, const Paragraph& label, double y,
                                    double block_end) {
  on_.text(on_.block(BlockRole::heading), label, on_.left, y - 1.0, kFacePictureWidth, type::kBlack);
  y += Composer::height_of(label) + 0.4;
  const auto [width, height] = picture_extent(face);
  if (face.picture) {
    Block& figure = on_.block(BlockRole::figure, "Photo of face " + face.label);
    figure.items.emplace_back(PictureItem{on_.left, y, width, height, *face.picture});
  } else {
    Block& figure = on_.block(BlockRole::figure, "The colours of face " + face.label + " as stripes");
    draw_stripes(figure, face.colours, on_.left, y, width, height);
  }
  draw_frame(on_.block(BlockRole::ornament), on_.left, y, width, height);
  y += height + 3.0;
  const double snippet = std::max(kSnippetHeight, block_end - y);
  Block& cell = on_.block(BlockRole::ornament);
  cell.items.emplace_back(
      BoxItem{on_.left, y, kFacePictureWidth, snippet, {}, {grey_ink(type::kFaint), 0.2, 0.9}});
  on_.line(cell, "snippet of the paper", on_.left + 2.0, y + snippet / 2 - 0.6 * type::kTiny,
           kFacePictureWidth - 4.0, type::kTiny, type::kFaint, Align::centre, TextFace::regular, true);
  return y + snippet;
}

void SheetLayout::put_face(const SheetFace& face) {
  const std::vector<Row> rows = rows_of(face);
  const Paragraph label =
      fit_text(on_.shaper, face.label, kFacePictureWidth, {TextFace::bold, type::kLabel, type::kName, 2});
  const double left_height =
      Composer::height_of(label) + 0.4 + picture_extent(face).second + 3.0 + kSnippetHeight;
  double rows_height = rows.empty() ? 0.0 : -kSwatchRowGap;
  for (const Row& row : rows) rows_height += row.height + kSwatchRowGap;
  const double whole = std::max(left_height, rows_height);
  const double gap = page_is_empty_ ? 0.0 : kBlockGap;
  if (!page_is_empty_ && y_ + gap + whole > on_.bottom - 2.0) {
    open_page();
  } else {
    y_ += gap;
  }
  face_starts_.push_back(on_.page().blocks.size());
  if (!page_is_empty_) {
    on_.block(BlockRole::ornament)
        .items.emplace_back(LineItem{on_.left,
                                     y_ - kBlockGap / 2 - 0.4,
                                     on_.right,
                                     y_ - kBlockGap / 2 - 0.4,
                                     {grey_ink(type::kFaint), type::kHairline, 0.0}});
  }
  page_is_empty_ = false;
  double end = put_left_column(face, label, y_, y_ + std::min(whole, left_height));
  for (const Row& row : rows) {
    if (y_ + row.height > on_.bottom - 2.0) {
      open_page();
      page_is_empty_ = false;
      const Paragraph again = fit_text(on_.shaper, face.label + ", continued", kFacePictureWidth,
                                       {TextFace::bold, type::kName, type::kSmall, 3});
      end = on_.text(on_.block(BlockRole::ornament), again, on_.left, y_, kFacePictureWidth, type::kSoft);
    }
    put_row(row, y_);
    y_ += row.height + kSwatchRowGap;
  }
  if (!rows.empty()) y_ -= kSwatchRowGap;
  if (rows.empty())
    on_.line(on_.block(BlockRole::paragraph), "No stock or ink named or found.", column_, y_,
             on_.right - column_, type::kName, type::kSoft);
  y_ = std::max(y_, end);
}

}  // namespace

Document lay_out_swatch_sheet(const SwatchSheet& sheet, PageSize size) {
  return SheetLayout(sheet, size).lay_out();
}

}  // namespace kithue
