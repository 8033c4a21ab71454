// SPDX-License-Identifier: MIT
#include "cli/gather_sheet.h"

#include <algorithm>
#include <memory>
#include <utility>

#include "base/text.h"
#include "cli/kit_faces.h"
#include "kit/choose_kit.h"

namespace kithue {
namespace {

constexpr std::size_t kInksPerFace = 3;

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
void add_face(const KitFace& face, FaceRead read, Gathered& into) {
  SheetFace drawn;
  drawn.label = face.label;
  drawn.sheet = face.sheet;
  drawn.colours = std::move(read.colours);
  if (read.small) {
    drawn.picture = into.sheet.pictures.size();
    into.sheet.pictures.push_back({read.small->width, read.small->height, std::move(read.small->rgb),
                                   shared_profile(into.sheet.pictures, read.small->profile)});
  }
  into.read.colours.push_back(drawn.colours);
  into.read.pictures.push_back(drawn.picture);
  into.sheet.faces.push_back(std::move(drawn));
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
  warn_of_retired(session, "face " + face.label, choice.stocks);
  warn_of_retired(session, "face " + face.label, choice.inks);
  drawn.stocks = dots_of(choice.stocks);
  drawn.inks = dots_of(choice.inks);
  into.faces.push_back(std::move(choice));
  return std::nullopt;
}

/// One line, however many faces there are.
void warn_of_faces_without(const Gathered& gathered, const std::string& what,
                           std::vector<Coordinate> FaceChoice::*which, Session& session) {
  std::vector<std::string> labels;
  for (const FaceChoice& face : gathered.faces)
    if ((face.*which).empty()) labels.push_back(face.label);
  if (labels.empty()) return;
  warn(session, (labels.size() == 1 ? "face " : "faces ") + joined(labels, ", ") + ": none of the " + what +
                    " comes near the colours; name some with " + what + " = [...]");
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
  into.base = *std::move(base);
  into.always = *std::move(always);
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
  Gathered gathered;
  gathered.sheet.name = kit.name;
  gathered.sheet.date = kit.date;
  const auto stocks = in_play(stash, kit.stocks, Kind::stock, kit_path);
  if (!stocks) return stocks.error();
  if (MaybeError error = add_whole_kit(kit, kit_path, stash, session, gathered)) return *error;
  auto faces = read_faces(kit, kit_path, true, session);
  if (!faces) return faces.error();
  for (std::size_t f = 0; f < kit.faces.size(); ++f) add_face(kit.faces[f], std::move((*faces)[f]), gathered);
  if (kit.faces.empty()) return gathered;
  const auto inks = settled_inks(kit, kit_path, stash, gathered.read.colours, session);
  if (!inks) return inks.error();
  if (kit.inks.choose > 0) gathered.inks = inks->swatches;
  for (std::size_t f = 0; f < kit.faces.size(); ++f) {
    SheetFace& drawn = gathered.sheet.faces[f];
    if (MaybeError error = add_coordinates(kit.faces[f], stash, *stocks, *inks, session, drawn, gathered))
      return *error;
  }
  warn_of_faces_without(gathered, "stocks", &FaceChoice::stocks, session);
  warn_of_faces_without(gathered, "inks", &FaceChoice::inks, session);
  return gathered;
}

Result<PatternStrip> strip_of(const Kit& kit, const std::string& kit_path, const Gathered& gathered) {
  constexpr double kWidest = 76.2;  // mm: 3 in
  PatternStrip strip;
  strip.name = gathered.sheet.name;
  strip.date = gathered.sheet.date;
  strip.faces = gathered.sheet.faces;
  strip.pictures = gathered.sheet.pictures;
  if (kit.punch) {
    strip.punch_mm = mm_of(*kit.punch);
    strip.snippet_width_mm = mm_of(kit.snippet.width);
    strip.snippet_height_mm = mm_of(kit.snippet.height);
  }
  for (const double size : {strip.punch_mm, strip.snippet_width_mm, strip.snippet_height_mm}) {
    if (size < 6.0 || size > kWidest)
      return Error{ErrorKind::impossible,
                   "a strip holds dots and snippets of 6 mm (1/4 in) to 76.2 mm (3 in)", kit_path,
                   "change punch or snippet in [strip]"};
  }
  std::vector<std::vector<Coordinate>> faces;
  for (const FaceChoice& face : gathered.faces) faces.push_back(face.stocks);
  for (const Swatch* solid : strip_solids(gathered.base, faces)) strip.solids.push_back(dot_of(*solid));
  return strip;
}

ColourMap map_of(const Gathered& gathered) {
  ColourMap map;
  map.name = gathered.sheet.name;
  map.date = gathered.sheet.date;
  for (const auto& face : gathered.read.colours) {
    for (const KitColour& colour : face) map.pack.push_back({colour.lab, colour.share});
  }
  std::vector<const Swatch*> chosen;
  const auto add = [&](const std::vector<Coordinate>& list) {
    for (const Coordinate& one : list) {
      if (std::find(chosen.begin(), chosen.end(), one.swatch) == chosen.end()) chosen.push_back(one.swatch);
    }
  };
  add(gathered.base);
  for (const FaceChoice& face : gathered.faces) add(face.stocks);
  add(gathered.always);
  for (const FaceChoice& face : gathered.faces) add(face.inks);
  for (const Swatch* swatch : chosen) map.swatches.push_back(dot_of(*swatch));
  return map;
}

}  // namespace kithue
