// SPDX-License-Identifier: MIT
#include "sheet/cut_sheet.h"

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "base/text.h"
#include "sheet/composer.h"
#include "sheet/parts.h"

namespace kithue {
namespace {

constexpr double kDrawing = 84.0;  // mm, the longer side of a drawn sheet at most
constexpr double kTextGap = 7.0;
constexpr double kLetter = 8 * type::kPoint;
constexpr double kCutNumber = 6.5 * type::kPoint;
constexpr const char* kCutSheetKind = "Cut sheet";

/// 0 -> "A", 25 -> "Z", 26 -> "AA".
std::string letter_of(std::size_t index) {
  std::string letters;
  for (++index; index > 0; index = (index - 1) / 26)
    letters.insert(letters.begin(), static_cast<char>('A' + (index - 1) % 26));
  return letters;
}

/// How far the blade stands from the edge of the part under it, or from the cut before in the same step.
struct StepWords {
  int step = 0;
  bool upright = false;
  std::vector<Length> widths;
};

std::vector<StepWords> steps_of(const SheetPlan& plan) {
  std::vector<StepWords> steps;
  Length last{0};
  for (const Cut& cut : plan.cuts) {
    const bool goes_on = !steps.empty() && steps.back().step == cut.step;
    const Length edge = cut.upright ? cut.part.x : cut.part.y;
    if (!goes_on) steps.push_back({cut.step, cut.upright, {}});
    steps.back().widths.push_back(cut.at - (goes_on ? std::max(last, edge) : edge));
    last = cut.at;
  }
  return steps;
}

/// "Across, every 5 1/4 in, twice" - the words of one step.
std::string words_of_step(const StepWords& step, Unit unit) {
  std::string words = step.upright ? "down, " : "across, ";
  const bool even = std::all_of(step.widths.begin(), step.widths.end(),
                                [&](Length width) { return width == step.widths.front(); });
  if (step.widths.size() > 1 && even)
    return words + "every " + length_text(step.widths.front(), unit) + ", " +
           std::to_string(step.widths.size()) + " cuts";
  for (std::size_t i = 0; i < step.widths.size(); ++i)
    words += (i > 0 ? ", then " : "at ") + length_text(step.widths[i], unit);
  return words;
}

class CutLayout {
 public:
  CutLayout(const CutSheet& sheet, PageSize size) : sheet_(sheet), on_(size, sheet.name + " - cut sheet") {
    on_.note = sheet.printer_note;
    text_at_ = on_.left + kDrawing + kTextGap;
    text_width_ = on_.right - text_at_;
  }

  Document lay_out();

 private:
  Panel head();
  std::vector<Panel> panels(const CutPaper& paper, std::size_t plan);
  std::vector<Panel> entries(const CutPaper& paper, std::size_t plan);
  double draw_sheet(Block& into, const CutPaper& paper, const SheetPlan& plan, double top);
  void draw_numbers(Block& into, const SheetPlan& plan, double top, double scale);
  void draw_letters(Block& into, const CutPaper& paper, const SheetPlan& plan, double top, double scale);
  [[nodiscard]] bool is_free(const Bounds& box) const;
  Panel words(const std::string& text, double size, double grey, TextFace face = TextFace::regular);
  void put(Panel panel, double gap);

  const CutSheet& sheet_;
  Composer on_;
  double text_at_ = 0.0;
  double text_width_ = 0.0;
  double y_ = 0.0;
  bool page_is_empty_ = true;
  std::vector<Bounds> taken_;  ///< by the numbers of the drawing at hand
};

Panel CutLayout::head() {
  std::string under = kCutSheetKind;
  if (!sheet_.date.empty()) under += "  \xC2\xB7  " + sheet_.date;
  if (!sheet_.kits.empty()) under += "  \xC2\xB7  " + sheet_.kits;
  Panel panel = on_.title_panel(sheet_.name, under);
  const std::string how = std::string(kBladeCaution) +
                          " Every cut runs from edge to edge of the part that lies under the blade, and is "
                          "measured from the left or "
                          "the top edge of that part; a dashed line is scored, not cut.";
  panel.height = on_.lines(panel.block(BlockRole::paragraph), how, on_.left, panel.height + 0.6, on_.width(),
                           type::kName, type::kBlack);
  return panel;
}

Panel CutLayout::words(const std::string& text, double size, double grey, TextFace face) {
  Panel panel;
  panel.height =
      on_.lines(panel.block(BlockRole::paragraph), text, text_at_, 0.0, text_width_, size, grey, face);
  return panel;
}

bool CutLayout::is_free(const Bounds& box) const {
  return std::none_of(taken_.begin(), taken_.end(), [&](const Bounds& other) { return overlap(box, other); });
}

/// The number of each step once, at the start of its first cut, where there is room for it.
void CutLayout::draw_numbers(Block& into, const SheetPlan& plan, double top, double scale) {
  int last = 0;
  for (const Cut& cut : plan.cuts) {
    if (cut.step == last) continue;
    const ShapedText shaped = on_.shaper.shape(std::to_string(cut.step), TextFace::bold);
    const double width = shaped.width * kCutNumber;
    const double height = 1.23 * kCutNumber;
    const CutLine line = line_of(cut);
    const double x1 = on_.left + mm_of(line.x1) * scale;
    const double y1 = top + mm_of(line.y1) * scale;
    const double length = scale * (cut.upright ? mm_of(line.y2 - line.y1) : mm_of(line.x2 - line.x1));
    for (double along = 0.8; along + std::max(width, height) + 0.8 < length; along += 1.0) {
      const double x = cut.upright ? x1 + 0.5 : x1 + along;
      const double y = cut.upright ? y1 + along : y1 + 0.4;
      const Bounds box{x, y, x + width, y + height};
      const double right = on_.left + mm_of(cut.part.x + cut.part.size.width) * scale;
      const double bottom = top + mm_of(cut.part.y + cut.part.size.height) * scale;
      if (!is_free(box) || box.right > right || box.bottom > bottom) continue;
      taken_.push_back(box);
      into.items.emplace_back(
          TextItem{x, y + 0.95 * kCutNumber, kCutNumber, shaped, grey_ink(type::kSoft), true});
      last = cut.step;
      break;
    }
  }
}

/// The letter of each piece in the first panel that its score lines leave: in the middle, or beside or under
/// the number of a cut. A piece too small for both goes without where another one shows the letter.
void CutLayout::draw_letters(Block& into, const CutPaper& paper, const SheetPlan& plan, double top,
                             double scale) {
  constexpr double kClear = 0.2;
  std::vector<bool> lettered(paper.job.pieces.size());
  std::map<std::size_t, TextItem> squeezed;
  for (const PlacedPiece& placed : plan.pieces) {
    const double x = on_.left + mm_of(placed.at.x) * scale;
    const double y = top + mm_of(placed.at.y) * scale;
    double right = x + mm_of(placed.at.size.width) * scale;
    double bottom = y + mm_of(placed.at.size.height) * scale;
    for (const CutLine& line : score_lines(paper.job.pieces[placed.piece], placed)) {
      if (line.x1.nm == line.x2.nm) right = std::min(right, on_.left + mm_of(line.x1) * scale);
      if (line.y1.nm == line.y2.nm) bottom = std::min(bottom, top + mm_of(line.y1) * scale);
    }
    const ShapedText letter = on_.shaper.shape(letter_of(placed.piece), TextFace::regular);
    const double width = letter.width * kLetter;
    const double height = 1.23 * kLetter;
    if (width > right - x - 2 * kClear || height > bottom - y - 2 * kClear) continue;
    const double middle_x = x + (right - x - width) / 2;
    const double middle_y = y + (bottom - y - height) / 2;
    const std::array<std::pair<double, double>, 3> places{
        {{middle_x, middle_y}, {right - kClear - width, middle_y}, {middle_x, bottom - kClear - height}}};
    const auto* place = std::find_if(places.begin(), places.end(), [&](const auto& at) {
      return is_free({at.first, at.second, at.first + width, at.second + height});
    });
    const auto [at_x, at_y] = place != places.end() ? *place : places[0];
    const TextItem item{at_x, at_y + 0.95 * kLetter, kLetter, letter, grey_ink(type::kBlack), true};
    if (place != places.end()) {
      into.items.emplace_back(item);
      lettered[placed.piece] = true;
    } else {
      squeezed.emplace(placed.piece, item);
    }
  }
  for (const auto& [piece, item] : squeezed)
    if (!lettered[piece]) into.items.emplace_back(item);
}

/// The sheet with its pieces, cuts and score lines; returns its drawn height.
double CutLayout::draw_sheet(Block& into, const CutPaper& paper, const SheetPlan& plan, double top) {
  const double width = mm_of(paper.job.sheet.width);
  const double height = mm_of(paper.job.sheet.height);
  const double scale = kDrawing / std::max(width, height);
  const auto draw_line = [&](const CutLine& line, const Stroke& stroke) {
    into.items.emplace_back(LineItem{on_.left + mm_of(line.x1) * scale, top + mm_of(line.y1) * scale,
                                     on_.left + mm_of(line.x2) * scale, top + mm_of(line.y2) * scale,
                                     stroke});
  };
  into.items.emplace_back(BoxItem{
      on_.left, top, width * scale, height * scale, grey_ink(0.93), {grey_ink(type::kBlack), 0.25, 0.0}});
  for (const PlacedPiece& placed : plan.pieces) {
    into.items.emplace_back(BoxItem{on_.left + mm_of(placed.at.x) * scale,
                                    top + mm_of(placed.at.y) * scale,
                                    mm_of(placed.at.size.width) * scale,
                                    mm_of(placed.at.size.height) * scale,
                                    grey_ink(1.0),
                                    {grey_ink(type::kSoft), type::kHairline, 0.0}});
    for (const CutLine& line : score_lines(paper.job.pieces[placed.piece], placed))
      draw_line(line, {grey_ink(type::kSoft), type::kHairline, 0.9});
  }
  for (const Cut& cut : plan.cuts) draw_line(line_of(cut), {grey_ink(type::kBlack), 0.22, 0.0});
  taken_.clear();
  draw_numbers(into, plan, top, scale);
  draw_letters(into, paper, plan, top, scale);
  return height * scale;
}

/// The pieces with their running totals, then the cuts in their order.
std::vector<Panel> CutLayout::entries(const CutPaper& paper, std::size_t index) {
  const SheetPlan& plan = paper.plan.plans[index];
  std::vector<Panel> list;
  const std::vector<std::int64_t> done = cut_so_far(paper.job, paper.plan, index + 1);
  for (std::size_t i = 0; i < paper.job.pieces.size(); ++i) {
    const CutPiece& piece = paper.job.pieces[i];
    const auto here = std::count_if(plan.pieces.begin(), plan.pieces.end(),
                                    [&](const PlacedPiece& placed) { return placed.piece == i; });
    if (here == 0) continue;
    std::string text = letter_of(i) + "  " + piece.name + ", " + size_text(piece.size, sheet_.unit);
    if (!piece.face.empty()) text += ", face " + piece.face + " up";
    list.push_back(words(text, type::kName, type::kBlack));
    list.push_back(words(std::to_string(here) + " from each sheet; then " + std::to_string(done[i]) + " of " +
                             std::to_string(piece.count) + " are cut",
                         type::kSmall, type::kSoft));
  }
  Panel gap;
  gap.height = 1.4;
  list.push_back(std::move(gap));
  for (const StepWords& step : steps_of(plan))
    list.push_back(words(std::to_string(step.step) + "  " + words_of_step(step, sheet_.unit), type::kSmall,
                         type::kBlack));
  return list;
}

std::vector<Panel> CutLayout::panels(const CutPaper& paper, std::size_t index) {
  const SheetPlan& plan = paper.plan.plans[index];
  const double most = on_.bottom - on_.top - 34.0;
  const TextStyle style{TextFace::bold, type::kRunning * 1.1, type::kSmall, 2};
  const std::string title = paper.name + ": " + counted(static_cast<std::size_t>(plan.sheets), "sheet") +
                            " of " + size_text(paper.job.sheet, sheet_.unit);
  std::vector<Panel> all(1);
  const double dot = paper.lab ? 5.6 : 0.0;
  if (paper.lab) draw_dot(all[0].block(BlockRole::ornament), paper.lab, on_.left, 0.2, 4.2);
  const double room = on_.width() - dot;
  const double top = on_.text(all[0].block(BlockRole::heading), fit_text(on_.shaper, title, room, style),
                              on_.left + dot, 0.0, room, type::kBlack, Align::left) +
                     1.4;
  Block& figure = all[0].block(BlockRole::figure, "How a sheet of " + paper.name + " is cut");
  all[0].height = top + draw_sheet(figure, paper, plan, top);
  double y = top - 0.4;
  for (Panel& entry : entries(paper, index)) {
    if (y + entry.height > most) {
      all.emplace_back();
      y = on_.text(all.back().block(BlockRole::ornament),
                   fit_text(on_.shaper, title + ", continued", on_.width(), style), on_.left, 0.0,
                   on_.width(), type::kSoft, Align::left) +
          0.8;
    }
    const double height = entry.height;
    append(all.back(), std::move(entry), y);
    y += height;
  }
  return all;
}

void CutLayout::put(Panel panel, double gap) {
  if (!page_is_empty_) y_ += gap;
  if (!page_is_empty_ && y_ + panel.height > on_.bottom - 1.5) {
    on_.new_page();
    y_ = on_.running_head(sheet_.name, kCutSheetKind);
  }
  y_ = on_.put(std::move(panel), y_);
  page_is_empty_ = false;
}

Document CutLayout::lay_out() {
  on_.new_page();
  y_ = on_.top - 2.0;
  put(head(), 0.0);
  for (const CutPaper& paper : sheet_.papers) {
    for (std::size_t i = 0; i < paper.plan.plans.size(); ++i) {
      for (Panel& panel : panels(paper, i)) put(std::move(panel), 6.5);
    }
  }
  on_.add_footers();
  return std::move(on_.document);
}

}  // namespace

Document lay_out_cut_sheet(const CutSheet& sheet, PageSize size) {
  return CutLayout(sheet, size).lay_out();
}

}  // namespace kithue
