// SPDX-License-Identifier: MIT
#include "base/large_block.h"

#include <sys/mman.h>

#include <cstdint>
#include <cstdlib>
#include <new>

namespace kithue {
namespace {

constexpr std::size_t kPage = std::size_t{2} << 20;

// Under the address sanitizer everything comes from calloc, whose bounds it watches.
#if defined(__SANITIZE_ADDRESS__)
constexpr bool kMaps = false;
#else
constexpr bool kMaps = true;
#endif

}  // namespace

LargeBlock::LargeBlock(std::size_t bytes) {
  if (!kMaps || bytes < kPage) {
    start_ = std::calloc(bytes, 1);
    if (start_ == nullptr) throw std::bad_alloc();
    data_ = static_cast<unsigned char*>(start_);
    return;
  }
  const std::size_t size = bytes + kPage;  // so that it can begin at a large page
  if (size < bytes) throw std::bad_alloc();
  start_ = mmap(nullptr, size, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (start_ == MAP_FAILED) {
    start_ = nullptr;
    throw std::bad_alloc();
  }
  mapped_ = size;
  auto* const first = static_cast<unsigned char*>(start_);
  const auto past = reinterpret_cast<std::uintptr_t>(first) % kPage;
  data_ = past == 0 ? first : first + (kPage - past);
#ifdef MADV_HUGEPAGE
  // Whole large pages only, so that no memory is taken for what is not used; a refusal costs only time.
  (void)madvise(data_, bytes / kPage * kPage, MADV_HUGEPAGE);
#endif
}

LargeBlock::~LargeBlock() {
  if (mapped_ != 0) {
    munmap(start_, mapped_);
  } else {
    std::free(start_);
  }
}

}  // namespace kithue
