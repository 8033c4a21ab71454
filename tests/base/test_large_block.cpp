// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <utility>

#include "base/large_block.h"

using namespace kithue;

TEST_CASE("large block: zeros of any size, which can be written to the end and moved") {
  for (const std::size_t size :
       {std::size_t{1}, std::size_t{4096}, std::size_t{3} << 20, (std::size_t{9} << 20) + 7}) {
    CAPTURE(size);
    LargeBlock block(size);
    REQUIRE(block.data() != nullptr);
    CHECK(std::all_of(block.data(), block.data() + size, [](unsigned char byte) { return byte == 0; }));
    std::fill(block.data(), block.data() + size, static_cast<unsigned char>(7));
    unsigned char* const data = block.data();
    const LargeBlock moved = std::move(block);
    CHECK(moved.data() == data);
    CHECK(moved.data()[size - 1] == 7);
  }
}

TEST_CASE("large block: assigning gives the old block back") {
  LargeBlock block(std::size_t{3} << 20);
  block = LargeBlock(100);
  REQUIRE(block.data() != nullptr);
  CHECK(block.data()[99] == 0);
  block = LargeBlock();
  CHECK(block.data() == nullptr);
}
