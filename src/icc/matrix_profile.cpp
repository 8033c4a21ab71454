// SPDX-License-Identifier: MIT
#include "icc/matrix_profile.h"

#include <cmath>
#include <cstdint>
#include <utility>
#include <vector>

#include "colour/lab.h"

namespace kithue {
namespace {

void put(std::string& bytes, std::uint32_t value, int size = 4) {
  for (int shift = 8 * (size - 1); shift >= 0; shift -= 8) bytes += static_cast<char>(value >> shift & 0xFFU);
}

/// s15Fixed16Number.
void put_fixed(std::string& bytes, double value) {
  put(bytes, static_cast<std::uint32_t>(static_cast<std::int32_t>(std::lround(value * 65536.0))));
}

std::string xyz_tag(double x, double y, double z) {
  std::string tag("XYZ \0\0\0\0", 8);
  put_fixed(tag, x);
  put_fixed(tag, y);
  put_fixed(tag, z);
  return tag;
}

/// One English record of plain ASCII.
std::string text_tag(std::string_view text) {
  std::string tag("mluc\0\0\0\0", 8);
  put(tag, 1);
  put(tag, 12);
  tag += "enGB";
  put(tag, static_cast<std::uint32_t>(2 * text.size()));
  put(tag, 28);
  for (const char letter : text) put(tag, static_cast<unsigned char>(letter), 2);
  return tag;
}

std::string curve_tag() {
  std::string tag("para\0\0\0\0\0\3\0\0", 12);
  for (const double parameter : {2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.04045})
    put_fixed(tag, parameter);
  return tag;
}

}  // namespace

std::string matrix_profile(const Matrix3& to_xyz) {
  const auto& row = to_xyz.row;
  const auto column = [&](std::size_t i) { return xyz_tag(row[0][i], row[1][i], row[2][i]); };
  const std::vector<std::pair<std::string, std::string>> tags{
      {"desc", text_tag("Picture RGB")},
      {"cprt", text_tag("No rights reserved")},
      {"wtpt", xyz_tag(kD50.X, kD50.Y, kD50.Z)},
      {"rXYZ", column(0)},
      {"gXYZ", column(1)},
      {"bXYZ", column(2)},
      {"rTRC", curve_tag()},
      {"gTRC", curve_tag()},
      {"bTRC", curve_tag()},
  };
  std::string table;
  std::string data;
  const std::size_t start = 128 + 4 + 12 * tags.size();
  put(table, static_cast<std::uint32_t>(tags.size()));
  for (const auto& [name, body] : tags) {
    table += name;
    put(table, static_cast<std::uint32_t>(start + data.size()));
    put(table, static_cast<std::uint32_t>(body.size()));
    data += body;
    data.resize((data.size() + 3) / 4 * 4, '\0');
  }
  std::string header;
  put(header, static_cast<std::uint32_t>(start + data.size()));
  put(header, 0);           // no preferred method
  put(header, 0x04400000);  // version 4.4
  header += "mntrRGB XYZ ";
  for (const std::uint32_t part : {2000U, 1U, 1U, 0U, 0U, 0U}) put(header, part, 2);  // a fixed day: no clock
  header += "acsp";
  header.resize(68, '\0');  // platform, flags, device, intent: nothing to say
  put_fixed(header, kD50.X);
  put_fixed(header, kD50.Y);
  put_fixed(header, kD50.Z);
  header.resize(128, '\0');
  return header + table + data;
}

}  // namespace kithue
