// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "cli/command.h"
#include "cli/extract.h"
#include "kit/kit.h"
#include "kit/touching.h"
#include "photo/photo.h"

namespace kithue {

/// Reads and parses a kit file, warning of what is odd in it. Errors: cannot_read; those of parse_kit().
Result<Kit> open_kit(const std::string& path, Session& session);

/// The photo of a face, decoded, and the part of it that counts.
struct FacePhoto {
  Photo photo;
  std::optional<CropPixels> window;  ///< none: the sheet is looked for
};
/// The photo is looked for beside `kit_path`. What the decoder warns of is passed on.
/// Errors: those of the photo and the crop, told at the face's place in the kit file.
Result<FacePhoto> open_face_photo(const KitFace& face, const std::string& kit_path, Session& session);

/// The colours of a face: as written, else out of its photo. Warns where the photo is a poor guide.
std::vector<KitColour> colours_of_face(const KitFace& face, const FacePhoto& photo, Session& session);

/// A fault of one face, told with its place in the kit file.
Error at_face(const KitFace& face, const Error& error);

/// The colours of each face of a kit, in its order. A photo is only opened where the kit file says no
/// colours. Errors: those of open_face_photo().
Result<FaceColours> face_colours(const Kit& kit, const std::string& kit_path, Session& session);

}  // namespace kithue
