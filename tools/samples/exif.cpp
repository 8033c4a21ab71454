// SPDX-License-Identifier: MIT
#include "samples/kinds.h"

namespace kithue::samples {
namespace {

/// A TIFF structure in one byte order, after TIFF 6.0.
class Tiff {
 public:
  explicit Tiff(bool little) : little_(little) {
    bytes_ = little ? "II" : "MM";
    put16(42);
    put32(8);
  }
  void put16(unsigned value) {
    const char high = static_cast<char>(value >> 8U & 0xffU);
    const char low = static_cast<char>(value & 0xffU);
    bytes_ += little_ ? low : high;
    bytes_ += little_ ? high : low;
  }
  void put32(std::uint32_t value) {
    put16(little_ ? value & 0xffffU : value >> 16U);
    put16(little_ ? value >> 16U : value & 0xffffU);
  }
  /// One entry of a directory; a short stands in the first half of the value.
  void entry(unsigned tag, unsigned type, std::uint32_t count, std::uint32_t value) {
    put16(tag);
    put16(type);
    put32(count);
    if (type == 3 && count == 1) {
      put16(value & 0xffffU);
      put16(0);
    } else {
      put32(value);
    }
  }
  std::string bytes() { return bytes_; }
  [[nodiscard]] std::uint32_t size() const { return static_cast<std::uint32_t>(bytes_.size()); }

 private:
  bool little_;
  std::string bytes_;
};

constexpr unsigned kShort = 3;
constexpr unsigned kLong = 4;
constexpr unsigned kOrientation = 274;
constexpr unsigned kExifDirectory = 34665;
constexpr unsigned kColourSpace = 40961;

/// Orientation and a directory with the colour space. `spoil` is the number of the fault; -1 = none.
std::string made(Dice& dice, int spoil) {
  Tiff tiff(dice.chance(2));
  const unsigned good = 1 + static_cast<unsigned>(dice.below(8));
  constexpr unsigned kWrong[] = {0, 9, 255, 65535};
  const unsigned orientation = spoil == 0 ? dice.one_of(kWrong) : good;
  const std::uint32_t count = spoil == 1 ? static_cast<std::uint32_t>(dice.one_of({0, 2, 65536, -1})) : 1;
  const unsigned type = spoil == 2 ? static_cast<unsigned>(dice.one_of({0, 2, 5, 7, 13, 99})) : kShort;
  const unsigned entries = spoil == 3 ? 5 + static_cast<unsigned>(dice.below(60'000)) : 2;
  tiff.put16(entries);
  tiff.entry(kOrientation, type, count, orientation);
  const std::uint32_t after = tiff.size() + 12 + 4;
  const std::uint32_t directory = spoil == 4
                                      ? static_cast<std::uint32_t>(dice.one_of({-1, 0x7fffffff, 100'000}))
                                  : spoil == 5 ? 8
                                               : after;
  tiff.entry(kExifDirectory, kLong, 1, directory);
  tiff.put32(0);
  tiff.put16(1);
  tiff.entry(kColourSpace, kShort, 1, dice.chance(2) ? 1 : 65535);
  tiff.put32(0);
  return tiff.bytes();
}

}  // namespace

Sample sound_exif(Dice& dice) {
  return {made(dice, -1), "orientation and colour space", 0, 0};
}

Sample spoilt_exif(std::size_t turn, Dice& dice) {
  constexpr const char* kFaults[] = {"an orientation that does not exist",
                                     "a wrong count of values",
                                     "a wrong type of value",
                                     "a wrong count of entries",
                                     "a directory past the end",
                                     "a directory that is its own",
                                     "a wrong byte order",
                                     "a wrong magic number",
                                     "a first directory past the end",
                                     "cut short"};
  const auto fault = static_cast<int>(turn % std::size(kFaults));
  std::string bytes = made(dice, fault < 6 ? fault : -1);
  if (fault == 6) bytes.replace(0, 2, dice.one_of({"XX", "IM", "MI", "  "}));
  if (fault == 7) bytes[2] = bytes[3] = static_cast<char>(dice.below(42));
  if (fault == 8) bytes.replace(4, 4, dice.one_of({"\x7F\xFF\xFF\x7F", "\xFF\xFF\xFF\xFF"}));
  if (fault == 9) bytes.resize(dice.below(bytes.size() - 5));
  return {bytes, kFaults[fault], 0, 0};
}

}  // namespace kithue::samples
