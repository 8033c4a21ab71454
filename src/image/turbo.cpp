// SPDX-License-Identifier: MIT
#include "image/turbo.h"

#ifdef KITHUE_WITH_TURBO

#include <jpeglib.h>

#include <algorithm>
#include <array>
#include <csetjmp>
#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <new>

#include "base/text.h"

namespace kithue {
namespace {

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

/// A decoder of libjpeg. It reports errors by jumping back to where setjmp was called: the functions below
/// that call it hold nothing with a destructor meanwhile.
struct Decoder {
  jpeg_decompress_struct library{};
  jpeg_error_mgr errors{};
  std::jmp_buf back{};
  std::array<char, JMSG_LENGTH_MAX> words{};  // of the error, else of the first warning
  bool warned = false;
  std::string_view bytes;

  explicit Decoder(std::string_view file) : bytes(file) {
    library.err = jpeg_std_error(&errors);
    library.client_data = this;
    errors.error_exit = [](j_common_ptr common) {
      auto& self = *static_cast<Decoder*>(common->client_data);
      common->err->format_message(common, self.words.data());
      std::longjmp(self.back, 1);  // NOLINT(cert-err52-cpp): the library's own way
    };
    errors.emit_message = [](j_common_ptr common, int level) {
      auto& self = *static_cast<Decoder*>(common->client_data);
      if (level >= 0) return;
      if (!self.warned) common->err->format_message(common, self.words.data());
      self.warned = true;
    };
  }
  ~Decoder() { jpeg_destroy_decompress(&library); }
  Decoder(const Decoder&) = delete;
  Decoder& operator=(const Decoder&) = delete;

  /// False when the library gave up.
  bool open(int width, int height) {
    if (setjmp(back) != 0) return false;
    jpeg_create_decompress(&library);
    jpeg_mem_src(&library, reinterpret_cast<const unsigned char*>(bytes.data()),
                 static_cast<unsigned long>(bytes.size()));
    if (jpeg_read_header(&library, TRUE) != JPEG_HEADER_OK) return false;
    library.dct_method = JDCT_ISLOW;
    return library.image_width == static_cast<JDIMENSION>(width) &&
           library.image_height == static_cast<JDIMENSION>(height);
  }
  /// What is wrong once it ran; padding before the end loses no pixel, every other warning means that pixels
  /// are made up.
  [[nodiscard]] std::optional<JpegFault> fault(bool finished) const {
    const std::string text = words.data();
    if (finished && (!warned || only_padding(text, bytes))) return {};
    return JpegFault{text, text.find("remature end") != std::string::npos};
  }
};

/// Zeroed, so that what a decoder leaves unwritten does not depend on what the memory held before.
PixelBytes room_for(int width, int height, int channels) {
  const auto count = static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
  PixelBytes room(static_cast<unsigned char*>(std::calloc(count, static_cast<std::size_t>(channels))));
  if (!room) throw std::bad_alloc();
  return room;
}

bool read_rows(Decoder& decoder, unsigned char* pixels, std::size_t stride) {
  if (setjmp(decoder.back) != 0) return false;
  jpeg_decompress_struct& library = decoder.library;
  jpeg_start_decompress(&library);
  while (library.output_scanline < library.output_height) {
    JSAMPROW row = pixels + library.output_scanline * stride;
    jpeg_read_scanlines(&library, &row, 1);
  }
  jpeg_finish_decompress(&library);
  return true;
}

/// A plane that libjpeg writes whole blocks to.
struct Plane {
  unsigned char* to = nullptr;
  int stride = 0;
  int rows = 0;
};

constexpr int kBlock = DCTSIZE;
constexpr int kMostRows = 2 * kBlock;  // of a plane at a time

bool read_planes(Decoder& decoder, const std::array<Plane, 3>& planes, int down, const RowsTold& told) {
  if (setjmp(decoder.back) != 0) return false;
  jpeg_decompress_struct& library = decoder.library;
  library.raw_data_out = TRUE;
  jpeg_start_decompress(&library);
  std::array<std::array<JSAMPROW, kMostRows>, 3> rows{};
  std::array<JSAMPARRAY, 3> all{rows[0].data(), rows[1].data(), rows[2].data()};
  while (library.output_scanline < library.output_height) {
    const int top = static_cast<int>(library.output_scanline);
    for (std::size_t c = 0; c < 3; ++c) {
      const int first = c == 0 ? top : top / down;
      const int count = c == 0 ? down * kBlock : kBlock;
      for (int i = 0; i < count; ++i) {
        // The last run may have rows beyond the last block, which are not written.
        const std::ptrdiff_t row = std::min(first + i, planes[c].rows - 1);
        rows[c][static_cast<std::size_t>(i)] = planes[c].to + row * planes[c].stride;
      }
    }
    jpeg_read_raw_data(&library, all.data(), static_cast<JDIMENSION>(down * kBlock));
    if (told) told(static_cast<int>(std::min(library.output_scanline, library.output_height)));
  }
  jpeg_finish_decompress(&library);
  return true;
}

class TurboPlanes final : public JpegPlanes {
 public:
  explicit TurboPlanes(std::string_view bytes) : decoder_(bytes) {}

  /// False when they are not Y, Cb and Cr, or sampled in a rarer way.
  bool open(int width, int height) {
    if (!decoder_.open(width, height)) return false;
    const jpeg_decompress_struct& library = decoder_.library;
    if (library.jpeg_color_space != JCS_YCbCr || library.num_components != 3) return false;
    const jpeg_component_info* const parts = library.comp_info;
    across_ = parts[0].h_samp_factor;
    down_ = parts[0].v_samp_factor;
    if (across_ > 2 || down_ > 2) return false;
    for (std::size_t c = 1; c < 3; ++c) {
      if (parts[c].h_samp_factor != 1 || parts[c].v_samp_factor != 1) return false;
    }
    for (std::size_t c = 0; c < 3; ++c) {
      planes_[c].stride = static_cast<int>(parts[c].width_in_blocks) * kBlock;
      planes_[c].rows = static_cast<int>(parts[c].height_in_blocks) * kBlock;
    }
    return true;
  }

  YccPlanes room() override {
    YccPlanes out;
    out.across = across_;
    out.down = down_;
    out.bright_stride = planes_[0].stride;
    out.stride = planes_[1].stride;
    const std::array<LargeBlock*, 3> blocks{&out.y, &out.cb, &out.cr};
    for (std::size_t c = 0; c < 3; ++c) {
      *blocks[c] =
          LargeBlock(static_cast<std::size_t>(planes_[c].stride) * static_cast<std::size_t>(planes_[c].rows));
      planes_[c].to = blocks[c]->data();
    }
    return out;
  }

  std::optional<JpegFault> fill(const RowsTold& told) override {
    return decoder_.fault(read_planes(decoder_, planes_, down_, told));
  }

 private:
  Decoder decoder_;
  std::array<Plane, 3> planes_{};
  int across_ = 1;
  int down_ = 1;
};

}  // namespace

std::optional<TurboPixels> turbo_decode(std::string_view bytes, int width, int height, int channels) {
  Decoder decoder(bytes);
  TurboPixels out;
  if (!decoder.open(width, height)) return {};
  decoder.library.out_color_space = channels == 1 ? JCS_GRAYSCALE : JCS_RGB;
  out.pixels = room_for(width, height, channels);
  const bool finished = read_rows(decoder, out.pixels.get(),
                                  static_cast<std::size_t>(width) * static_cast<std::size_t>(channels));
  out.fault = decoder.fault(finished);
  if (out.fault) out.pixels.reset();
  return out;
}

std::unique_ptr<JpegPlanes> turbo_planes(std::string_view bytes, int width, int height) {
  auto planes = std::make_unique<TurboPlanes>(bytes);
  if (!planes->open(width, height)) return {};
  return planes;
}

}  // namespace kithue

#else

namespace kithue {

std::optional<TurboPixels> turbo_decode(std::string_view, int, int, int) {
  return {};
}

std::unique_ptr<JpegPlanes> turbo_planes(std::string_view, int, int) {
  return {};
}

}  // namespace kithue

#endif
