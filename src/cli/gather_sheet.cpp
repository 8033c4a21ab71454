// SPDX-License-Identifier: MIT
#include "cli/gather_sheet.h"

#include <memory>
#include <optional>
#include <set>
#include <utility>

#include "base/files.h"
#include "base/text.h"
#include "cli/extract.h"
#include "extract/palette.h"
#include "photo/photo.h"
#include "photo/thumbnail.h"

namespace kithue {
namespace {

constexpr std::size_t kStocksPerFace = 3;
constexpr std::size_t kInksPerFace = 3;
constexpr double kPrintDpi = 240.0;

/// A fault of one face, told with its place in the kit file.
Error at_face(const KitFace& face, const Error& error) {
  const std::string what = error.where.empty() ? error.what : error.where + ": " + error.what;
  const ErrorKind kind = error.kind == ErrorKind::bad_usage ? ErrorKind::bad_input : error.kind;
  return {kind, "face " + face.label + ": " + what, face.where, error.advice};
}

struct FacePhoto {
  Thumbnail small;
  std::vector<KitColour> colours;
};

std::vector<KitColour> colours_of(const Palette& palette) {
  std::vector<KitColour> colours;
  for (const PaletteColour& colour : palette.colours)
    colours.push_back({colour.lab, colour.share, std::string(word_for(colour.role))});
  return colours;
}

Result<FacePhoto> read_photo(const KitFace& face, const std::string& kit_path, Session& session) {
  const std::string path = face.photo.starts_with('/') ? face.photo : folder_of(kit_path) + "/" + face.photo;
  const std::string& shown = face.photo;
  std::optional<CropWords> crop;
  if (!face.crop.empty()) {
    auto words = crop_from_text(face.crop);
    if (!words) return words.error();
    crop = *words;
  }
  const PhotoLimits limits;
  auto bytes = read_file(path, limits.most_bytes);
  if (!bytes) {
    Error error = bytes.error();
    error.where = shown;
    return error;
  }
  auto photo = decode_photo(*bytes, shown, limits);
  if (!photo) return photo.error();
  bytes->clear();
  bytes->shrink_to_fit();
  const std::string before = shown + ": ";
  for (const std::string& line : photo->warnings) warn(session, std::string(before).append(line));

  CropPixels window{0, 0, photo->width, photo->height};
  if (crop) {
    auto pixels = crop_in_pixels(*crop, photo->width, photo->height);
    if (!pixels) {
      Error error = pixels.error();
      error.where = shown;
      return error;
    }
    window = *pixels;
  }
  const CroppedRows rows(*photo->light, window.x, window.y, window.width, window.height);
  FacePhoto result;
  result.small = thumbnail(rows, static_cast<int>(kFacePictureWidth / 25.4 * kPrintDpi),
                           static_cast<int>(kFacePictureHeight / 25.4 * kPrintDpi));
  result.colours = face.colours;
  if (!face.colours.empty()) return result;
  ExtractOptions options;
  options.facts = {photo->lossy, photo->profile_state == ProfileState::embedded,
                   photo->profile_state == ProfileState::broken, photo->clipped_share};
  const Palette palette = extract_palette(rows, options, session.executor);
  if (palette.trust.grade == Grade::poor)
    warn(session, "face " + face.label +
                      ": the photo is a poor guide to the colours: " + joined(palette.trust.reasons, "; "));
  result.colours = colours_of(palette);
  return result;
}

SheetDot dot_of(const Swatch& swatch) {
  return {swatch.name, swatch.kind == Kind::ink ? swatch.method : "", colour_of(swatch)};
}

std::vector<SheetDot> dots_of(const std::vector<Coordinate>& list) {
  std::vector<SheetDot> dots;
  dots.reserve(list.size());
  for (const Coordinate& one : list) dots.push_back(dot_of(*one.swatch));
  return dots;
}

void warn_of_retired(Session& session, const std::string& owner, const std::vector<Coordinate>& list) {
  for (const Coordinate& one : list) {
    if (one.named && one.swatch->retired) warn(session, owner + ": " + one.swatch->name + " is retired");
    if (one.named && !one.swatch->retired && !one.swatch->in_stock)
      warn(session, owner + ": " + one.swatch->name + " is used up");
  }
}

/// The stocks or the inks of one face: as named, else found.
Result<std::vector<Coordinate>> coordinates(const Stash& stash, const InPlay& range, const KitFace& face,
                                            const std::vector<KitColour>& colours, Kind kind) {
  const auto& names = kind == Kind::stock ? face.stocks : face.inks;
  if (!names.empty()) return named_coordinates(stash, names, kind, face.where);
  return found_coordinates(stash, range, colours, kind, kind == Kind::stock ? kStocksPerFace : kInksPerFace);
}

/// Same bytes of a profile are held once for all pictures.
std::shared_ptr<const std::string> shared_profile(const std::vector<SheetPicture>& pictures,
                                                  const std::string& profile) {
  for (const SheetPicture& picture : pictures) {
    if (*picture.profile == profile) return picture.profile;
  }
  return std::make_shared<const std::string>(profile);
}

MaybeError add_face(const KitFace& face, const std::string& kit_path, const Stash& stash,
                    const InPlay& stocks, const InPlay& inks, Session& session, Gathered& into) {
  SheetFace drawn;
  drawn.label = face.label;
  drawn.colours = face.colours;
  if (!face.photo.empty()) {
    auto photo = read_photo(face, kit_path, session);
    if (!photo) return at_face(face, photo.error());
    drawn.colours = photo->colours;
    drawn.picture = into.sheet.pictures.size();
    into.sheet.pictures.push_back({photo->small.width, photo->small.height, std::move(photo->small.rgb),
                                   shared_profile(into.sheet.pictures, photo->small.profile)});
  }
  FaceChoice choice{face.label, {}, {}};
  auto found_stocks = coordinates(stash, stocks, face, drawn.colours, Kind::stock);
  if (!found_stocks) return at_face(face, found_stocks.error());
  auto found_inks = coordinates(stash, inks, face, drawn.colours, Kind::ink);
  if (!found_inks) return at_face(face, found_inks.error());
  choice.stocks = std::move(*found_stocks);
  choice.inks = std::move(*found_inks);
  if (choice.stocks.empty())
    warn(session,
         "face " + face.label + ": none of the stocks comes near its colours; name some with stocks = [...]");
  if (choice.inks.empty())
    warn(session,
         "face " + face.label + ": none of the inks comes near its colours; name some with inks = [...]");
  warn_of_retired(session, "face " + face.label, choice.stocks);
  warn_of_retired(session, "face " + face.label, choice.inks);
  drawn.stocks = dots_of(choice.stocks);
  drawn.inks = dots_of(choice.inks);
  into.sheet.faces.push_back(std::move(drawn));
  into.faces.push_back(std::move(choice));
  return std::nullopt;
}

/// What every kit holds: base stocks and the inks it must have.
MaybeError add_whole_kit(const Kit& kit, const std::string& kit_path, const Stash& stash, Session& session,
                         Gathered& into) {
  auto base = named_coordinates(stash, kit.base, Kind::stock, kit_path);
  if (!base) return base.error();
  auto always = named_coordinates(stash, kit.inks.must, Kind::ink, kit_path);
  if (!always) return always.error();
  warn_of_retired(session, "base stock", *base);
  warn_of_retired(session, "inks", *always);
  into.sheet.base = dots_of(*base);
  into.sheet.always = dots_of(*always);
  return std::nullopt;
}

void warn_of_too_many(Session& session, const Kit& kit, const Gathered& gathered) {
  std::set<int> used;
  for (const FaceChoice& face : gathered.faces) {
    for (const Coordinate& ink : face.inks) used.insert(ink.swatch->id);
  }
  if (kit.inks.choose > 0 && used.size() > static_cast<std::size_t>(kit.inks.choose))
    warn(session, "the faces' nearest inks are " + std::to_string(used.size()) +
                      ", more than choose = " + std::to_string(kit.inks.choose) +
                      ": list the ones you settle on as from = [...] under [inks]");
}

}  // namespace

Result<Gathered> gather_sheet(const Kit& kit, const std::string& kit_path, const Stash& stash,
                              Session& session) {
  Gathered gathered;
  gathered.sheet.name = kit.name;
  gathered.sheet.date = kit.date;
  const auto stocks = in_play(stash, kit.stocks, Kind::stock, kit_path);
  if (!stocks) return stocks.error();
  const auto inks = in_play(stash, kit.inks, Kind::ink, kit_path);
  if (!inks) return inks.error();
  if (MaybeError error = add_whole_kit(kit, kit_path, stash, session, gathered)) return *error;
  for (const KitFace& face : kit.faces) {
    if (MaybeError error = add_face(face, kit_path, stash, *stocks, *inks, session, gathered)) return *error;
  }
  warn_of_too_many(session, kit, gathered);
  return gathered;
}

}  // namespace kithue
