// SPDX-License-Identifier: MIT
#include "cli/kit_faces.h"

#include <utility>

#include "base/files.h"
#include "base/text.h"
#include "cli/extract.h"
#include "cli/face_reading.h"
#include "cli/photo_bytes.h"
#include "colour/light_rows.h"
#include "extract/palette.h"
#include "photo/photo.h"

namespace kithue {
namespace {

Error naming(Error error, const std::string& photo) {
  error.where = photo;
  return error;
}

}  // namespace

Error at_face(const KitFace& face, const Error& error) {
  const std::string what = error.where.empty() ? error.what : error.where + ": " + error.what;
  const ErrorKind kind = error.kind == ErrorKind::bad_usage ? ErrorKind::bad_input : error.kind;
  return {kind, "face " + face.label + ": " + what, face.where, error.advice};
}

Result<Kit> open_kit(const std::string& path, Session& session) {
  const auto bytes = read_file(path, kMostKitBytes);
  if (!bytes) return bytes.error();
  auto kit = parse_kit(*bytes, path);
  if (kit) {
    for (const std::string& line : kit->warnings) warn(session, line);
  }
  return kit;
}

Result<FacePhoto> open_face_photo(const KitFace& face, const std::string& kit_path, Session& session) {
  const PhotoLimits limits;
  const std::string path = face.photo.starts_with('/') ? face.photo : folder_of(kit_path) + "/" + face.photo;
  const auto bytes = read_photo_bytes(path, face.photo, limits);
  if (!bytes) return at_face(face, naming(bytes.error(), face.photo));
  auto photo = decode_photo(*bytes, face.photo, limits);
  if (!photo) return at_face(face, photo.error());
  for (const std::string& line : photo->warnings) warn(session, face.photo + ": " + line);
  std::optional<CropPixels> window;
  if (!face.crop.empty()) {
    const auto words = crop_from_text(face.crop);
    if (!words) return at_face(face, words.error());
    const auto pixels = crop_in_pixels(*words, photo->width, photo->height);
    if (!pixels) return at_face(face, naming(pixels.error(), face.photo));
    window = *pixels;
  }
  return FacePhoto{*std::move(photo), window};
}

std::vector<KitColour> colours_of_face(const KitFace& face, const FacePhoto& opened, Session& session) {
  if (!face.colours.empty()) return face.colours;
  const Palette palette = read_face(opened.photo, opened.window, 0, session.executor).palette;
  if (palette.trust.grade == Grade::poor) {
    warn(session, "face " + face.label +
                      ": the photo is a poor guide to the colours: " + joined(palette.trust.reasons, "; "));
  }
  std::vector<KitColour> colours;
  for (const PaletteColour& colour : palette.colours)
    colours.push_back({colour.lab, colour.share, std::string(word_for(colour.role)), palette.trust.de00});
  return colours;
}

Result<FaceColours> face_colours(const Kit& kit, const std::string& kit_path, Session& session) {
  FaceColours all;
  for (const KitFace& face : kit.faces) {
    if (!face.colours.empty() || face.photo.empty()) {
      all.push_back(face.colours);
      continue;
    }
    const auto photo = open_face_photo(face, kit_path, session);
    if (!photo) return photo.error();
    all.push_back(colours_of_face(face, *photo, session));
  }
  return all;
}

}  // namespace kithue
