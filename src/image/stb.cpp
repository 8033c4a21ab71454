// SPDX-License-Identifier: MIT
// The one file that compiles stb_image; its warnings are off (src/CMakeLists.txt).
#include "image/stb.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdlib>
#include <cstring>
#include <memory>
#include <new>

// Zeroed memory: stb_image leaves planes unwritten when a scan ends early, and what it returns must not
// depend on what the memory held before.
#define STBI_MALLOC(size) std::calloc(1, size)
#define STBI_REALLOC(old, size) std::realloc(old, size)
#define STBI_FREE(old) std::free(old)
#define STB_IMAGE_IMPLEMENTATION
#define STB_IMAGE_STATIC
#define STBI_ONLY_JPEG
#define STBI_ONLY_PNG
#define STBI_NO_STDIO
#define STBI_MAX_DIMENSIONS 65500
#include <stb/stb_image.h>

#include "image/inverse_cosine.h"

namespace kithue {
namespace {

std::string fault_words() {
  const char* const words = stbi_failure_reason();
  return words != nullptr ? words : "unknown fault";
}

/// stb_image's own decoder of JPEG. Its planes are no part of what the header offers to callers: a version
/// that names them otherwise does not compile.
class Jpeg {
 public:
  explicit Jpeg(std::string_view bytes)
      : decoder_(static_cast<stbi__jpeg*>(std::calloc(1, sizeof(stbi__jpeg)))) {
    if (!decoder_) throw std::bad_alloc();
    stbi__start_mem(&source_, reinterpret_cast<const stbi_uc*>(bytes.data()), static_cast<int>(bytes.size()));
    decoder_->s = &source_;
    stbi__setup_jpeg(decoder_.get());
    decoder_->idct_block_kernel = [](stbi_uc* out, int stride, short data[64]) {
      inverse_cosine(out, stride, data);
    };
  }
  ~Jpeg() {
    if (decoded_) stbi__cleanup_jpeg(decoder_.get());
  }
  Jpeg(const Jpeg&) = delete;
  Jpeg& operator=(const Jpeg&) = delete;

  /// Up to the sizes; false when stb_image cannot read it.
  bool read_header() { return stbi__decode_jpeg_header(decoder_.get(), STBI__SCAN_header) == 1; }
  /// As stb_image makes of it, or null.
  unsigned char* pixels(int& width, int& height, int& channels) {
    return load_jpeg_image(decoder_.get(), &width, &height, &channels, 0);
  }
  bool decode() {
    decoded_ = true;
    if (stbi__decode_jpeg_image(decoder_.get()) != 1) return false;
    // Those of a progressive file take twice as much as the planes, and are of no more use.
    for (auto& part : decoder_->img_comp) {
      STBI_FREE(part.raw_coeff);
      part.raw_coeff = nullptr;
      part.coeff = nullptr;
    }
    return true;
  }
  [[nodiscard]] const stbi__jpeg& state() const { return *decoder_; }
  /// The same as stb_image itself asks before it makes RGB.
  [[nodiscard]] bool is_ycc() const {
    return source_.img_n == 3 && decoder_->rgb != 3 &&
           (decoder_->app14_color_transform != 0 || decoder_->jfif != 0);
  }

 private:
  struct Free {
    void operator()(stbi__jpeg* decoder) const noexcept { std::free(decoder); }
  };
  stbi__context source_{};
  std::unique_ptr<stbi__jpeg, Free> decoder_;
  bool decoded_ = false;
};

class StbPlanes final : public JpegPlanes {
 public:
  StbPlanes(std::string_view bytes, int width, int height, int across, int down)
      : bytes_(bytes),
        height_(height),
        across_(across),
        down_(down),
        columns_((width + across - 1) / across),
        rows_((height + down - 1) / down) {}

  YccPlanes room() override {
    YccPlanes out;
    out.across = across_;
    out.down = down_;
    out.stride = columns_;
    out.bright_stride = out.stride * across_;
    const auto size = static_cast<std::size_t>(out.stride) * static_cast<std::size_t>(rows_);
    out.y = LargeBlock(size * static_cast<std::size_t>(across_ * down_));
    out.cb = LargeBlock(size);
    out.cr = LargeBlock(size);
    to_ = {out.y.data(), out.cb.data(), out.cr.data()};
    return out;
  }

  std::optional<JpegFault> fill(const RowsTold& told) override {
    Jpeg jpeg(bytes_);
    if (!jpeg.decode()) return JpegFault{fault_words(), false};
    for (std::size_t c = 0; c < 3; ++c) {
      const auto& from = jpeg.state().img_comp[c];
      const int stride = c == 0 ? columns_ * across_ : columns_;
      const int rows = c == 0 ? rows_ * down_ : rows_;
      if (from.data == nullptr || from.w2 < stride || from.h2 < rows)
        return JpegFault{"planes too small", false};
      for (int row = 0; row < rows; ++row) {
        std::memcpy(to_[c] + static_cast<std::ptrdiff_t>(row) * stride,
                    from.data + static_cast<std::ptrdiff_t>(row) * from.w2, static_cast<std::size_t>(stride));
      }
    }
    if (told) told(height_);
    return std::nullopt;
  }

 private:
  std::string_view bytes_;
  int height_;
  int across_;
  int down_;
  int columns_;  // of a difference
  int rows_;     // of a difference
  std::array<unsigned char*, 3> to_{};
};

}  // namespace

StbPixels stb_decode(std::string_view bytes, bool sixteen_bits) {
  StbPixels out;
  const auto* data = reinterpret_cast<const stbi_uc*>(bytes.data());
  const int size = static_cast<int>(bytes.size());
  if (!sixteen_bits && bytes.starts_with("\xff\xd8")) {
    out.pixels.reset(Jpeg(bytes).pixels(out.width, out.height, out.channels));
  } else if (sixteen_bits) {
    auto* samples = stbi_load_16_from_memory(data, size, &out.width, &out.height, &out.channels, 0);
    out.pixels.reset(reinterpret_cast<unsigned char*>(samples));
  } else {
    out.pixels.reset(stbi_load_from_memory(data, size, &out.width, &out.height, &out.channels, 0));
  }
  if (!out.pixels) out.fault = fault_words();
  return out;
}

std::unique_ptr<JpegPlanes> stb_planes(std::string_view bytes, int width, int height) {
  Jpeg jpeg(bytes);
  if (!jpeg.read_header() || !jpeg.is_ycc()) return {};
  const stbi__jpeg& state = jpeg.state();
  if (state.s->img_x != static_cast<stbi__uint32>(width) ||
      state.s->img_y != static_cast<stbi__uint32>(height))
    return {};
  const auto& bright = state.img_comp[0];
  const bool usual = std::all_of(state.img_comp + 1, state.img_comp + 3,
                                 [](const auto& part) { return part.h == 1 && part.v == 1; });
  if (!usual || bright.h > 2 || bright.v > 2) return {};
  return std::make_unique<StbPlanes>(bytes, width, height, bright.h, bright.v);
}

}  // namespace kithue
