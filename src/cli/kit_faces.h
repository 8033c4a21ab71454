// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "cli/command.h"
#include "kit/kit.h"

namespace kithue {

/// Reads and parses a kit file, warning of what is odd in it. Errors: cannot_read; those of parse_kit().
Result<Kit> open_kit(const std::string& path, Session& session);

/// The colours of each face of a kit, in its order: as written, else read out of the photo, which is looked
/// for beside `kit_path`. Warns where a photo is a poor guide. Errors: those of the photos and crops; `where`
/// is the face's place in the kit file.
Result<std::vector<std::vector<KitColour>>> face_colours(const Kit& kit, const std::string& kit_path,
                                                         Session& session);

}  // namespace kithue
