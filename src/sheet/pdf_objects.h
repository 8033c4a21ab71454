// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace kithue {

/// The numbered objects of a PDF 1.7 file. Source: ISO 32000-1:2008, sections 7.3 and 7.5.
class PdfObjects {
 public:
  int reserve();                           ///< a number whose object follows later
  void set(int number, std::string body);  ///< REQUIRES: a reserved number
  int add(std::string body);               ///< the new object's number
  /// A compressed stream; `entries` are further entries of its dictionary ("/Type /XObject ...").
  int add_stream(std::string_view entries, std::string_view data);
  void set_stream(int number, std::string_view entries, std::string_view data);
  /// The whole file. Its identifier comes from the content, so that the same input gives the same bytes.
  [[nodiscard]] std::string file(int catalogue, int information) const;

 private:
  std::vector<std::string> bodies_;
};

std::string pdf_reference(int number);        ///< "12 0 R"
std::string pdf_number(double value);         ///< at most 4 decimals, no trailing zeros
std::string pdf_text(std::string_view utf8);  ///< a text string, UTF-16BE in hex
std::string pdf_hex(unsigned value, int digits);
std::string utf16_hex(std::string_view utf8);  ///< big-endian, no mark; REQUIRES: UTF-8
std::string deflated(std::string_view data);   ///< zlib format

}  // namespace kithue
