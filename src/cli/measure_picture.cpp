// SPDX-License-Identifier: MIT
#include <algorithm>
#include <filesystem>
#include <string_view>
#include <system_error>

#include "base/text.h"
#include "cli/measure_chips.h"

namespace kithue {
namespace {

std::string escaped(const std::string& text) {
  std::string safe;
  for (const char c : printable(text)) {
    safe += c == '<'   ? "&lt;"
            : c == '>' ? "&gt;"
            : c == '&' ? "&amp;"
            : c == '"' ? "&quot;"
                       : std::string(1, c);
  }
  return safe;
}

/// The photo as an address in a picture that lies elsewhere. Source: RFC 3986.
std::string address_of(const std::string& photo, const std::string& picture) {
  namespace fs = std::filesystem;
  std::error_code ignored;
  const fs::path from = fs::absolute(picture, ignored).parent_path();
  const std::string path = fs::absolute(photo, ignored).lexically_relative(from).generic_string();
  constexpr char kHex[] = "0123456789ABCDEF";
  std::string safe;
  for (const char c : path.empty() ? photo : path) {
    const auto byte = static_cast<unsigned char>(c);
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    if (plain || std::string_view("/._~-").find(c) != std::string_view::npos)
      safe += c;
    else
      safe.append({'%', kHex[byte >> 4U], kHex[byte & 15U]});
  }
  return safe;
}

}  // namespace

std::string chip_picture(const MeasureOptions& options, const Photo& photo, const std::vector<Chip>& chips) {
  const std::string width = std::to_string(photo.width);
  const std::string height = std::to_string(photo.height);
  std::string svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " + width + " " + height +
                    "\">\n<image href=\"" + address_of(options.photo, options.picture) + "\" width=\"" +
                    width + "\" height=\"" + height + "\"/>\n";
  const int letters = std::max(8, photo.height / 60);
  for (const Chip& chip : chips) {
    const std::string x = std::to_string(chip.box.x);
    const std::string y = std::to_string(chip.box.y);
    svg += "<rect x=\"" + x + "\" y=\"" + y + "\" width=\"" + std::to_string(chip.box.width) +
           "\" height=\"" + std::to_string(chip.box.height) +
           "\" fill=\"none\" stroke=\"#000\" stroke-width=\"2\"/><text x=\"" + x + "\" y=\"" + y +
           "\" dy=\"1em\" font-size=\"" + std::to_string(letters) +
           "\" font-family=\"sans-serif\" stroke=\"#fff\" stroke-width=\"3\" paint-order=\"stroke\">" +
           escaped(chip.name) + (chip.known ? " (known)" : "") + "</text>\n";
  }
  return svg + "</svg>\n";
}

}  // namespace kithue
