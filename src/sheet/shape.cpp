// SPDX-License-Identifier: MIT
#include "sheet/shape.h"

#include <fribidi.h>
#include <hb.h>

#include <algorithm>
#include <cstdint>

#include "sheet/harfbuzz_free.h"

namespace kithue {
namespace {

constexpr std::size_t kNoFont = static_cast<std::size_t>(-1);

/// The text as code points, cleaned, with what each needs for shaping.
struct Letter {
  std::uint32_t point = 0;
  std::size_t begin = 0;  ///< byte offset in the text
  std::size_t end = 0;
  std::size_t font = kNoFont;
  hb_script_t script = HB_SCRIPT_COMMON;
  FriBidiLevel level = 0;
};

/// One code point from UTF-8; malformed bytes give U+FFFD, one byte at a time.
Letter read_letter(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char lead = byte(at);
  const std::size_t length = lead < 0x80       ? 1
                             : lead >> 5 == 6  ? 2
                             : lead >> 4 == 14 ? 3
                             : lead >> 3 == 30 ? 4
                                               : 0;
  Letter letter{0xFFFD, at, at + 1};
  if (length == 0 || at + length > text.size()) return letter;
  std::uint32_t point = length == 1 ? lead : lead & (0x7FU >> length);
  for (std::size_t i = 1; i < length; ++i) {
    if (byte(at + i) >> 6 != 2) return letter;
    point = point << 6 | (byte(at + i) & 0x3FU);
  }
  constexpr std::uint32_t kLeast[] = {0, 0, 0x80, 0x800, 0x10000};
  if (point < kLeast[length] || point > 0x10FFFF || (point >= 0xD800 && point < 0xE000)) return letter;
  letter.end = at + length;
  letter.point = point < 0x20 || (point >= 0x7F && point < 0xA0) ? U' ' : point;
  return letter;
}

std::vector<Letter> read_letters(std::string_view text) {
  std::vector<Letter> letters;
  for (std::size_t at = 0; at < text.size(); at = letters.back().end)
    letters.push_back(read_letter(text, at));
  return letters;
}

/// Vowels and finals of Hangul written letter by letter (as some systems store names): HarfBuzz joins them to
/// the syllable that the font has. Source: Unicode Standard, section 3.12.
bool is_hangul_tail(std::uint32_t point) {
  return point >= 0x1160 && point <= 0x11FF;
}
bool is_hangul_lead(std::uint32_t point) {
  return point >= 0x1100 && point <= 0x115F;
}

/// True for what belongs to the character before it: marks, joiners, variation selectors.
bool is_attached(std::uint32_t point) {
  if (point == 0x200C || point == 0x200D || is_hangul_tail(point)) return true;
  switch (hb_unicode_general_category(hb_unicode_funcs_get_default(), point)) {
    case HB_UNICODE_GENERAL_CATEGORY_NON_SPACING_MARK:
    case HB_UNICODE_GENERAL_CATEGORY_SPACING_MARK:
    case HB_UNICODE_GENERAL_CATEGORY_ENCLOSING_MARK:
      return true;
    default:
      return false;
  }
}

/// Han, Hangul and the letters of all scripts without capitals: each of them draws something.
bool is_caseless_letter(std::uint32_t point) {
  return hb_unicode_general_category(hb_unicode_funcs_get_default(), point) ==
         HB_UNICODE_GENERAL_CATEGORY_OTHER_LETTER;
}

/// True for characters that draw nothing: no font needs to have them.
bool is_invisible(std::uint32_t point) {
  return (point >= 0x200B && point <= 0x200F) || (point >= 0x202A && point <= 0x202E) ||
         (point >= 0x2060 && point <= 0x206F) || (point >= 0xFE00 && point <= 0xFE0F) || point == 0xFEFF ||
         point == 0xAD || (point >= 0xE0000 && point <= 0xE0FFF);
}

/// Scripts written without spaces, where a line may end between any two characters.
bool breaks_anywhere(hb_script_t script) {
  return script == HB_SCRIPT_HAN || script == HB_SCRIPT_HIRAGANA || script == HB_SCRIPT_KATAKANA ||
         script == HB_SCRIPT_THAI || script == HB_SCRIPT_LAO || script == HB_SCRIPT_KHMER ||
         script == HB_SCRIPT_MYANMAR || script == HB_SCRIPT_TIBETAN;
}

void set_scripts(std::vector<Letter>& letters) {
  hb_script_t last = HB_SCRIPT_COMMON;
  for (Letter& letter : letters) {
    const hb_script_t own = hb_unicode_script(hb_unicode_funcs_get_default(), letter.point);
    if (own != HB_SCRIPT_COMMON && own != HB_SCRIPT_INHERITED) last = own;
    letter.script = last;
  }
  // Leading punctuation goes with the first real script.
  const auto first = std::find_if(letters.begin(), letters.end(),
                                  [](const Letter& letter) { return letter.script != HB_SCRIPT_COMMON; });
  if (first == letters.end()) return;
  for (auto at = letters.begin(); at != first; ++at) at->script = first->script;
}

/// Sets the levels; returns whether the paragraph reads from right to left.
bool set_levels(std::vector<Letter>& letters) {
  std::vector<FriBidiChar> points;
  points.reserve(letters.size());
  for (const Letter& letter : letters) points.push_back(letter.point);
  const auto count = static_cast<FriBidiStrIndex>(points.size());
  std::vector<FriBidiCharType> types(points.size());
  std::vector<FriBidiBracketType> brackets(points.size());
  std::vector<FriBidiLevel> levels(points.size());
  fribidi_get_bidi_types(points.data(), count, types.data());
  fribidi_get_bracket_types(points.data(), count, types.data(), brackets.data());
  FriBidiParType direction = FRIBIDI_PAR_ON;
  if (fribidi_get_par_embedding_levels_ex(types.data(), brackets.data(), count, &direction, levels.data()) ==
      0)
    return false;
  for (std::size_t i = 0; i < letters.size(); ++i) letters[i].level = levels[i];
  return FRIBIDI_IS_RTL(direction);
}

/// A stretch of one level, script and font.
struct Run {
  std::size_t begin = 0;  ///< index of the first letter
  std::size_t end = 0;
};

std::vector<Run> runs_of(const std::vector<Letter>& letters) {
  std::vector<Run> runs;
  for (std::size_t i = 0; i < letters.size(); ++i) {
    const bool same = i > 0 && letters[i].level == letters[i - 1].level &&
                      letters[i].script == letters[i - 1].script && letters[i].font == letters[i - 1].font;
    if (same) {
      runs.back().end = i + 1;
    } else {
      runs.push_back({i, i + 1});
    }
  }
  return runs;
}

/// Rule L2 of Unicode Standard Annex 9: from the highest level down, turn every stretch of that level or
/// more.
void put_in_visual_order(std::vector<Run>& runs, const std::vector<Letter>& letters) {
  const auto level = [&](const Run& run) { return letters[run.begin].level; };
  FriBidiLevel highest = 0;
  for (const Run& run : runs) highest = std::max(highest, level(run));
  for (FriBidiLevel at = highest; at > 0; --at) {
    for (auto begin = runs.begin(); begin != runs.end();) {
      if (level(*begin) < at) {
        ++begin;
        continue;
      }
      auto end = begin;
      while (end != runs.end() && level(*end) >= at) ++end;
      std::reverse(begin, end);
      begin = end;
    }
  }
}

}  // namespace

struct TextShaper::Fonts {
  std::vector<std::unique_ptr<hb_font_t, HbFree>> opened{embedded_fonts().size()};
  std::unique_ptr<hb_buffer_t, HbFree> buffer{hb_buffer_create()};

  hb_font_t* font(std::size_t index) {
    if (!opened[index]) {
      const auto bytes = embedded_fonts()[index].bytes;
      hb_blob_t* blob =
          hb_blob_create(reinterpret_cast<const char*>(bytes.data()), static_cast<unsigned>(bytes.size()),
                         HB_MEMORY_MODE_READONLY, nullptr, nullptr);
      hb_face_t* face = hb_face_create(blob, 0);
      opened[index].reset(hb_font_create(face));
      hb_face_destroy(face);
      hb_blob_destroy(blob);
    }
    return opened[index].get();
  }

  bool has(std::size_t index, std::uint32_t point) {
    hb_codepoint_t glyph = 0;
    if (is_hangul_lead(point) || is_hangul_tail(point)) point = 0xAC00;
    if (is_invisible(point)) return true;
    if (hb_font_get_nominal_glyph(font(index), point, &glyph) == 0) return false;
    // Some fonts name letters that they draw empty.
    hb_glyph_extents_t box{};
    return !is_caseless_letter(point) || hb_font_get_glyph_extents(font(index), glyph, &box) == 0 ||
           (box.width != 0 && box.height != 0);
  }

  /// The first font with the character and all that is attached to it, else with the character alone.
  std::size_t find(const std::vector<Letter>& letters, const Run& cluster, TextFace face) {
    std::size_t base_only = kNoFont;
    const auto fits = [&](std::size_t index) {
      if (!has(index, letters[cluster.begin].point)) return false;
      if (base_only == kNoFont) base_only = index;
      for (std::size_t i = cluster.begin + 1; i < cluster.end; ++i) {
        if (!has(index, letters[i].point)) return false;
      }
      return true;
    };
    if (fits(static_cast<std::size_t>(face))) return static_cast<std::size_t>(face);
    for (std::size_t index = kTextFaces; index < opened.size(); ++index) {
      if (fits(index)) return index;
    }
    return base_only;
  }

  /// Returns how many characters no font has.
  std::size_t set_fonts(std::vector<Letter>& letters, TextFace face) {
    std::size_t missing = 0;
    for (std::size_t begin = 0; begin < letters.size();) {
      std::size_t end = begin + 1;
      while (end < letters.size() && is_attached(letters[end].point)) ++end;
      std::size_t index = find(letters, {begin, end}, face);
      if (index == kNoFont) {
        ++missing;
        index = static_cast<std::size_t>(face);
      }
      // A space takes the font of what stands before it, so that a word gap never splits a run.
      if (letters[begin].point == U' ' && begin > 0 && has(letters[begin - 1].font, U' '))
        index = letters[begin - 1].font;
      for (std::size_t i = begin; i < end; ++i) letters[i].font = index;
      begin = end;
    }
    return missing;
  }

  /// The glyphs of one run from left to right; `cluster` holds the index of its first letter for now.
  std::vector<Glyph> shape_run(const std::vector<Letter>& letters, const Run& run) {
    std::vector<std::uint32_t> points;
    points.reserve(letters.size());
    for (const Letter& letter : letters) points.push_back(letter.point);
    hb_buffer_t* b = buffer.get();
    hb_buffer_clear_contents(b);
    hb_buffer_add_utf32(b, points.data(), static_cast<int>(points.size()), static_cast<unsigned>(run.begin),
                        static_cast<int>(run.end - run.begin));
    const Letter& first = letters[run.begin];
    hb_buffer_set_direction(b, FRIBIDI_LEVEL_IS_RTL(first.level) ? HB_DIRECTION_RTL : HB_DIRECTION_LTR);
    hb_buffer_set_script(b, first.script);
    hb_buffer_set_language(b, hb_language_from_string("und", -1));
    hb_buffer_set_cluster_level(b, HB_BUFFER_CLUSTER_LEVEL_MONOTONE_GRAPHEMES);
    hb_font_t* font = this->font(first.font);
    hb_shape(font, b, nullptr, 0);
    unsigned count = 0;
    const hb_glyph_info_t* infos = hb_buffer_get_glyph_infos(b, &count);
    const hb_glyph_position_t* places = hb_buffer_get_glyph_positions(b, &count);
    const double em = hb_face_get_upem(hb_font_get_face(font));
    std::vector<Glyph> glyphs;
    for (unsigned i = 0; i < count; ++i) {
      glyphs.push_back({first.font, infos[i].codepoint, places[i].x_advance / em, places[i].x_offset / em,
                        places[i].y_offset / em, "", infos[i].cluster, 1});
    }
    return glyphs;
  }
};

TextShaper::TextShaper() : fonts_(std::make_unique<Fonts>()) {}
TextShaper::~TextShaper() = default;

namespace {

/// Hands each cluster its characters and its size. The text goes to the cluster's first glyph.
void name_clusters(std::vector<Glyph>& glyphs, const std::vector<Letter>& letters, const Run& run,
                   std::string_view text) {
  for (std::size_t i = 0; i < glyphs.size();) {
    const std::size_t cluster = glyphs[i].cluster;
    std::size_t end = i + 1;
    while (end < glyphs.size() && glyphs[end].cluster == cluster) ++end;
    // The cluster reaches to the next higher one, which stands to its left when the run reads leftwards.
    std::size_t next = run.end;
    if (end < glyphs.size() && glyphs[end].cluster > cluster) next = glyphs[end].cluster;
    if (i > 0 && glyphs[i - 1].cluster > cluster) next = glyphs[i - 1].cluster;
    for (std::size_t k = i; k < end; ++k) glyphs[k].cluster_size = end - i;
    glyphs[i].text = text.substr(letters[cluster].begin, letters[next - 1].end - letters[cluster].begin);
    i = end;
  }
}

}  // namespace

ShapedText TextShaper::shape(std::string_view utf8, TextFace face) {
  ShapedText shaped;
  std::vector<Letter> letters = read_letters(utf8);
  if (letters.empty()) return shaped;
  for (const Letter& letter : letters) {
    if (letter.point == 0xFFFD) {
      shaped.text += "\xEF\xBF\xBD";
    } else if (letter.point == U' ') {
      shaped.text += ' ';
    } else {
      shaped.text += utf8.substr(letter.begin, letter.end - letter.begin);
    }
  }
  if (shaped.text != utf8) return shape(std::string(shaped.text), face);
  shaped.right_to_left = set_levels(letters);
  set_scripts(letters);
  shaped.missing = fonts_->set_fonts(letters, face);
  std::vector<Run> runs = runs_of(letters);
  put_in_visual_order(runs, letters);
  std::size_t clusters = 0;
  for (const Run& run : runs) {
    std::vector<Glyph> glyphs = fonts_->shape_run(letters, run);
    name_clusters(glyphs, letters, run, utf8);
    std::size_t last = kNoFont;
    for (Glyph& glyph : glyphs) {
      if (glyph.cluster != last) ++clusters;
      last = glyph.cluster;
      glyph.cluster = clusters;
      shaped.width += glyph.advance;
      shaped.glyphs.push_back(std::move(glyph));
    }
  }
  return shaped;
}

std::vector<TextStep> TextShaper::steps(std::string_view utf8, TextFace face) {
  std::vector<Letter> letters = read_letters(utf8);
  if (letters.empty()) return {};
  set_levels(letters);
  set_scripts(letters);
  fonts_->set_fonts(letters, face);
  std::vector<double> advances(letters.size(), 0.0);
  std::vector<bool> begins(letters.size(), false);
  for (const Run& run : runs_of(letters)) {
    for (const Glyph& glyph : fonts_->shape_run(letters, run)) {
      advances[glyph.cluster] += glyph.advance;
      begins[glyph.cluster] = true;
    }
  }
  std::vector<TextStep> steps;
  for (std::size_t i = 0; i < letters.size(); ++i) {
    if (begins[i] || steps.empty()) {
      const std::uint32_t point = letters[i].point;
      const bool space =
          point == U' ' || point == 0x3000 || (point >= 0x2000 && point <= 0x200B && point != 0x2007);
      const bool hyphen =
          point == U'-' || point == U'/' || point == 0x2010 || point == 0x2013 || point == 0x2014;
      steps.push_back(
          {letters[i].end, advances[i], space, space || hyphen || breaks_anywhere(letters[i].script)});
    } else {
      steps.back().end = letters[i].end;
    }
  }
  return steps;
}

}  // namespace kithue
