// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/executor.h"
#include "colour/lab.h"
#include "colour/light_rows.h"
#include "extract/early_look.h"
#include "extract/evenness.h"

namespace kithue {

/// What a colour does on a face.
enum class Role {
  ground,  ///< the field
  motif,   ///< the drawing
  accent   ///< the small touch
};
std::string_view word_for(Role role) noexcept;  ///< "ground", "motif", "accent"

struct PaletteColour {
  Lab lab;
  double share = 0.0;  ///< of the face's area, 0-1; the shares of a palette add up to 1
  Role role = Role::motif;
  std::string words;  ///< plain words (colour/words.h)
};

/// How far the numbers of a face may be trusted.
enum class Grade { good, fair, poor };
std::string_view word_for(Grade grade) noexcept;  ///< "good", "fair", "poor"

struct Trust {
  Grade grade = Grade::fair;
  double de00 = 0.0;                 ///< estimated error of each colour, dE00
  std::vector<std::string> reasons;  ///< plain words, worst first
  double light = 0.0;                ///< the part of de00 that is there because the light is unknown, dE00
};

/// A face's palette: the ground first, then motifs and accents by share, largest first.
struct Palette {
  std::vector<PaletteColour> colours;
  Trust trust;
  extract::Evenness evenness;  ///< how the light fell; it was evened out where that is supported
};

/// What the caller knows of the picture and the numbers alone do not show.
struct PictureFacts {
  bool lossy = false;
  bool profile_known = true;  ///< false: sRGB was assumed
  bool profile_broken = false;
  double clipped_share = 0.0;
};

struct ExtractOptions {
  int colours = 0;  ///< how many to give; 0 = found by itself
  PictureFacts facts;
};

/// The palette of one face. Deterministic: the same bytes for any executor.
/// Works in linear light and CIELAB. Any picture of 1 x 1 or more gives at least one colour.
/// REQUIRES: options.colours 0 to 64. With `colours` above what the picture holds, it gives what there is.
/// `early`: what was made beforehand; it is used up if it is of this very picture.
Palette extract_palette(const LightRows& picture, const ExtractOptions& options, Executor& executor,
                        EarlyLook* early = nullptr);

}  // namespace kithue
