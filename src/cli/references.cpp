// SPDX-License-Identifier: MIT
#include "cli/references.h"

#include <optional>
#include <utility>

#include "cli/stash_access.h"
#include "colour/css.h"

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

Result<std::vector<Reference>> references_of(const ExtractCommand& options, Session& session) {
  std::vector<Reference> references;
  std::optional<Stash> stash;
  if (!options.white_is.empty() && options.white.empty()) {
    return Error{ErrorKind::bad_usage, "--white-is needs --white", "",
                 "say where the card lies: --white x,y,w,h"};
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
    references.push_back({"white", lab, *window});
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
    references.push_back({chip.substr(0, equals), *known, *window});
  }
  return references;
}

}  // namespace kithue
