// SPDX-License-Identifier: MIT
#include "kit/choose_kit.h"

#include <algorithm>

#include "advise/clash.h"
#include "advise/ink_on_stock.h"
#include "advise/match.h"
#include "kit/coordinate.h"

namespace kithue {
namespace {

Result<std::vector<const Swatch*>> swatches_named(const Stash& stash, const std::vector<std::string>& names,
                                                  Kind kind, const std::string& where) {
  std::vector<const Swatch*> swatches;
  for (const std::string& name : names) {
    const auto found = swatch_of_kind(stash, name, kind, where);
    if (!found) return found.error();
    swatches.push_back(*found);
  }
  return swatches;
}

Result<std::vector<NamedColour>> base_colours(const Stash& stash, const Kit& kit, const std::string& where) {
  const auto swatches = swatches_named(stash, kit.base, Kind::stock, where);
  if (!swatches) return swatches.error();
  std::vector<NamedColour> bases;
  for (const Swatch* swatch : *swatches) {
    auto colour = named_colour_of(*swatch);
    if (!colour) {
      return Error{ErrorKind::impossible, "the base \"" + swatch->name + "\" has no number to judge by",
                   where, "measure it, or take it out of base"};
    }
    bases.push_back(*std::move(colour));
  }
  return bases;
}

std::vector<ChooseFace> faces_of(const Kit& kit, const FaceColours& colours) {
  std::vector<ChooseFace> faces;
  for (std::size_t f = 0; f < kit.faces.size(); ++f) {
    ChooseFace face{kit.faces[f].label, {}};
    for (const KitColour& colour : colours[f]) {
      face.colours.push_back({colour.lab, colour.share, colour.role == "ground", colour.role == "accent"});
    }
    faces.push_back(std::move(face));
  }
  return faces;
}

/// Every base, and every stock that clashes with one.
void leave_out_unfit_mats(ChooseRequest& request, const std::vector<NamedColour>& bases, const Bands& bands) {
  std::erase_if(request.candidates, [&](const Swatch* swatch) {
    const auto colour = named_colour_of(*swatch);
    return std::any_of(bases.begin(), bases.end(), [&](const NamedColour& base) {
      return base.swatch == swatch || (colour && is_clash(judge(*colour, base, bands).verdict));
    });
  });
}

MaybeError leave_out_unfit_bases(ChooseRequest& request, const Kit& kit, const Stash& stash,
                                 const std::string& where) {
  auto inks = swatches_named(stash, kit.inks.must, Kind::ink, where);
  if (!inks) return inks.error();
  if (inks->empty()) {
    const auto play = in_play(stash, kit.inks, Kind::ink, where);
    if (!play) return play.error();
    *inks = play->swatches;
  }
  std::vector<InkModel> models;
  Surfaces surfaces(stash);
  for (const Swatch* ink : *inks) {
    if (const auto colour = named_colour_of(*ink)) models.push_back(ink_model(surfaces, *colour));
  }
  std::erase_if(request.candidates, [&](const Swatch* swatch) {
    const auto stock = named_colour_of(*swatch);
    if (!stock) return false;  // listed as left out by the choice itself
    const Layer layer = layer_of(*stock);
    return std::none_of(models.begin(), models.end(), [&](const InkModel& ink) {
      return ink_on_stock(ink, *stock, layer).reads <= request.sentiment;
    });
  });
  return std::nullopt;
}

void add_prices(ChooseRequest& request, const Kit& kit) {
  bool any = false;
  for (const Swatch* swatch : request.candidates) {
    const KitSupply* supply = supply_of_ink(kit, full_name(*swatch));
    if (supply == nullptr) supply = supply_of_ink(kit, swatch->name);
    const auto price = supply != nullptr && supply->price_cents ? supply->price_cents : kit.ink_cents;
    request.price_cents.push_back(price);
    any = any || price.has_value();
  }
  if (!any) request.price_cents.clear();
  request.budget_cents = kit.ink_budget_cents;
}

}  // namespace

Result<ChooseRequest> choose_request(const Kit& kit, const Stash& stash, const FaceColours& colours,
                                     KitChoice what, Reads sentiment, const Bands& bands,
                                     const std::string& where) {
  ChooseRequest request;
  const Kind kind = what == KitChoice::inks ? Kind::ink : Kind::stock;
  const KitRange& range = kind == Kind::stock ? kit.stocks : kit.inks;
  const auto play = in_play(stash, range, kind, where);
  if (!play) return play.error();
  request.candidates = play->swatches;
  const auto must = swatches_named(stash, range.must, kind, where);
  if (!must) return must.error();
  request.must = *must;
  for (const Swatch* swatch : request.must) {
    if (std::find(request.candidates.begin(), request.candidates.end(), swatch) == request.candidates.end())
      request.candidates.push_back(swatch);
  }
  const auto never = swatches_named(stash, range.never, kind, where);
  if (!never) return never.error();
  request.never = *never;
  request.sentiment = sentiment;
  auto bases = base_colours(stash, kit, where);
  if (!bases) return bases.error();
  if (what == KitChoice::mats) leave_out_unfit_mats(request, *bases, bands);
  if (what == KitChoice::bases) {
    if (auto fault = leave_out_unfit_bases(request, kit, stash, where)) return *fault;
  }
  if (what == KitChoice::inks) {
    request.bases = *std::move(bases);
    add_prices(request, kit);
  }
  request.count = static_cast<std::size_t>(std::max(range.choose, 0));
  request.faces = faces_of(kit, colours);
  request.meet = what == KitChoice::bases ? Meet::grounds : Meet::motifs;
  return request;
}

}  // namespace kithue
