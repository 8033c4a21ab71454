// SPDX-License-Identifier: MIT
#include "image/turbo.h"

#ifdef KITHUE_WITH_TURBOJPEG

#include <turbojpeg.h>

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

}  // namespace

std::optional<TurboPixels> turbo_decode(std::string_view bytes, int width, int height, int channels) {
  const TurboHandle handle(tjInitDecompress());
  if (!handle) return {};
  const auto* data = reinterpret_cast<const unsigned char*>(bytes.data());
  const auto size = static_cast<unsigned long>(bytes.size());
  int found_width = 0;
  int found_height = 0;
  int sampling = 0;
  int space = 0;
  const int read =
      tjDecompressHeader3(handle.get(), data, size, &found_width, &found_height, &sampling, &space);
  if (read != 0 || found_width != width || found_height != height) return {};
  TurboPixels out;
  const auto count = static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
  out.pixels.reset(static_cast<unsigned char*>(std::calloc(count, static_cast<std::size_t>(channels))));
  if (!out.pixels) {
    out.fault = "not enough memory";
    return out;
  }
  const int format = channels == 1 ? TJPF_GRAY : TJPF_RGB;
  if (tjDecompress2(handle.get(), data, size, out.pixels.get(), width, width * channels, height, format,
                    TJFLAG_ACCURATEDCT) == 0) {
    return out;
  }
  const std::string words = tjGetErrorStr2(handle.get());
  // Padding before the end loses no pixel; every other warning means that pixels are made up.
  if (tjGetErrorCode(handle.get()) == TJERR_WARNING && only_padding(words, bytes)) return out;
  out.cut_short = words.find("remature end") != std::string::npos;
  out.fault = words;
  out.pixels.reset();
  return out;
}

}  // namespace kithue

#else

namespace kithue {

std::optional<TurboPixels> turbo_decode(std::string_view, int, int, int) {
  return {};
}

}  // namespace kithue

#endif
