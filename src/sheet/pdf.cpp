// SPDX-License-Identifier: MIT
#include "sheet/pdf.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <memory>
#include <span>

#include "base/text.h"
#include "sheet/pdf_font.h"
#include "sheet/pdf_objects.h"
#include "sheet/pdf_picture.h"
#include "sheet/pdf_text.h"

namespace kithue {
namespace {

constexpr double kPointsPerMm = 72.0 / 25.4;

std::string points(double mm) {
  return pdf_number(mm * kPointsPerMm);
}

/// What the whole file shares: fonts by number, pictures already written.
struct Shared {
  PdfObjects objects;
  std::map<std::size_t, PdfFont> fonts;
  std::map<std::size_t, int> font_objects;
  std::vector<int> pictures;
};

/// Writes one page's content stream.
class PageWriter {
 public:
  PageWriter(Shared& shared, double height_mm) : shared_(shared), height_mm_(height_mm) {}

  void operator()(const TextItem& text);
  void operator()(const CircleItem& circle);
  void operator()(const BoxItem& box);
  void operator()(const LineItem& line);
  void operator()(const PictureItem& picture);

  std::string content;
  std::vector<std::size_t> fonts_used;
  std::vector<std::size_t> pictures_used;

 private:
  [[nodiscard]] std::string at(double x_mm, double y_mm) const {
    return points(x_mm) + " " + points(height_mm_ - y_mm);
  }
  void set_colour(const Ink& ink, bool edge);
  void set_stroke(const Stroke& stroke);
  void finish_path(const Ink& fill, const Stroke& stroke);
  void show(const std::vector<Glyph>& glyphs, double& pen);

  Shared& shared_;
  double height_mm_;
  std::string shown_;     ///< the open TJ array
  double drawn_ = 0.0;    ///< where the PDF's pen is, in thousandths of an em
  std::size_t font_ = 0;  ///< of the open TJ array
  double size_points_ = 0.0;
  double rise_ = 0.0;
  bool font_set_ = false;

  void flush();
};

void PageWriter::set_colour(const Ink& ink, bool edge) {
  if (ink.kind == Ink::Kind::lab) {
    const auto clamped = [](double v) { return pdf_number(std::clamp(v, -128.0, 127.0)); };
    content += (edge ? "/Lab CS " : "/Lab cs ") + pdf_number(std::clamp(ink.lab.L, 0.0, 100.0)) + " " +
               clamped(ink.lab.a) + " " + clamped(ink.lab.b) + (edge ? " SC\n" : " sc\n");
  } else {
    content += pdf_number(ink.grey) + (edge ? " G\n" : " g\n");
  }
}

void PageWriter::set_stroke(const Stroke& stroke) {
  set_colour(stroke.ink, true);
  content += points(stroke.width_mm) + " w ";
  content += stroke.dash_mm > 0 ? "[" + points(stroke.dash_mm) + "] 0 d\n" : "[] 0 d\n";
}

void PageWriter::finish_path(const Ink& fill, const Stroke& stroke) {
  const bool filled = fill.kind != Ink::Kind::none;
  const bool edged = stroke.ink.kind != Ink::Kind::none;
  content += filled && edged ? "B\n" : filled ? "f\n" : edged ? "S\n" : "n\n";
}

void PageWriter::flush() {
  if (!shown_.empty()) content += "[" + shown_ + "] TJ\n";
  shown_.clear();
}

void PageWriter::show(const std::vector<Glyph>& glyphs, double& pen) {
  for (const Glyph& glyph : glyphs) {
    if (!font_set_ || glyph.font != font_) {
      flush();
      font_ = glyph.font;
      font_set_ = true;
      fonts_used.push_back(font_);
      content += "/F" + std::to_string(font_) + " " + pdf_number(size_points_) + " Tf\n";
    }
    const double rise = glyph.up * size_points_;
    if (std::abs(rise - rise_) > 1e-6) {
      flush();
      rise_ = rise;
      content += pdf_number(rise) + " Ts\n";
    }
    PdfFont& font = shared_.fonts.try_emplace(glyph.font, glyph.font).first->second;
    const unsigned code = font.code_of(glyph);
    const double move = std::round(drawn_ - (pen + glyph.right * 1000.0));
    if (move != 0.0) {
      shown_ += pdf_number(move);
      drawn_ -= move;
    }
    shown_ += "<" + pdf_hex(code, 4) + ">";
    drawn_ += font.width_of(code);
    pen += glyph.advance * 1000.0;
  }
}

void PageWriter::operator()(const TextItem& text) {
  if (text.line.glyphs.empty()) return;
  set_colour(text.ink, false);
  size_points_ = text.size_mm * kPointsPerMm;
  content += "BT\n1 0 0 1 " + at(text.x_mm, text.baseline_mm) + " Tm\n";
  double pen = 0.0;
  drawn_ = 0.0;
  rise_ = 0.0;
  font_set_ = false;
  const auto& glyphs = text.line.glyphs;
  for (std::size_t i = 0; i < glyphs.size(); i += glyphs[i].cluster_size) {
    const std::size_t count = std::min(glyphs.size() - i, glyphs[i].cluster_size);
    const PdfCluster cluster = pdf_cluster(std::span(glyphs).subspan(i, count));
    if (cluster.states_text) {
      flush();
      content += "/Span << /ActualText " + pdf_text(glyphs[i].text) + " >> BDC\n";
    }
    show(cluster.glyphs, pen);
    if (cluster.states_text) {
      flush();
      content += "EMC\n";
    }
  }
  flush();
  if (rise_ != 0.0) content += "0 Ts\n";
  content += "ET\n";
}

void PageWriter::operator()(const CircleItem& circle) {
  if (circle.fill.kind != Ink::Kind::none) set_colour(circle.fill, false);
  if (circle.stroke.ink.kind != Ink::Kind::none) set_stroke(circle.stroke);
  const double r = circle.radius_mm;
  const double k = r * 0.5522847498307936;  // 4/3 (sqrt 2 - 1): the usual cubic for a quarter of a circle
  const double x = circle.x_mm;
  const double y = circle.y_mm;
  const auto curve = [&](double x1, double y1, double x2, double y2, double x3, double y3) {
    content += at(x + x1, y + y1) + " " + at(x + x2, y + y2) + " " + at(x + x3, y + y3) + " c\n";
  };
  content += at(x + r, y) + " m\n";
  curve(r, k, k, r, 0, r);
  curve(-k, r, -r, k, -r, 0);
  curve(-r, -k, -k, -r, 0, -r);
  curve(k, -r, r, -k, r, 0);
  content += "h ";
  finish_path(circle.fill, circle.stroke);
}

void PageWriter::operator()(const BoxItem& box) {
  if (box.fill.kind != Ink::Kind::none) set_colour(box.fill, false);
  if (box.stroke.ink.kind != Ink::Kind::none) set_stroke(box.stroke);
  content += at(box.x_mm, box.y_mm + box.height_mm) + " " + points(box.width_mm) + " " +
             points(box.height_mm) + " re ";
  finish_path(box.fill, box.stroke);
}

void PageWriter::operator()(const LineItem& line) {
  set_stroke(line.stroke);
  content += at(line.x1_mm, line.y1_mm) + " m " + at(line.x2_mm, line.y2_mm) + " l S\n";
}

void PageWriter::operator()(const PictureItem& picture) {
  pictures_used.push_back(picture.picture);
  content += "q " + points(picture.width_mm) + " 0 0 " + points(picture.height_mm) + " " +
             at(picture.x_mm, picture.y_mm + picture.height_mm) + " cm /P" + std::to_string(picture.picture) +
             " Do Q\n";
}

std::string_view structure_type(BlockRole role) {
  switch (role) {
    case BlockRole::title:
      return "H1";
    case BlockRole::heading:
      return "H2";
    case BlockRole::paragraph:
      return "P";
    case BlockRole::figure:
      return "Figure";
    case BlockRole::ornament:
      return "";
  }
  return "";
}

/// The box around a block, in points from the bottom left, as a Figure must state it.
std::string block_box(const Block& block, double height_mm) {
  Bounds all{1e9, 1e9, -1e9, -1e9};
  for (const Drawing& item : block.items) {
    const Bounds one = bounds_of(item);
    all = {std::min(all.left, one.left), std::min(all.top, one.top), std::max(all.right, one.right),
           std::max(all.bottom, one.bottom)};
  }
  return points(all.left) + " " + points(height_mm - all.bottom) + " " + points(all.right) + " " +
         points(height_mm - all.top);
}

std::string unique_resources(std::vector<std::size_t> used, const std::string& letter,
                             const std::function<int(std::size_t)>& object) {
  std::sort(used.begin(), used.end());
  used.erase(std::unique(used.begin(), used.end()), used.end());
  std::string list;
  for (const std::size_t index : used)
    list += "/" + letter + std::to_string(index) + " " + pdf_reference(object(index)) + " ";
  return list;
}

/// One page: its objects, and the structure elements of its blocks appended to `elements`.
int write_page(Shared& shared, const Document& document, const Page& page, std::size_t index, int parent,
               int structure, std::vector<int>& elements, std::string& parent_tree) {
  PageWriter writer(shared, document.height_mm);
  const int number = shared.objects.reserve();
  std::string marks;
  int mark = 0;
  for (const Block& block : page.blocks) {
    if (block.items.empty()) continue;
    const std::string type(structure_type(block.role));
    if (type.empty()) {
      writer.content += "/Artifact BMC\n";
    } else {
      writer.content += "/" + type + " << /MCID " + std::to_string(mark) + " >> BDC\n";
      std::string element = "<< /Type /StructElem /S /" + type + " /P " + pdf_reference(structure) + " /Pg " +
                            pdf_reference(number) + " /K " + std::to_string(mark);
      if (block.role == BlockRole::figure)
        element += " /Alt " + pdf_text(block.words) + " /A << /O /Layout /Placement /Block /BBox [" +
                   block_box(block, document.height_mm) + "] >>";
      elements.push_back(shared.objects.add(element + " >>"));
      marks += pdf_reference(elements.back()) + " ";
      ++mark;
    }
    for (const Drawing& item : block.items) std::visit(writer, item);
    writer.content += "EMC\n";
  }
  const int content = shared.objects.add_stream("", writer.content);
  const std::string fonts = unique_resources(writer.fonts_used, "F", [&](std::size_t font) {
    auto [at, is_new] = shared.font_objects.try_emplace(font, 0);
    if (is_new) at->second = shared.objects.reserve();
    return at->second;
  });
  const std::string pictures = unique_resources(
      writer.pictures_used, "P", [&](std::size_t picture) { return shared.pictures[picture]; });
  const std::string extent = "[0 0 " + points(document.width_mm) + " " + points(document.height_mm) + "]";
  shared.objects.set(
      number,
      "<< /Type /Page /Parent " + pdf_reference(parent) + " /MediaBox " + extent + " /Contents " +
          pdf_reference(content) +
          " /Resources << /ColorSpace << /Lab [/Lab << /WhitePoint [0.9642 1 0.8249] /Range [-128 127 -128 "
          "127] >>] >> /Font << " +
          fonts + ">> /XObject << " + pictures + ">> >> /StructParents " + std::to_string(index) +
          " /Tabs /S >>");
  parent_tree += std::to_string(index) + " [" + marks + "] ";
  return number;
}

}  // namespace

Result<std::string> pdf_from(const Document& document) {
  Shared shared;
  PdfObjects& objects = shared.objects;
  const int catalogue = objects.reserve();
  const int pages = objects.reserve();
  const int structure_root = objects.reserve();
  const int structure = objects.reserve();
  shared.pictures = write_pictures(objects, document.pictures);
  std::vector<int> elements;
  std::string parent_tree;
  std::string kids;
  for (std::size_t i = 0; i < document.pages.size(); ++i) {
    kids += pdf_reference(
                write_page(shared, document, document.pages[i], i, pages, structure, elements, parent_tree)) +
            " ";
  }
  for (const auto& [font, number] : shared.font_objects) {
    if (MaybeError error = shared.fonts.at(font).write(objects, number)) return *error;
  }
  std::string children;
  for (const int element : elements) children += pdf_reference(element) + " ";
  objects.set(pages,
              "<< /Type /Pages /Kids [" + kids + "] /Count " + std::to_string(document.pages.size()) + " >>");
  objects.set(structure, "<< /Type /StructElem /S /Document /P " + pdf_reference(structure_root) + " /K [" +
                             children + "] >>");
  objects.set(structure_root, "<< /Type /StructTreeRoot /K " + pdf_reference(structure) +
                                  " /ParentTree << /Nums [" + parent_tree + "] >> /ParentTreeNextKey " +
                                  std::to_string(document.pages.size()) + " >>");
  objects.set(catalogue, "<< /Type /Catalog /Pages " + pdf_reference(pages) + " /Lang " +
                             pdf_text(document.language) + " /MarkInfo << /Marked true >> /StructTreeRoot " +
                             pdf_reference(structure_root) +
                             " /ViewerPreferences << /PrintScaling /None /DisplayDocTitle true >> >>");
  const int information =
      objects.add("<< /Title " + pdf_text(document.title) + " /Creator (kithue) /Producer (kithue) >>");
  return objects.file(catalogue, information);
}

}  // namespace kithue
