// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "base/markup.h"

using kithue::base64;
using kithue::markup_text;

TEST_CASE("markup_text: the five characters of markup become entities") {
  CHECK(markup_text("a<b>&\"'c") == "a&lt;b&gt;&amp;&quot;&#39;c");
  CHECK(markup_text("&amp;") == "&amp;amp;");
}

TEST_CASE("markup_text: what XML 1.0 has no place for is gone") {
  // W3C XML 1.0, production 2: no control characters, no U+FFFE, no U+FFFF.
  CHECK(markup_text("\x01") == "\\x01");
  CHECK(markup_text("a\xEF\xBF\xBE") == "a\xEF\xBF\xBD");
  CHECK(markup_text("\xEF\xBF\xBF") == "\xEF\xBF\xBD");
  CHECK(markup_text("\xFF") == "\\xff");
}

TEST_CASE("base64: the examples of RFC 4648, section 10") {
  CHECK(base64("").empty());
  CHECK(base64("f") == "Zg==");
  CHECK(base64("fo") == "Zm8=");
  CHECK(base64("foo") == "Zm9v");
  CHECK(base64("foob") == "Zm9vYg==");
  CHECK(base64("fooba") == "Zm9vYmE=");
  CHECK(base64("foobar") == "Zm9vYmFy");
}
