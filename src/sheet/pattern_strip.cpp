// SPDX-License-Identifier: MIT
#include "sheet/pattern_strip.h"

#include <algorithm>
#include <utility>

#include "sheet/composer.h"

namespace kithue {
namespace {

constexpr double kStripColumnGap = 6.0;
constexpr double kCellGap = 3.0;
constexpr double kStripRowGap = 2.6;
constexpr double kStripDot = 4.6;
constexpr double kDotGap = 1.8;
constexpr double kSolidGap = 3.0;
constexpr double kLeastSolidGap = 1.2;
constexpr double kWidestPair = 55.0;      // a wider snippet leaves its partner no room beside it
constexpr double kCutGap = 9.0;           // between strips that are cut apart
constexpr std::size_t kNamesAtOnce = 24;  // more go on in a row of their own
constexpr const char* kKind = "Pattern strip";

class StripLayout {
 public:
  StripLayout(const PatternStrip& strip, PageSize size, std::size_t name_lines)
      : strip_(strip), on_(size, strip.name + " - pattern strip"), name_lines_(name_lines) {
    on_.note = strip.printer_note;
    columns_ = strip.snippet_width_mm > kWidestPair ? 1 : 2;
    column_ = (on_.width() - kStripColumnGap * (columns_ - 1)) / columns_;
    for (const SheetFace& face : strip.faces) add_picture(face);
  }

  Document lay_out(StripCount* count);

 private:
  void add_picture(const SheetFace& face);
  std::vector<Panel> panels();
  Panel head();
  Paragraph name_in(const std::string& name, double room);
  Panel row(std::size_t begin, std::size_t end, std::size_t part);
  double put_face(Panel& panel, std::size_t face, double x, std::size_t part);
  double put_names(Panel& panel, const SheetFace& face, double x, double room, std::size_t part);
  std::vector<Panel> solids();
  [[nodiscard]] std::size_t solids_across(double gap) const;
  Panel solid_row(std::size_t begin, std::size_t end, double pitch, double gap);
  void put_long();
  void put_several(double height, std::size_t on_a_page);
  void mark_cut(double y);

  const PatternStrip& strip_;
  Composer on_;
  std::size_t name_lines_;
  int columns_ = 2;
  double column_ = 0.0;
  double row_gap_ = kStripRowGap;                          ///< wider on a page with room to spare
  std::vector<std::optional<std::size_t>> cell_pictures_;  ///< one a face
};

void StripLayout::add_picture(const SheetFace& face) {
  cell_pictures_.emplace_back();
  if (!face.picture) return;
  cell_pictures_.back() = on_.document.pictures.size();
  on_.document.pictures.push_back(
      cropped(strip_.pictures[*face.picture], strip_.snippet_width_mm / strip_.snippet_height_mm));
}

Panel StripLayout::head() {
  std::string under = kKind;
  if (!strip_.date.empty()) under += "  \xC2\xB7  " + strip_.date;
  Panel panel = on_.title_panel(strip_.name, under);
  const double end = on_.lines(
      panel.block(BlockRole::paragraph),
      "Glue the real snippet over each picture, and the real punched dot over each large dot at the end.",
      on_.left, panel.height, on_.width(), type::kName, type::kSoft);
  panel.height = end + 1.6;
  return panel;
}

/// Smaller type comes before a second line.
Paragraph StripLayout::name_in(const std::string& name, double room) {
  Paragraph one = fit_text(on_.shaper, name, room, {TextFace::regular, type::kName, type::kSmall, 1});
  if (!one.cut) return one;
  return fit_text(on_.shaper, name, room, {TextFace::regular, type::kName, type::kTiny, name_lines_});
}

/// The named dots of a face, the `part`-th of them; returns where they end.
double StripLayout::put_names(Panel& panel, const SheetFace& face, double x, double room, std::size_t part) {
  double y = 0.0;
  if (part == 0) {
    const Paragraph label =
        fit_text(on_.shaper, face.label, room, {TextFace::bold, type::kRunning, type::kSmall, 1});
    y = on_.text(panel.block(BlockRole::heading), label, x, 0.0, room, type::kBlack, Align::left) + 0.6;
  }
  if (face.stocks.empty()) {
    const Paragraph none =
        fit_text(on_.shaper, "no stock comes near", room, {TextFace::regular, type::kName, type::kSmall, 1});
    return on_.text(panel.block(BlockRole::paragraph), none, x, y, room, type::kSoft, Align::left);
  }
  const double words_at = x + kStripDot + kDotGap;
  const double words_room = room - kStripDot - kDotGap;
  const std::size_t last = std::min(face.stocks.size(), (part + 1) * kNamesAtOnce);
  for (std::size_t i = part * kNamesAtOnce; i < last; ++i) {
    const SheetDot& dot = face.stocks[i];
    const Paragraph name = name_in(dot.name, words_room);
    const double height = std::max(kStripDot, Composer::height_of(name));
    draw_dot(panel.block(BlockRole::ornament), dot.lab, x, y + (height - kStripDot) / 2, kStripDot);
    on_.text(panel.block(BlockRole::paragraph), name, words_at, y + (height - Composer::height_of(name)) / 2,
             words_room, type::kBlack, Align::left);
    y += height + 0.7;
  }
  return y;
}

double StripLayout::put_face(Panel& panel, std::size_t index, double x, std::size_t part) {
  const SheetFace& face = strip_.faces[index];
  const double width = strip_.snippet_width_mm;
  const double height = strip_.snippet_height_mm;
  const double names_at = x + width + kCellGap;
  const double names_room = column_ - width - kCellGap;
  if (part > 0) return put_names(panel, face, names_at, names_room, part);
  Block& cell = panel.block(BlockRole::figure, "Place for a snippet of face " + face.label);
  if (cell_pictures_[index])
    cell.items.emplace_back(PictureItem{x, 0.0, width, height, *cell_pictures_[index]});
  else
    draw_stripes(cell, face.colours, x, 0.0, width, height);
  draw_frame(panel.block(BlockRole::ornament), x, 0.0, width, height);
  return std::max(height, put_names(panel, face, names_at, names_room, 0));
}

Panel StripLayout::row(std::size_t begin, std::size_t end, std::size_t part) {
  Panel panel;
  for (std::size_t i = begin; i < end; ++i) {
    const double x = on_.left + (column_ + kStripColumnGap) * static_cast<double>(i - begin);
    panel.height = std::max(panel.height, put_face(panel, i, x, part));
  }
  return panel;
}

Panel StripLayout::solid_row(std::size_t begin, std::size_t end, double pitch, double gap) {
  Panel panel;
  const double punch = strip_.punch_mm;
  for (std::size_t i = begin; i < end; ++i) {
    const SheetDot& dot = strip_.solids[i];
    const double x = on_.left + pitch * static_cast<double>(i - begin);
    Block& shape = panel.block(BlockRole::ornament);
    draw_dot(shape, dot.lab, x, 0.0, punch);
    if (!dot.lab)
      on_.line(shape, "not measured", x + 0.14 * punch, punch / 2 - 0.6 * type::kTiny, 0.72 * punch,
               type::kTiny, type::kSoft, Align::centre, TextFace::regular, true);
    const Paragraph name =
        fit_text(on_.shaper, dot.name, pitch - gap, {TextFace::regular, type::kSmall, type::kTiny, 2});
    const double below = on_.text(panel.block(BlockRole::paragraph), name, x, punch + 0.8, pitch - gap,
                                  type::kBlack, Align::left);
    panel.height = std::max(panel.height, below);
  }
  return panel;
}

std::size_t StripLayout::solids_across(double gap) const {
  const double pitch = std::max(strip_.punch_mm, 19.0) + gap;
  return std::max<std::size_t>(1, static_cast<std::size_t>((on_.width() + gap) / pitch));
}

/// The heading stands on the first row, so that it never stays alone at the foot of a page.
std::vector<Panel> StripLayout::solids() {
  std::vector<Panel> rows;
  // Closer together only where that saves a row.
  double gap = kSolidGap;
  std::size_t across = solids_across(gap);
  const auto rows_of = [&](std::size_t wide) { return (strip_.solids.size() + wide - 1) / wide; };
  if (rows_of(solids_across(kLeastSolidGap)) < rows_of(across)) {
    gap = kLeastSolidGap;
    across = solids_across(gap);
  }
  const double pitch = (on_.width() + gap) / static_cast<double>(across);
  for (std::size_t begin = 0; begin < strip_.solids.size(); begin += across) {
    Panel row = solid_row(begin, std::min(strip_.solids.size(), begin + across), pitch, gap);
    if (begin > 0) {
      rows.push_back(std::move(row));
      continue;
    }
    Panel first;
    const double end = on_.line(first.block(BlockRole::heading), "Solids", on_.left, 0.0, on_.width(),
                                type::kRunning, type::kBlack, Align::left, TextFace::bold) +
                       0.8;
    append(first, std::move(row), end);
    rows.push_back(std::move(first));
  }
  return rows;
}

std::vector<Panel> StripLayout::panels() {
  std::vector<Panel> all;
  all.push_back(head());
  const std::vector<SheetFace>& faces = strip_.faces;
  for (std::size_t begin = 0; begin < faces.size();) {
    std::size_t end = begin + 1;
    if (columns_ == 2 && end < faces.size() && faces[end].sheet == faces[begin].sheet) ++end;
    std::size_t names = 0;
    for (std::size_t i = begin; i < end; ++i) names = std::max(names, faces[i].stocks.size());
    for (std::size_t part = 0; part == 0 || part * kNamesAtOnce < names; ++part)
      all.push_back(row(begin, end, part));
    begin = end;
  }
  for (Panel& panel : solids()) all.push_back(std::move(panel));
  return all;
}

double whole_height(const std::vector<Panel>& panels) {
  double height = -kStripRowGap;
  for (const Panel& panel : panels) height += panel.height + kStripRowGap;
  return height;
}

/// A strip of a page or more: each one starts on a page of its own.
void StripLayout::put_long() {
  for (std::size_t copy = 0; copy < strip_.copies; ++copy) {
    on_.new_page();
    double y = on_.top - 2.0;
    bool page_is_empty = true;
    for (Panel& panel : panels()) {
      if (!page_is_empty && y + panel.height > on_.bottom - 1.5) {
        on_.new_page();
        y = on_.running_head(strip_.name, kKind);
      }
      y = on_.put(std::move(panel), y) + row_gap_;
      page_is_empty = false;
    }
  }
}

/// Ticks in both margins where the knife goes.
void StripLayout::mark_cut(double y) {
  Block& marks = on_.block(BlockRole::ornament);
  const Stroke stroke{grey_ink(type::kBlack), 0.2, 0.0};
  marks.items.emplace_back(LineItem{10.0, y, on_.left - 1.5, y, stroke});
  marks.items.emplace_back(LineItem{on_.right + 1.5, y, on_.document.width_mm - 10.0, y, stroke});
  const Stroke dashes{grey_ink(type::kFaint), type::kHairline, 1.2};
  marks.items.emplace_back(LineItem{on_.left, y, on_.right, y, dashes});
}

void StripLayout::put_several(double height, std::size_t on_a_page) {
  for (std::size_t copy = 0; copy < strip_.copies; ++copy) {
    const std::size_t at = copy % on_a_page;
    if (at == 0) on_.new_page();
    double y = on_.top - 2.0 + static_cast<double>(at) * (height + kCutGap);
    for (Panel& panel : panels()) y = on_.put(std::move(panel), y) + kStripRowGap;
    mark_cut(y - kStripRowGap + kCutGap / 2);
  }
}

Document StripLayout::lay_out(StripCount* count) {
  const std::vector<Panel> all = panels();
  const double height = whole_height(all);
  const double room = on_.bottom - 1.5 - (on_.top - 2.0);
  const auto on_a_page =
      height > room ? 0 : static_cast<std::size_t>((room + kCutGap / 2) / (height + kCutGap));
  if (count != nullptr) count->on_a_page = height > room ? 0 : std::max<std::size_t>(1, on_a_page);
  constexpr double kWidestGap = 5.5;
  if (strip_.copies == 1 && height < room)
    row_gap_ = std::min(kWidestGap, kStripRowGap + (room - height) / static_cast<double>(all.size()));
  if (on_a_page < 2 || strip_.copies == 1)
    put_long();
  else
    put_several(height, on_a_page);
  on_.add_footers();
  return std::move(on_.document);
}

}  // namespace

Document lay_out_pattern_strip(const PatternStrip& strip, PageSize size, StripCount* count) {
  constexpr std::size_t kMostPages = 3;
  Document document = StripLayout(strip, size, 2).lay_out(count);
  if (document.pages.size() <= kMostPages * strip.copies) return document;
  Document tight = StripLayout(strip, size, 1).lay_out(count);
  return tight.pages.size() <= kMostPages * strip.copies ? tight : document;
}

}  // namespace kithue
