// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "sheet/page.h"

namespace kithue {

/// The document as one HTML page that needs nothing else: no request to anything, no script, and a content
/// policy that forbids both. Each sheet is an SVG at exact size, with real headings, paragraphs and picture
/// texts lying over it unseen, to be searched, copied and read aloud; printed from a browser at 100 % each
/// sheet is a page of its own. It is well-formed XML as well. The same document gives the same bytes.
/// Source: HTML Standard (WHATWG); Content Security Policy Level 3.
std::string html_from(const Document& document);

}  // namespace kithue
