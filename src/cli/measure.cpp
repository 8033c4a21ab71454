// SPDX-License-Identifier: MIT
#include "cli/measure.h"

#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>

#include "base/files.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/measure_chips.h"
#include "cli/measure_store.h"
#include "cli/photo_bytes.h"
#include "cli/pictures.h"
#include "cli/table.h"

namespace kithue {
namespace {

constexpr std::size_t kMostProfile = std::size_t{4} << 20;
/// Known colours that foretell each other worse than this are not what the user thinks. Ours, no source.
constexpr double kMostLeftOut = 6.0;

Result<Photo> read_photo(const MeasureOptions& options) {
  const auto bytes = read_photo_bytes(options.photo, options.photo);
  if (!bytes) return bytes.error();
  if (options.profile.empty()) return decode_photo(*bytes, options.photo);
  const auto icc = read_file(options.profile, kMostProfile);
  if (!icc) return icc.error();
  return decode_scan(*bytes, options.photo, *icc, options.profile);
}

std::string words_for(const std::optional<Correction>& correction, const MeasureOptions& options) {
  if (!correction && !options.profile.empty())
    return "read through the profile alone: put known chips into the frame to learn how well that fits";
  if (!correction) {
    return "not corrected: no chip of a known colour is in the frame; the photo's own colours, often 5 to 15 "
           "dE00 off";
  }
  const std::string by =
      "corrected by " + counted(static_cast<std::size_t>(correction->patches), "known colour");
  if (correction->left_out_mean < 0.0)
    return by + ": too few to say how well; 4.5 dE00 covers nine of ten colours in such photos";
  return by + "; each is foretold by the others to " + fixed_number(correction->left_out_mean, 2) +
         " dE00 on average, " + fixed_number(correction->left_out_max, 2) + " at worst";
}

nlohmann::ordered_json stored_json(const std::optional<ImportCount>& stored, bool dry_run) {
  if (!stored) return nullptr;
  return {{"new_swatches", stored->new_swatches},
          {"new_readings", stored->new_readings},
          {"already_there", stored->already_there},
          {"dry_run", dry_run}};
}

ExitStatus answer_json(Session& session, const MeasureOptions& options, const Photo& photo,
                       const std::vector<Chip>& chips, const std::optional<Correction>& correction,
                       const std::optional<ImportCount>& stored) {
  nlohmann::ordered_json error = nullptr;
  if (correction && correction->left_out_mean >= 0.0) error = correction->left_out_mean;
  nlohmann::ordered_json data;
  data["photo"] = options.photo;
  data["pixels"] = {photo.width, photo.height};
  data["profile"] = photo.profile;
  data["corrected"] = correction.has_value();
  data["known"] = correction ? correction->patches : 0;
  data["error_de00"] = error;
  data["stored"] = stored_json(stored, options.dry_run);
  data["chips"] = nlohmann::ordered_json::array();
  for (const Chip& chip : chips) {
    data["chips"].push_back({{"name", chip.name},
                             {"box", {chip.box.x, chip.box.y, chip.box.width, chip.box.height}},
                             {"lab", {chip.lab.L, chip.lab.a, chip.lab.b}},
                             {"known", chip.known.has_value()},
                             {"stored", stored && chip.named && !chip.known},
                             {"error_de00", error},
                             {"warnings", chip.warnings}});
  }
  return answer(session, "measure", data);
}

void print_chips(Session& session, const std::vector<Chip>& chips) {
  Table table{{"chip", "L", "a", "b", "remarks"}, {}};
  for (const Chip& chip : chips) {
    std::vector<std::string> remarks = chip.warnings;
    if (chip.known) remarks.insert(remarks.begin(), "known");
    table.rows.push_back({colour_cell(chip.lab, chip.name), number_cell(chip.lab.L, 2),
                          number_cell(chip.lab.a, 2), number_cell(chip.lab.b, 2),
                          cell(joined(remarks, "; "))});
  }
  print_table(session, table);
}

void warn_of_fit(Session& session, const std::optional<Correction>& correction,
                 const MeasureOptions& options) {
  if (!correction) return warn(session, words_for(correction, options));
  if (correction->left_out_mean > kMostLeftOut) {
    warn(session, "the known colours do not fit the photo (" + fixed_number(correction->left_out_mean, 1) +
                      " dE00): is the chart turned, or a chip taken for another?");
  }
}

}  // namespace

ExitStatus run_measure(const MeasureOptions& options, Session& session) {
  const auto photo = read_photo(options);
  if (!photo) return fail(session, photo.error());
  for (const std::string& line : photo->warnings) warn(session, options.photo + ": " + line);
  auto set = chips_for(options, *photo, session);
  if (!set) return fail(session, set.error());
  read_chips(*set, *photo->light);
  for (const std::string& line : set->warnings) warn(session, options.photo + ": " + line);
  const auto correction = correct_chips(*set, *photo->light);
  if (!correction) return fail(session, correction.error());
  warn_of_fit(session, *correction, options);
  if (!options.picture.empty()) {
    const std::string picture = chip_picture(*photo, set->chips);
    if (MaybeError error = write_picture(options.picture, picture, options.force, session))
      return fail(session, *error);
  }
  std::optional<ImportCount> stored;
  if (named_chips(*set) > 0) {
    const auto count = store_chips(options, *photo, *set, *correction, session);
    if (!count) return fail(session, count.error());
    stored = *count;
  }
  if (session.mode == Mode::json)
    return answer_json(session, options, *photo, set->chips, *correction, stored);
  print_chips(session, set->chips);
  if (session.mode == Mode::text && *correction)
    session.out << '\n' << words_for(*correction, options) << '\n';
  if (!stored && set->numbered > 0)
    hint(session, "nothing was kept: chips with a name are, as with --name \"1=Wet Sand\"");
  return ExitStatus::done;
}

void add_measure(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<MeasureOptions>();
  const auto text = [&command](const char* name, auto& into, const char* help, const char* type) {
    return command.add_option(name, into, help)->type_name(type);
  };
  text("photo", options->photo, "A scan or photo of chips", "PHOTO")->required();
  text("--profile", options->profile, "The ICC profile of the scanner", "FILE");
  CLI::Option* const grid =
      text("--grid", options->grid, "The chips lie in a grid, columns x rows, as in 4x6", "CxR");
  text("--within", options->within,
       "Where the grid or the chips lie: a window, or x,y of four corners; the whole picture if left out",
       "X,Y,W,H");
  text("--boxes", options->boxes, "A file with a line a chip: name,x,y,width,height", "FILE")->excludes(grid);
  text("--known", options->known, "A chip of a known colour: \"3=Wet Sand\"; may be repeated", "N=COLOUR");
  text("--chart", options->chart, "The known colours of the chips, by name or in order (CGATS, CSV)", "FILE");
  text("--chart-grid", options->chart_grid, "The chart lies beside the chips, columns x rows", "CxR");
  text("--chart-within", options->chart_within, "Where the chart lies, as --within", "X,Y,W,H");
  text("--chart-white", options->chart_white, "The white of the chart's numbers, where its file does not say",
       "WHITE");
  text("--background", options->background, "The colour of the plain background", "COLOUR");
  text("--name", options->names, "What a chip is called, to be kept: \"4=New Pink\"; may be repeated",
       "N=NAME");
  text("--names", options->names_file, "A file with a name a line, for chip 1, 2, ...; - leaves one out",
       "FILE");
  text("--kind", options->kind, "What swatches that are new are: stock, ink or other", "KIND");
  text("--method", options->method, "How the inks are put on: pad, marker, wash ...", "TEXT");
  text("--on", options->on, "The stock the inks were stamped on; a white one if left out", "STOCK");
  text("--batch", options->batch, "Dye lot or delivery", "TEXT");
  text("--date", options->date, "The day of the readings; the photo's own if left out", "DAY");
  text("--source", options->source, "What took the picture; scan or photo if left out", "TEXT");
  command.add_flag("--wet", options->wet, "The inks were still wet");
  command.add_flag("-n,--dry-run", options->dry_run, "Say what would change and write nothing");
  text("--picture", options->picture, "Write an SVG that shows which region is which", "FILE");
  command.add_flag("-f,--force", options->force, "Write over a file of that name");
  call.run = [options](Session& session) { return run_measure(*options, session); };
}

}  // namespace kithue
