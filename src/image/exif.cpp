// SPDX-License-Identifier: MIT
#include "image/exif.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>

#include "image/byte_order.h"

namespace kithue {
namespace {

using namespace std::string_view_literals;  // NOLINT(google-build-using-namespace)

constexpr unsigned kShort = 3;
constexpr unsigned kLong = 4;
constexpr unsigned kAscii = 2;

struct Entry {
  unsigned type = 0;
  std::uint32_t count = 0;
  std::string_view value;  // the four bytes in the entry
};

class Tiff {
 public:
  explicit Tiff(std::string_view bytes) : bytes_(bytes), little_(bytes.starts_with("II"sv)) {}

  [[nodiscard]] bool valid() const {
    return bytes_.size() >= 8 && (little_ || bytes_.starts_with("MM"sv)) && u16(bytes_, 2) == 42;
  }
  [[nodiscard]] std::uint32_t first_directory() const { return u32(bytes_, 4); }

  /// The entry of a tag in the directory at `offset`. Nothing when the directory does not fit the bytes.
  [[nodiscard]] std::optional<Entry> find(std::size_t offset, unsigned tag) const {
    if (offset > bytes_.size() || bytes_.size() - offset < 2) return {};
    const std::size_t count = u16(bytes_, offset);
    for (std::size_t i = 0; i < count; ++i) {
      const std::size_t at = offset + 2 + i * 12;
      if (bytes_.size() - offset < 2 + (i + 1) * 12) return {};
      if (u16(bytes_, at) == tag)
        return Entry{u16(bytes_, at + 2), u32(bytes_, at + 4), bytes_.substr(at + 8, 4)};
    }
    return {};
  }

  /// A single number; cameras and editors write some shorts as longs.
  [[nodiscard]] std::optional<std::uint32_t> number(std::size_t offset, unsigned tag) const {
    const auto entry = find(offset, tag);
    if (!entry || entry->count != 1) return {};
    if (entry->type == kShort) return u16(entry->value, 0);
    if (entry->type == kLong) return u32(entry->value, 0);
    return {};
  }

 private:
  [[nodiscard]] unsigned u16(std::string_view from, std::size_t at) const {
    return little_ ? little16(from, at) : big16(from, at);
  }
  [[nodiscard]] std::uint32_t u32(std::string_view from, std::size_t at) const {
    return little_ ? little32(from, at) : big32(from, at);
  }

  std::string_view bytes_;
  bool little_;
};

}  // namespace

ExifFacts read_exif(std::string_view tiff) {
  ExifFacts facts;
  const Tiff reader(tiff);
  if (!reader.valid()) return facts;
  const std::uint32_t first = reader.first_directory();
  const auto orientation = reader.number(first, 274);
  if (orientation && *orientation >= 1 && *orientation <= 8)
    facts.orientation = static_cast<int>(*orientation);
  const auto exif = reader.number(first, 34665);
  if (!exif || reader.number(*exif, 40961) != 65535U) return facts;
  const auto interoperability = reader.number(*exif, 40965);
  if (!interoperability) return facts;
  const auto index = reader.find(*interoperability, 1);
  facts.adobe_rgb = index && index->type == kAscii && index->count == 4 && index->value == "R03\0"sv;
  return facts;
}

}  // namespace kithue
