// SPDX-License-Identifier: MIT
#pragma once

#include "kit/kit.h"
#include "kit/toml_reader.h"

namespace kithue {

/// Reads [[card]] with its [[card.piece]] and [[card.stamp]], [[portion]] and [[supply]] into a kit whose
/// head, pack and faces have been read. False after a fault, which the reader keeps: a piece that touches
/// nothing known, a face that is not in the pack, a size that does not fit its sheet.
bool read_cards(TomlReader& in, const toml::table& root, Kit& kit);

/// Reads the key grain: "up" or "across".
bool read_grain(TomlReader& in, const toml::table& table, Grain& into);

}  // namespace kithue
