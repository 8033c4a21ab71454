// SPDX-License-Identifier: MIT
#include "sheet/printer_check.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.h"
#include "colour/difference.h"
#include "colour/srgb.h"
#include "sheet/composer.h"

namespace kithue {
namespace {

constexpr double kPatch = 19.0;

struct Tone {
  double lightness;
  double chroma;
};
// Pale, light, middle, strong and deep: what card and ink are made of.
constexpr Tone kTones[] = {{86, 14}, {74, 30}, {60, 44}, {48, 56}, {32, 24}};
constexpr double kGreys[] = {96, 86, 75, 64, 52, 40, 28, 16};

}  // namespace

std::vector<Lab> printer_patches() {
  std::vector<Lab> patches;
  for (const double grey : kGreys) patches.push_back({grey, 0.0, 0.0});
  for (const Tone& tone : kTones) {
    for (int i = 0; i < 8; ++i) {
      const double hue = std::numbers::pi * i / 4;
      patches.push_back(
          into_srgb_gamut({tone.lightness, tone.chroma * std::cos(hue), tone.chroma * std::sin(hue)}));
    }
  }
  return patches;
}

Document lay_out_printer_check(PageSize size) {
  Composer on(size, "Printer check");
  on.new_page();
  Panel head = on.title_panel("Printer check", "How far is this printer off, on this paper?");
  head.height = on.lines(head.block(BlockRole::paragraph),
                         "Print this page on the paper of your sheets, let it dry for a day, and measure "
                         "each patch, or scan the page "
                         "flat and read it with: kithue measure scan.png --grid 6x8 --within "
                         "x,y,width,height. Save the readings as a "
                         "file with the columns name, L, a and b, the name being the number of the patch. "
                         "Then every sheet made with "
                         "--printer-readings FILE says how far the printer is off.",
                         on.left, head.height + 1.0, on.width(), type::kName, type::kSoft);
  double y = on.put(std::move(head), on.top - 2.0) + 4.0;
  const std::vector<Lab> patches = printer_patches();
  const double pitch_x = on.width() / static_cast<double>(kCheckColumns);
  const double pitch_y = std::min(pitch_x, (on.bottom - 2.0 - y) / static_cast<double>(kCheckRows));
  const double patch_height = std::min(kPatch, pitch_y - 1.0);
  for (std::size_t i = 0; i < patches.size(); ++i) {
    const double x = on.left + pitch_x * static_cast<double>(i % kCheckColumns);
    const double top = y + pitch_y * static_cast<double>(i / kCheckColumns);
    const std::string number = std::to_string(i + 1);
    Block& shape = on.block(BlockRole::figure, "Patch " + number);
    shape.items.emplace_back(BoxItem{x, top, kPatch, patch_height, lab_ink(patches[i]), {}});
    on.line(on.block(BlockRole::paragraph), number, x + kPatch + 1.4, top + 0.5, 8.0, type::kName,
            type::kBlack, Align::left);
  }
  on.add_footers();
  return std::move(on.document);
}

std::optional<PrinterError> printer_error(const std::vector<std::pair<std::size_t, Lab>>& readings) {
  const std::vector<Lab> patches = printer_patches();
  std::vector<double> sums(patches.size(), 0.0);
  std::vector<std::size_t> counts(patches.size(), 0);
  for (const auto& [number, lab] : readings) {
    if (number < 1 || number > patches.size()) continue;
    sums[number - 1] += ciede2000(patches[number - 1], lab);
    ++counts[number - 1];
  }
  PrinterError error;
  for (std::size_t i = 0; i < patches.size(); ++i) {
    if (counts[i] == 0) continue;
    const double off = sums[i] / static_cast<double>(counts[i]);
    ++error.patches;
    error.mean += off;
    if (off >= error.worst) {
      error.worst = off;
      error.worst_patch = i + 1;
    }
  }
  if (error.patches == 0) return std::nullopt;
  error.mean /= static_cast<double>(error.patches);
  return error;
}

std::string printer_note(const PrinterError& error) {
  return "This printer, when checked: " + fixed_number(error.mean, 1) + " off on average, " +
         fixed_number(error.worst, 1) + " at most (dE00, " + std::to_string(error.patches) + " patches).";
}

}  // namespace kithue
