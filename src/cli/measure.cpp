// SPDX-License-Identifier: MIT
#include "cli/measure.h"

#include <CLI/CLI.hpp>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>
#include <utility>

#include "base/files.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/extract.h"
#include "cli/photo_bytes.h"
#include "cli/stash_access.h"
#include "cli/table.h"
#include "colour/css.h"
#include "extract/chips.h"
#include "extract/correction.h"
#include "photo/photo.h"
#include "swatch/cgats.h"
#include "swatch/import.h"

namespace kithue {
namespace {

constexpr double kMostTexture = 0.06;
constexpr double kMostGradient = 0.08;
constexpr double kMostGlare = 0.02;

struct Chip {
  std::string name;
  ChipBox box;
  ChipLight light;
  Lab lab;
  std::optional<Lab> known;
  std::vector<std::string> warnings;
};

Error usage(std::string what, std::string where, std::string advice) {
  return {ErrorKind::bad_usage, std::move(what), std::move(where), std::move(advice)};
}

Result<std::vector<Chip>> chips_of_grid(const MeasureOptions& options, const Photo& photo) {
  const auto cross = options.grid.find('x');
  const auto columns = parse_whole(options.grid.substr(0, cross));
  const auto rows = cross == std::string::npos ? std::nullopt : parse_whole(options.grid.substr(cross + 1));
  if (!columns || !rows || *columns < 1 || *rows < 1 || *columns > 100 || *rows > 100)
    return usage("not a grid: " + options.grid, "--grid", "columns x rows, as in 4x6");
  ChipBox window{0, 0, photo.width, photo.height};
  if (!options.within.empty()) {
    const auto words = crop_from_text(options.within);
    if (!words) return words.error();
    const auto inside = crop_in_pixels(*words, photo.width, photo.height);
    if (!inside) return inside.error();
    window = {inside->x, inside->y, inside->width, inside->height};
  }
  if (window.width < 5 * *columns || window.height < 5 * *rows)
    return usage("the cells would be smaller than 5 pixels", "--grid", "is the grid columns x rows?");
  std::vector<Chip> chips;
  for (const ChipBox& box : grid_boxes(window, static_cast<int>(*columns), static_cast<int>(*rows)))
    chips.push_back({std::to_string(chips.size() + 1), box, {}, {}, std::nullopt, {}});
  return chips;
}

Result<std::vector<Chip>> chips_of_file(const std::string& path, const Photo& photo) {
  const auto text = read_file(path, 1 << 20);
  if (!text) return text.error();
  std::vector<Chip> chips;
  std::size_t line_number = 0;
  for (const std::string_view line : split(*text, '\n')) {
    ++line_number;
    if (trimmed(line).empty() || trimmed(line).starts_with('#')) continue;
    const auto comma = line.find(',');
    const Error wrong{ErrorKind::bad_input, "not a box", path + ":" + std::to_string(line_number),
                      "write name,x,y,width,height"};
    if (comma == std::string_view::npos) return wrong;
    const auto words = crop_from_text(std::string(trimmed(line.substr(comma + 1))));
    if (!words) return wrong;
    const auto box = crop_in_pixels(*words, photo.width, photo.height);
    if (!box) return box.error();
    chips.push_back({std::string(trimmed(line.substr(0, comma))),
                     {box->x, box->y, box->width, box->height},
                     {},
                     {},
                     std::nullopt,
                     {}});
  }
  return chips;
}

Result<std::vector<Chip>> chips_in(const MeasureOptions& options, const Photo& photo) {
  if (!options.grid.empty()) return chips_of_grid(options, photo);
  if (!options.boxes.empty()) return chips_of_file(options.boxes, photo);
  std::vector<Chip> chips;
  for (const ChipBox& box : find_chips(*photo.light))
    chips.push_back({std::to_string(chips.size() + 1), box, {}, {}, std::nullopt, {}});
  if (chips.empty()) {
    return Error{ErrorKind::impossible, "no chips were found on a plain background", options.photo,
                 "say where they are: --grid 4x6 --within x,y,width,height, or --boxes FILE"};
  }
  return chips;
}

/// "3=Wet Sand" as a chip and a text.
Result<std::pair<Chip*, std::string>> assigned(std::vector<Chip>& chips, const std::string& text,
                                               const std::string& option) {
  const auto equals = text.find('=');
  const auto number = parse_whole(text.substr(0, equals));
  if (equals == std::string::npos || !number || *number < 1 ||
      *number > static_cast<long long>(chips.size())) {
    return usage("not one of the " + counted(chips.size(), "chip") + ": " + text, option,
                 "write the chip's number, =, and a name: \"3=Wet Sand\"");
  }
  return std::pair(&chips[static_cast<std::size_t>(*number - 1)], text.substr(equals + 1));
}

MaybeError read_chart(const std::string& path, std::vector<Chip>& chips) {
  auto bytes = read_file(path, kMostFileBytes);
  if (!bytes) return bytes.error();
  ImportOptions how;
  how.kind = Kind::stock;
  const auto chart = read_import(std::move(*bytes), path, how);
  if (!chart) return chart.error();
  if (!chart->rejected.empty())
    return Error{ErrorKind::bad_input, chart->rejected.front().reason,
                 path + ":" + std::to_string(chart->rejected.front().line), "mend the chart file"};
  for (std::size_t i = 0; i < chart->rows.size(); ++i) {
    const ImportRow& row = chart->rows[i];
    if (!row.reading) continue;
    Chip* meant = i < chips.size() ? &chips[i] : nullptr;
    for (Chip& chip : chips) {
      if (chip.name == row.swatch.name) meant = &chip;
    }
    if (meant == nullptr)
      return Error{ErrorKind::bad_input, "the chart has more patches than there are chips", path,
                   "name the chips in a --boxes file as the chart does"};
    meant->known = row.reading->lab;
    meant->name = row.swatch.name;
  }
  return std::nullopt;
}

MaybeError settle_names(const MeasureOptions& options, std::vector<Chip>& chips, Session& session) {
  if (!options.chart.empty()) {
    if (auto fault = read_chart(options.chart, chips)) return fault;
  }
  for (const std::string& text : options.names) {
    auto one = assigned(chips, text, "--name");
    if (!one) return one.error();
    one->first->name = one->second;
  }
  if (options.known.empty()) return std::nullopt;
  const auto stash = open_stash(session);
  if (!stash) return stash.error();
  for (const std::string& text : options.known) {
    auto one = assigned(chips, text, "--known");
    if (!one) return one.error();
    const auto colour = resolve_colour(*stash, one->second);
    if (!colour) return colour.error();
    one->first->known = colour->lab;
    one->first->name = colour->name;
  }
  return std::nullopt;
}

void look_at(Chip& chip, const LightRows& light) {
  chip.light = chip_light(light, chip.box);
  const auto percent = [](double part) { return fixed_number(100.0 * part, 0) + " %"; };
  if (chip.light.texture > kMostTexture)
    chip.warnings.push_back("texture: brightness varies by " + percent(chip.light.texture));
  if (chip.light.gradient > kMostGradient)
    chip.warnings.push_back("gradient: " + percent(chip.light.gradient) + " from edge to edge");
  if (chip.light.glare > kMostGlare)
    chip.warnings.push_back("glare on " + percent(chip.light.glare) + " of it");
}

/// Fits the correction and gives every chip its colour; nothing when no chip is known.
Result<std::optional<Correction>> correct_chips(std::vector<Chip>& chips, const Photo& photo) {
  const Matrix3& to_xyz = photo.light->to_xyz();
  std::vector<KnownPatch> patches;
  for (const Chip& chip : chips) {
    if (!chip.known) continue;
    if (chip.light.light[0] <= 0.0 || chip.light.light[1] <= 0.0 || chip.light.light[2] <= 0.0)
      return Error{ErrorKind::impossible, "the known chip " + chip.name + " is too dark in the photo", "",
                   ""};
    patches.push_back({chip.name, *chip.known, chip.light.light, chip.light.texture});
  }
  std::optional<Correction> correction;
  if (!patches.empty()) correction = fit_correction(patches, to_xyz);
  for (Chip& chip : chips) {
    const auto xyz = times(to_xyz, chip.light.light);
    chip.lab = lab_from_xyz({xyz[0], xyz[1], xyz[2]});
    if (correction) chip.lab = corrected(chip.lab, *correction, to_xyz);
  }
  return correction;
}

nlohmann::ordered_json error_json(const std::optional<Correction>& correction) {
  if (!correction || correction->left_out_mean < 0.0) return nullptr;
  return correction->left_out_mean;
}

ExitStatus answer_json(Session& session, const MeasureOptions& options, const Photo& photo,
                       const std::vector<Chip>& chips, const std::optional<Correction>& correction) {
  nlohmann::ordered_json data;
  data["photo"] = options.photo;
  data["pixels"] = {photo.width, photo.height};
  data["profile"] = photo.profile;
  data["corrected"] = correction.has_value();
  data["known"] = correction ? correction->patches : 0;
  data["error_de00"] = error_json(correction);
  data["chips"] = nlohmann::ordered_json::array();
  for (const Chip& chip : chips) {
    data["chips"].push_back({{"name", chip.name},
                             {"box", {chip.box.x, chip.box.y, chip.box.width, chip.box.height}},
                             {"lab", {chip.lab.L, chip.lab.a, chip.lab.b}},
                             {"known", chip.known.has_value()},
                             {"error_de00", error_json(correction)},
                             {"warnings", chip.warnings}});
  }
  return answer(session, "measure", data);
}

/// The photo with a numbered frame around every region.
std::string annotated(const MeasureOptions& options, const Photo& photo, const std::vector<Chip>& chips) {
  const auto escaped = [](const std::string& text) {
    std::string safe;
    for (const char c : printable(text)) {
      safe += c == '<'   ? "&lt;"
              : c == '>' ? "&gt;"
              : c == '&' ? "&amp;"
              : c == '"' ? "&quot;"
                         : std::string(1, c);
    }
    return safe;
  };
  const std::string width = std::to_string(photo.width);
  const std::string height = std::to_string(photo.height);
  std::string svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " + width + " " + height +
                    "\">\n<image href=\"" + escaped(options.photo) + "\" width=\"" + width + "\" height=\"" +
                    height + "\"/>\n";
  const int letters = std::max(8, photo.height / 60);
  for (const Chip& chip : chips) {
    const std::string x = std::to_string(chip.box.x);
    const std::string y = std::to_string(chip.box.y);
    svg += "<rect x=\"" + x + "\" y=\"" + y + "\" width=\"" + std::to_string(chip.box.width) +
           "\" height=\"" + std::to_string(chip.box.height) +
           "\" fill=\"none\" stroke=\"#000\" stroke-width=\"2\"/><text x=\"" + x + "\" y=\"" + y +
           "\" dy=\"1em\" font-size=\"" + std::to_string(letters) +
           "\" font-family=\"sans-serif\" stroke=\"#fff\" stroke-width=\"3\" paint-order=\"stroke\">" +
           escaped(chip.name) + (chip.known ? " (known)" : "") + "</text>\n";
  }
  return svg + "</svg>\n";
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

std::string words_for(const std::optional<Correction>& correction) {
  if (!correction) {
    return "not corrected: no chip of a known colour is in the frame; the photo's own colours, often 5 to 15 "
           "dE00 off";
  }
  const std::string by =
      "corrected by " + counted(static_cast<std::size_t>(correction->patches), "known chip");
  if (correction->left_out_mean < 0.0) return by + ": too few to say how well";
  return by + "; each is foretold by the others to " + fixed_number(correction->left_out_mean, 2) +
         " dE00 on average, " + fixed_number(correction->left_out_max, 2) + " at worst";
}

}  // namespace

ExitStatus run_measure(const MeasureOptions& options, Session& session) {
  const auto bytes = read_photo_bytes(options.photo, options.photo);
  if (!bytes) return fail(session, bytes.error());
  const auto photo = decode_photo(*bytes, options.photo);
  if (!photo) return fail(session, photo.error());
  for (const std::string& line : photo->warnings) warn(session, options.photo + ": " + line);
  auto chips = chips_in(options, *photo);
  if (!chips) return fail(session, chips.error());
  if (auto fault = settle_names(options, *chips, session)) return fail(session, *fault);
  for (Chip& chip : *chips) look_at(chip, *photo->light);
  const auto correction = correct_chips(*chips, *photo);
  if (!correction) return fail(session, correction.error());
  if (!*correction) warn(session, words_for(*correction));
  if (!options.picture.empty()) {
    const auto saved = replace_file_atomically(options.picture, annotated(options, *photo, *chips),
                                               {"", !options.force, kSharedMode});
    if (!saved) return fail(session, saved.error());
  }
  if (session.mode == Mode::json) return answer_json(session, options, *photo, *chips, *correction);
  print_chips(session, *chips);
  if (session.mode == Mode::text && *correction) session.out << '\n' << words_for(*correction) << '\n';
  return ExitStatus::done;
}

void add_measure(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<MeasureOptions>();
  command.add_option("photo", options->photo, "A scan or photo of chips")->required()->type_name("PHOTO");
  command.add_option("--grid", options->grid, "The chips lie in a grid, columns x rows, as in 4x6")
      ->type_name("CxR");
  command.add_option("--within", options->within, "The window of the grid; the whole picture if left out")
      ->type_name("X,Y,W,H");
  command.add_option("--boxes", options->boxes, "A file with a line a chip: name,x,y,width,height")
      ->type_name("FILE")
      ->excludes("--grid");
  command
      .add_option("--chart", options->chart,
                  "The known colours of the chips, in order or by name (CGATS, CSV)")
      ->type_name("FILE");
  command.add_option("--known", options->known, "A chip of a known colour: \"3=Wet Sand\"; may be repeated")
      ->type_name("N=COLOUR");
  command.add_option("--name", options->names, "What a chip is called: \"4=New Pink\"; may be repeated")
      ->type_name("N=NAME");
  command.add_option("--picture", options->picture, "Write an SVG that shows which region is which")
      ->type_name("FILE");
  command.add_flag("-f,--force", options->force, "Write over a file of that name");
  call.run = [options](Session& session) { return run_measure(*options, session); };
}

}  // namespace kithue
