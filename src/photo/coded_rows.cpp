// SPDX-License-Identifier: MIT
#include "photo/coded_rows.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstring>

namespace kithue {
namespace {

// Rows in a band of a turned picture: a pixel row of the upright picture then touches one cache line for
// this many pixels, where it would touch one for each.
constexpr int kBand = 16;
constexpr int kGathered = 256;  // pixels gathered at a time

template <typename Sample, int Channels>
void light_by_curves(const Sample* coded, int count, const ColourModel& model, float* light) {
  const float* red = model.curve[0].data();
  const float* green = model.curve[1].data();
  const float* blue = model.curve[2].data();
  constexpr int kColours = Channels < 3 ? 1 : 3;
  constexpr float kTop = sizeof(Sample) == 1 ? 255.0F : 65535.0F;
  for (int i = 0; i < count; ++i, coded += Channels, light += 3) {
    light[0] = red[coded[0]];
    light[1] = green[coded[kColours == 3 ? 1 : 0]];
    light[2] = blue[coded[kColours == 3 ? 2 : 0]];
    if constexpr (Channels == 2 || Channels == 4) {
      const float cover = static_cast<float>(coded[kColours]) / kTop;
      for (int k = 0; k < 3; ++k) light[k] = cover * light[k] + (1.0F - cover);
    }
  }
}

template <typename Sample, int Channels>
void light_by_grid(const Sample* coded, int count, const LightGrid& grid, float* light) {
  constexpr int kColours = Channels < 3 ? 1 : 3;
  constexpr float kTop = sizeof(Sample) == 1 ? 255.0F : 65535.0F;
  for (int i = 0; i < count; ++i, coded += Channels, light += 3) {
    grid.light(static_cast<float>(coded[0]) / kTop, static_cast<float>(coded[kColours == 3 ? 1 : 0]) / kTop,
               static_cast<float>(coded[kColours == 3 ? 2 : 0]) / kTop, light);
    if constexpr (Channels == 2 || Channels == 4) {
      const float cover = static_cast<float>(coded[kColours]) / kTop;
      for (int k = 0; k < 3; ++k) light[k] = cover * light[k] + (1.0F - cover);
    }
  }
}

template <typename Sample, int Channels>
void light_from(const unsigned char* coded, int count, const ColourModel& model, float* light) {
  const auto* samples = reinterpret_cast<const Sample*>(coded);
  if (model.grid) {
    light_by_grid<Sample, Channels>(samples, count, *model.grid, light);
  } else {
    light_by_curves<Sample, Channels>(samples, count, model, light);
  }
}

template <typename Sample>
void light_from(int channels, const unsigned char* coded, int count, const ColourModel& model, float* light) {
  switch (channels) {
    case 1:
      return light_from<Sample, 1>(coded, count, model, light);
    case 2:
      return light_from<Sample, 2>(coded, count, model, light);
    case 3:
      return light_from<Sample, 3>(coded, count, model, light);
    default:
      return light_from<Sample, 4>(coded, count, model, light);
  }
}

template <typename Sample>
long long clipped_in(const Sample* samples, std::size_t count, int channels) {
  constexpr Sample kTop = static_cast<Sample>(~Sample{0});
  const int colours = channels < 3 ? 1 : 3;
  const bool alpha = channels != colours;
  long long clipped = 0;
  for (std::size_t i = 0; i < count; ++i, samples += channels) {
    bool top = samples[0] == kTop;
    if (colours == 3) top = top || samples[1] == kTop || samples[2] == kTop;
    if (alpha) top = top && samples[colours] != 0;
    clipped += top ? 1 : 0;
  }
  return clipped;
}

// True when one of the eight bytes is 0xff.
bool any_top(std::uint64_t word) {
  const std::uint64_t turned = ~word;
  return ((turned - 0x0101010101010101U) & ~turned & 0x8080808080808080U) != 0;
}

}  // namespace

CodedRows::CodedRows(Picture picture, ColourModel model)
    : picture_(std::move(picture)),
      model_(std::move(model)),
      turned_(picture_.orientation >= 5),
      pixel_size_(static_cast<std::size_t>(picture_.channels) * static_cast<std::size_t>(picture_.bits / 8)) {
  if (turned_) into_bands();
}

// Rearranges each band of rows so that its columns lie whole, one after the other: in place but for one band.
template <std::size_t Size>
void CodedRows::into_bands() {
  const auto columns = static_cast<std::size_t>(picture_.width);
  std::vector<unsigned char> band(columns * kBand * Size);
  for (int top = 0; top < picture_.height; top += kBand) {
    const auto rows = static_cast<std::size_t>(std::min(kBand, picture_.height - top));
    unsigned char* const start = picture_.pixels.get() + static_cast<std::size_t>(top) * columns * Size;
    for (std::size_t row = 0; row < rows; ++row) {
      const unsigned char* from = start + row * columns * Size;
      unsigned char* to = band.data() + row * Size;
      for (std::size_t column = 0; column < columns; ++column, from += Size, to += rows * Size) {
        std::memcpy(to, from, Size);
      }
    }
    std::memcpy(start, band.data(), rows * columns * Size);
  }
}

void CodedRows::into_bands() {
  switch (pixel_size_) {
    case 1:
      return into_bands<1>();
    case 2:
      return into_bands<2>();
    case 3:
      return into_bands<3>();
    case 4:
      return into_bands<4>();
    case 6:
      return into_bands<6>();
    default:
      return into_bands<8>();
  }
}

// The eight orientations of EXIF (CIPA DC-008, tag 274) as where an upright pixel is stored.
template <std::size_t Size>
void CodedRows::gather(int x, int y, int count, unsigned char* coded) const {
  const int o = picture_.orientation;
  const auto columns = static_cast<std::size_t>(picture_.width);
  const unsigned char* const pixels = picture_.pixels.get();
  if (!turned_) {
    const int row = o == 3 || o == 4 ? picture_.height - 1 - y : y;
    const unsigned char* from = pixels + static_cast<std::size_t>(row) * columns * Size;
    for (int i = 0; i < count; ++i, coded += Size) {
      const int column = o == 2 || o == 3 ? picture_.width - 1 - (x + i) : x + i;
      std::memcpy(coded, from + static_cast<std::size_t>(column) * Size, Size);
    }
    return;
  }
  const auto column = static_cast<std::size_t>(o == 7 || o == 8 ? picture_.width - 1 - y : y);
  const bool backwards = o == 6 || o == 7;
  for (int done = 0; done < count;) {
    // As many pixels as lie together in one band.
    const int row = backwards ? picture_.height - 1 - (x + done) : x + done;
    const int top = row - row % kBand;
    const int rows = std::min(kBand, picture_.height - top);
    const int run = std::min(count - done, backwards ? row - top + 1 : top + rows - row);
    const std::size_t at = static_cast<std::size_t>(top) * columns + column * static_cast<std::size_t>(rows) +
                           static_cast<std::size_t>(row - top);
    const unsigned char* from = pixels + at * Size;
    if (backwards) {
      for (int i = 0; i < run; ++i, from -= Size, coded += Size) std::memcpy(coded, from, Size);
    } else {
      std::memcpy(coded, from, static_cast<std::size_t>(run) * Size);
      coded += static_cast<std::size_t>(run) * Size;
    }
    done += run;
  }
}

void CodedRows::gather(int x, int y, int count, unsigned char* coded) const {
  switch (pixel_size_) {
    case 1:
      return gather<1>(x, y, count, coded);
    case 2:
      return gather<2>(x, y, count, coded);
    case 3:
      return gather<3>(x, y, count, coded);
    case 4:
      return gather<4>(x, y, count, coded);
    case 6:
      return gather<6>(x, y, count, coded);
    default:
      return gather<8>(x, y, count, coded);
  }
}

void CodedRows::convert(const unsigned char* coded, int count, float* light) const {
  if (picture_.bits == 8) {
    light_from<std::uint8_t>(picture_.channels, coded, count, model_, light);
  } else {
    light_from<std::uint16_t>(picture_.channels, coded, count, model_, light);
  }
}

Sampling CodedRows::sampling() const {
  // A mirrored picture of an odd size begins in the middle of a sample.
  const int o = picture_.orientation;
  const bool mirrored = o == 2 || o == 3 || o == 6 || o == 7;
  const bool upended = o == 3 || o == 4 || o == 7 || o == 8;
  return {turned_ ? picture_.down : picture_.across, turned_ ? picture_.across : picture_.down,
          mirrored && width() % 2 != 0, upended && height() % 2 != 0};
}

void CodedRows::read(int x, int y, int count, float* light) const {
  if (picture_.orientation == 1) {
    const std::size_t at =
        static_cast<std::size_t>(y) * static_cast<std::size_t>(picture_.width) + static_cast<std::size_t>(x);
    convert(picture_.pixels.get() + at * pixel_size_, count, light);
    return;
  }
  alignas(std::uint64_t) std::array<unsigned char, kGathered * 8> coded;  // NOLINT: filled by gather
  for (int done = 0; done < count; done += kGathered) {
    const int now = std::min(kGathered, count - done);
    gather(x + done, y, now, coded.data());
    convert(coded.data(), now, light + static_cast<std::size_t>(done) * 3);
  }
}

void light_from_rgb(const unsigned char* rgb, int count, const ColourModel& model, float* light) {
  light_from<std::uint8_t, 3>(rgb, count, model, light);
}

double clipped_share(const Picture& picture) {
  const auto count = static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height);
  const unsigned char* const bytes = picture.pixels.get();
  long long clipped = 0;
  if (picture.bits == 16) {
    clipped = clipped_in(reinterpret_cast<const std::uint16_t*>(bytes), count, picture.channels);
  } else {
    // Eight pixels are whole words whatever the channels; most hold no byte at the top and need no look.
    const auto words = static_cast<std::size_t>(picture.channels);
    std::size_t done = 0;
    for (; done + 8 <= count; done += 8) {
      bool top = false;
      for (std::size_t k = 0; k < words; ++k) {
        std::uint64_t word = 0;
        std::memcpy(&word, bytes + done * words + k * 8, 8);
        top |= any_top(word);
      }
      if (top) clipped += clipped_in(bytes + done * words, 8, picture.channels);
    }
    clipped += clipped_in(bytes + done * words, count - done, picture.channels);
  }
  return static_cast<double>(clipped) / static_cast<double>(count);
}

}  // namespace kithue
