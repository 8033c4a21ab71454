// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "swatch/stash.h"

namespace kithue {

/// The version of the file format that this program writes and the newest it reads.
inline constexpr int kStashVersion = 1;

/// The whole stash as one CGATS.17 (ISO 28178) text: UTF-8, LF, same stash = same bytes.
///
/// First table: a row a swatch. Second table: a row a reading, with a SPECTRAL_nnn column for every
/// wavelength that occurs. Text is always in double quotes; inside it \u0022 stands for a double quote,
/// \\ for a backslash, \n for a line end and \u00nn for any other control character, because other readers
/// know no escape for a quote inside quotes. "-" stands where there is no number. The last line is a comment
/// with the checksum of all bytes before it.
std::string stash_text(const Stash& stash);

/// Reads it back: parse_stash(stash_text(s)) == s for every stash of valid UTF-8 text and finite numbers.
/// `name` is the file's, for messages.
/// Errors: damaged (checksum, counts or content do not agree); too_new; never a part of a stash.
Result<Stash> parse_stash(std::string_view bytes, const std::string& name);

/// The same without asking for a checksum that fits, for a file that was edited by hand or by another
/// program. Errors: bad_input with the line; too_new.
Result<Stash> parse_edited_stash(std::string_view bytes, const std::string& name);

/// True when the text says that it is a stash of this program.
bool is_stash_text(std::string_view bytes);

/// Text with the escapes of stash_text(), and back. Unknown escapes stay as they are.
std::string escaped_text(std::string_view text);
std::string unescaped_text(std::string_view text);

}  // namespace kithue
