// SPDX-License-Identifier: MIT
#pragma once

#include <toml++/toml.h>

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "kit/length.h"

namespace kithue {

/// Takes values out of a parsed kit file. The first fault is kept and ends the walk: every reader gives false
/// after it. A key that is not there leaves what it would have filled as it was.
class TomlReader {
 public:
  explicit TomlReader(std::string name) : name_(std::move(name)) {}

  /// "kit.toml:12:1".
  [[nodiscard]] std::string place(const toml::node& at) const;
  bool fault(const toml::node& at, std::string what, std::string advice);
  bool wrong_kind(const toml::node& node, std::string_view key, std::string_view wanted,
                  std::string_view example);
  /// A warning for every key that is not known, with near spellings.
  void warn_unknown(const toml::table& table, std::string_view owner, const std::vector<std::string>& known);

  /// Text on one line, not empty, at most 200 letters. `checked_name` for a node, `text` for a key.
  bool checked_name(const toml::node& node, std::string_view key, std::string_view example,
                    std::string& into);
  bool text(const toml::table& table, std::string_view key, std::string_view example, std::string& into);
  /// Text that is one of the words, in any case.
  bool word(const toml::table& table, std::string_view key, const std::vector<std::string>& words,
            std::string& into);
  bool whole(const toml::table& table, std::string_view key, int least, int most, std::string_view example,
             int& into);
  bool number(const toml::table& table, std::string_view key, double least, double most,
              std::string_view example, double& into);
  bool yes_or_no(const toml::table& table, std::string_view key, bool& into);
  /// A list of names, none twice.
  bool names(const toml::table& table, std::string_view key, std::string_view example,
             std::vector<std::string>& into);
  /// Money in whole cents: 12, 12.5 or 12.50.
  bool cents(const toml::table& table, std::string_view key, std::optional<std::int64_t>& into);
  bool size(const toml::table& table, std::string_view key, std::string_view example,
            std::optional<Size>& into);
  /// A length, or with `many` a list of them as well.
  bool lengths(const toml::table& table, std::string_view key, std::string_view example, bool many,
               std::vector<Length>& into);
  /// The tables of a list such as [[face]]; nothing when the key is not there. REQUIRES: `into` is empty.
  bool tables(const toml::table& table, std::string_view key, std::size_t most, std::string_view example,
              std::vector<const toml::table*>& into);

  [[nodiscard]] const std::optional<Error>& error() const { return error_; }
  [[nodiscard]] std::vector<std::string>& warnings() { return warnings_; }

 private:
  std::string name_;
  std::optional<Error> error_;
  std::vector<std::string> warnings_;
};

}  // namespace kithue
