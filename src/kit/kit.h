// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "colour/lab.h"

namespace kithue {

/// A colour of a face: written into the kit file, or read out of the photo.
struct KitColour {
  Lab lab;
  double share = 0.0;  ///< 0-1; 0 = not said
  std::string role;    ///< "ground", "motif", "accent"
};

/// A face has a photo, or colours, or both: then the photo is shown and the colours are believed.
struct KitFace {
  std::string label;                ///< "1A"; unique in the kit
  std::string where;                ///< its place in the kit file, "kit.toml:12:1"
  std::string photo;                ///< as written, relative to the kit file, or empty
  std::string crop;                 ///< as written ("10%,10%,80%,80%"), or empty
  std::vector<KitColour> colours;   ///< as written
  std::vector<std::string> stocks;  ///< the coordinating stocks the user named; empty = found by matching
  std::vector<std::string> inks;    ///< the coordinating inks the user named; empty = found by matching
};

/// Which swatches are in play: the whole stash, or names.
struct KitRange {
  bool from_stash = true;
  std::vector<std::string> names;  ///< when not from the stash
  int choose = 0;                  ///< how many to settle on; 0 = not said
  std::vector<std::string> must;
  std::vector<std::string> never;
};

/// The kit file as data; nothing here is looked up yet.
struct Kit {
  std::string name;
  std::string date;  ///< as written, or empty
  int kits = 1;
  std::string page;  ///< "A4" or "Letter"; empty = not said
  std::vector<KitFace> faces;
  KitRange inks;
  KitRange stocks;
  std::vector<std::string> base;      ///< base stocks, each must carry a readable sentiment
  std::vector<std::string> warnings;  ///< unknown keys with line and near spelling
};

/// A kit file has a few hundred lines; more than this many bytes is not one.
inline constexpr std::size_t kMostKitBytes = 1024 * 1024;

/// Reads a kit file (TOML 1.0). Errors: bad_input with "name:line:column", what is wrong and what to write.
/// An unknown key is a warning. Source of the syntax: toml.io v1.0.0.
Result<Kit> parse_kit(std::string_view toml, const std::string& name);

}  // namespace kithue
