// SPDX-License-Identifier: MIT
#include "cli/measure_chips.h"

#include <algorithm>
#include <utility>

#include "base/files.h"
#include "base/text.h"
#include "cli/advice.h"
#include "cli/measure_regions.h"
#include "cli/stash_access.h"
#include "extract/find_chips.h"
#include "swatch/cgats.h"
#include "swatch/edit.h"
#include "swatch/import.h"

namespace kithue {
namespace {

// From where on a chip is pointed out; ours, no source.
constexpr double kMostTexture = 0.06;
constexpr double kMostGradient = 0.08;
constexpr double kMostGlare = 0.02;
constexpr double kMostClipped = 0.02;
constexpr double kMostUneven = 0.1;
constexpr std::size_t kMostNamesFile = std::size_t{1} << 20;

void add_numbered(ChipSet& set, const ChipBox& box) {
  Chip chip;
  chip.name = std::to_string(set.chips.size() + 1);
  chip.box = box;
  set.chips.push_back(std::move(chip));
}

/// Chips on a plain background, without what lies in the chart's own window.
MaybeError add_found(ChipSet& set, const MeasureOptions& options, const Photo& photo, Session& session) {
  const auto window = window_of(options.within, photo.width, photo.height, "--within");
  if (!window) return window.error();
  std::optional<ChipBox> chart;
  if (!options.chart_grid.empty()) {
    const auto place = window_of(options.chart_within, photo.width, photo.height, "--chart-within");
    if (!place) return place.error();
    chart = *place;
  }
  const CroppedRows cropped(*photo.light, window->x, window->y, window->width, window->height);
  const FoundChips found = find_chips(cropped);
  set.light_at = [found, window = *window](const ChipBox& box) {
    return found.light_at(box.x - window.x + box.width / 2.0, box.y - window.y + box.height / 2.0);
  };
  for (ChipBox box : found.chips) {
    box.x += window->x;
    box.y += window->y;
    const int x = box.x + box.width / 2;
    const int y = box.y + box.height / 2;
    if (chart && x >= chart->x && y >= chart->y && x < chart->x + chart->width &&
        y < chart->y + chart->height)
      continue;
    add_numbered(set, box);
  }
  if (set.chips.empty()) {
    return Error{ErrorKind::impossible, "no chips were found on a plain background", options.photo,
                 "say where they are: --grid 4x6 --within x,y,width,height, or --boxes FILE"};
  }
  if (found.uneven > kMostUneven) {
    set.warnings.push_back("the background is lit unevenly, by " + fixed_number(100.0 * found.uneven, 0) +
                           " %; the chips were evened out by it");
  }
  if (options.background.empty()) return std::nullopt;
  const auto stash = open_stash_for(session, {options.background});
  if (!stash) return stash.error();
  const auto colour = resolve_colour(*stash, options.background);
  if (!colour) return colour.error();
  set.background = KnownPatch{colour->name, colour->lab, found.background, 0.0};
  return std::nullopt;
}

MaybeError find_regions(ChipSet& set, const MeasureOptions& options, const Photo& photo, Session& session) {
  if (!options.grid.empty()) {
    const auto boxes = boxes_of_grid(options.grid, options.within, photo.width, photo.height, "--grid");
    if (!boxes) return boxes.error();
    for (const ChipBox& box : *boxes) add_numbered(set, box);
  } else if (!options.boxes.empty()) {
    const auto boxes = boxes_from_file(options.boxes, photo.width, photo.height);
    if (!boxes) return boxes.error();
    for (const NamedBox& one : *boxes) {
      add_numbered(set, one.box);
      set.chips.back().name = one.name;
      set.chips.back().named = !parse_whole(one.name);
    }
  } else if (auto fault = add_found(set, options, photo, session)) {
    return fault;
  }
  set.numbered = set.chips.size();
  return std::nullopt;
}

/// "3=Wet Sand" as a chip and a text.
Result<std::pair<Chip*, std::string>> assigned(ChipSet& set, const std::string& text,
                                               const std::string& option) {
  const auto equals = text.find('=');
  const auto number = parse_whole(text.substr(0, equals));
  if (equals == std::string::npos || !number || *number < 1 ||
      *number > static_cast<long long>(set.numbered) || equals + 1 == text.size()) {
    return bad_option("not one of the " + counted(set.numbered, "chip") + ": " + text, option,
                      "write the chip's number, =, and a name: \"3=Wet Sand\"");
  }
  return std::pair(&set.chips[static_cast<std::size_t>(*number - 1)], text.substr(equals + 1));
}

struct Patch {
  std::string name;
  Lab lab;
};

Result<std::vector<Patch>> read_chart(const MeasureOptions& options) {
  auto bytes = read_file(options.chart, kMostFileBytes);
  if (!bytes) return bytes.error();
  ImportOptions how;
  how.kind = Kind::stock;
  how.white = options.chart_white;
  const auto chart = read_import(std::move(*bytes), options.chart, how);
  if (!chart) return chart.error();
  if (!chart->rejected.empty()) {
    const Rejection& first = chart->rejected.front();
    const bool no_white = options.chart_white.empty() && first.reason.starts_with("no white");
    return Error{ErrorKind::bad_input,
                 no_white ? "the chart does not say under which white its numbers are" : first.reason,
                 options.chart + ":" + std::to_string(first.line),
                 no_white ? "add --chart-white, as in --chart-white D50/2" : "mend the chart file"};
  }
  std::vector<Patch> patches;
  for (const ImportRow& row : chart->rows) {
    if (row.reading) patches.push_back({row.swatch.name, row.reading->lab});
  }
  if (patches.empty()) return Error{ErrorKind::bad_input, "the chart has no colours", options.chart, ""};
  return patches;
}

/// By name where the chart has a name of a chip, else one for one.
MaybeError assign_chart(ChipSet& set, std::size_t from, const std::vector<Patch>& patches,
                        const std::string& file) {
  std::size_t met = 0;
  for (std::size_t i = from; i < set.chips.size(); ++i) {
    Chip& chip = set.chips[i];
    const auto same = [&chip](const Patch& patch) { return patch.name == chip.name; };
    if (!chip.named) continue;
    const auto patch = std::find_if(patches.begin(), patches.end(), same);
    if (patch == patches.end()) continue;
    chip.known = patch->lab;
    ++met;
  }
  if (met > 0) return std::nullopt;
  if (patches.size() != set.chips.size() - from) {
    return Error{ErrorKind::bad_input,
                 "the chart has " + counted(patches.size(), "colour") + ", the photo " +
                     counted(set.chips.size() - from, "region") + " for it",
                 file, "name the chips in a --boxes file as the chart does, or say --chart-grid"};
  }
  for (std::size_t i = 0; i < patches.size(); ++i) {
    Chip& chip = set.chips[from + i];
    chip.known = patches[i].lab;
    chip.name = patches[i].name;
    chip.named = true;
  }
  return std::nullopt;
}

MaybeError settle_chart(ChipSet& set, const MeasureOptions& options, const Photo& photo) {
  if (options.chart.empty()) {
    if (options.chart_grid.empty() && options.chart_within.empty() && options.chart_white.empty())
      return std::nullopt;
    return bad_option("there is no chart to speak of", "--chart", "give its file: --chart FILE");
  }
  const auto patches = read_chart(options);
  if (!patches) return patches.error();
  std::size_t from = 0;
  if (!options.chart_grid.empty()) {
    const auto boxes =
        boxes_of_grid(options.chart_grid, options.chart_within, photo.width, photo.height, "--chart-grid");
    if (!boxes) return boxes.error();
    from = set.chips.size();
    for (const ChipBox& box : *boxes) add_numbered(set, box);
  }
  return assign_chart(set, from, *patches, options.chart);
}

/// Names for chip 1, 2, ... from the lines of a file; "-" or nothing leaves one without.
MaybeError name_from_file(ChipSet& set, const std::string& path) {
  const auto text = read_file(path, kMostNamesFile);
  if (!text) return text.error();
  std::string_view rest = *text;
  if (rest.starts_with("\xef\xbb\xbf")) rest.remove_prefix(3);
  while (rest.ends_with('\n') || rest.ends_with('\r')) rest.remove_suffix(1);
  const auto lines = split(rest, '\n');
  if (lines.size() > set.numbered) {
    return Error{ErrorKind::bad_input,
                 counted(lines.size(), "name") + " for " + counted(set.numbered, "chip"), path,
                 "write a line a chip; - leaves one out"};
  }
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const std::string_view word = trimmed(lines[i]);
    if (word.empty() || word == "-") continue;
    set.chips[i].name = std::string(word);
    set.chips[i].named = true;
  }
  return std::nullopt;
}

MaybeError settle_names(ChipSet& set, const MeasureOptions& options, Session& session) {
  if (!options.names_file.empty()) {
    if (auto fault = name_from_file(set, options.names_file)) return fault;
  }
  for (const std::string& text : options.names) {
    auto one = assigned(set, text, "--name");
    if (!one) return one.error();
    one->first->name = one->second;
    one->first->named = true;
  }
  std::optional<Stash> stash;
  std::vector<const Swatch*> compared;
  for (const std::string& text : options.known) {
    auto one = assigned(set, text, "--known");
    if (!one) return one.error();
    if (!stash) {
      auto opened = open_stash_for(session, {one->second});
      if (!opened) return opened.error();
      stash = std::move(*opened);
    }
    const auto colour = resolve_colour(*stash, one->second);
    if (!colour) return colour.error();
    if (colour->swatch != nullptr) compared.push_back(colour->swatch);
    one->first->known = colour->lab;
    one->first->name = colour->name;
    one->first->named = true;
  }
  warn_of_conditions(session, compared, !options.wet);
  for (const Chip& chip : set.chips) {
    if (const auto name = valid_name(chip.name); chip.named && !name)
      return Error{ErrorKind::bad_input, "not a name for a chip: " + name.error().what, chip.name,
                   name.error().advice};
  }
  return std::nullopt;
}

bool is_usable(const Chip& chip) {
  return chip.light.clipped <= kMostClipped &&
         std::min({chip.light.light[0], chip.light.light[1], chip.light.light[2]}) > 0.0;
}

}  // namespace

Result<ChipSet> chips_for(const MeasureOptions& options, const Photo& photo, Session& session) {
  if (!options.background.empty() && (!options.grid.empty() || !options.boxes.empty()))
    return bad_option("--background belongs to chips that are found by themselves", "--background",
                      "leave out --grid and --boxes, or give a window of it as a known chip");
  ChipSet set;
  if (auto fault = find_regions(set, options, photo, session)) return *fault;
  if (auto fault = settle_chart(set, options, photo)) return *fault;
  if (auto fault = settle_names(set, options, session)) return *fault;
  return set;
}

void read_chips(ChipSet& set, const LightRows& light) {
  const auto percent = [](double part) { return fixed_number(100.0 * part, 0) + " %"; };
  for (Chip& chip : set.chips) {
    chip.light = chip_light(light, chip.box);
    if (set.light_at) {
      const auto part = set.light_at(chip.box);
      for (std::size_t c = 0; c < 3; ++c) chip.light.light[c] /= part[c];
    }
    if (chip.light.texture > kMostTexture)
      chip.warnings.push_back("texture: brightness varies by " + percent(chip.light.texture));
    if (chip.light.gradient > kMostGradient)
      chip.warnings.push_back("gradient: " + percent(chip.light.gradient) + " from edge to edge");
    if (chip.light.glare > kMostGlare)
      chip.warnings.push_back("glare on " + percent(chip.light.glare) + " of it");
    if (chip.light.clipped > kMostClipped)
      chip.warnings.push_back("too bright: " + percent(chip.light.clipped) + " of it is at the top end");
    if (chip.known && !is_usable(chip)) chip.warnings.emplace_back("not used for the correction");
  }
}

Result<std::optional<Correction>> correct_chips(ChipSet& set, const LightRows& light) {
  const Matrix3& to_xyz = light.to_xyz();
  std::vector<KnownPatch> patches;
  std::size_t known = 0;
  for (const Chip& chip : set.chips) {
    if (!chip.known) continue;
    ++known;
    if (is_usable(chip)) patches.push_back({chip.name, *chip.known, chip.light.light, chip.light.texture});
  }
  if (set.background) patches.push_back(*set.background);
  if (known > 0 && patches.empty()) {
    return Error{ErrorKind::impossible, "no known chip can be used: all are too bright or too dark", "",
                 "take the photo again with other exposure"};
  }
  std::optional<Correction> correction;
  if (!patches.empty()) correction = fit_correction(patches, to_xyz);
  for (Chip& chip : set.chips) {
    const auto xyz = times(to_xyz, chip.light.light);
    chip.lab = lab_from_xyz({xyz[0], xyz[1], xyz[2]});
    if (correction) chip.lab = corrected(chip.lab, *correction, to_xyz);
  }
  return correction;
}

}  // namespace kithue
