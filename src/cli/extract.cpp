// SPDX-License-Identifier: MIT
#include "cli/extract.h"

#include <CLI/CLI.hpp>
#include <memory>
#include <mutex>
#include <new>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>
#include <utility>

#include "base/files.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/face_reading.h"
#include "cli/photo_bytes.h"
#include "cli/references.h"
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
  std::string profile;
  FaceReading reading;
  std::vector<std::string> warnings;
};

/// What is asked of every photo.
struct Wanted {
  int colours = 0;
  std::optional<CropWords> crop;
  References known;
};

Result<FaceFound> face_of(const std::string& path, const Wanted& wanted, Executor& executor) {
  const PhotoLimits limits;
  auto bytes = read_photo_bytes(path, path, limits);
  if (!bytes) return bytes.error();
  EarlyLook early;  // of the whole frame: no use to a crop
  auto photo =
      wanted.crop ? decode_photo(*bytes, path, limits) : decode_photo(*bytes, path, limits, early, executor);
  if (!photo) return photo.error();
  bytes->clear();
  bytes->shrink_to_fit();

  std::optional<CropPixels> window;
  if (wanted.crop) {
    auto inside = crop_in_pixels(*wanted.crop, photo->width, photo->height);
    if (!inside) {
      Error error = inside.error();
      error.where = path + " (--crop)";
      return error;
    }
    window = *inside;
  }
  FaceFound face{path, photo->profile, read_face(*photo, window, wanted.colours, executor, &early), {}};
  for (const std::string& line : photo->warnings) face.warnings.push_back(path + ": " + line);
  if (auto error = correct_by(wanted.known, *photo, path, face.reading, face.warnings)) return *error;
  face.reading.small = {};  // not needed any more, and there may be many photos
  return face;
}

/// Counts photos on a terminal. Thread-safe.
class Progress {
 public:
  Progress(Session& session, std::size_t all)
      : session_(session), all_(all), shown_(session.err_is_terminal && !session.quiet && all > 1) {}
  void step() {
    if (!shown_) return;
    const std::lock_guard lock(mutex_);
    ++done_;
    session_.err << "\r" << done_ << " of " << all_ << " photos" << (done_ == all_ ? "\n" : "") << std::flush;
  }

 private:
  Session& session_;
  std::size_t all_;
  bool shown_;
  std::size_t done_ = 0;
  std::mutex mutex_;
};

/// Every photo, in the order given. Several photos are shared out between the threads, so that no more are in
/// memory than there are threads; the threads of a single photo are shared out inside it.
std::vector<Result<FaceFound>> all_faces(const std::vector<std::string>& paths, const Wanted& wanted,
                                         Session& session) {
  std::vector<std::optional<Result<FaceFound>>> slots(paths.size());
  Progress progress(session, paths.size());
  const auto one = [&](std::size_t i, Executor& executor) {
    try {
      slots[i].emplace(face_of(paths[i], wanted, executor));
    } catch (const std::bad_alloc&) {
      slots[i].emplace(
          Error{ErrorKind::impossible, "not enough memory for this photo", paths[i], "try a smaller one"});
    }
    progress.step();
  };
  if (paths.size() == 1) {
    one(0, session.executor);
  } else {
    session.executor.run(paths.size(), [&](std::size_t i) {
      SerialExecutor serial;
      one(i, serial);
    });
  }
  std::vector<Result<FaceFound>> faces;
  for (auto& slot : slots) faces.push_back(std::move(*slot));
  return faces;
}

nlohmann::ordered_json json_of(const FaceFound& face) {
  nlohmann::ordered_json colours = nlohmann::ordered_json::array();
  for (const PaletteColour& colour : face.reading.palette.colours) {
    colours.push_back({{"lab", {colour.lab.L, colour.lab.a, colour.lab.b}},
                       {"hex", hex_from_lab(colour.lab)},
                       {"share", colour.share},
                       {"role", word_for(colour.role)},
                       {"words", colour.words}});
  }
  const Trust& trust = face.reading.palette.trust;
  const Sheet& sheet = face.reading.sheet;
  nlohmann::ordered_json corners = nlohmann::ordered_json::array();
  for (const Spot& corner : sheet.corners) corners.push_back({corner.x, corner.y});
  return {{"photo", face.photo},
          {"pixels", {face.reading.width, face.reading.height}},
          {"profile", face.profile},
          {"colours", colours},
          {"trust", {{"grade", word_for(trust.grade)}, {"de00", trust.de00}, {"reasons", trust.reasons}}},
          {"sheet", {{"found", sheet.certain}, {"corners", corners}, {"words", sheet.words}}}};
}

Table table_of(const FaceFound& face, Mode mode) {
  Table table;
  table.header = {"colour", "hex", "share", "role", "words"};
  if (mode == Mode::plain) {
    table.header.insert(table.header.begin(), "photo");
    table.header.insert(table.header.end(), {"trust", "de00"});
  }
  for (const PaletteColour& colour : face.reading.palette.colours) {
    const double per_cent = 100.0 * colour.share;
    const std::string share = fixed_number(per_cent, per_cent < 9.95 ? 1 : 0) + " %";
    std::vector<Cell> row{colour_cell(colour.lab, css_lab(colour.lab, 1)), cell(hex_from_lab(colour.lab)),
                          Cell{.text = share, .right = true}, cell(std::string(word_for(colour.role))),
                          cell(colour.words)};
    if (mode == Mode::plain) {
      row[2] = number_cell(colour.share, 4);
      row.insert(row.begin(), cell(face.photo));
      row.push_back(cell(std::string(word_for(face.reading.palette.trust.grade))));
      row.push_back(number_cell(face.reading.palette.trust.de00, 2));
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
    const Trust& trust = face.reading.palette.trust;
    session.out << printable(face.photo) << ": " << counted(face.reading.palette.colours.size(), "colour")
                << ", " << face.reading.width << " x " << face.reading.height << ", "
                << printable(face.profile) << '\n';
    if (!face.reading.sheet.words.empty()) session.out << "sheet: " << face.reading.sheet.words << '\n';
    print_table(session, table_of(face, session.mode));
    session.out << "trust: " << word_for(trust.grade) << ", each colour within about "
                << fixed_number(trust.de00, 2) << " dE00\n";
    for (const std::string& reason : trust.reasons) session.out << "  - " << printable(reason) << '\n';
  }
}

}  // namespace

ExitStatus run_extract(const ExtractCommand& options, Session& session) {
  Wanted wanted;
  wanted.colours = options.colours;
  if (!options.crop.empty()) {
    auto read = crop_from_text(options.crop);
    if (!read) return fail(session, read.error());
    wanted.crop = *read;
  }
  auto references = references_of(options, session);
  if (!references) return fail(session, references.error());
  wanted.known = std::move(*references);
  std::vector<FaceFound> faces;
  std::vector<Error> errors;
  bool beside = false;
  for (auto& face : all_faces(options.photos, wanted, session)) {
    if (!face) {
      errors.push_back(face.error());
      continue;
    }
    for (const std::string& line : face->warnings) warn(session, line);
    beside = beside || !(face->reading.window_given || face->reading.sheet.certain);
    faces.push_back(std::move(*face));
  }
  if (!wanted.known.list.empty() && beside) {
    hint(session, "the card and the chips count as part of the face; leave them out with --crop");
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
  command.add_option("--white", options->white, "Where a white or grey card lies in the frame")
      ->type_name("X,Y,W,H");
  command
      .add_option("--white-is", options->white_is,
                  "Its colour: a swatch or a CSS literal; without --white the card is looked for")
      ->type_name("COLOUR");
  command.add_option("--chip", options->chips, "A stock of known colour in the frame; may be repeated")
      ->type_name("NAME=X,Y,W,H");
  call.run = [options](Session& session) { return run_extract(*options, session); };
}

}  // namespace kithue
