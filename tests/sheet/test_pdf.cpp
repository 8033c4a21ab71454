// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <lcms2.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <random>
#include <string>
#include <vector>

#include "colour/adapt.h"
#include "colour/srgb.h"
#include "icc/matrix_profile.h"
#include "sheet/outside.h"
#include "sheet/paragraph.h"
#include "sheet/pdf.h"

namespace {

using namespace kithue;

struct LcmsFree {
  void operator()(void* transform) const { cmsDeleteTransform(transform); }
};

/// Little CMS from Lab under D50 to sRGB, 8 bits.
std::array<int, 3> reference_rgb(const Lab& lab) {
  static const std::unique_ptr<void, LcmsFree> transform = [] {
    cmsHPROFILE from = cmsCreateLab4Profile(nullptr);
    cmsHPROFILE to = cmsCreate_sRGBProfile();
    std::unique_ptr<void, LcmsFree> made(cmsCreateTransform(from, TYPE_Lab_DBL, to, TYPE_RGB_DBL,
                                                            INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOCACHE));
    cmsCloseProfile(from);
    cmsCloseProfile(to);
    return made;
  }();
  REQUIRE(transform);
  const double in[3] = {lab.L, lab.a, lab.b};
  double out[3] = {};
  cmsDoTransform(transform.get(), in, out, 1);
  std::array<int, 3> rgb{};
  for (std::size_t i = 0; i < 3; ++i)
    rgb[i] = static_cast<int>(std::lround(255.0 * std::clamp(out[i], 0.0, 1.0)));
  return rgb;
}

std::vector<Lab> screen_colours(std::size_t count) {
  std::mt19937 random(2024);
  std::uniform_real_distribution<double> unit(0.0, 1.0);
  std::vector<Lab> colours;
  while (colours.size() < count) {
    const Lab lab{100.0 * unit(random), 200.0 * unit(random) - 100.0, 200.0 * unit(random) - 100.0};
    if (in_srgb_gamut(lab)) colours.push_back(lab);
  }
  return colours;
}

Document empty_document() {
  Document document;
  document.title = "Proof";
  document.pages.resize(1);
  return document;
}

Block& add_block(Document& document, BlockRole role) {
  document.pages.front().blocks.push_back({role, "", {}});
  return document.pages.front().blocks.back();
}

std::string written(const TestFolder& folder, const Document& document) {
  const Result<std::string> pdf = pdf_from(document);
  REQUIRE(pdf.has_value());
  return folder.put("proof.pdf", *pdf);
}

/// A document with a line of each text.
Document document_with(const std::vector<std::string>& texts) {
  Document document = empty_document();
  TextShaper shaper;
  double y = 20.0;
  for (const std::string& text : texts) {
    add_block(document, BlockRole::paragraph)
        .items.emplace_back(TextItem{20.0, y, 4.0, shaper.shape(text, TextFace::regular), grey_ink(0.0)});
    y += 8.0;
  }
  return document;
}

}  // namespace

TEST_CASE("pdf: Lab dots come out within 1/255 of Little CMS on 400 colours") {
  const TestFolder folder;
  Document document = empty_document();
  Block& block = add_block(document, BlockRole::ornament);
  const std::vector<Lab> colours = screen_colours(400);
  for (std::size_t i = 0; i < colours.size(); ++i) {
    const std::size_t row = i / 20;
    const double x = 10.0 + 9.0 * static_cast<double>(i % 20);
    const double y = 10.0 + 9.0 * static_cast<double>(row);
    block.items.emplace_back(CircleItem{x + 4.0, y + 4.0, 4.0, lab_ink(colours[i]), {}});
  }
  const Pixmap page = drawn_page(folder, written(folder, document), 1, 127);  // 5 pixels a millimetre
  int worst = 0;
  for (std::size_t i = 0; i < colours.size(); ++i) {
    const int x = static_cast<int>(5.0 * (14.0 + 9.0 * static_cast<double>(i % 20)));
    const std::size_t row = i / 20;
    const int y = static_cast<int>(5.0 * (14.0 + 9.0 * static_cast<double>(row)));
    const auto wanted = reference_rgb(colours[i]);
    for (int c = 0; c < 3; ++c)
      worst = std::max(worst, std::abs(page.channel(x, y, c) - wanted[static_cast<std::size_t>(c)]));
  }
  MESSAGE("worst channel difference: ", worst, "/255");
  CHECK(worst <= 1);
}

TEST_CASE("pdf: a picture with its profile comes out within 2/255 of Little CMS") {
  const TestFolder folder;
  // Display P3 primaries (SMPTE EG 432-1) with the D65 white, adapted: values that sRGB cannot name as they
  // are.
  const Matrix3 wide = rgb_to_xyz({0.680, 0.320}, {0.265, 0.690}, {0.150, 0.060}, {0.3127, 0.3290});
  const std::string bytes = matrix_profile(product(bradford(kSrgbWhite, kD50), wide));
  SheetPicture picture{8, 8, {}, std::make_shared<const std::string>(bytes)};
  std::mt19937 random(7);
  for (int i = 0; i < 3 * 64; ++i) picture.rgb.push_back(static_cast<unsigned char>(60 + random() % 130));
  Document document = empty_document();
  document.pictures.push_back(picture);
  add_block(document, BlockRole::figure).items.emplace_back(PictureItem{20.0, 20.0, 80.0, 80.0, 0});
  const Pixmap page = drawn_page(folder, written(folder, document), 1, 127);

  cmsHPROFILE from = cmsOpenProfileFromMem(bytes.data(), static_cast<cmsUInt32Number>(bytes.size()));
  REQUIRE(from != nullptr);
  cmsHPROFILE to = cmsCreate_sRGBProfile();
  const std::unique_ptr<void, LcmsFree> transform(cmsCreateTransform(
      from, TYPE_RGB_8, to, TYPE_RGB_8, INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE));
  cmsCloseProfile(from);
  cmsCloseProfile(to);
  REQUIRE(transform);
  int worst = 0;
  int changed = 0;
  for (int i = 0; i < 64; ++i) {
    unsigned char wanted[3] = {};
    cmsDoTransform(transform.get(), picture.rgb.data() + 3 * i, wanted, 1);
    for (int c = 0; c < 3; ++c) {
      const int seen = page.channel(5 * (25 + 10 * (i % 8)), 5 * (25 + 10 * (i / 8)), c);
      worst = std::max(worst, std::abs(seen - wanted[c]));
      changed = std::max(
          changed,
          std::abs(picture.rgb[3 * static_cast<std::size_t>(i) + static_cast<std::size_t>(c)] - wanted[c]));
    }
  }
  MESSAGE("worst channel difference: ", worst, "/255; the profile moves channels by up to ", changed);
  CHECK(changed > 10);
  CHECK(worst <= 2);
}

TEST_CASE("pdf: qpdf finds nothing wrong, with text, shapes, pictures and many pages") {
  const TestFolder folder;
  Document document = document_with({"Office", "ساحل البحر", "שלום", "港の朝", "कि", "สีน้ำ"});
  document.pictures.push_back(
      {1, 1, {10, 20, 30}, std::make_shared<const std::string>(matrix_profile(srgb_to_d50()))});
  add_block(document, BlockRole::figure).items.emplace_back(PictureItem{20.0, 120.0, 20.0, 20.0, 0});
  document.pages.resize(3);
  const std::string report = output_of("qpdf --check " + written(folder, document));
  CHECK(report.find("No syntax or stream encoding errors found") != std::string::npos);
  CHECK(report.find("WARNING") == std::string::npos);
}

TEST_CASE("pdf: ligatures and every script copy as the text they are") {
  const TestFolder folder;
  const std::vector<std::string> texts{"Office ruffian offline",
                                       "Морская пена",
                                       "Θάλασσα",
                                       "港の朝の色",
                                       "שחר בנמל",
                                       "بحر شمس قمر",
                                       "الأبيض والأزرق",
                                       "שלוֹם",
                                       "नाव का रंग",
                                       "हिन्दी",
                                       "สีน้ำทะเล",
                                       "e\xCC\x81t\xC3\xA9",
                                       "ծովի գույն",
                                       "ზღვა",
                                       "ባሕር"};
  const std::string text = output_of("pdftotext -enc UTF-8 " + written(folder, document_with(texts)) + " -");
  // pdftotext may compose letters with their accents.
  for (const std::string& wanted : texts) {
    CAPTURE(wanted);
    const bool there =
        text.find(wanted) != std::string::npos ||
        (wanted.starts_with("e\xCC\x81") && text.find("\xC3\xA9t\xC3\xA9") != std::string::npos);
    CHECK_MESSAGE(there, text);
  }
}

TEST_CASE("pdf: every font is embedded, cut down, and knows its text") {
  const TestFolder folder;
  const std::string report =
      output_of("pdffonts " + written(folder, document_with({"Office", "ساحل", "港", "नाव", "สี"})));
  std::size_t fonts = 0;
  for (std::size_t at = report.find("CID TrueType"); at != std::string::npos;
       at = report.find("CID TrueType", at + 1)) {
    const std::string row = report.substr(at, report.find('\n', at) - at);
    CAPTURE(row);
    CHECK(row.find("Identity-H       yes yes yes") != std::string::npos);
    ++fonts;
  }
  CHECK(fonts == 5);
}

TEST_CASE("pdf: pages have their exact size in points") {
  const TestFolder folder;
  for (const auto& [size, wanted] :
       {std::pair{PageSize::a4, "[0 0 595.2756 841.8898]"}, std::pair{PageSize::letter, "[0 0 612 792]"}}) {
    Document document = empty_document();
    document.width_mm = extent_of(size).width_mm;
    document.height_mm = extent_of(size).height_mm;
    const Result<std::string> pdf = pdf_from(document);
    REQUIRE(pdf.has_value());
    CHECK(pdf->find(std::string("/MediaBox ") + wanted) != std::string::npos);
  }
}

TEST_CASE("pdf: it carries title, language, tags in reading order, and asks printers not to scale") {
  const TestFolder folder;
  Document document = document_with({"first words", "second words"});
  document.pages.front().blocks.front().role = BlockRole::title;
  Block& figure = add_block(document, BlockRole::figure);
  figure.words = "A red dot";
  figure.items.emplace_back(CircleItem{50, 100, 10, lab_ink({50, 60, 30}), {}});
  const std::string path = written(folder, document);
  const std::string info = output_of("pdfinfo " + path);
  CHECK(info.find("Title:           Proof") != std::string::npos);
  CHECK(info.find("Tagged:          yes") != std::string::npos);
  CHECK(info.find("CreationDate") == std::string::npos);
  const std::string tree = output_of("pdfinfo -struct-text " + path);
  const std::size_t title = tree.find("H1");
  CHECK(title != std::string::npos);
  CHECK(tree.find("\"first words\"") > title);
  CHECK(tree.find("\"second words\"") > tree.find("\"first words\""));
  CHECK(tree.find("Figure") > tree.find("\"second words\""));
  const std::string open = output_of("qpdf --qdf --object-streams=disable " + path + " -");
  CHECK(open.find("/PrintScaling /None") != std::string::npos);
  CHECK(open.find("/Lang") != std::string::npos);
  CHECK(open.find("/Alt") != std::string::npos);
}

TEST_CASE("pdf: the same document gives the same bytes, another one other bytes and another identifier") {
  const auto id = [](const std::string& pdf) { return pdf.substr(pdf.rfind("/ID ["), 40); };
  const Result<std::string> one = pdf_from(document_with({"Office שלום"}));
  const Result<std::string> two = pdf_from(document_with({"Office שלום"}));
  const Result<std::string> other = pdf_from(document_with({"Office"}));
  REQUIRE((one && two && other));
  CHECK(*one == *two);
  CHECK(id(*one) != id(*other));
}

TEST_CASE("pdf: hostile text stays text") {
  const TestFolder folder;
  Document document =
      document_with({"a) Tj ET (b", "<</Type/Catalog>>", "%PDF-1.4 endstream endobj \\ \xC2\xA9"});
  document.title = "x) /Author (y";
  const std::string path = written(folder, document);
  CHECK(output_of("qpdf --check " + path).find("No syntax") != std::string::npos);
  CHECK(output_of("pdfinfo " + path).find("Title:           x) /Author (y") != std::string::npos);
  const std::string text = output_of("pdftotext " + path + " -");
  CHECK(text.find("a) Tj ET (b") != std::string::npos);
  CHECK(text.find("<</Type/Catalog>>") != std::string::npos);
}
