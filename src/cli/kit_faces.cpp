// SPDX-License-Identifier: MIT
#include "cli/kit_faces.h"

#include <optional>
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

/// The part of a photo that counts; nothing: the sheet is looked for.
Result<std::optional<CropPixels>> shown_part(const KitFace& face, const Photo& photo) {
  if (face.crop.empty()) return std::optional<CropPixels>();
  const auto words = crop_from_text(face.crop);
  if (!words) return words.error();
  const auto pixels = crop_in_pixels(*words, photo.width, photo.height);
  if (!pixels) return naming(pixels.error(), face.photo);
  return std::optional<CropPixels>(*pixels);
}

void add_colours(const Palette& palette, FaceRead& into) {
  if (palette.trust.grade == Grade::poor) into.poor = joined(palette.trust.reasons, "; ");
  for (const PaletteColour& colour : palette.colours)
    into.colours.push_back(
        {colour.lab, colour.share, std::string(word_for(colour.role)), palette.trust.de00});
}

Result<FaceRead> decode_face(const KitFace& face, const std::string& bytes, bool picture,
                             Executor& executor) {
  auto photo = decode_photo(bytes, face.photo, PhotoLimits{});
  if (!photo) return photo.error();
  const auto window = shown_part(face, *photo);
  if (!window) return window.error();
  FaceRead read;
  read.warnings = photo->warnings;
  Sheet sheet;
  if (face.colours.empty()) {
    const FaceReading reading = read_face(*photo, *window, 0, executor);
    add_colours(reading.palette, read);
    sheet = reading.sheet;
  } else if (!*window) {
    sheet = find_sheet(small_picture_of(*photo->light, executor), *photo->light, executor);
  }
  if (picture) {
    const CropPixels shown = *window ? **window : box_around(sheet, photo->width, photo->height);
    const CroppedRows rows(*photo->light, shown.x, shown.y, shown.width, shown.height);
    read.small = thumbnail(rows, kFacePixels, kFacePixels);
  }
  return read;
}

/// One face, out of the cache or the photo. `key` says which entry it is; empty when there was no photo.
Result<FaceRead> face_from(const KitFace& face, const std::string& kit_path, bool picture,
                           const FaceCache& cache, Executor& executor, std::string& key) {
  if (face.photo.empty() || (!picture && !face.colours.empty())) return FaceRead{};
  const std::string path = face.photo.starts_with('/') ? face.photo : folder_of(kit_path) + "/" + face.photo;
  const auto bytes = read_photo_bytes(path, face.photo);
  if (!bytes) return naming(bytes.error(), face.photo);
  key = FaceCache::key_of(*bytes, face, picture);
  if (auto known = cache.find(key)) return *std::move(known);
  auto read = decode_face(face, *bytes, picture, executor);
  if (read) cache.keep(key, *read);
  return read;
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

Result<std::vector<FaceRead>> read_faces(const Kit& kit, const std::string& kit_path, bool pictures,
                                         Session& session) {
  const FaceCache cache(session.cache_folder);
  std::vector<std::optional<Result<FaceRead>>> slots(kit.faces.size());
  std::vector<std::string> keys(kit.faces.size());
  const auto one = [&](std::size_t i, Executor& executor) {
    try {
      slots[i].emplace(face_from(kit.faces[i], kit_path, pictures, cache, executor, keys[i]));
    } catch (const std::bad_alloc&) {
      slots[i].emplace(Error{ErrorKind::impossible, "not enough memory for this photo", kit.faces[i].photo,
                             "make the photo smaller"});
    }
  };
  if (slots.size() == 1) {
    one(0, session.executor);
  } else {
    session.executor.run(slots.size(), [&](std::size_t i) {
      SerialExecutor serial;
      one(i, serial);
    });
  }
  std::vector<FaceRead> all;
  for (std::size_t i = 0; i < slots.size(); ++i) {
    const KitFace& face = kit.faces[i];
    if (!*slots[i]) return at_face(face, slots[i]->error());
    all.push_back(**std::move(slots[i]));
    for (const std::string& line : all.back().warnings) warn(session, face.photo + ": " + line);
    if (!all.back().poor.empty())
      warn(session, "face " + face.label + ": the photo is a poor guide to the colours: " + all.back().poor);
    if (!face.colours.empty()) all.back().colours = face.colours;
  }
  cache.prune(keys);
  return all;
}

Result<FaceColours> face_colours(const Kit& kit, const std::string& kit_path, Session& session) {
  auto read = read_faces(kit, kit_path, false, session);
  if (!read) return read.error();
  FaceColours all;
  for (FaceRead& face : *read) all.push_back(std::move(face.colours));
  return all;
}

}  // namespace kithue
