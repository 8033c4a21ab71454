// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <utility>

namespace kithue {

/// A block of zeros, meant for megabytes: lies in large pages where the machine offers them, since fetching
/// small ones one by one takes as long as a good part of decoding a photo.
class LargeBlock {
 public:
  LargeBlock() = default;
  /// Throws bad_alloc.
  explicit LargeBlock(std::size_t bytes);
  ~LargeBlock();
  LargeBlock(LargeBlock&& other) noexcept
      : start_(std::exchange(other.start_, nullptr)),
        data_(std::exchange(other.data_, nullptr)),
        mapped_(std::exchange(other.mapped_, 0)) {}
  LargeBlock& operator=(LargeBlock&& other) noexcept {
    std::swap(start_, other.start_);
    std::swap(data_, other.data_);
    std::swap(mapped_, other.mapped_);
    return *this;
  }

  /// On a boundary of 64 bytes at least where it is large; null when there is none.
  [[nodiscard]] unsigned char* data() const noexcept { return data_; }

 private:
  void* start_ = nullptr;
  unsigned char* data_ = nullptr;
  std::size_t mapped_ = 0;  // bytes; 0: from calloc
};

}  // namespace kithue
