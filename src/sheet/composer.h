// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "sheet/page.h"
#include "sheet/paragraph.h"

namespace kithue {

/// Type sizes and greys of every sheet, so that all of them look like one family. Colour on the page is left
/// to the swatches: everything else is printed with black ink alone.
namespace type {
inline constexpr double kPoint = 25.4 / 72.0;  ///< mm
inline constexpr double kTitle = 26 * kPoint;
inline constexpr double kRunning = 10 * kPoint;
inline constexpr double kLabel = 15 * kPoint;
inline constexpr double kName = 9 * kPoint;
inline constexpr double kSmall = 7 * kPoint;
inline constexpr double kTiny = 6 * kPoint;
inline constexpr double kLeading = 1.25;  ///< from base line to base line, in ems
inline constexpr double kBlack = 0.08;
inline constexpr double kSoft = 0.38;
inline constexpr double kFaint = 0.62;
inline constexpr double kHairline = 0.12;  ///< mm
}  // namespace type

enum class Align { start, left, centre, right };  ///< `start`: right for a line that reads right to left

/// Puts things on the pages of a document, and the furniture that every sheet has.
class Composer {
 public:
  Composer(PageSize size, std::string title);

  TextShaper shaper;
  Document document;
  double left = 15.0;  ///< mm, edges of what may be drawn on
  double right = 0.0;
  double top = 14.0;
  double bottom = 0.0;  ///< where the footer starts

  [[nodiscard]] double width() const { return right - left; }
  Page& new_page();
  Page& page() { return document.pages.back(); }
  /// The last block of the page if it has that role and takes more, else a new one.
  Block& block(BlockRole role, std::string words = {});

  /// Fits a text into a column and puts it with its top at `y`; returns where it ends. The height it will
  /// take is known before with height_of().
  double text(Block& into, const Paragraph& paragraph, double x, double y, double width, double grey,
              Align align = Align::start);
  /// One short line of our own words.
  double line(Block& into, std::string_view words, double x, double y, double width, double size, double grey,
              Align align = Align::left, TextFace face = TextFace::regular, bool inside = false);
  static double height_of(const Paragraph& paragraph);

  /// The check lines, the caution about printed colour and "Page 1 of 4", on every page.
  void add_footers();

 private:
  void add_ruler(Page& page);
};

}  // namespace kithue
