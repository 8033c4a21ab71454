// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

namespace kithue {

/// A zlib stream (RFC 1950) read piece by piece: the caller decides how much comes out at a time.
class Inflater {
 public:
  Inflater();
  ~Inflater();
  Inflater(const Inflater&) = delete;
  Inflater& operator=(const Inflater&) = delete;

  enum class State { more_input, full, ended, damaged };
  /// Bytes that are to be read next. REQUIRES: they stay where they are until they are used up.
  void feed(std::string_view bytes);
  /// Fills `out` up to `size`, adding to `made`: stops when full, when input is used up, or at the end.
  State pull(unsigned char* out, std::size_t size, std::size_t& made);

 private:
  struct Stream;
  std::unique_ptr<Stream> stream_;
};

/// All of a zlib stream, or nothing when it is damaged, unfinished or longer than `most` bytes.
std::optional<std::string> inflate_all(std::string_view bytes, std::size_t most);

}  // namespace kithue
