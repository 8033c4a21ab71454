// SPDX-License-Identifier: MIT
#include "cli/extract.h"

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
#include "cli/table.h"
#include "colour/css.h"
#include "colour/srgb.h"
#include "extract/palette.h"
#include "photo/photo.h"

namespace kithue {
namespace {

/// What one photo gave.
struct FaceFound {
  std::string photo;
  int width = 0;
  int height = 0;
  std::string profile;
  Palette palette;
};

Result<FaceFound> face_of(const std::string& path, const ExtractCommand& options,
                          const std::optional<CropWords>& crop, Session& session) {
  const PhotoLimits limits;
  auto bytes = read_file(path, limits.most_bytes);
  if (!bytes) return bytes.error();
  auto photo = decode_photo(*bytes, path, limits);
  if (!photo) return photo.error();
  bytes->clear();
  bytes->shrink_to_fit();
  for (const std::string& line : photo->warnings) warn(session, path + ": " + line);

  ExtractOptions wanted;
  wanted.colours = options.colours;
  wanted.facts = {photo->lossy, photo->profile_state == ProfileState::embedded,
                  photo->profile_state == ProfileState::broken, photo->clipped_share};
  FaceFound face{path, photo->width, photo->height, photo->profile, {}};
  if (!crop) {
    face.palette = extract_palette(*photo->light, wanted, session.executor);
    return face;
  }
  auto window = crop_in_pixels(*crop, photo->width, photo->height);
  if (!window) {
    Error error = window.error();
    error.where = path;
    return error;
  }
  const CroppedRows cropped(*photo->light, window->x, window->y, window->width, window->height);
  face.width = window->width;
  face.height = window->height;
  face.palette = extract_palette(cropped, wanted, session.executor);
  return face;
}

nlohmann::ordered_json json_of(const FaceFound& face) {
  nlohmann::ordered_json colours = nlohmann::ordered_json::array();
  for (const PaletteColour& colour : face.palette.colours) {
    colours.push_back({{"lab", {colour.lab.L, colour.lab.a, colour.lab.b}},
                       {"hex", hex_from_lab(colour.lab)},
                       {"share", colour.share},
                       {"role", word_for(colour.role)},
                       {"words", colour.words}});
  }
  const Trust& trust = face.palette.trust;
  return {{"photo", face.photo},
          {"pixels", {face.width, face.height}},
          {"profile", face.profile},
          {"colours", colours},
          {"trust", {{"grade", word_for(trust.grade)}, {"de00", trust.de00}, {"reasons", trust.reasons}}}};
}

Table table_of(const FaceFound& face, Mode mode) {
  Table table;
  table.header = {"colour", "hex", "share", "role", "words"};
  if (mode == Mode::plain) {
    table.header.insert(table.header.begin(), "photo");
    table.header.insert(table.header.end(), {"trust", "de00"});
  }
  for (const PaletteColour& colour : face.palette.colours) {
    const double per_cent = 100.0 * colour.share;
    const std::string share = fixed_number(per_cent, per_cent < 9.95 ? 1 : 0) + " %";
    std::vector<Cell> row{colour_cell(colour.lab, css_lab(colour.lab, 1)), cell(hex_from_lab(colour.lab)),
                          Cell{.text = share, .right = true}, cell(std::string(word_for(colour.role))),
                          cell(colour.words)};
    if (mode == Mode::plain) {
      row[2] = number_cell(colour.share, 4);
      row.insert(row.begin(), cell(face.photo));
      row.push_back(cell(std::string(word_for(face.palette.trust.grade))));
      row.push_back(number_cell(face.palette.trust.de00, 2));
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

void print_faces(Session& session, const std::vector<FaceFound>& faces) {
  if (session.mode == Mode::plain) {
    Table all;
    for (const FaceFound& face : faces) {
      Table one = table_of(face, session.mode);
      all.header = one.header;
      for (auto& row : one.rows) all.rows.push_back(std::move(row));
    }
    print_table(session, all);
    return;
  }
  bool first = true;
  for (const FaceFound& face : faces) {
    if (!first) session.out << '\n';
    first = false;
    const Trust& trust = face.palette.trust;
    session.out << printable(face.photo) << ": " << counted(face.palette.colours.size(), "colour") << ", "
                << face.width << " x " << face.height << ", " << printable(face.profile) << '\n';
    print_table(session, table_of(face, session.mode));
    session.out << "trust: " << word_for(trust.grade) << ", each colour within about "
                << fixed_number(trust.de00, 2) << " dE00\n";
    for (const std::string& reason : trust.reasons) session.out << "  - " << printable(reason) << '\n';
  }
}

}  // namespace

ExitStatus run_extract(const ExtractCommand& options, Session& session) {
  std::optional<CropWords> crop;
  if (!options.crop.empty()) {
    auto read = crop_from_text(options.crop);
    if (!read) return fail(session, read.error());
    crop = *read;
  }
  std::vector<FaceFound> faces;
  std::vector<Error> errors;
  for (const std::string& path : options.photos) {
    auto face = face_of(path, options, crop, session);
    if (face) {
      faces.push_back(std::move(*face));
    } else {
      errors.push_back(face.error());
    }
  }
  if (faces.empty()) {
    // One JSON error object at most: the first photo's; the others are said as warnings.
    for (std::size_t i = 1; i < errors.size(); ++i) warn(session, describe(errors[i]));
    return fail(session, errors.front());
  }
  for (const Error& error : errors) warn(session, describe(error));
  if (session.mode == Mode::json) {
    nlohmann::ordered_json list = nlohmann::ordered_json::array();
    for (const FaceFound& face : faces) list.push_back(json_of(face));
    answer(session, "extract", {{"faces", list}});
  } else {
    print_faces(session, faces);
  }
  return errors.empty() ? ExitStatus::done : status_of(errors.front().kind);
}

void add_extract(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<ExtractCommand>();
  command.add_option("photo", options->photos, "Photos of patterned paper, JPEG or PNG")
      ->required()
      ->type_name("PHOTO");
  command.add_option("--colours", options->colours, "At most this many colours (else found by itself)")
      ->type_name("N")
      ->check(CLI::Range(1, 64));
  command.add_option("--crop", options->crop, "Look only at x,y,width,height: pixels, or per cent with %")
      ->type_name("X,Y,W,H");
  call.run = [options](Session& session) { return run_extract(*options, session); };
}

}  // namespace kithue
