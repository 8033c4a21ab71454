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

  /// True when the directory at `offset` lies inside the bytes with all its entries.
  [[nodiscard]] bool holds(std::size_t offset) const {
    return offset <= bytes_.size() && bytes_.size() - offset >= 2 &&
           bytes_.size() - offset >= 2 + std::size_t{u16(bytes_, offset)} * 12;
  }

  /// The entry of a tag in the directory at `offset`, and where it stands.
  struct Found {
    Entry entry;
    std::size_t at = 0;
  };
  [[nodiscard]] std::optional<Found> find(std::size_t offset, unsigned tag) const {
    if (offset > bytes_.size() || bytes_.size() - offset < 2) return {};
    const std::size_t count = u16(bytes_, offset);
    for (std::size_t i = 0; i < count; ++i) {
      const std::size_t at = offset + 2 + i * 12;
      if (bytes_.size() - offset < 2 + (i + 1) * 12) return {};
      if (u16(bytes_, at) == tag)
        return Found{{u16(bytes_, at + 2), u32(bytes_, at + 4), bytes_.substr(at + 8, 4)}, at};
    }
    return {};
  }

  /// A single number; cameras and editors write some shorts as longs.
  [[nodiscard]] std::optional<std::uint32_t> number(const Entry& entry) const {
    if (entry.count != 1) return {};
    if (entry.type == kShort) return u16(entry.value, 0);
    if (entry.type == kLong) return u32(entry.value, 0);
    return {};
  }

  /// A text that does not fit into its entry.
  [[nodiscard]] std::string_view text(std::size_t offset, unsigned tag) const {
    const auto found = find(offset, tag);
    if (!found || found->entry.type != kAscii || found->entry.count <= 4) return {};
    const std::size_t at = u32(found->entry.value, 0);
    if (at > bytes_.size() || found->entry.count > bytes_.size() - at) return {};
    return bytes_.substr(at, found->entry.count);
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

/// "2026:03:14 10:20:30" as "2026-03-14"; nothing for anything else.
std::string day_of(std::string_view stamp) {
  if (stamp.size() < 10 || stamp[4] != ':' || stamp[7] != ':') return {};
  std::string day(stamp.substr(0, 10));
  for (std::size_t i = 0; i < day.size(); ++i) {
    if (i == 4 || i == 7)
      day[i] = '-';
    else if (day[i] < '0' || day[i] > '9')
      return {};
  }
  return day.starts_with("0000") ? std::string() : day;
}

/// Reads the facts; the first fault found is kept, and what comes after it is read all the same.
class Reader {
 public:
  explicit Reader(std::string_view bytes) : tiff_(bytes) {}

  ExifFacts run() {
    if (!tiff_.valid()) {
      fault(0, "it does not begin as it must");
      return facts_;
    }
    const std::uint32_t first = directory(4, tiff_.first_directory());
    if (const auto orientation = number(first, 274)) {
      if (*orientation >= 1 && *orientation <= 8)
        facts_.orientation = static_cast<int>(*orientation);
      else
        fault(tiff_.find(first, 274)->at, "there is no orientation " + std::to_string(*orientation));
    }
    const auto place = number(first, 34665);
    if (!place) return facts_;
    if (*place == first) fault(tiff_.find(first, 34665)->at, "a part of it is said to lie in itself");
    const std::uint32_t exif = directory(tiff_.find(first, 34665)->at, *place);
    facts_.day = day_of(tiff_.text(exif, 36867));
    if (number(exif, 40961) == 65535U) facts_.adobe_rgb = is_adobe(exif);
    return facts_;
  }

 private:
  void fault(std::size_t at, const std::string& what) {
    if (facts_.fault.empty())
      facts_.fault = "the EXIF data is damaged at its byte " + std::to_string(at) + ": " + what;
  }
  std::uint32_t directory(std::size_t from, std::uint32_t offset) {
    if (!tiff_.holds(offset)) fault(from, "a part of it lies outside");
    return offset;
  }
  std::optional<std::uint32_t> number(std::size_t directory, unsigned tag) {
    const auto found = tiff_.find(directory, tag);
    if (!found) return {};
    const auto value = tiff_.number(found->entry);
    if (!value) fault(found->at, "a number is written in a way that does not exist");
    return value;
  }
  bool is_adobe(std::uint32_t exif) {
    const auto interoperability = number(exif, 40965);
    if (!interoperability) return false;
    const auto index = tiff_.find(*interoperability, 1);
    return index && index->entry.type == kAscii && index->entry.count == 4 && index->entry.value == "R03\0"sv;
  }

  Tiff tiff_;
  ExifFacts facts_;
};

}  // namespace

ExifFacts read_exif(std::string_view tiff) {
  return Reader(tiff).run();
}

}  // namespace kithue
