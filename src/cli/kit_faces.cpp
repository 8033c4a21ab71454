// SPDX-License-Identifier: MIT
#include "cli/kit_faces.h"

#include <utility>

#include "base/files.h"
#include "base/text.h"
#include "cli/extract.h"
#include "colour/light_rows.h"
#include "extract/palette.h"
#include "photo/photo.h"

namespace kithue {
namespace {

Error at_face(const KitFace& face, const Error& error) {
  const std::string what = error.where.empty() ? error.what : error.where + ": " + error.what;
  const ErrorKind kind = error.kind == ErrorKind::bad_usage ? ErrorKind::bad_input : error.kind;
  return {kind, "face " + face.label + ": " + what, face.where, error.advice};
}

Error naming(Error error, const std::string& photo) {
  error.where = photo;
  return error;
}

Result<std::vector<KitColour>> colours_in_photo(const KitFace& face, const std::string& kit_path,
                                                Session& session) {
  const PhotoLimits limits;
  const std::string path = face.photo.starts_with('/') ? face.photo : folder_of(kit_path) + "/" + face.photo;
  const auto bytes = read_file(path, limits.most_bytes);
  if (!bytes) return naming(bytes.error(), face.photo);
  const auto photo = decode_photo(*bytes, face.photo, limits);
  if (!photo) return photo.error();
  CropPixels window{0, 0, photo->width, photo->height};
  if (!face.crop.empty()) {
    const auto words = crop_from_text(face.crop);
    if (!words) return words.error();
    const auto pixels = crop_in_pixels(*words, photo->width, photo->height);
    if (!pixels) return naming(pixels.error(), face.photo);
    window = *pixels;
  }
  ExtractOptions options;
  options.facts = {photo->lossy, photo->profile_state == ProfileState::embedded,
                   photo->profile_state == ProfileState::broken, photo->clipped_share};
  const CroppedRows rows(*photo->light, window.x, window.y, window.width, window.height);
  const Palette palette = extract_palette(rows, options, session.executor);
  if (palette.trust.grade == Grade::poor) {
    warn(session, "face " + face.label +
                      ": the photo is a poor guide to the colours: " + joined(palette.trust.reasons, "; "));
  }
  std::vector<KitColour> colours;
  for (const PaletteColour& colour : palette.colours) {
    colours.push_back({colour.lab, colour.share, std::string(word_for(colour.role))});
  }
  return colours;
}

}  // namespace

Result<Kit> open_kit(const std::string& path, Session& session) {
  const auto bytes = read_file(path, kMostKitBytes);
  if (!bytes) return bytes.error();
  auto kit = parse_kit(*bytes, path);
  if (kit) {
    for (const std::string& line : kit->warnings) warn(session, line);
  }
  return kit;
}

Result<std::vector<std::vector<KitColour>>> face_colours(const Kit& kit, const std::string& kit_path,
                                                         Session& session) {
  std::vector<std::vector<KitColour>> all;
  for (const KitFace& face : kit.faces) {
    if (!face.colours.empty() || face.photo.empty()) {
      all.push_back(face.colours);
      continue;
    }
    auto colours = colours_in_photo(face, kit_path, session);
    if (!colours) return at_face(face, colours.error());
    all.push_back(*std::move(colours));
  }
  return all;
}

}  // namespace kithue
