// SPDX-License-Identifier: MIT
#include "cli/gather_sheet.h"

#include <memory>
#include <utility>

#include "cli/face_reading.h"
#include "cli/kit_faces.h"
#include "kit/choose_kit.h"
#include "photo/thumbnail.h"

namespace kithue {
namespace {

constexpr std::size_t kStocksPerFace = 3;
constexpr std::size_t kInksPerFace = 3;
constexpr double kPrintDpi = 240.0;

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

/// The face with its picture and colours; what goes with it comes later.
MaybeError add_face(const KitFace& face, const std::string& kit_path, Session& session, Gathered& into) {
  SheetFace drawn;
  drawn.label = face.label;
  drawn.colours = face.colours;
  if (!face.photo.empty()) {
    const auto photo = open_face_photo(face, kit_path, session);
    if (!photo) return photo.error();
    const CropPixels window = shown_window(photo->photo, photo->window, session.executor);
    const CroppedRows rows(*photo->photo.light, window.x, window.y, window.width, window.height);
    Thumbnail small = thumbnail(rows, static_cast<int>(kFacePictureWidth / 25.4 * kPrintDpi),
                                static_cast<int>(kFacePictureHeight / 25.4 * kPrintDpi));
    drawn.colours = colours_of_face(face, *photo, session);
    drawn.picture = into.sheet.pictures.size();
    into.sheet.pictures.push_back({small.width, small.height, std::move(small.rgb),
                                   shared_profile(into.sheet.pictures, small.profile)});
  }
  into.sheet.faces.push_back(std::move(drawn));
  return std::nullopt;
}

MaybeError add_coordinates(const KitFace& face, const Stash& stash, const InPlay& stocks, const InPlay& inks,
                           Session& session, SheetFace& drawn, Gathered& into) {
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

/// The inks to settle on, where the kit says how many: the best set for all faces, else all in play.
Result<InPlay> settled_inks(const Kit& kit, const std::string& kit_path, const Stash& stash,
                            const FaceColours& colours, Session& session) {
  auto inks = in_play(stash, kit.inks, Kind::ink, kit_path);
  if (!inks || kit.inks.choose == 0) return inks;
  const Bands bands = kit.bands.value_or(Bands{});
  const auto request = choose_request(kit, stash, colours, KitChoice::inks, Reads::fine, bands, kit_path);
  if (!request) return request.error();
  const Choice choice = choose_set(stash, *request, bands);
  if (!choice.feasible) {
    warn(session, "no set of inks keeps the rules, so the nearest of all are shown: " + choice.blocked_by);
    return inks;
  }
  InPlay settled;
  for (const ChosenOne& one : choice.chosen) settled.swatches.push_back(one.swatch);
  return settled;
}

}  // namespace

Result<Gathered> gather_sheet(const Kit& kit, const std::string& kit_path, const Stash& stash,
                              Session& session) {
  if (kit.faces.empty())
    return Error{ErrorKind::bad_input, "the kit has no faces to show", kit_path,
                 "add [[face]] sections with a photo or colours"};
  Gathered gathered;
  gathered.sheet.name = kit.name;
  gathered.sheet.date = kit.date;
  const auto stocks = in_play(stash, kit.stocks, Kind::stock, kit_path);
  if (!stocks) return stocks.error();
  if (MaybeError error = add_whole_kit(kit, kit_path, stash, session, gathered)) return *error;
  FaceColours colours;
  for (const KitFace& face : kit.faces) {
    if (MaybeError error = add_face(face, kit_path, session, gathered)) return *error;
    colours.push_back(gathered.sheet.faces.back().colours);
  }
  const auto inks = settled_inks(kit, kit_path, stash, colours, session);
  if (!inks) return inks.error();
  for (std::size_t f = 0; f < kit.faces.size(); ++f) {
    SheetFace& drawn = gathered.sheet.faces[f];
    if (MaybeError error = add_coordinates(kit.faces[f], stash, *stocks, *inks, session, drawn, gathered))
      return *error;
  }
  return gathered;
}

}  // namespace kithue
