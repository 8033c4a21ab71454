// SPDX-License-Identifier: MIT
#include "image/picture.h"

#include <algorithm>
#include <cstdlib>
#include <new>
#include <optional>
#include <utility>

#include "image/jpeg_planes.h"
#include "image/jpeg_walk.h"
#include "image/png_walk.h"
#include "image/size_check.h"
#include "image/sniff.h"
#include "image/stb.h"
#include "image/turbo.h"

namespace kithue {
namespace {

/// What a JPEG is decoded to, and by which decoder.
enum class JpegWay { planes, copied_planes, rgb, stb };

/// Bytes that decoding takes at its peak, our copy of the file included. Planes are there for stb_image, and
/// coefficients of two bytes a sample for progressive files with either decoder; before planes are copied
/// these are gone.
long long jpeg_memory(const JpegFacts& facts, std::size_t file_bytes, JpegWay way) {
  long long samples = 0;
  for (const JpegComponent& component : facts.components) {
    const auto blocks = jpeg_blocks(facts, component);
    samples += (blocks[0] + component.across) * (blocks[1] + component.down) * 64;
  }
  const long long made =
      static_cast<long long>(facts.width) * facts.height * static_cast<long long>(facts.components.size());
  const long long coefficients = facts.progressive ? 2 * samples : 0;
  long long needed = 0;
  switch (way) {
    case JpegWay::planes:
      needed = samples + coefficients;
      break;
    case JpegWay::copied_planes:
      needed = samples + std::max(samples, coefficients);
      break;
    case JpegWay::rgb:
      needed = made + coefficients;
      break;
    case JpegWay::stb:
      needed = made + samples + coefficients;
      break;
  }
  return static_cast<long long>(file_bytes) + needed;
}

/// The file and the pixels: rows are unpacked one at a time.
long long png_memory(const PngFacts& facts, std::size_t file_bytes) {
  const long long pixels = static_cast<long long>(facts.width) * facts.height;
  return static_cast<long long>(file_bytes) + pixels * facts.channels() * (facts.depth == 16 ? 2 : 1);
}

/// The decoder does not say where it lost its way: the start of the picture data is what we know.
Error bad(std::string what, std::size_t data_start) {
  return {ErrorKind::bad_input, std::move(what), "byte " + std::to_string(data_start),
          "copy it from the camera or phone again"};
}

Error error_of(const JpegFault& fault, std::size_t data_start) {
  return bad(fault.cut_short ? "this JPEG is cut short: part of the picture is missing"
                             : "this JPEG is damaged (" + fault.words + ")",
             data_start);
}

/// How many pixels share a sample of the colour differences, where both have them alike.
void set_sampling(const std::vector<JpegComponent>& parts, Picture& picture) {
  if (parts.size() != 3 || parts[1].across != parts[2].across || parts[1].down != parts[2].down) return;
  if (parts[0].across == 2 * parts[1].across) picture.across = 2;
  if (parts[0].down == 2 * parts[1].down) picture.down = 2;
}

/// What decoding into planes needs once the file was looked through.
struct Later {
  std::string clean;
  std::unique_ptr<JpegPlanes> planes;
};

Result<Picture> decode_jpeg(std::string_view bytes, const PictureLimits& limits, JpegForm form) {
  auto facts = walk_jpeg(bytes, limits);
  if (!facts) return facts.error();
  Picture picture;
  picture.format = PictureFormat::jpeg;
  picture.width = facts->width;
  picture.height = facts->height;
  picture.channels = static_cast<int>(facts->components.size());
  set_sampling(facts->components, picture);
  picture.orientation = facts->exif.orientation;
  picture.day = facts->exif.day;
  picture.colour.icc = std::move(facts->icc);
  picture.colour.icc_fault = std::move(facts->icc_fault);
  picture.colour.exif_adobe_rgb = facts->exif.adobe_rgb;
  picture.warnings = std::move(facts->warnings);
  if (!facts->exif.fault.empty()) picture.warnings.push_back(std::move(facts->exif.fault));

  const auto too_large = [&](JpegWay way) {
    const long long needed = jpeg_memory(*facts, bytes.size() + facts->clean.size(), way);
    return check_memory(facts->width, facts->height, needed, limits);
  };
  if (form != JpegForm::rgb && picture.channels == 3) {
    // What is decoded may be our own copy without stray bytes: it goes along.
    auto later = std::make_shared<Later>();
    later->clean = std::move(facts->clean);
    const std::string_view bytes_left =
        later->clean.empty() ? bytes.substr(0, facts->length) : std::string_view(later->clean);
    JpegWay way = JpegWay::planes;
    later->planes = turbo_planes(bytes_left, facts->width, facts->height);
    if (!later->planes) {
      way = JpegWay::copied_planes;
      later->planes = stb_planes(bytes_left, facts->width, facts->height);
    }
    if (later->planes) {
      if (auto wrong = too_large(way)) return *wrong;
      picture.ycc = later->planes->room();
      picture.fill = [later, start = facts->data_start](const RowsTold& told) -> MaybeError {
        if (const auto fault = later->planes->fill(told)) return error_of(*fault, start);
        return std::nullopt;
      };
      if (form == JpegForm::ycc_later) return picture;
      if (auto wrong = std::exchange(picture.fill, nullptr)({})) return *wrong;
      return picture;
    }
    facts->clean = std::move(later->clean);
  }
  const std::string_view first =
      facts->clean.empty() ? bytes.substr(0, facts->length) : std::string_view(facts->clean);
  if (auto wrong = too_large(JpegWay::rgb)) return *wrong;
  if (auto turbo = turbo_decode(first, facts->width, facts->height, picture.channels)) {
    if (turbo->fault) return error_of(*turbo->fault, facts->data_start);
    picture.pixels = std::move(turbo->pixels);
    return picture;
  }
  if (auto wrong = too_large(JpegWay::stb)) return *wrong;
  StbPixels found = stb_decode(first, false);
  if (!found.pixels || found.width != picture.width || found.height != picture.height ||
      found.channels != picture.channels) {
    return bad("this JPEG is damaged (" + found.fault + ")", facts->data_start);
  }
  picture.pixels = std::move(found.pixels);
  return picture;
}

Result<Picture> decode_png(std::string_view bytes, const PictureLimits& limits) {
  auto facts = walk_png(bytes, limits);
  if (!facts) return facts.error();
  if (auto wrong = check_memory(facts->width, facts->height, png_memory(*facts, bytes.size()), limits)) {
    return *wrong;
  }
  Picture picture;
  picture.format = PictureFormat::png;
  picture.width = facts->width;
  picture.height = facts->height;
  picture.channels = facts->channels();
  picture.bits = facts->depth == 16 ? 16 : 8;
  picture.orientation = facts->exif.orientation;
  picture.day = facts->exif.day;
  picture.colour = std::move(facts->colour);
  const auto samples = static_cast<std::size_t>(facts->width) * static_cast<std::size_t>(facts->height) *
                       static_cast<std::size_t>(picture.channels);
  picture.pixels.reset(static_cast<unsigned char*>(std::calloc(samples, picture.bits == 16 ? 2 : 1)));
  if (!picture.pixels) throw std::bad_alloc();
  if (auto wrong = read_png_data(bytes, *facts, picture.pixels.get())) return *wrong;
  picture.warnings = std::move(facts->warnings);
  if (!facts->exif.fault.empty()) picture.warnings.push_back(std::move(facts->exif.fault));
  return picture;
}

}  // namespace

void FreePixels::operator()(unsigned char* pixels) const noexcept {
  std::free(pixels);
}

Result<Picture> decode_picture(std::string_view bytes, const std::string& name, const PictureLimits& limits,
                               JpegForm form) {
  const auto format = sniff_picture(bytes);
  auto picture = !format                          ? Result<Picture>(format.error())
                 : *format == PictureFormat::jpeg ? decode_jpeg(bytes, limits, form)
                                                  : decode_png(bytes, limits);
  if (picture) return picture;
  Error error = picture.error();
  error.where = error.where.empty() ? name : name + ", " + error.where;
  return error;
}

}  // namespace kithue
