// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

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

/// Blocks that stay together, drawn with the top of the panel at 0.
struct Panel {
  std::vector<Block> blocks;
  double height = 0.0;

  Block& block(BlockRole role, std::string words = {}) {
    blocks.push_back({role, std::move(words), {}});
    return blocks.back();
  }
};

/// Adds the blocks of one panel to another, so much further down.
void append(Panel& to, Panel from, double down);

/// How much larger the type of a sheet in large print is: 9 pt become 16. Source: none; 16 pt is what clear
/// print guides commonly call large print (from memory).
inline constexpr double kLargePrint = 16.0 / 9.0;

/// Puts things on the pages of a document, and the furniture that every sheet has.
class Composer {
 public:
  /// `type_scale`: how much larger all type is than the sizes above.
  Composer(PageSize size, std::string title, double type_scale = 1.0);

  TextShaper shaper;
  Document document;
  double left = 15.0;  ///< mm, edges of what may be drawn on
  double right = 0.0;
  double top = 14.0;
  double bottom = 0.0;  ///< where the footer starts

  double type_scale = 1.0;
  std::string note;  ///< a line for the foot of every page, or empty

  [[nodiscard]] double width() const { return right - left; }
  /// A type size of this document.
  [[nodiscard]] double sized(double size) const { return size * type_scale; }
  /// The small line at the top of every page but the first; returns where the page goes on.
  double running_head(const std::string& name, const std::string& kind);
  /// The sheet's name large, a smaller line under it, at the top of a panel as wide as the page.
  Panel title_panel(const std::string& name, const std::string& under);
  /// Puts a panel on the page with its top at `y`; returns where it ends.
  double put(Panel panel, double y);
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
  /// A text of ours in as many lines as it needs, at one size.
  double lines(Block& into, std::string_view words, double x, double y, double width, double size,
               double grey, TextFace face = TextFace::regular);

  /// The check lines, the caution about printed colour and "Page 1 of 4", on every page.
  void add_footers();

 private:
  void add_ruler(Page& page);
  void add_caution(Page& page, BlockRole role);
  void add_large_caution(Page& page, BlockRole role);
};

}  // namespace kithue
