// SPDX-License-Identifier: MIT
// One program for all targets: KITHUE_FUZZ names the one that gets the bytes. tools/fuzz/run builds and
// starts it.
#include <cstdint>
#include <cstdio>
#include <cstdlib>

#include "fuzz/targets.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const kithue::fuzz::Target* const target = [] {
    const char* name = std::getenv("KITHUE_FUZZ");
    const auto* found = kithue::fuzz::target_named(name == nullptr ? "" : name);
    if (found == nullptr) {
      std::fputs("KITHUE_FUZZ must name a target: see tools/fuzz/targets.h\n", stderr);
      std::exit(2);
    }
    return found;
  }();
  target->run({reinterpret_cast<const char*>(data), size});
  return 0;
}
