// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "cli/command.h"
#include "cli/face_cache.h"
#include "kit/kit.h"
#include "kit/touching.h"

namespace kithue {

/// Reads and parses a kit file, warning of what is odd in it. Errors: cannot_read; those of parse_kit().
Result<Kit> open_kit(const std::string& path, Session& session);

/// A picture of a face for print is at most this wide and high: 36 mm at 240 dots per inch.
inline constexpr int kFacePixels = 340;

/// What the photos of a kit say, one entry a face, in its order: its colours as written, else out of the
/// photo; and with `pictures` the photo made small. A photo is only opened where it is needed, looked for
/// beside `kit_path`, and not decoded again when the cache knows it. Several photos are shared out between
/// the threads. Warns, in order of the faces, of what the decoder says and of photos that are a poor guide.
/// Errors: those of the first face with any, told at its place in the kit file.
Result<std::vector<FaceRead>> read_faces(const Kit& kit, const std::string& kit_path, bool pictures,
                                         Session& session);

/// The colours of each face of a kit, in its order. Errors: those of read_faces().
Result<FaceColours> face_colours(const Kit& kit, const std::string& kit_path, Session& session);

/// A fault of one face, told with its place in the kit file.
Error at_face(const KitFace& face, const Error& error);

}  // namespace kithue
