// SPDX-License-Identifier: MIT
#include "fuzz/targets.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <vector>

#include "base/checksum.h"
#include "base/text.h"
#include "fuzz/readings.h"
#include "harness/names.h"
#include "icc/profile.h"
#include "image/exif.h"
#include "kit/kit_check.h"
#include "photo/photo.h"

namespace kithue::fuzz {
namespace {

void insist(bool kept) {
  if (!kept) std::abort();
}

void csv(std::string_view bytes) {
  readings(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
}

void cgats(std::string_view bytes) {
  csv("CGATS.17\n" + std::string(bytes));
}

/// Once as it is, once with a checksum that fits, so that what stands under it is reached.
void stash(std::string_view bytes) {
  static_cast<void>(parse_stash(bytes, "fuzz"));
  const std::string body(bytes.substr(0, bytes.rfind('#')));
  const auto sealed = parse_stash(body + "# checksum xxh3-128 " + checksum(body) + "\n", "fuzz");
  const auto edited = parse_edited_stash(bytes, "fuzz");
  for (const auto* read : {&sealed, &edited}) {
    if (!*read) {
      insist(!read->error().what.empty());
      continue;
    }
    const auto back = parse_stash(stash_text(**read), "fuzz");
    insist(back && *back == **read);
  }
}

void kit(std::string_view bytes) {
  const auto read = parse_kit(bytes, "fuzz");
  if (!read) return insist(!read.error().what.empty() && read.error().where.starts_with("fuzz"));
  const auto size = size_from(size_text(read->pack.sheet, Unit::mm));
  insist(size && std::abs(size->width.nm - read->pack.sheet.width.nm) < 1000);
  std::vector<std::vector<KitColour>> colours;
  for (const KitFace& face : read->faces) colours.push_back(face.colours);
  static_cast<void>(check_kit(*read, Stash{}, colours));
}

/// A megapixel at most, so that the time goes into many pictures.
void picture(std::string_view bytes) {
  PhotoLimits limits;
  limits.most_pixels = 1'000'000;
  const auto photo = decode_photo(bytes, "fuzz", limits);
  if (!photo) return insist(!photo.error().what.empty() && photo.error().where.starts_with("fuzz"));
  std::vector<float> row(static_cast<std::size_t>(photo->width) * 3);
  for (int y = 0; y < photo->height; ++y) {
    photo->light->read(0, y, photo->width, row.data());
    insist(std::all_of(row.begin(), row.end(), [](float light) { return std::isfinite(light); }));
  }
}

/// What sniffing would send elsewhere is given the first bytes of the wanted kind.
void jpeg(std::string_view bytes) {
  picture(bytes);
  picture("\xFF\xD8" + std::string(bytes.substr(std::min<std::size_t>(2, bytes.size()))));
}

void png(std::string_view bytes) {
  picture("\x89PNG\r\n\x1a\n" + std::string(bytes.substr(std::min<std::size_t>(8, bytes.size()))));
}

void profile(std::string_view bytes) {
  const ExifFacts facts = read_exif(bytes);
  insist(facts.orientation >= 1 && facts.orientation <= 8);
  static_cast<void>(model_from_profile(bytes, 3, 8));
  static_cast<void>(model_from_profile(bytes, 1, 8));
  static_cast<void>(model_for_measuring(bytes, 3, 8));
}

/// The first byte says through which command and in which form the name goes.
void names(std::string_view bytes) {
  if (bytes.size() < 2 || bytes.find('\0') != std::string_view::npos) return;
  const harness::Tally tally =
      harness::print_name(static_cast<unsigned char>(bytes[0]), std::string(bytes.substr(1, 400)));
  insist(tally.failed == 0);
}

constexpr Target kTargets[] = {{"csv", csv},   {"cgats", cgats}, {"stash", stash},     {"kit", kit},
                               {"jpeg", jpeg}, {"png", png},     {"profile", profile}, {"names", names}};

}  // namespace

std::span<const Target> targets() {
  return kTargets;
}

const Target* target_named(std::string_view name) {
  const auto* found = std::find_if(std::begin(kTargets), std::end(kTargets),
                                   [name](const Target& target) { return target.name == name; });
  return found == std::end(kTargets) ? nullptr : found;
}

}  // namespace kithue::fuzz
