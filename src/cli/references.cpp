// SPDX-License-Identifier: MIT
#include "cli/references.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "cli/stash_access.h"
#include "colour/css.h"
#include "extract/card.h"
#include "extract/correction.h"

namespace kithue {
namespace {

/// A white card when the user does not say which: near to copy paper. Common practice, no source.
constexpr Lab kWhiteCard{95.0, 0.0, 0.0};

Result<Lab> known_colour(std::optional<Stash>& stash, const std::string& text, Session& session) {
  if (looks_like_css(text)) return lab_from_css(text);
  if (!stash) {
    auto opened = open_stash(session);
    if (!opened) return opened.error();
    stash = std::move(*opened);
  }
  const auto colour = resolve_colour(*stash, text);
  if (!colour) return colour.error();
  return colour->lab;
}

}  // namespace

Result<References> references_of(const ExtractCommand& options, Session& session) {
  References references;
  std::optional<Stash> stash;
  if (!options.white_is.empty() && options.white.empty()) {
    const auto known = known_colour(stash, options.white_is, session);
    if (!known) return known.error();
    references.card = *known;
  }
  if (!options.white.empty()) {
    auto window = crop_from_text(options.white);
    if (!window) {
      Error error = window.error();
      error.where = "--white";
      return error;
    }
    Lab lab = kWhiteCard;
    if (options.white_is.empty()) {
      warn(session, "the white card is taken for lab(95 0 0); say --white-is with its measured colour");
    } else {
      const auto known = known_colour(stash, options.white_is, session);
      if (!known) return known.error();
      lab = *known;
    }
    references.list.push_back({"white", lab, *window});
  }
  for (const std::string& chip : options.chips) {
    const auto equals = chip.rfind('=');
    const Error wrong{ErrorKind::bad_usage, "not a chip: " + chip, "--chip",
                      "write the stock, =, and where it lies: \"Wet Sand=120,80,60,60\""};
    if (equals == std::string::npos || equals == 0) return wrong;
    auto window = crop_from_text(chip.substr(equals + 1));
    if (!window) return wrong;
    const auto known = known_colour(stash, chip.substr(0, equals), session);
    if (!known) return known.error();
    references.list.push_back({chip.substr(0, equals), *known, *window});
  }
  return references;
}

MaybeError correct_by(const References& known, const Photo& photo, const std::string& photo_name,
                      FaceReading& reading, std::vector<std::string>& warnings) {
  constexpr double kMostClipped = 0.02;
  constexpr double kMostVaried = 0.15;
  constexpr double kMostUneven = 0.15;
  if (known.list.empty() && !known.card) return std::nullopt;
  Trust& trust = reading.palette.trust;
  const auto refuse = [&](const std::string& why) {
    warnings.push_back(photo_name + ": not corrected: " + why);
    trust.reasons.insert(trust.reasons.begin(), "not corrected: " + why);
    trust.grade = Grade::poor;
    return std::nullopt;
  };
  if (photo.clipped_share > kMostClipped) return refuse("over 2 % of it is overexposed");
  if (2.0 * reading.palette.evenness.spread > kMostVaried)
    return refuse("the light varies by over 15 % across the frame");
  std::vector<KnownPatch> patches;
  const auto add = [&](const std::string& name, const Lab& lab, const CropPixels& at) {
    KnownPatch patch = patch_at(*photo.light, at.x, at.y, at.width, at.height, name, lab);
    const double light = light_at(reading, at.x + 0.5 * at.width, at.y + 0.5 * at.height);
    for (double& one : patch.seen) one /= light;
    patches.push_back(patch);
  };
  for (const Reference& reference : known.list) {
    const auto window = crop_in_pixels(reference.window, photo.width, photo.height);
    if (!window) {
      Error error = window.error();
      error.where = photo_name + " (" + reference.name + ")";
      return error;
    }
    add(reference.name, reference.lab, *window);
    if (patches.back().uneven > kMostUneven)
      warnings.push_back(photo_name + ": the window of " + reference.name + " is not of one colour");
  }
  if (known.card) {
    const ReferenceCard card = find_card(reading.small, reading.sheet, *known.card, photo.light->to_xyz());
    if (card.certain) {
      add("white", *known.card, {card.x, card.y, card.side, card.side});
      trust.reasons.push_back(card.words + " was found at " + std::to_string(card.x) + "," +
                              std::to_string(card.y) + "," + std::to_string(card.side) + "," +
                              std::to_string(card.side));
    } else if (known.list.empty()) {
      return refuse(card.words + "; say where it lies with --white");
    } else {
      warnings.push_back(photo_name + ": " + card.words + "; only the chips were used");
    }
  }
  for (const KnownPatch& patch : patches) {
    if (*std::min_element(patch.seen.begin(), patch.seen.end()) <= 0.0)
      return refuse(patch.name + " is too dark in the photo");
  }
  const Matrix3& to_xyz = photo.light->to_xyz();
  correct(reading.palette, fit_correction(patches, to_xyz), to_xyz);
  return std::nullopt;
}

}  // namespace kithue
