// SPDX-License-Identifier: MIT
// A libFuzzer target for CSV and CGATS: clang++ -fsanitize=fuzzer,address with the swatch, colour and base
// sources; seeds are in tests/data/cgats.
#include "fuzz/readings.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  kithue::fuzz::readings(data, size);
  return 0;
}
