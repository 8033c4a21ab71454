// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <vector>

#include "image/byte_order.h"
#include "image/inflate.h"
#include "image/png_walk.h"

namespace kithue {
namespace {

// What may follow the last row before the data counts as a bomb. Some writers pad by a row or so.
constexpr std::size_t kMostExcess = 65'536;

/// The seven passes of an interlaced picture (PNG third edition, 8.1): first column and row, then steps.
struct Pass {
  int x, y, across, down;
};
constexpr Pass kAdam7[] = {{0, 0, 8, 8}, {4, 0, 8, 8}, {0, 4, 4, 8}, {2, 0, 4, 4},
                           {0, 2, 2, 4}, {1, 0, 2, 2}, {0, 1, 1, 2}};
constexpr Pass kWhole[] = {{0, 0, 1, 1}};

/// Hands out the body of one IDAT chunk after the other.
class DataChunks {
 public:
  DataChunks(std::string_view bytes, std::size_t start) : bytes_(bytes), at_(start) {}
  /// False when there is no further one. The walk has checked lengths and order.
  bool next(std::string_view& body) {
    if (bytes_.substr(at_ + 4, 4) != "IDAT") return false;
    const std::size_t length = big32(bytes_, at_);
    body = bytes_.substr(at_ + 8, length);
    begun_at_ = at_;
    at_ += 12 + length;
    return true;
  }
  /// Where the chunk begins that was handed out last.
  [[nodiscard]] std::size_t begun_at() const { return begun_at_; }

 private:
  std::string_view bytes_;
  std::size_t at_;
  std::size_t begun_at_ = 0;
};

int nearest_of(int left, int up, int corner) {
  const int by_left = std::abs(up - corner);
  const int by_up = std::abs(left - corner);
  const int by_corner = std::abs(left + up - 2 * corner);
  return by_left <= by_up && by_left <= by_corner ? left : by_up <= by_corner ? up : corner;
}

/// Undoes the filter of a row (PNG third edition, 9.2). `row` and `above` begin with their filter byte;
/// `step` is the bytes of a whole pixel, at least 1.
void unfilter(std::vector<unsigned char>& row, const std::vector<unsigned char>& above, std::size_t step) {
  const std::size_t size = row.size();
  const auto add = [&row](std::size_t i, int guess) { row[i] = static_cast<unsigned char>(row[i] + guess); };
  const std::size_t first = std::min(size, 1 + step);  // up to here there is no pixel to the left
  switch (row[0]) {
    case 1:
      for (std::size_t i = first; i < size; ++i) add(i, row[i - step]);
      break;
    case 2:
      for (std::size_t i = 1; i < size; ++i) add(i, above[i]);
      break;
    case 3:
      for (std::size_t i = 1; i < first; ++i) add(i, above[i] / 2);
      for (std::size_t i = first; i < size; ++i) add(i, (row[i - step] + above[i]) / 2);
      break;
    case 4:
      for (std::size_t i = 1; i < first; ++i) add(i, above[i]);
      for (std::size_t i = first; i < size; ++i) add(i, nearest_of(row[i - step], above[i], above[i - step]));
      break;
    default:
      break;
  }
}

/// Samples below 8 bits, or palette indices.
class Packed {
 public:
  Packed(const unsigned char* row, int depth)
      : row_(row), depth_(static_cast<unsigned>(depth)), mask_((1U << depth_) - 1U) {}
  [[nodiscard]] unsigned at(std::size_t x) const {
    const std::size_t bit = x * depth_;
    return static_cast<unsigned>(row_[bit / 8]) >> (8U - depth_ - bit % 8) & mask_;
  }

 private:
  const unsigned char* row_;
  unsigned depth_;
  unsigned mask_;
};

/// Unfiltered rows to pixels of whole bytes or of 16 bits.
class Unpacker {
 public:
  Unpacker(const PngFacts& facts, unsigned char* pixels) : facts_(facts), pixels_(pixels) {
    // A key is stored in 16 bits a sample, of which the lower ones count.
    for (std::size_t k = 0; facts.type != 3 && 2 * k + 1 < facts.key.size(); ++k) {
      key_[k] =
          (byte_at(facts.key, 2 * k) << 8U | byte_at(facts.key, 2 * k + 1)) & ((1U << facts.depth) - 1U);
    }
  }

  /// Puts `count` pixels into row y, from column `first` on, every `step`th. False when one points outside
  /// the palette.
  bool put(const unsigned char* row, std::size_t count, std::size_t y, std::size_t first, std::size_t step) {
    const auto channels = static_cast<std::size_t>(facts_.channels());
    const std::size_t size = channels * (facts_.depth == 16 ? 2 : 1);
    unsigned char* to = pixels_ + (y * static_cast<std::size_t>(facts_.width) + first) * size;
    if (facts_.type == 3) return from_palette(row, count, to, step * size);
    if (facts_.depth == 16) {
      wide(row, count, to, step * size);
    } else if (facts_.depth == 8 && !facts_.transparent_key && step == 1) {
      std::memcpy(to, row, count * size);
    } else {
      narrow(row, count, to, step * size);
    }
    return true;
  }

 private:
  bool from_palette(const unsigned char* row, std::size_t count, unsigned char* to, std::size_t step) const {
    const Packed packed(row, facts_.depth);
    for (std::size_t i = 0; i < count; ++i, to += step) {
      const std::size_t index = packed.at(i);
      if (index >= facts_.palette_size) return false;
      for (std::size_t k = 0; k < 3; ++k) to[k] = static_cast<unsigned char>(facts_.palette[3 * index + k]);
      if (facts_.transparent_key) {
        to[3] = static_cast<unsigned char>(index < facts_.key.size() ? facts_.key[index] : '\xff');
      }
    }
    return true;
  }

  void narrow(const unsigned char* row, std::size_t count, unsigned char* to, std::size_t step) const {
    const auto samples = static_cast<std::size_t>(facts_.samples());
    const unsigned scale = 255U / ((1U << facts_.depth) - 1U);
    const Packed packed(row, facts_.depth);
    for (std::size_t i = 0; i < count; ++i, to += step) {
      bool keyed = true;
      for (std::size_t k = 0; k < samples; ++k) {
        const unsigned value = packed.at(i * samples + k);
        keyed = keyed && value == key_[k];
        to[k] = static_cast<unsigned char>(value * scale);
      }
      if (facts_.transparent_key) to[samples] = keyed ? 0 : 255;
    }
  }

  void wide(const unsigned char* row, std::size_t count, unsigned char* to, std::size_t step) const {
    const auto samples = static_cast<std::size_t>(facts_.samples());
    for (std::size_t i = 0; i < count; ++i, to += step) {
      bool keyed = true;
      for (std::size_t k = 0; k < samples; ++k, row += 2) {
        const auto value = static_cast<std::uint16_t>(row[0] << 8U | row[1]);
        keyed = keyed && value == key_[k];
        std::memcpy(to + 2 * k, &value, 2);
      }
      const std::uint16_t cover = keyed ? 0 : 65535;
      if (facts_.transparent_key) std::memcpy(to + 2 * samples, &cover, 2);
    }
  }

  const PngFacts& facts_;
  unsigned char* pixels_;
  std::array<unsigned, 4> key_{};
};

class PngReader {
 public:
  PngReader(std::string_view bytes, PngFacts& facts, unsigned char* pixels)
      : chunks_(bytes, facts.data_start), facts_(facts), unpacker_(facts, pixels) {}

  MaybeError run() {
    auto wrong = read();
    if (wrong) wrong->where = "byte " + std::to_string(chunks_.begun_at());
    return wrong;
  }

 private:
  MaybeError read() {
    const bool interlaced = facts_.interlaced;
    const Pass* const first = interlaced ? std::begin(kAdam7) : std::begin(kWhole);
    const Pass* const last = interlaced ? std::end(kAdam7) : std::end(kWhole);
    for (const Pass* pass = first; pass != last; ++pass) {
      const int width = (facts_.width - pass->x + pass->across - 1) / pass->across;
      const int height = (facts_.height - pass->y + pass->down - 1) / pass->down;
      if (width <= 0) continue;
      if (auto wrong = rows(*pass, width, height)) return wrong;
    }
    return ending();
  }

  MaybeError rows(const Pass& pass, int width, int height) {
    const auto bits = static_cast<std::size_t>(facts_.samples()) * static_cast<std::size_t>(facts_.depth);
    const std::size_t size = 1 + (static_cast<std::size_t>(width) * bits + 7) / 8;
    row_.assign(size, 0);
    above_.assign(size, 0);
    for (int y = 0; y < height; ++y) {
      std::size_t made = 0;
      switch (fill(row_, size, made)) {
        case Inflater::State::full:
          break;
        case Inflater::State::damaged:
          return damaged_png("its picture data does not unpack");
        default:
          return damaged_png("its picture data ends too early");
      }
      if (row_[0] > 4) return damaged_png("a row is filtered in a way that does not exist");
      unfilter(row_, above_, std::max<std::size_t>(1, bits / 8));
      if (!unpacker_.put(row_.data() + 1, static_cast<std::size_t>(width),
                         static_cast<std::size_t>(pass.y + y * pass.down), static_cast<std::size_t>(pass.x),
                         static_cast<std::size_t>(pass.across))) {
        return damaged_png("a pixel points outside the palette");
      }
      std::swap(row_, above_);
    }
    return {};
  }

  /// Reads to the end of the stream, so that its checksum is seen.
  MaybeError ending() {
    std::vector<unsigned char> excess(kMostExcess);
    std::size_t made = 0;
    switch (fill(excess, excess.size(), made)) {
      case Inflater::State::ended:
        break;
      case Inflater::State::damaged:
        return damaged_png("the checksum of its picture data does not fit");
      case Inflater::State::more_input:
        facts_.warnings.emplace_back("the PNG's data lacks its checksum");
        break;
      case Inflater::State::full:
        return damaged_png("it holds far more data than its size allows");
    }
    if (made > 0) facts_.warnings.emplace_back("the PNG holds more data than its size needs");
    return {};
  }

  /// full also when the stream ends with the last wanted byte.
  Inflater::State fill(std::vector<unsigned char>& out, std::size_t size, std::size_t& made) {
    for (;;) {
      const auto state = inflater_.pull(out.data(), size, made);
      if (state == Inflater::State::damaged) return state;
      if (made == size) return Inflater::State::full;
      if (state != Inflater::State::more_input) return state;
      std::string_view body;
      if (!chunks_.next(body)) return Inflater::State::more_input;
      inflater_.feed(body);
    }
  }

  DataChunks chunks_;
  Inflater inflater_;
  PngFacts& facts_;
  Unpacker unpacker_;
  std::vector<unsigned char> row_;
  std::vector<unsigned char> above_;
};

}  // namespace

MaybeError read_png_data(std::string_view bytes, PngFacts& facts, unsigned char* pixels) {
  return PngReader(bytes, facts, pixels).run();
}

}  // namespace kithue
