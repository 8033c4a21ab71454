// SPDX-License-Identifier: MIT
#pragma once

#include <cassert>
#include <optional>
#include <string>
#include <utility>
#include <variant>

namespace kithue {

/// What went wrong, as the user must understand it. Each kind has one exit status (cli/command.h).
enum class ErrorKind {
  bad_usage,     ///< the words on the command line do not fit together
  bad_input,     ///< a file or a value is not what it should be
  not_found,     ///< no swatch of that name
  ambiguous,     ///< more than one swatch could be meant
  cannot_read,   ///< the system refused to read
  cannot_write,  ///< the system refused to write
  busy,          ///< another command holds the stash
  damaged,       ///< the stash does not match its checksum
  too_new,       ///< the stash was written by a later version
  impossible,    ///< understood, but no answer exists
  internal       ///< our fault
};

/// One problem in three parts. Plain text, not yet cleaned for a terminal: names in it are the user's.
struct Error {
  ErrorKind kind = ErrorKind::internal;
  std::string what;    ///< what happened, without a full stop
  std::string where;   ///< the user's file, with line and column when known ("inks.csv:12"), or empty
  std::string advice;  ///< what to do next, or empty
};

/// "inks.csv:12: expected a number, found "abc" (write decimals with a point)".
std::string describe(const Error& error);

/// A value or an Error. The names are those of C++23 std::expected, which g++ 12 lacks.
/// Reading the side that is not there asserts.
template <typename T>
class [[nodiscard]] Result {
 public:
  Result(T value) : held_(std::in_place_index<0>, std::move(value)) {}  // NOLINT(google-explicit-constructor)
  Result(Error error)
      : held_(std::in_place_index<1>, std::move(error)) {}  // NOLINT(google-explicit-constructor)

  [[nodiscard]] bool has_value() const noexcept { return held_.index() == 0; }
  explicit operator bool() const noexcept { return has_value(); }

  T& operator*() & { return value(); }
  const T& operator*() const& { return value(); }
  T&& operator*() && { return std::move(value()); }
  T* operator->() { return &value(); }
  const T* operator->() const { return &value(); }

  T& value() {
    assert(has_value());
    return *std::get_if<0>(&held_);
  }
  const T& value() const {
    assert(has_value());
    return *std::get_if<0>(&held_);
  }
  [[nodiscard]] const Error& error() const {
    assert(!has_value());
    return *std::get_if<1>(&held_);
  }

 private:
  std::variant<T, Error> held_;
};

/// For functions with nothing to return: empty when all went well.
using MaybeError = std::optional<Error>;

}  // namespace kithue
