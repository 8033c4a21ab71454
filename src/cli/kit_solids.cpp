// SPDX-License-Identifier: MIT
#include "cli/kit_count.h"
#include "cli/kit_faces.h"
#include "cli/stash_access.h"
#include "kit/coordinate.h"

namespace kithue {

Result<std::vector<std::string>> solids_of_strips(const Kit& kit, const std::string& kit_path,
                                                  Session& session) {
  std::vector<std::string> names;
  if (!kit.punch) return names;
  const auto stash = open_stash(session);
  if (!stash) return stash.error();
  const auto base = named_coordinates(*stash, kit.base, Kind::stock, kit_path);
  if (!base) return base.error();
  const auto range = in_play(*stash, kit.stocks, Kind::stock, kit_path);
  if (!range) return range.error();
  const auto colours = face_colours(kit, kit_path, session);
  if (!colours) return colours.error();
  std::vector<std::vector<Coordinate>> faces;
  for (std::size_t f = 0; f < kit.faces.size(); ++f) {
    const KitFace& face = kit.faces[f];
    if (face.stocks.empty()) {
      faces.push_back(found_coordinates(*stash, *range, (*colours)[f], Kind::stock, kStocksPerFace));
      continue;
    }
    auto named = named_coordinates(*stash, face.stocks, Kind::stock, face.where);
    if (!named) return at_face(face, named.error());
    faces.push_back(*std::move(named));
  }
  for (const Swatch* solid : strip_solids(*base, faces)) names.push_back(solid->name);
  return names;
}

}  // namespace kithue
