// SPDX-License-Identifier: MIT
#include "harness/malformed.h"

#include <algorithm>
#include <cstring>
#include <functional>

#define STB_IMAGE_IMPLEMENTATION
#define STB_IMAGE_STATIC
#define STBI_NO_STDIO
#define STBI_ONLY_JPEG
#define STBI_ONLY_PNG
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wunused-function"
#include <stb/stb_image.h>
#pragma GCC diagnostic pop

#include "harness/process.h"
#include "harness/scene.h"
#include "icc/profile.h"
#include "image/exif.h"
#include "image/picture.h"
#include "image/sniff.h"
#include "kit/kit.h"
#include "samples/samples.h"
#include "swatch/import.h"

namespace kithue::harness {
namespace {

using samples::Kind;
using samples::Sample;

struct Count {
  Kind kind;
  const char* name;
  std::size_t spoilt;
  std::size_t sound;
};
constexpr Count kCounts[] = {{Kind::csv, "CSV", 500, 200}, {Kind::cgats, "CGATS", 400, 100},
                             {Kind::kit, "kit", 300, 100}, {Kind::jpeg, "JPEG", 400, 100},
                             {Kind::png, "PNG", 400, 150}, {Kind::profile, "profile", 130, 30},
                             {Kind::exif, "EXIF", 70, 20}};

/// "x.csv:12" or "x.csv:12:3".
bool names_a_line(const std::string& where) {
  const auto at = where.find(':');
  return at != std::string::npos && at + 1 < where.size() && where[at + 1] >= '1' && where[at + 1] <= '9';
}

bool names_a_byte(const std::string& where) {
  return where.find("byte ") != std::string::npos;
}

/// What the readers say about a file.
struct Answer {
  bool read = false;      ///< taken without a complaint
  std::string complaint;  ///< the first one
  bool placed = false;    ///< every complaint says where
  std::size_t line = 0;   ///< of the first
  std::size_t rows = 0;   ///< readings taken
};

Answer answer_of(const Result<Import>& import) {
  if (!import)
    return {false, import.error().what + " [" + import.error().where + "]",
            names_a_line(import.error().where), 0, 0};
  Answer answer{import->rejected.empty(), "", true, 0, import->rows.size()};
  for (const Rejection& rejection : import->rejected) {
    if (answer.complaint.empty()) {
      answer.complaint = rejection.reason;
      answer.line = rejection.line;
    }
    answer.placed = answer.placed && rejection.line > 0;
  }
  return answer;
}

template <typename T>
Answer answer_of(const Result<T>& result, bool placed_anyway) {
  if (result) return {true, "", false, 0, 0};
  const Error& error = result.error();
  const bool placed = placed_anyway || names_a_line(error.where) || names_a_byte(error.where);
  return {false, error.what + " [" + error.where + "]", placed, 0, 0};
}

Answer answer(Kind kind, const Sample& sample) {
  switch (kind) {
    case Kind::csv:
    case Kind::cgats:
      return answer_of(read_import(sample.bytes, "x", ImportOptions{}));
    case Kind::kit:
      return answer_of(parse_kit(sample.bytes, "x"), false);
    case Kind::jpeg:
    case Kind::png: {
      const auto picture = decode_picture(sample.bytes, "x", PictureLimits{});
      // A picture over a limit is refused for its size, a file of another kind for its kind: no place needed.
      return answer_of(picture, !sniff_picture(sample.bytes) ||
                                    (!picture && picture.error().kind == ErrorKind::impossible));
    }
    case Kind::profile:
      return answer_of(model_from_profile(sample.bytes, 3, 8), false);
    case Kind::exif: {
      const std::string fault = read_exif(sample.bytes).fault;
      return {fault.empty(), fault, names_a_byte(fault), 0, 0};
    }
  }
  return {};
}

struct FreeStb {
  void operator()(void* pixels) const noexcept { stbi_image_free(pixels); }
};

/// Empty when stb_image finds the same pixels: all of them in a PNG, nearly in a JPEG (its transform and its
/// way of enlarging colour differ).
std::string other_pixels(Kind kind, const Sample& sample) {
  const auto picture = decode_picture(sample.bytes, "x", PictureLimits{});
  const auto* bytes = reinterpret_cast<const unsigned char*>(sample.bytes.data());
  const auto size = static_cast<int>(sample.bytes.size());
  int width = 0;
  int height = 0;
  int channels = 0;
  const bool wide = picture->bits == 16;
  const std::unique_ptr<void, FreeStb> other(
      wide ? static_cast<void*>(
                 stbi_load_16_from_memory(bytes, size, &width, &height, &channels, picture->channels))
           : static_cast<void*>(
                 stbi_load_from_memory(bytes, size, &width, &height, &channels, picture->channels)));
  if (!other) return std::string("stb_image does not read it: ") + stbi_failure_reason();
  if (width != picture->width || height != picture->height) return "stb_image finds another size";
  const auto count = static_cast<std::size_t>(width) * static_cast<std::size_t>(height) *
                     static_cast<std::size_t>(picture->channels);
  if (kind == Kind::png)
    return std::memcmp(other.get(), picture->pixels.get(), count * (wide ? 2 : 1)) == 0
               ? ""
               : "stb_image finds other pixels";
  const auto* theirs = static_cast<const unsigned char*>(other.get());
  double sum = 0.0;
  for (std::size_t i = 0; i < count; ++i) sum += std::abs(int{theirs[i]} - int{picture->pixels[i]});
  return sum < 4.0 * static_cast<double>(count) ? "" : "stb_image finds other pixels";
}

std::size_t share_of(std::size_t count, std::size_t step) {
  return (count + step - 1) / step;
}

/// What is wrong with the answer to a file; empty when nothing is.
using Judge =
    std::function<std::string(const Count& count, const samples::Sample& file, const Answer& found)>;

void read_files(const Count& count, const std::vector<samples::Sample>& files, const Judge& fault_in,
                Tally& tally) {
  for (std::size_t i = 0; i < files.size(); ++i) {
    ++tally.tried;
    ++tally.fired;
    const std::string fault = fault_in(count, files[i], answer(count.kind, files[i]));
    if (!fault.empty())
      tally.fail(std::string(count.name) + " " + std::to_string(i) + ", " + files[i].what + ": " + fault);
  }
}

std::string fault_of_spoilt(const Count& /*count*/, const samples::Sample& file, const Answer& found) {
  if (found.read) return "taken for a sound one";
  if (!found.placed) return "refused without a place: " + found.complaint;
  if (file.line != 0 && found.line != 0 && found.line != file.line)
    return "line " + std::to_string(found.line) + " is named, not " + std::to_string(file.line) + ": " +
           found.complaint;
  return "";
}

std::string fault_of_sound(const Count& count, const samples::Sample& file, const Answer& found) {
  const bool picture = count.kind == Kind::jpeg || count.kind == Kind::png;
  const bool table = count.kind == Kind::csv || count.kind == Kind::cgats;
  if (!found.read) return "refused: " + found.complaint;
  if (table && found.rows != file.rows)
    return std::to_string(found.rows) + " readings of " + std::to_string(file.rows);
  return picture ? other_pixels(count.kind, file) : "";
}

}  // namespace

Tally read_spoilt_files(std::size_t step, std::uint64_t seed) {
  Tally tally{.name = "spoilt files refused with their place"};
  for (const Count& count : kCounts)
    read_files(count, samples::spoilt_files(count.kind, share_of(count.spoilt, step), seed), fault_of_spoilt,
               tally);
  return tally;
}

Tally read_sound_files(std::size_t step, std::uint64_t seed) {
  Tally tally{.name = "sound files read"};
  for (const Count& count : kCounts)
    read_files(count, samples::sound_files(count.kind, share_of(count.sound, step), seed), fault_of_sound,
               tally);
  return tally;
}

namespace {

void run_file(Tally& tally, const std::string& program, const Count& count, const Sample& sample) {
  const bool table = count.kind == Kind::csv || count.kind == Kind::cgats;
  const bool picture = count.kind == Kind::jpeg || count.kind == Kind::png;
  Files files = scene_files(1);
  files["file"] = sample.bytes;
  const Scene scene(files);
  std::vector<std::string> words{"extract", "{}/file"};
  if (table) words = {"stash", "import", "{}/file", "--dry-run"};
  if (count.kind == Kind::kit) words = {"kit", "check", "{}/file"};
  const Ended ended = run_process(start_on(scene, program, words));
  ++tally.tried;
  ++tally.fired;
  const std::string where = std::string(count.name) + ", " + sample.what + ": ";
  const double seconds = std::min(ended.seconds, ended.processor_after);
  const bool lacks_photo = count.kind == Kind::kit && ended.status == 5;  // a sound kit names photos
  if (ended.status != 0 && ended.status != 3 && ended.status != 8 && !lacks_photo)
    tally.fail(where + "status " + std::to_string(ended.status) + ", signal " + std::to_string(ended.signal) +
               ": " + ended.err);
  if (seconds > 2.0) tally.fail(where + std::to_string(seconds) + " s");
  if (ended.peak_kb > (picture ? 128 : 64) * 1024) tally.fail(where + std::to_string(ended.peak_kb) + " kB");
}

}  // namespace

Tally run_spoilt_and_sound_files(const std::string& program, std::size_t step, std::uint64_t seed) {
  Tally tally{.name = "spoilt and sound files, time and memory"};
  for (const Count& count : kCounts) {
    if (count.kind == Kind::profile || count.kind == Kind::exif) continue;
    for (const Sample& sample : samples::spoilt_files(count.kind, share_of(count.spoilt, step), seed))
      run_file(tally, program, count, sample);
    for (const Sample& sample : samples::sound_files(count.kind, share_of(count.sound, step), seed))
      run_file(tally, program, count, sample);
  }
  return tally;
}

}  // namespace kithue::harness
