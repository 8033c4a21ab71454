// SPDX-License-Identifier: MIT
#include <algorithm>

#include "base/text.h"
#include "kit/kit.h"

namespace kithue {
namespace {

constexpr Size kA4{{210 * kNanometresPerMm}, {297 * kNanometresPerMm}};            // ISO 216
constexpr Size kLetter{{kNanometresPerInch * 17 / 2}, {kNanometresPerInch * 11}};  // ANSI/ASME Y14.1, size A

}  // namespace

std::string_view word_for(StampUse use) noexcept {
  switch (use) {
    case StampUse::fine:
      return "fine";
    case StampUse::bold:
      return "bold";
    case StampUse::picture:
      return "picture";
  }
  return "";
}

const KitPiece* piece_named(const KitCard& card, const std::string& name) {
  const auto found = std::find_if(card.pieces.begin(), card.pieces.end(),
                                  [&](const KitPiece& piece) { return folded(piece.name) == folded(name); });
  return found == card.pieces.end() ? nullptr : &*found;
}

const KitFace* face_named(const Kit& kit, const std::string& label) {
  const auto found = std::find_if(kit.faces.begin(), kit.faces.end(),
                                  [&](const KitFace& face) { return folded(face.label) == folded(label); });
  return found == kit.faces.end() ? nullptr : &*found;
}

std::vector<std::string> sheets_of(const Kit& kit) {
  std::vector<std::string> sheets;
  for (const KitFace& face : kit.faces) {
    if (std::find(sheets.begin(), sheets.end(), face.sheet) == sheets.end()) sheets.push_back(face.sheet);
  }
  return sheets;
}

bool is_directional(const Kit& kit, const std::string& sheet) {
  return std::any_of(kit.faces.begin(), kit.faces.end(),
                     [&](const KitFace& face) { return face.directional && face.sheet == sheet; });
}

const KitSupply* supply_of_stock(const Kit& kit, const std::string& name) {
  const auto found = std::find_if(kit.supplies.begin(), kit.supplies.end(), [&](const KitSupply& one) {
    return !one.stock.empty() && folded(one.stock) == folded(name);
  });
  return found == kit.supplies.end() ? nullptr : &*found;
}

const KitSupply* supply_of_ink(const Kit& kit, const std::string& name) {
  const auto found = std::find_if(kit.supplies.begin(), kit.supplies.end(), [&](const KitSupply& one) {
    return !one.ink.empty() && folded(one.ink) == folded(name);
  });
  return found == kit.supplies.end() ? nullptr : &*found;
}

Size sheet_of_stock(const Kit& kit, const std::string& name) {
  const KitSupply* supply = supply_of_stock(kit, name);
  if (supply != nullptr && supply->sheet) return *supply->sheet;
  if (kit.stock_sheet) return *kit.stock_sheet;
  return kit.page == "Letter" ? kLetter : kA4;
}

Grain grain_of_stock(const Kit& kit, const std::string& name) {
  const KitSupply* supply = supply_of_stock(kit, name);
  return supply != nullptr && supply->grain != Grain::unknown ? supply->grain : kit.stock_grain;
}

std::string money_text(std::int64_t cents) {
  const std::string rest = std::to_string(cents % 100);
  return std::to_string(cents / 100) + "." + (rest.size() < 2 ? "0" + rest : rest);
}

}  // namespace kithue
