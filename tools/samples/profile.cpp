// SPDX-License-Identifier: MIT
#include <lcms2.h>

#include <algorithm>
#include <array>
#include <cstring>
#include <memory>

#include "samples/kinds.h"
#include "samples/table_profile.h"

namespace kithue::samples {
namespace {

struct CloseProfile {
  void operator()(void* profile) const noexcept { cmsCloseProfile(profile); }
};
using Profile = std::unique_ptr<void, CloseProfile>;
struct FreeCurve {
  void operator()(cmsToneCurve* curve) const noexcept { cmsFreeToneCurve(curve); }
};
using Curve = std::unique_ptr<cmsToneCurve, FreeCurve>;

std::string bytes_of(cmsHPROFILE profile) {
  cmsUInt32Number size = 0;
  cmsSaveProfileToMem(profile, nullptr, &size);
  std::string bytes(size, '\0');
  cmsSaveProfileToMem(profile, bytes.data(), &size);
  // The day of making is not the same every time.
  std::fill(bytes.begin() + 24, bytes.begin() + 36, '\0');
  return bytes;
}

/// An RGB profile of three primaries and a curve, made by Little CMS.
std::string rgb_profile(Dice& dice) {
  constexpr std::array<std::array<double, 6>, 4> kPrimaries{{{0.64, 0.33, 0.30, 0.60, 0.15, 0.06},
                                                             {0.68, 0.32, 0.265, 0.69, 0.15, 0.06},
                                                             {0.64, 0.33, 0.21, 0.71, 0.15, 0.06},
                                                             {0.708, 0.292, 0.170, 0.797, 0.131, 0.046}}};
  const auto& at = kPrimaries[dice.below(kPrimaries.size())];
  const cmsCIExyYTRIPLE primaries{{at[0], at[1], 1}, {at[2], at[3], 1}, {at[4], at[5], 1}};
  const cmsCIExyY white{0.3127, 0.3290, 1};
  Curve curve;
  if (dice.chance(2)) {
    curve.reset(cmsBuildGamma(nullptr, 1.8 + 0.1 * static_cast<double>(dice.below(7))));
  } else {
    const std::array<double, 5> srgb{2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045};
    curve.reset(cmsBuildParametricToneCurve(nullptr, 4, srgb.data()));
  }
  std::array<cmsToneCurve*, 3> curves{curve.get(), curve.get(), curve.get()};
  const Profile profile(cmsCreateRGBProfile(&white, &primaries, curves.data()));
  if (dice.chance(2)) cmsSetProfileVersion(profile.get(), 2.4);
  return bytes_of(profile.get());
}

void put32(std::string& bytes, std::size_t at, std::uint32_t value) {
  for (std::size_t i = 0; i < 4; ++i) bytes[at + i] = static_cast<char>(value >> (24 - 8 * i) & 0xffU);
}

std::size_t entry_of(const std::string& bytes, const char* tag) {
  std::size_t at = 132;
  while (bytes.compare(at, 4, tag) != 0) at += 12;
  return at;
}

void spoil_header(std::string& bytes, std::size_t way, Dice& dice) {
  switch (way) {
    case 0:
      return put32(bytes, 0, static_cast<std::uint32_t>(bytes.size() + 1 + dice.below(1 << 20U)));
    case 1:
      return bytes.replace(36, 4, dice.one_of({"acsq", "ACSP", "    ", "\xFF\xD8\xFF\xE0"})), void();
    case 2:
      return put32(bytes, 128, static_cast<std::uint32_t>(dice.one_of({0, 100'000, 0x7fffffff, -1})));
    case 3:
      return bytes.replace(12, 4, dice.one_of({"link", "abst", "nmcl"})), void();
    case 4:
      return bytes.replace(16, 4, dice.one_of({"CMYK", "Lab ", "GRAY", "HSV "})), void();
    default:
      return bytes.replace(20, 4, dice.one_of({"RGB ", "Luv ", "none", "CMYK"})), void();
  }
}

}  // namespace

Sample sound_profile(Dice& dice) {
  if (dice.chance(4)) return {table_profile(5), "a table", 0, 0};
  return {rgb_profile(dice), "three primaries and a curve", 0, 0};
}

Sample spoilt_profile(std::size_t turn, Dice& dice) {
  std::string bytes = rgb_profile(dice);
  constexpr const char* kHeader[] = {"a size past the end",    "no signature",
                                     "a wrong count of parts", "a wrong class",
                                     "another kind of colour", "a wrong connection space"};
  const std::size_t way = turn % 11;
  if (way < std::size(kHeader)) {
    spoil_header(bytes, way, dice);
    return {bytes, kHeader[way], 0, 0};
  }
  const char* tag = dice.one_of({"rXYZ", "gXYZ", "bXYZ", "rTRC", "gTRC", "bTRC"});
  const std::size_t entry = entry_of(bytes, tag);
  switch (way) {
    case 6:
      put32(bytes, entry + 4, static_cast<std::uint32_t>(bytes.size() + dice.below(1000)));
      return {bytes, "a part that begins past the end", 0, 0};
    case 7:
      put32(bytes, entry + 8, static_cast<std::uint32_t>(dice.one_of({0x7fffffff, -1, 0x100000})));
      return {bytes, "a part that ends past the end", 0, 0};
    case 8:
      bytes.replace(entry, 4, "zzzz");
      return {bytes, "a part that is missing", 0, 0};
    case 9:
      bytes.resize(dice.below(bytes.size()));
      return {bytes, "cut short", 0, 0};
    default:
      for (const char* column : {"rXYZ", "gXYZ", "bXYZ"}) {
        std::size_t data = 0;
        for (std::size_t i = 0; i < 4; ++i)
          data = data << 8U | static_cast<unsigned char>(bytes[entry_of(bytes, column) + 4 + i]);
        const auto start = bytes.begin() + static_cast<std::ptrdiff_t>(data) + 8;
        std::fill(start, start + 12, dice.chance(2) ? '\0' : '\x7F');
      }
      return {bytes, "primaries that are none", 0, 0};
  }
}

}  // namespace kithue::samples
