# SPDX-License-Identifier: MIT
# The fonts that are built into the program: TrueType outlines under licences that allow it (SIL OFL 1.1;
# Droid Sans Fallback: Apache 2.0). NanumSquareR has all 11,172 Hangul syllables in 0.7 MB.
# Order matters: the first font that has a character sets it.
# Makes ${CMAKE_CURRENT_BINARY_DIR}/fonts.S and .../embedded_fonts.inc.
set(noto Arabic Hebrew Devanagari Thai Armenian Georgian Bengali Tamil Telugu Kannada Malayalam Gujarati Gurmukhi
  Oriya Sinhala Ethiopic Khmer Lao Myanmar Cherokee CanadianAboriginal Mongolian Syriac Thaana NKo Tifinagh
  Javanese Symbols Symbols2 Math)
list(TRANSFORM noto PREPEND NotoSans)
list(TRANSFORM noto APPEND -Regular)
set(embedded_fonts Lato-Regular Lato-Bold Lato-Light NotoSans-Regular ${noto} NotoSerifTibetan-Regular
  NanumSquareR DroidSansFallbackFull)

set(assembly "/* Made by the build from the list in src/sheet/fonts.cmake. */
#ifdef __APPLE__
#define NAME(x) _##x
	.const
#else
#define NAME(x) x
	.section .rodata.fonts, \"a\"
#endif
")
set(rows "")
set(font_files "")
foreach(font IN LISTS embedded_fonts)
  string(MAKE_C_IDENTIFIER font_${font} symbol)
  find_file(KITHUE_${symbol} ${font}.ttf
    PATHS /usr/share/fonts/truetype /usr/share/fonts /usr/local/share/fonts
    PATH_SUFFIXES lato noto droid nanum truetype/lato truetype/noto truetype/droid truetype/nanum)
  if(NOT KITHUE_${symbol})
    message(FATAL_ERROR "The font ${font}.ttf is missing. On Debian: apt install fonts-lato fonts-noto-core "
      "fonts-nanum fonts-droid-fallback. Elsewhere: cmake -D KITHUE_${symbol}=/path/to/${font}.ttf")
  endif()
  list(APPEND font_files ${KITHUE_${symbol}})
  string(APPEND assembly "	.balign 16
	.globl NAME(kithue_${symbol}_begin), NAME(kithue_${symbol}_end)
NAME(kithue_${symbol}_begin):
	.incbin \"${KITHUE_${symbol}}\"
NAME(kithue_${symbol}_end):
	.byte 0
")
  string(APPEND rows "KITHUE_FONT(${symbol}, \"${font}\")\n")
endforeach()
string(APPEND assembly "#ifdef __ELF__
	.section .note.GNU-stack, \"\", %progbits
#endif
")
file(CONFIGURE OUTPUT fonts.S CONTENT "${assembly}" @ONLY)
file(CONFIGURE OUTPUT embedded_fonts.inc CONTENT "${rows}" @ONLY)
set_source_files_properties(${CMAKE_CURRENT_BINARY_DIR}/fonts.S PROPERTIES OBJECT_DEPENDS "${font_files}")
target_sources(kithue_sheet PRIVATE ${CMAKE_CURRENT_BINARY_DIR}/fonts.S)
target_include_directories(kithue_sheet PRIVATE ${CMAKE_CURRENT_BINARY_DIR})

# The licences travel with the program that holds the fonts.
foreach(package lato noto-core nanum droid-fallback)
  if(EXISTS /usr/share/doc/fonts-${package}/copyright)
    install(FILES /usr/share/doc/fonts-${package}/copyright DESTINATION share/doc/kithue
      RENAME fonts-${package}-licence.txt)
  endif()
endforeach()
