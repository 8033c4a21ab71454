// SPDX-License-Identifier: MIT
#include "sheet/student_page.h"

#include <algorithm>
#include <utility>

#include "sheet/composer.h"

namespace kithue {
namespace {

constexpr double kDot = 15.0;
constexpr double kGap = 10.0;

class StudentLayout {
 public:
  StudentLayout(const StudentPage& page, PageSize size, bool large)
      : page_(page), on_(size, page.kit + " - inks for " + page.student, large ? kLargePrint : 1.0) {
    on_.note = page.printer_note;
    column_ = (on_.width() - kGap) / 2;
  }

  Document lay_out();

 private:
  double put_side(Panel& panel, const SheetDot& dot, double x);
  void put_words(Panel& panel, const StudentInk& ink, double x, double y, double width);
  Panel row(const StudentInk& ink);
  Panel heads();
  void arrow(Panel& panel);

  const StudentPage& page_;
  Composer on_;
  double column_ = 0.0;
};

Panel StudentLayout::heads() {
  Panel panel;
  double end = 0.0;
  for (const auto& [words, x] :
       {std::pair("The kit uses", on_.left), std::pair("You use", on_.left + column_ + kGap)}) {
    end = on_.line(panel.block(BlockRole::heading), words, x, 0.0, column_, on_.sized(type::kRunning),
                   type::kBlack, Align::left, TextFace::bold);
  }
  panel.height = end;
  return panel;
}

/// A dot with its name and method beside it; returns where the words end.
double StudentLayout::put_side(Panel& panel, const SheetDot& dot, double x) {
  draw_dot(panel.block(BlockRole::ornament), dot.lab, x, 0.0, kDot);
  const double words_at = x + kDot + 3.0;
  const double room = column_ - kDot - 3.0;
  const double size = on_.sized(11 * type::kPoint);
  double y = on_.text(panel.block(BlockRole::paragraph),
                      fit_text(on_.shaper, dot.name, room, {TextFace::regular, size, size * 0.6, 2}),
                      words_at, 0.6, room, type::kBlack);
  if (dot.detail.empty()) return y;
  return on_.text(panel.block(BlockRole::paragraph),
                  fit_text(on_.shaper, dot.detail, room,
                           {TextFace::regular, on_.sized(type::kName), on_.sized(type::kTiny), 1}),
                  words_at, y, room, type::kSoft);
}

void StudentLayout::put_words(Panel& panel, const StudentInk& ink, double x, double y, double width) {
  std::string words = ink.words;
  if (!ink.caution.empty()) words += (words.empty() ? "" : "; ") + ink.caution;
  if (words.empty()) return;
  panel.height = std::max(panel.height, on_.lines(panel.block(BlockRole::paragraph), words, x, y, width,
                                                  on_.sized(type::kName), type::kSoft));
}

void StudentLayout::arrow(Panel& panel) {
  const double tip = on_.left + column_ + kGap - 2.5;
  const double y = kDot / 2;
  const Stroke stroke{grey_ink(type::kSoft), 0.25, 0.0};
  Block& block = panel.block(BlockRole::ornament);
  block.items.emplace_back(LineItem{tip - 5.0, y, tip, y, stroke});
  block.items.emplace_back(LineItem{tip - 1.3, y - 1.1, tip, y, stroke});
  block.items.emplace_back(LineItem{tip - 1.3, y + 1.1, tip, y, stroke});
}

Panel StudentLayout::row(const StudentInk& ink) {
  Panel panel;
  panel.height = std::max(kDot, put_side(panel, ink.ink, on_.left));
  arrow(panel);
  const double x = on_.left + column_ + kGap;
  const double room = column_ - kDot - 3.0;
  if (ink.use == StudentInk::Use::none) {
    panel.height =
        std::max(panel.height, on_.lines(panel.block(BlockRole::paragraph),
                                         "Nothing in your range comes near. Ask before you choose another.",
                                         x, 0.6, column_, on_.sized(type::kRunning), type::kBlack));
    return panel;
  }
  const double end = put_side(panel, ink.own, x);
  panel.height = std::max(panel.height, end);
  if (ink.use == StudentInk::Use::owned)
    panel.height =
        std::max(panel.height, on_.lines(panel.block(BlockRole::paragraph), "You have it: use it as it is.",
                                         x + kDot + 3.0, end, room, on_.sized(type::kName), type::kSoft));
  else
    put_words(panel, ink, x + kDot + 3.0, end, room);
  return panel;
}

Document StudentLayout::lay_out() {
  const std::string kind = "Inks for " + page_.student;
  on_.new_page();
  const std::string under = page_.kit + (page_.date.empty() ? "" : "  \xC2\xB7  " + page_.date);
  double y = on_.put(on_.title_panel(kind, under), on_.top - 2.0) + 8.0;
  y = on_.put(heads(), y) + 4.0;
  for (const StudentInk& ink : page_.inks) {
    Panel one = row(ink);
    if (y + one.height > on_.bottom - 1.5) {
      on_.new_page();
      y = on_.running_head(kind, page_.kit);
    }
    y = on_.put(std::move(one), y) + 5.0;
  }
  on_.add_footers();
  return std::move(on_.document);
}

}  // namespace

Document lay_out_student_page(const StudentPage& page, PageSize size, bool large) {
  return StudentLayout(page, size, large).lay_out();
}

}  // namespace kithue
