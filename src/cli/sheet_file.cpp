// SPDX-License-Identifier: MIT
#include "cli/sheet_file.h"

#include <algorithm>
#include <ostream>
#include <variant>
#include <vector>

#include "base/files.h"
#include "base/text.h"
#include "sheet/html.h"
#include "sheet/pdf.h"
#include "sheet/svg.h"

namespace kithue {
namespace {

/// A name with letters that no font has is printed with boxes: the user must know before she mails it.
void warn_of_missing_letters(Session& session, const Document& document) {
  std::vector<std::string> told;
  for (const Page& page : document.pages) {
    for (const Block& block : page.blocks) {
      for (const Drawing& item : block.items) {
        const auto* text = std::get_if<TextItem>(&item);
        if (text == nullptr || text->line.missing == 0) continue;
        if (std::find(told.begin(), told.end(), text->line.text) != told.end()) continue;
        told.push_back(text->line.text);
        warn(session, "'" + text->line.text + "' has letters that no built-in font has: they print as boxes");
      }
    }
  }
}

Result<std::string> drawn(const Document& document, SheetFormat format) {
  switch (format) {
    case SheetFormat::pdf:
      return pdf_from(document);
    case SheetFormat::svg:
      return svg_from(document);
    case SheetFormat::html:
      return html_from(document);
  }
  return std::string();
}

/// "kit.pdf" -> "pdf"; empty without an ending.
std::string ending_of(const std::string& path) {
  const std::string name = name_of(path);
  const std::size_t dot = name.rfind('.');
  return dot == std::string::npos || dot == 0 ? "" : folded(name.substr(dot + 1));
}

}  // namespace

std::string_view word_for(SheetFormat format) noexcept {
  switch (format) {
    case SheetFormat::pdf:
      return "pdf";
    case SheetFormat::svg:
      return "svg";
    case SheetFormat::html:
      return "html";
  }
  return "";
}

Result<SheetFormat> sheet_format(const std::string& wanted, const std::string& path) {
  const std::string ending = ending_of(path);
  const auto format_of = [](const std::string& word) -> std::optional<SheetFormat> {
    if (word == "htm") return SheetFormat::html;
    for (const SheetFormat format : {SheetFormat::pdf, SheetFormat::svg, SheetFormat::html}) {
      if (word == word_for(format)) return format;
    }
    return std::nullopt;
  };
  const auto by_ending = format_of(ending);
  const auto by_word = format_of(folded(wanted));
  if (by_word && by_ending && *by_word != *by_ending)
    return Error{ErrorKind::bad_usage,
                 "the file's ending says " + std::string(word_for(*by_ending)) + ", --format says " +
                     std::string(word_for(*by_word)),
                 path, "leave --format out, or change the ending"};
  return by_word.value_or(by_ending.value_or(SheetFormat::pdf));
}

std::string sheet_path(const std::string& kit_path, const std::string& suffix, SheetFormat format) {
  const std::string name = name_of(kit_path);
  const std::size_t dot = name.rfind('.');
  const std::size_t kept =
      dot == std::string::npos || dot == 0 ? kit_path.size() : kit_path.size() - name.size() + dot;
  return kit_path.substr(0, kept) + (suffix.empty() ? "" : "-" + suffix) + "." +
         std::string(word_for(format));
}

MaybeError write_sheet(const Document& document, SheetFormat format, const std::string& path, bool force,
                       Session& session) {
  warn_of_missing_letters(session, document);
  const auto bytes = drawn(document, format);
  if (!bytes) return bytes.error();
  if (path == "-") {
    session.out << *bytes;
    return std::nullopt;
  }
  ReplaceOptions how;
  how.only_if_new = !force;
  how.mode = kSharedMode;
  const auto written = replace_file_atomically(path, *bytes, how);
  if (!written) return written.error();
  if (!written->doubt.empty())
    warn(session, path + ": saved, but a power cut might undo it: " + written->doubt);
  return std::nullopt;
}

}  // namespace kithue
