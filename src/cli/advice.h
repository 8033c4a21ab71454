// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "advise/match.h"
#include "advise/verdict.h"
#include "cli/command.h"
#include "cli/table.h"
#include "swatch/stash.h"

namespace kithue {

// What the commands that give advice share.

/// `--bands SAME,MATCH,NEAR,STEP`: where the verdicts part.
struct BandOptions {
  std::vector<double> limits;  ///< none or four
};
void add_band_option(CLI::App& command, BandOptions& options);
/// The option wins over those of a kit file. Errors: bad_usage when the limits do not rise.
Result<Bands> bands_from(const BandOptions& options, const std::optional<Bands>& else_these = std::nullopt);

/// Each text as a colour, in the order given. Errors: those of resolve_colour.
Result<std::vector<NamedColour>> resolve_colours(const Stash& stash, const std::vector<std::string>& texts);

/// Warns when an answer compares readings that should not be: M0 with M1, wet with dry (mixed_cautions).
void warn_of_conditions(Session& session, const std::vector<const Swatch*>& compared, bool others = false);
/// The same for colours of which some may be literals.
void warn_of_conditions(Session& session, const std::vector<NamedColour>& compared);

nlohmann::ordered_json lab_json(const Lab& lab);
/// {"id", "name", "kind", "method", "lab", "de00", "verdict", "words", "uncertainty", "orders_only"}.
nlohmann::ordered_json match_json(const Match& match);
/// [{"id", "name", "reason"}].
nlohmann::ordered_json left_out_json(const std::vector<const Swatch*>& swatches);

/// Puts the uncertainty and the lightness, chroma and hue parts of a distance into a row of match or standin,
/// after its third cell.
void insert_terms(std::vector<Cell>& row, const NamedColour& from, const Match& match);

/// "ink, pad", "stock".
std::string kind_and_method(const Swatch& swatch);

/// Prints the text as lines of at most `columns`, each indented.
void print_wrapped(Session& session, const std::string& text, std::size_t indent);
/// "Left out, without a number: Foil Moon, Pearl." Nothing when there are none.
void print_left_out(Session& session, const std::vector<const Swatch*>& swatches);
/// Where the verdicts part, for --why.
void print_limits(Session& session, const Bands& bands);
/// The caution that goes with distances above about 5.
void print_orders_only(Session& session);

}  // namespace kithue
