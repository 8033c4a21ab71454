// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "cli/command.h"
#include "cli/extract.h"
#include "cli/face_reading.h"
#include "colour/lab.h"
#include "photo/photo.h"

namespace kithue {

/// A place in the frame whose colour the user knows.
struct Reference {
  std::string name;
  Lab lab;
  CropWords window;
};

/// What is known of the frame.
struct References {
  std::vector<Reference> list;
  std::optional<Lab> card;  ///< a card or margin of this colour is somewhere in the frame
};

/// The white card and the chips of the command line, their colours looked up in the stash where they are
/// names. Errors: bad_usage for what cannot be read, those of resolve_colour().
Result<References> references_of(const ExtractCommand& options, Session& session);

/// Corrects the palette by the known places, each seen in the light that fell there, or says why not: the
/// first reason of the trust and a warning. `photo_name` begins warnings.
/// Errors: bad_input for a window outside the photo.
MaybeError correct_by(const References& known, const Photo& photo, const std::string& photo_name,
                      FaceReading& reading, std::vector<std::string>& warnings);

}  // namespace kithue
