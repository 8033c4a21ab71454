// SPDX-License-Identifier: MIT
#include "sheet/pdf_font.h"

#include <hb-ot.h>
#include <hb-subset.h>
#include <hb.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <memory>

#include "base/checksum.h"
#include "base/text.h"
#include "sheet/harfbuzz_free.h"
#include "sheet/pdf_text.h"

namespace kithue {
namespace {

using Face = std::unique_ptr<hb_face_t, HbFree>;
using Blob = std::unique_ptr<hb_blob_t, HbFree>;

Face open_face(std::size_t font) {
  const auto bytes = embedded_fonts()[font].bytes;
  const Blob blob(hb_blob_create(reinterpret_cast<const char*>(bytes.data()),
                                 static_cast<unsigned>(bytes.size()), HB_MEMORY_MODE_READONLY, nullptr,
                                 nullptr));
  return Face(hb_face_create(blob.get(), 0));
}

/// A big-endian signed 16-bit field of a font table.
int field(hb_face_t* face, hb_tag_t table, std::size_t at) {
  const Blob blob(hb_face_reference_table(face, table));
  unsigned length = 0;
  const char* data = hb_blob_get_data(blob.get(), &length);
  if (at + 2 > length) return 0;
  return static_cast<std::int16_t>(static_cast<unsigned char>(data[at]) << 8 |
                                   static_cast<unsigned char>(data[at + 1]));
}

struct Subset {
  std::string file;
  std::map<unsigned, unsigned> number_of;  ///< glyph numbers in the subset
};

Result<Subset> make_subset(hb_face_t* face, const std::vector<std::pair<unsigned, std::string>>& used,
                           std::string_view name) {
  const Error failed{ErrorKind::internal, "cannot cut the font " + std::string(name) + " down", "", ""};
  const std::unique_ptr<hb_subset_input_t, HbFree> input(hb_subset_input_create_or_fail());
  if (!input) return failed;
  hb_set_t* glyphs = hb_subset_input_glyph_set(input.get());
  for (const auto& [glyph, text] : used) hb_set_add(glyphs, glyph);
  hb_set_t* dropped = hb_subset_input_set(input.get(), HB_SUBSET_SETS_DROP_TABLE_TAG);
  for (const char* tag : {"GSUB", "GPOS", "GDEF", "cmap", "name", "post", "OS/2", "kern", "DSIG", "gasp"})
    hb_set_add(dropped, hb_tag_from_string(tag, 4));
  hb_subset_input_set_flags(input.get(), HB_SUBSET_FLAGS_NOTDEF_OUTLINE | HB_SUBSET_FLAGS_NO_HINTING);
  const std::unique_ptr<hb_subset_plan_t, HbFree> plan(hb_subset_plan_create_or_fail(face, input.get()));
  if (!plan) return failed;
  const Face cut(hb_subset_plan_execute_or_fail(plan.get()));
  if (!cut) return failed;
  const Blob blob(hb_face_reference_blob(cut.get()));
  unsigned length = 0;
  const char* data = hb_blob_get_data(blob.get(), &length);
  if (data == nullptr || length == 0) return failed;
  Subset subset{std::string(data, length), {}};
  const hb_map_t* numbers = hb_subset_plan_old_to_new_glyph_mapping(plan.get());
  for (const auto& [glyph, text] : used) subset.number_of[glyph] = hb_map_get(numbers, glyph);
  return subset;
}

/// Six capital letters that say which subset this is, from its bytes (ISO 32000-1, 9.6.4).
std::string subset_tag(const std::string& file) {
  const std::string sum = checksum(file);
  std::string tag;
  for (std::size_t i = 0; i < 6; ++i) tag += static_cast<char>('A' + (sum[2 * i] * 31 + sum[2 * i + 1]) % 26);
  return tag;
}

std::string to_unicode(const std::vector<std::pair<unsigned, std::string>>& by_code) {
  std::string map =
      "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
      "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
      "/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"
      "1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n";
  std::vector<std::string> rows;
  for (std::size_t i = 0; i < by_code.size(); ++i) {
    if (!by_code[i].second.empty())
      rows.push_back("<" + pdf_hex(static_cast<unsigned>(i + 1), 4) + "> <" + utf16_hex(by_code[i].second) +
                     ">\n");
  }
  constexpr std::size_t kMostRows = 100;  // the limit of one section
  for (std::size_t i = 0; i < rows.size(); i += kMostRows) {
    const std::size_t end = std::min(rows.size(), i + kMostRows);
    map += std::to_string(end - i) + " beginbfchar\n";
    for (std::size_t k = i; k < end; ++k) map += rows[k];
    map += "endbfchar\n";
  }
  return map + "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n";
}

}  // namespace

unsigned PdfFont::code_of(const Glyph& glyph) {
  const auto [at, is_new] =
      codes_.try_emplace({glyph.id, glyph.text}, static_cast<unsigned>(by_code_.size() + 1));
  if (is_new) {
    const Face face = open_face(font_);
    const std::unique_ptr<hb_font_t, HbFree> font(hb_font_create(face.get()));
    const bool unseen = glyph.id == kUnseenGlyph;
    hb_codepoint_t drawn = glyph.id;
    // A space draws nothing; a font without one still has its first glyph.
    if (unseen && hb_font_get_nominal_glyph(font.get(), U' ', &drawn) == 0) drawn = 0;
    by_code_.emplace_back(drawn, glyph.text);
    const double width =
        unseen ? 0.0 : hb_font_get_glyph_h_advance(font.get(), drawn) * 1000.0 / hb_face_get_upem(face.get());
    widths_.push_back(std::round(width * 1000.0) / 1000.0);
  }
  return at->second;
}

double PdfFont::width_of(unsigned code) const {
  return widths_[code - 1];
}

MaybeError PdfFont::write(PdfObjects& objects, int number) const {
  const Face face = open_face(font_);
  const std::string name(embedded_fonts()[font_].name);
  const Result<Subset> subset = make_subset(face.get(), by_code_, name);
  if (!subset) return subset.error();
  const std::string full_name = "/" + subset_tag(subset->file) + "+" + name;
  const double scale = 1000.0 / hb_face_get_upem(face.get());
  const auto scaled = [&](const char* table, std::size_t at) {
    return pdf_number(std::round(field(face.get(), hb_tag_from_string(table, 4), at) * scale));
  };
  const int file = objects.add_stream("/Length1 " + std::to_string(subset->file.size()), subset->file);
  // 36-43: the corners of the box around all glyphs (head); 4, 6: ascent and descent (hhea).
  const int descriptor = objects.add(
      "<< /Type /FontDescriptor /FontName " + full_name + " /Flags 4 /FontBBox [" + scaled("head", 36) + " " +
      scaled("head", 38) + " " + scaled("head", 40) + " " + scaled("head", 42) + "] /ItalicAngle 0 /Ascent " +
      scaled("hhea", 4) + " /Descent " + scaled("hhea", 6) + " /CapHeight " + scaled("hhea", 4) +
      " /StemV 80 /FontFile2 " + pdf_reference(file) + " >>");
  std::string glyph_of_code(2, '\0');
  std::string widths;
  for (std::size_t i = 0; i < by_code_.size(); ++i) {
    const unsigned glyph = subset->number_of.at(by_code_[i].first);
    glyph_of_code += static_cast<char>(glyph >> 8 & 0xFFU);
    glyph_of_code += static_cast<char>(glyph & 0xFFU);
    widths += (i == 0 ? "" : " ") + pdf_number(widths_[i]);
  }
  const int map = objects.add_stream("", glyph_of_code);
  const int unicode = objects.add_stream("", to_unicode(by_code_));
  const int descendant = objects.add(
      "<< /Type /Font /Subtype /CIDFontType2 /BaseFont " + full_name +
      " /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor " +
      pdf_reference(descriptor) + " /DW 1000 /W [1 [" + widths + "]] /CIDToGIDMap " + pdf_reference(map) +
      " >>");
  objects.set(number, "<< /Type /Font /Subtype /Type0 /BaseFont " + full_name +
                          " /Encoding /Identity-H /DescendantFonts [" + pdf_reference(descendant) +
                          "] /ToUnicode " + pdf_reference(unicode) + " >>");
  return std::nullopt;
}

}  // namespace kithue
