// SPDX-License-Identifier: MIT
#include "sheet/pdf_objects.h"

#include <zlib.h>

#include <cassert>
#include <cstdint>

#include "base/checksum.h"
#include "base/text.h"

namespace kithue {

int PdfObjects::reserve() {
  bodies_.emplace_back();
  return static_cast<int>(bodies_.size());
}

void PdfObjects::set(int number, std::string body) {
  assert(number >= 1 && static_cast<std::size_t>(number) <= bodies_.size());
  bodies_[static_cast<std::size_t>(number - 1)] = std::move(body);
}

int PdfObjects::add(std::string body) {
  const int number = reserve();
  set(number, std::move(body));
  return number;
}

void PdfObjects::set_stream(int number, std::string_view entries, std::string_view data) {
  const std::string packed = deflated(data);
  std::string body = "<< ";
  body += entries;
  body += " /Filter /FlateDecode /Length " + std::to_string(packed.size()) + " >>\nstream\n" + packed +
          "\nendstream";
  set(number, std::move(body));
}

int PdfObjects::add_stream(std::string_view entries, std::string_view data) {
  const int number = reserve();
  set_stream(number, entries, data);
  return number;
}

std::string PdfObjects::file(int catalogue, int information) const {
  std::string bytes = "%PDF-1.7\n%\xE2\xE3\xCF\xD3\n";
  std::string table = "xref\n0 " + std::to_string(bodies_.size() + 1) + "\n0000000000 65535 f \n";
  for (std::size_t i = 0; i < bodies_.size(); ++i) {
    const std::string offset = std::to_string(bytes.size());
    table += std::string(10 - offset.size(), '0') + offset + " 00000 n \n";
    bytes += std::to_string(i + 1) + " 0 obj\n" + bodies_[i] + "\nendobj\n";
  }
  const std::string start = std::to_string(bytes.size());
  const std::string id = checksum(bytes);
  bytes += table + "trailer\n<< /Size " + std::to_string(bodies_.size() + 1) + " /Root " +
           pdf_reference(catalogue) + " /Info " + pdf_reference(information) + " /ID [<" + id + "> <" + id +
           ">] >>\nstartxref\n" + start + "\n%%EOF\n";
  return bytes;
}

std::string pdf_reference(int number) {
  return std::to_string(number) + " 0 R";
}

std::string pdf_number(double value) {
  std::string text = fixed_number(value, 4);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string pdf_hex(unsigned value, int digits) {
  constexpr std::string_view kDigits = "0123456789ABCDEF";
  std::string text;
  for (int shift = 4 * (digits - 1); shift >= 0; shift -= 4) text += kDigits[value >> shift & 15U];
  return text;
}

std::string utf16_hex(std::string_view utf8) {
  std::string hex;
  for (std::size_t i = 0; i < utf8.size();) {
    const auto lead = static_cast<unsigned char>(utf8[i]);
    const std::size_t length = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
    std::uint32_t point = length == 1 ? lead : lead & (0x7FU >> length);
    for (std::size_t k = 1; k < length && i + k < utf8.size(); ++k)
      point = point << 6 | (static_cast<unsigned char>(utf8[i + k]) & 0x3FU);
    if (point >= 0x10000) {
      hex += pdf_hex(0xD800U + ((point - 0x10000U) >> 10), 4) +
             pdf_hex(0xDC00U + ((point - 0x10000U) & 0x3FFU), 4);
    } else {
      hex += pdf_hex(point, 4);
    }
    i += length;
  }
  return hex;
}

std::string pdf_text(std::string_view utf8) {
  return "<FEFF" + utf16_hex(utf8) + ">";
}

std::string deflated(std::string_view data) {
  constexpr int kLevel = 4;  // of 9: a third of the time of the usual 6, and pictures grow by a twentieth
  uLongf size = compressBound(static_cast<uLong>(data.size()));
  std::string packed(size, '\0');
  const int status =
      compress2(reinterpret_cast<Bytef*>(packed.data()), &size, reinterpret_cast<const Bytef*>(data.data()),
                static_cast<uLong>(data.size()), kLevel);
  // compressBound() is enough by its promise, and memory problems are all that is left.
  if (status != Z_OK) throw std::bad_alloc();
  packed.resize(size);
  return packed;
}

}  // namespace kithue
