// SPDX-License-Identifier: MIT
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace kithue::fuzz {

/// A way from outside into the program. `run` takes any bytes and stops the process when a promise is broken.
struct Target {
  std::string_view name;
  void (*run)(std::string_view bytes);
};

/// csv, cgats, stash, kit, jpeg, png, profile (ICC and EXIF), names (to every output).
std::span<const Target> targets();
/// Null when there is none of that name.
const Target* target_named(std::string_view name);

/// At least 50 small inputs for a target, sound and spoilt, made from fixed seeds.
std::vector<std::string> seeds_for(const Target& target);

}  // namespace kithue::fuzz
