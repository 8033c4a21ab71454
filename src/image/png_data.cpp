// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cstdint>
#include <cstdlib>

#include "image/byte_order.h"
#include "image/inflate.h"
#include "image/png_walk.h"

namespace kithue {
namespace {

// What may follow the last row before the data counts as a bomb. Some writers pad by a row or so.
constexpr std::size_t kMostExcess = 65'536;

Error damaged(const std::string& what) {
  return {ErrorKind::bad_input, "this PNG is damaged: " + what, "", "copy or export it again"};
}

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
    at_ += 12 + length;
    return true;
  }

 private:
  std::string_view bytes_;
  std::size_t at_;
};

/// Undoes the filter of a row of single-byte pixels (PNG third edition, 9.2), which is all a palette has.
/// `row` and `above` begin with their filter byte.
void unfilter(std::vector<unsigned char>& row, const std::vector<unsigned char>& above, std::size_t size) {
  const int filter = row[0];
  for (std::size_t i = 1; i < size; ++i) {
    const int left = i > 1 ? row[i - 1] : 0;
    const int up = above[i];
    const int corner = i > 1 ? above[i - 1] : 0;
    int guess = 0;
    if (filter == 1) guess = left;
    if (filter == 2) guess = up;
    if (filter == 3) guess = (left + up) / 2;
    if (filter == 4) {
      const int by_left = std::abs(up - corner);
      const int by_up = std::abs(left - corner);
      const int by_corner = std::abs(left + up - 2 * corner);
      guess = by_left <= by_up && by_left <= by_corner ? left : by_up <= by_corner ? up : corner;
    }
    row[i] = static_cast<unsigned char>(row[i] + guess);
  }
}

unsigned largest_index(const std::vector<unsigned char>& row, int width, int depth) {
  const auto per_byte = static_cast<unsigned>(8 / depth);
  const unsigned mask = (1U << depth) - 1U;
  unsigned largest = 0;
  for (unsigned x = 0; x < static_cast<unsigned>(width); ++x) {
    const unsigned shift = 8U - static_cast<unsigned>(depth) * (x % per_byte + 1U);
    largest = std::max(largest, (static_cast<unsigned>(row[1 + x / per_byte]) >> shift) & mask);
  }
  return largest;
}

class Check {
 public:
  Check(std::string_view bytes, PngFacts& facts) : chunks_(bytes, facts.data_start), facts_(facts) {}

  MaybeError run() {
    const bool interlaced = facts_.interlaced;
    const Pass* const first = interlaced ? std::begin(kAdam7) : std::begin(kWhole);
    const Pass* const last = interlaced ? std::end(kAdam7) : std::end(kWhole);
    for (const Pass* pass = first; pass != last; ++pass) {
      const int width = (facts_.width - pass->x + pass->across - 1) / pass->across;
      const int height = (facts_.height - pass->y + pass->down - 1) / pass->down;
      if (width <= 0) continue;
      if (auto wrong = rows(width, height)) return wrong;
    }
    return ending();
  }

 private:
  MaybeError rows(int width, int height) {
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
          return damaged("its picture data does not unpack");
        default:
          return damaged("its picture data ends too early");
      }
      if (row_[0] > 4) return damaged("a row is filtered in a way that does not exist");
      if (facts_.type != 3) continue;
      unfilter(row_, above_, size);
      if (largest_index(row_, width, facts_.depth) >= facts_.palette_size) {
        return damaged("a pixel points outside the palette");
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
        return damaged("the checksum of its picture data does not fit");
      case Inflater::State::more_input:
        facts_.warnings.emplace_back("the PNG's data lacks its checksum");
        break;
      case Inflater::State::full:
        return damaged("it holds far more data than its size allows");
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
  std::vector<unsigned char> row_;
  std::vector<unsigned char> above_;
};

}  // namespace

MaybeError check_png_data(std::string_view bytes, PngFacts& facts) {
  return Check(bytes, facts).run();
}

}  // namespace kithue
