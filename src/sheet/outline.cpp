// SPDX-License-Identifier: MIT
#include "sheet/outline.h"

#include <hb.h>

#include <cmath>

#include "sheet/harfbuzz_free.h"

namespace kithue {
namespace {

constexpr int kUnits = 1000;  // an em

}  // namespace

struct GlyphOutlines::Opened {
  std::vector<std::unique_ptr<hb_font_t, HbFree>> fonts{embedded_fonts().size()};
  std::unique_ptr<hb_draw_funcs_t, HbFree> functions{hb_draw_funcs_create()};

  Opened() {
    hb_draw_funcs_t* to = functions.get();
    hb_draw_funcs_set_move_to_func(
        to,
        [](hb_draw_funcs_t*, void* steps, hb_draw_state_t*, float x, float y, void*) {
          add(steps, 'M', {{x, y}});
        },
        nullptr, nullptr);
    hb_draw_funcs_set_line_to_func(
        to,
        [](hb_draw_funcs_t*, void* steps, hb_draw_state_t*, float x, float y, void*) {
          add(steps, 'L', {{x, y}});
        },
        nullptr, nullptr);
    hb_draw_funcs_set_quadratic_to_func(
        to,
        [](hb_draw_funcs_t*, void* steps, hb_draw_state_t*, float cx, float cy, float x, float y, void*) {
          add(steps, 'Q', {{cx, cy}, {x, y}});
        },
        nullptr, nullptr);
    hb_draw_funcs_set_close_path_func(
        to, [](hb_draw_funcs_t*, void* steps, hb_draw_state_t*, void*) { add(steps, 'Z', {}); }, nullptr,
        nullptr);
  }

  static void add(void* steps, char letter, std::vector<std::pair<double, double>> to) {
    static_cast<std::vector<Step>*>(steps)->push_back({letter, std::move(to)});
  }

  hb_font_t* font(std::size_t index) {
    if (!fonts[index]) {
      const auto bytes = embedded_fonts()[index].bytes;
      hb_blob_t* blob =
          hb_blob_create(reinterpret_cast<const char*>(bytes.data()), static_cast<unsigned>(bytes.size()),
                         HB_MEMORY_MODE_READONLY, nullptr, nullptr);
      hb_face_t* face = hb_face_create(blob, 0);
      fonts[index].reset(hb_font_create(face));
      hb_font_set_scale(fonts[index].get(), kUnits, kUnits);
      hb_face_destroy(face);
      hb_blob_destroy(blob);
    }
    return fonts[index].get();
  }
};

GlyphOutlines::GlyphOutlines() : opened_(std::make_unique<Opened>()) {}
GlyphOutlines::~GlyphOutlines() = default;

const std::vector<GlyphOutlines::Step>& GlyphOutlines::steps(std::size_t font, unsigned glyph) {
  const auto [at, is_new] = known_.try_emplace({font, glyph});
  if (is_new) {
#if HB_VERSION_ATLEAST(7, 0, 0)
    hb_font_draw_glyph(opened_->font(font), glyph, opened_->functions.get(), &at->second);
#else
    hb_font_get_glyph_shape(opened_->font(font), glyph, opened_->functions.get(), &at->second);
#endif
  }
  return at->second;
}

std::string GlyphOutlines::path(const ShapedText& line, double right, double down) {
  std::string data;
  for (const Glyph& glyph : line.glyphs) {
    const double x = right + glyph.right * kUnits;
    const double y = down - glyph.up * kUnits;
    char last = 'Z';
    for (const Step& step : steps(glyph.font, glyph.id)) {
      // SVG takes further coordinates of the same kind without their letter.
      if (step.letter != last || step.letter == 'M') data += step.letter;
      bool first = true;
      for (const auto& [to_x, to_y] : step.to) {
        if (!first || step.letter == last) data += ' ';
        data += std::to_string(std::lround(x + to_x)) + " " + std::to_string(std::lround(y - to_y));
        first = false;
      }
      last = step.letter;
    }
    right += glyph.advance * kUnits;
  }
  return data;
}

}  // namespace kithue
