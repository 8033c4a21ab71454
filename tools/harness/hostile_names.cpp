// SPDX-License-Identifier: MIT
#include "harness/names.h"

namespace kithue::harness {

/// Invented, after the kinds that the OWASP cheat sheets and CVE reports of terminals, spreadsheets and
/// shells describe.
std::vector<std::string> hostile_names() {
  std::vector<std::string> names;
  // Terminals: colours, titles, clipboard, device reports, deleted characters, 8-bit controls.
  for (const char* body :
       {"[31mred", "]0;title\a", "]52;c;aGk=\a", "[6n", "c", "[2J", "[1A[2K", "P+q544e\x1b\\", "#8", "(0"}) {
    names.push_back(std::string("x\x1b") + body);
    names.push_back(std::string("\x1b") + body + " sand");
    names.push_back(std::string("\xC2\x9B") + body);
  }
  for (int code = 0; code < 0x20; ++code) names.push_back(std::string("a") + static_cast<char>(code) + "b");
  names.emplace_back(
      "a\x7F"
      "b");
  for (int code = 0x80; code < 0xA0; code += 3)
    names.push_back(std::string("c\xC2") + static_cast<char>(code) + "d");
  // Direction marks and line separators.
  for (const char* mark :
       {"\xE2\x80\xAA", "\xE2\x80\xAB", "\xE2\x80\xAC", "\xE2\x80\xAD", "\xE2\x80\xAE", "\xE2\x81\xA6",
        "\xE2\x81\xA7", "\xE2\x81\xA8", "\xE2\x81\xA9", "\xE2\x80\xA8", "\xE2\x80\xA9"})
    names.push_back(std::string("safe") + mark + "txt.exe");
  // Forged lines.
  for (const char* text :
       {"a\nkithue: saved", "a\r\nname,kind", "a\rkithue: done", "x\n49 swatches", "a\\nb", "a\vb"})
    names.emplace_back(text);
  // Spreadsheets.
  for (const char* text : {"=1+2", "+1+2", "-1+2", "@SUM(A1)", "\t=1", "\r=1",
                           "=HYPERLINK(\"http://x\",\"y\")", "=cmd|' /C calc'!A0",
                           "\xEF\xBC\x9D"
                           "1+2",
                           "\xEF\xBC\x8B"
                           "1",
                           "\xEF\xBC\x8D"
                           "1",
                           "\xEF\xBC\xA0"
                           "x",
                           "'=1", "''", "\"=1\"", ";=1", " =1", "%0A=1"})
    names.emplace_back(text);
  // Pages, pictures and sheets.
  for (const char* text : {"<script>alert(1)</script>",
                           "\"><img src=x onerror=alert(1)>",
                           "'><svg onload=alert(1)>",
                           "</text><text>",
                           "]]><x>",
                           "<!-- x",
                           "-->",
                           "&lt;b&gt;",
                           "&#x3c;b&#x3e;",
                           "</style>",
                           "javascript:alert(1)",
                           "<?xml?>",
                           "<!DOCTYPE x>",
                           ") Tj ET endstream endobj",
                           "(paren",
                           "paren)",
                           "\\)",
                           "<48>",
                           "%%EOF",
                           "endobj",
                           "/Launch",
                           "BT ET",
                           "\\(",
                           "{{7*7}}",
                           "${x}"})
    names.emplace_back(text);
  // Shells and files.
  for (const char* text :
       {"$(touch x)",  "`touch x`", "; touch x", "| touch x", "&& touch x", "> x",        "../../x",
        "/etc/passwd", "C:\\x",     "CON",       "nul.txt",   "-rf",        "--stash=/x", "~",
        "*",           "?",         "!!",        "$HOME",     "%PATH%",     "\"",         "'",
        "a\"b",        "a'b",       "id:1",      "#1",        "1"})
    names.emplace_back(text);
  // Broken and odd text.
  for (const char* text :
       {"\xFF", "\xC0\xAF", "a\xE2\x82", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xEF\xBB\xBFx", "\xE2\x80\x8B",
        "e\xCC\x81\xCC\x81\xCC\x81", "\xF0\x9F\x90\x9A", "\xD8\xB4\xD8\xA7\xD8\xB7\xD8\xA6"})
    names.emplace_back(text);
  names.emplace_back(5000, 'x');
  names.emplace_back(std::string(199, 'x') + "\n");
  return names;
}

}  // namespace kithue::harness
