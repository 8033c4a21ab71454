// SPDX-License-Identifier: MIT
#include <CLI/CLI.hpp>

#include "base/text.h"
#include "cli/stash_commands.h"
#include "colour/css.h"
#include "swatch/edit.h"

namespace kithue {

void add_reading_options(CLI::App& command, ReadingOptions& options, const std::string& lab_flag) {
  CLI::Option* const lab =
      command.add_option(lab_flag, options.lab, "L*, a* and b*; --white must say under which white")
          ->type_name("L,a,b");
  command
      .add_option("--colour", options.colour, "The reading as a CSS colour: \"lab(78 4 18)\", \"#c8a67d\"")
      ->type_name("COLOUR")
      ->excludes(lab);
  command.add_option("--white", options.white, "The white the numbers were given under: D50/2, D65/10 ...")
      ->type_name("WHITE");
  command.add_option("--source", options.source, "What it was read with: instrument, scan, photo")
      ->type_name("TEXT");
  command.add_option("--date", options.date, "The day it was read, as in 2026-03-14")->type_name("DAY");
  command.add_option("--batch", options.batch, "Dye lot or delivery")->type_name("TEXT");
  command.add_flag("--wet", options.wet, "The ink was still wet");
}

Result<std::optional<Reading>> reading_from(const ReadingOptions& options, const std::string& surface) {
  if (options.lab.empty() && options.colour.empty()) {
    if (options.white.empty() && !options.wet) return std::optional<Reading>();
    return Error{ErrorKind::bad_usage, "there is no reading for --white or --wet to speak of", "",
                 "give the numbers with --lab L,a,b as well"};
  }
  if (!options.colour.empty() && !options.white.empty() && options.white != "D50/2") {
    return Error{ErrorKind::bad_usage, "a CSS colour brings its own white, so --white has no place", "",
                 "give the numbers with --lab L,a,b instead"};
  }
  if (!options.lab.empty() && options.white.empty()) {
    return Error{ErrorKind::bad_usage, "a reading needs --white: numbers without their white are not kept",
                 "",
                 "look at the instrument's settings: --white D50/2 in the print trade, often D65/10 on "
                 "hand-held ones"};
  }
  const auto lab = options.colour.empty() ? lab_from_triple(options.lab) : lab_from_css(options.colour);
  if (!lab) return lab.error();
  auto reading = reading_under(*lab, options.white.empty() ? "D50/2" : options.white);
  if (!reading) return reading.error();
  const auto date = valid_date(options.date);
  if (!date) return date.error();
  const auto source = valid_text(options.source, "source");
  if (!source) return source.error();
  const auto batch = valid_text(options.batch, "batch");
  if (!batch) return batch.error();
  reading->date = *date;
  reading->source = source->empty() ? "typed" : *source;
  reading->batch = *batch;
  reading->surface = surface;
  reading->dryness = options.wet ? Dryness::wet : Dryness::unknown;
  if (!options.colour.empty()) reading->note = "given as " + options.colour;
  return std::optional<Reading>(std::move(*reading));
}

}  // namespace kithue
