// SPDX-License-Identifier: MIT
#include "image/turbo.h"

#ifdef KITHUE_WITH_TURBOJPEG

#include <turbojpeg.h>

#include <array>
#include <cstdlib>
#include <type_traits>

#include "base/text.h"

namespace kithue {
namespace {

struct CloseTurbo {
  void operator()(void* handle) const noexcept { tjDestroy(handle); }
};
using TurboHandle = std::unique_ptr<std::remove_pointer_t<tjhandle>, CloseTurbo>;

/// "... 12 extraneous bytes before marker 0xd9": cameras pad, with one byte value over and over. Many bytes
/// that differ are picture data which the decoder lost its way in.
bool only_padding(const std::string& words, std::string_view bytes) {
  constexpr std::string_view kLead = "Corrupt JPEG data: ";
  constexpr std::string_view kTail = " extraneous bytes before marker 0xd9";
  constexpr long long kFew = 8;
  if (!words.starts_with(kLead) || !words.ends_with(kTail)) return false;
  const std::string_view rest = std::string_view(words).substr(kLead.size());
  const auto count = parse_whole(rest.substr(0, rest.size() - kTail.size()));
  if (!count || *count < 0 || static_cast<std::size_t>(*count) + 2 > bytes.size()) return false;
  const std::string_view stray =
      bytes.substr(bytes.size() - 2 - static_cast<std::size_t>(*count), static_cast<std::size_t>(*count));
  return *count <= kFew || stray.find_first_not_of(stray[0]) == std::string_view::npos;
}

/// The bytes and what turbo reads from their header.
struct Opened {
  TurboHandle handle;
  const unsigned char* data = nullptr;
  unsigned long size = 0;
  int sampling = 0;
  int space = 0;
};

std::optional<Opened> open(std::string_view bytes, int width, int height) {
  Opened out;
  out.handle.reset(tjInitDecompress());
  if (!out.handle) return {};
  out.data = reinterpret_cast<const unsigned char*>(bytes.data());
  out.size = static_cast<unsigned long>(bytes.size());
  int found_width = 0;
  int found_height = 0;
  const int read = tjDecompressHeader3(out.handle.get(), out.data, out.size, &found_width, &found_height,
                                       &out.sampling, &out.space);
  if (read != 0 || found_width != width || found_height != height) return {};
  return out;
}

/// Zeroed, so that what a decoder leaves unwritten does not depend on what the memory held before.
PixelBytes room_for(int width, int height, int channels) {
  const auto count = static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
  return PixelBytes(static_cast<unsigned char*>(std::calloc(count, static_cast<std::size_t>(channels))));
}

/// True when all was decoded, else says why not.
bool succeeded(const Opened& opened, int code, std::string_view bytes, TurboPixels& out) {
  if (code == 0) return true;
  const std::string words = tjGetErrorStr2(opened.handle.get());
  // Padding before the end loses no pixel; every other warning means that pixels are made up.
  if (tjGetErrorCode(opened.handle.get()) == TJERR_WARNING && only_padding(words, bytes)) return true;
  out.cut_short = words.find("remature end") != std::string::npos;
  out.fault = words;
  return false;
}

}  // namespace

std::optional<TurboPixels> turbo_decode(std::string_view bytes, int width, int height, int channels) {
  const auto opened = open(bytes, width, height);
  if (!opened) return {};
  TurboPixels out;
  out.pixels = room_for(width, height, channels);
  if (!out.pixels) {
    out.fault = "not enough memory";
    return out;
  }
  const int format = channels == 1 ? TJPF_GRAY : TJPF_RGB;
  const int code = tjDecompress2(opened->handle.get(), opened->data, opened->size, out.pixels.get(), width,
                                 width * channels, height, format, TJFLAG_ACCURATEDCT);
  if (!succeeded(*opened, code, bytes, out)) out.pixels.reset();
  return out;
}

std::optional<TurboPixels> turbo_planes(std::string_view bytes, int width, int height) {
  const auto opened = open(bytes, width, height);
  if (!opened || opened->space != TJCS_YCbCr) return {};
  const int sampling = opened->sampling;
  YccPlanes planes;
  if (sampling == TJSAMP_420 || sampling == TJSAMP_422) planes.across = 2;
  if (sampling == TJSAMP_420 || sampling == TJSAMP_440) planes.down = 2;
  if (sampling != TJSAMP_444 && planes.across * planes.down == 1) return {};
  const int columns = (width + planes.across - 1) / planes.across;
  const int rows = (height + planes.down - 1) / planes.down;
  TurboPixels out;
  planes.y = room_for(columns * planes.across, rows * planes.down, 1);
  planes.cb = room_for(columns, rows, 1);
  planes.cr = room_for(columns, rows, 1);
  if (!planes.y || !planes.cb || !planes.cr) {
    out.fault = "not enough memory";
    return out;
  }
  std::array<unsigned char*, 3> to{planes.y.get(), planes.cb.get(), planes.cr.get()};
  std::array<int, 3> strides{columns * planes.across, columns, columns};
  const int code = tjDecompressToYUVPlanes(opened->handle.get(), opened->data, opened->size, to.data(), width,
                                           strides.data(), height, TJFLAG_ACCURATEDCT);
  if (succeeded(*opened, code, bytes, out)) out.ycc = std::move(planes);
  return out;
}

}  // namespace kithue

#else

namespace kithue {

std::optional<TurboPixels> turbo_decode(std::string_view, int, int, int) {
  return {};
}

std::optional<TurboPixels> turbo_planes(std::string_view, int, int) {
  return {};
}

}  // namespace kithue

#endif
