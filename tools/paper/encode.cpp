// SPDX-License-Identifier: MIT
#include <memory>

#include "paper/camera.h"

#ifdef KITHUE_PAPER_TURBO
#include <turbojpeg.h>
#endif
#define STB_IMAGE_WRITE_IMPLEMENTATION
#define STB_IMAGE_WRITE_STATIC
#define STBI_WRITE_NO_STDIO
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wunused-function"
#include <stb/stb_image_write.h>
#pragma GCC diagnostic pop

namespace kithue::paper {
namespace {

void append(void* text, void* data, int size) {
  static_cast<std::string*>(text)->append(static_cast<const char*>(data), static_cast<std::size_t>(size));
}

}  // namespace

bool jpeg_is_turbo() noexcept {
#ifdef KITHUE_PAPER_TURBO
  return true;
#else
  return false;
#endif
}

std::string jpeg_bytes(const Shot& shot, int quality) {
#ifdef KITHUE_PAPER_TURBO
  struct Destroy {
    void operator()(void* handle) const { tjDestroy(handle); }
  };
  struct Free {
    void operator()(unsigned char* bytes) const { tjFree(bytes); }
  };
  const std::unique_ptr<void, Destroy> encoder(tjInitCompress());
  if (!encoder) return {};
  unsigned char* made = nullptr;
  unsigned long size = 0;
  const int status = tjCompress2(encoder.get(), shot.rgb.data(), shot.width, 0, shot.height, TJPF_RGB, &made,
                                 &size, TJSAMP_420, quality, TJFLAG_ACCURATEDCT);
  const std::unique_ptr<unsigned char, Free> held(made);
  if (status != 0) return {};
  return {reinterpret_cast<const char*>(made), size};
#else
  std::string bytes;
  stbi_write_jpg_to_func(append, &bytes, shot.width, shot.height, 3, shot.rgb.data(), quality);
  return bytes;
#endif
}

std::string png_bytes(const Shot& shot) {
  std::string bytes;
  stbi_write_png_to_func(append, &bytes, shot.width, shot.height, 3, shot.rgb.data(), shot.width * 3);
  return bytes;
}

}  // namespace kithue::paper
