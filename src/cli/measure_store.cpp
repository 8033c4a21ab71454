// SPDX-License-Identifier: MIT
#include "cli/measure_store.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "cli/stash_access.h"
#include "swatch/edit.h"

namespace kithue {
namespace {

/// dE00 that covers nine colours of ten when one known colour is in the frame, by the simulation of lights
/// and cameras that "kithue_trust" prints.
constexpr double kOneReference = 4.5;

/// The swatch that a chip's name means in this stash, without its readings; new where there is none.
Result<Swatch> swatch_for(const Stash& stash, const Chip& chip, const MeasureOptions& options,
                          std::optional<Kind> kind) {
  const auto found = find_swatch(stash, chip.name);
  const bool fits = found && (!kind || (*found)->kind == *kind) &&
                    (options.method.empty() || (*found)->method == options.method);
  if (fits) {
    Swatch swatch = **found;
    swatch.readings.clear();
    return swatch;
  }
  if (!found && found.error().kind == ErrorKind::ambiguous && !kind) return found.error();
  if (!kind) {
    return Error{ErrorKind::bad_usage, "\"" + chip.name + "\" is not in the stash yet: what is it?", "--kind",
                 "add --kind stock, ink or other" +
                     (found || found.error().advice.empty() ? "" : "; or " + found.error().advice)};
  }
  Swatch swatch;
  const auto name = valid_name(chip.name);
  if (!name) return name.error();
  swatch.name = *name;
  swatch.kind = *kind;
  swatch.method = options.method;
  swatch.surface = options.on;
  swatch.batch = options.batch;
  return swatch;
}

/// What all readings of the photo have in common.
Result<Reading> common_reading(const MeasureOptions& options, const Photo& photo,
                               const std::optional<Correction>& correction) {
  Reading reading;
  const std::string what = options.profile.empty() ? "photo" : "scan";
  const auto source = valid_text(options.source.empty() ? what : options.source, "source");
  if (!source) return source.error();
  const auto date = valid_date(options.date.empty() ? photo.day : options.date);
  if (!date && !options.date.empty()) return date.error();
  const auto batch = valid_text(options.batch, "batch");
  if (!batch) return batch.error();
  reading.source = *source;
  reading.date = date ? *date : "";
  reading.batch = *batch;
  reading.dryness = options.wet ? Dryness::wet : Dryness::unknown;
  if (correction)
    reading.error_de00 = correction->left_out_mean < 0.0 ? kOneReference : correction->left_out_mean;
  return reading;
}

std::string note_for(const Chip& chip, const MeasureOptions& options,
                     const std::optional<Correction>& correction) {
  const auto slash = options.photo.find_last_of('/');
  std::string note = "from " + printable(options.photo.substr(slash == std::string::npos ? 0 : slash + 1)) +
                     " at " + std::to_string(chip.box.x) + "," + std::to_string(chip.box.y);
  if (correction)
    note += "; corrected by " + counted(static_cast<std::size_t>(correction->patches), "known colour");
  for (const std::string& warning : chip.warnings) note += "; " + warning;
  return note;
}

}  // namespace

std::size_t named_chips(const ChipSet& set) {
  return static_cast<std::size_t>(std::count_if(set.chips.begin(), set.chips.end(),
                                                [](const Chip& chip) { return chip.named && !chip.known; }));
}

Result<ImportCount> store_chips(const MeasureOptions& options, const Photo& photo, const ChipSet& set,
                                const std::optional<Correction>& correction, Session& session) {
  if (!correction && options.profile.empty()) {
    return Error{ErrorKind::impossible, "without a known colour in the frame these are no readings to keep",
                 options.photo,
                 "say which chip is known (--known, --chart, --background), or give --profile"};
  }
  std::optional<Kind> kind;
  if (!options.kind.empty()) {
    kind = kind_from(folded(options.kind));
    if (!kind)
      return Error{ErrorKind::bad_usage, "no such kind: " + options.kind, "--kind", "stock, ink or other"};
    if (*kind != Kind::ink && !(options.method.empty() && options.on.empty()))
      return Error{ErrorKind::bad_usage, "--method and --on belong to inks", "--kind", "use --kind ink"};
  } else if (!options.method.empty() || !options.on.empty()) {
    kind = Kind::ink;
  }
  const auto common = common_reading(options, photo, correction);
  if (!common) return common.error();
  ImportCount count;
  std::vector<Finding> duplicates;
  const auto change = edit_stash(session, options.dry_run, [&](Stash& stash) -> MaybeError {
    Import import;
    for (const Chip& chip : set.chips) {
      if (!chip.named || chip.known) continue;
      auto swatch = swatch_for(stash, chip, options, kind);
      if (!swatch) return swatch.error();
      if (auto fault = check_lab(chip.lab)) {
        fault->what = chip.name + ": " + fault->what;
        fault->where = options.photo;
        return fault;
      }
      Reading reading = *common;
      reading.lab = chip.lab;
      reading.surface = options.on.empty() ? swatch->surface : options.on;
      const auto note = valid_text(note_for(chip, options, correction), "note");
      if (!note) return note.error();
      reading.note = *note;
      import.rows.push_back({0, std::move(*swatch), std::move(reading)});
    }
    count = merge_import(stash, import);
    duplicates = duplicate_findings(stash, count.changed);
    return std::nullopt;
  });
  if (!change) return change.error();
  warn_of_duplicates(session, duplicates);
  const std::string line = std::to_string(count.new_swatches) +
                           (count.new_swatches == 1 ? " new swatch, " : " new swatches, ") +
                           counted(count.new_readings, "new reading") + ", " +
                           std::to_string(count.already_there) + " there already";
  if (change->written || options.dry_run)
    tell_change(session, options.dry_run, line);
  else
    hint(session, line + "; nothing changed");
  return count;
}

}  // namespace kithue
