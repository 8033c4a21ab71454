// SPDX-License-Identifier: MIT
#pragma once

#include <random>
#include <set>
#include <string>
#include <vector>

#include "swatch/edit.h"
#include "swatch/stash.h"

namespace kithue::testing {

/// Names and notes that break careless readers and writers. All are valid UTF-8 without control characters.
inline const std::vector<std::string>& hostile_texts() {
  static const std::vector<std::string> texts{"Wet Sand",
                                              "Teal#2",
                                              "He said \"hi\"",
                                              "5\" strip",
                                              "\"",
                                              "\"\"",
                                              "\"quoted\"",
                                              "Blå",
                                              "Blå grøn",
                                              "0123",
                                              "1e3",
                                              "12lb",
                                              "0x1F",
                                              "3.50",
                                              "O'Neil",
                                              "'apostrophe",
                                              "''",
                                              "END_DATA",
                                              "BEGIN_DATA",
                                              "NUMBER_OF_SETS 9",
                                              "-dash",
                                              "- dash",
                                              "semi;colon",
                                              "comma,here",
                                              "name%s",
                                              "back\\slash",
                                              "\\n",
                                              "\\u0022",
                                              "\\\\u0041",
                                              "\\",
                                              "=1+2",
                                              "+cmd",
                                              "-2+3",
                                              "@SUM(A1)",
                                              "＝1+1",
                                              "＋1",
                                              "－1",
                                              "＠x",
                                              "\xEF\xBC\x9D",
                                              "砂浜",
                                              "شاطئ",
                                              "🐚 shell",
                                              "a\xE2\x80\xAEtxt",
                                              "a\xCC\x81",
                                              "\xC3\xA1",
                                              "# comment",
                                              "CGATS.17",
                                              "true",
                                              "null",
                                              "NaN",
                                              "inf",
                                              "1,5",
                                              "1;5",
                                              "../../etc/x",
                                              "<b>&amp;",
                                              "$(touch x)",
                                              "`id`",
                                              "%0a",
                                              "name (marker)",
                                              "(pad)",
                                              "#123",
                                              "id:7",
                                              "17",
                                              "A|B",
                                              "yes",
                                              "no",
                                              "=",
                                              "\xC2\xA0nbsp",
                                              "\xEF\xBB\xBF"
                                              "bom",
                                              "𝔐𝔞𝔱𝔥",
                                              "ǅ"};
  return texts;
}

/// Valid stashes: unique name, kind and method; any finite number; spectra on a few grids.
class RandomStash {
 public:
  explicit RandomStash(unsigned seed) : random_(seed) {}

  Stash make(std::size_t most_swatches) {
    Stash stash;
    std::set<std::string> used;
    const std::size_t count = below(most_swatches + 1);
    for (std::size_t i = 0; i < count; ++i) {
      stash.next_id += static_cast<int>(below(3));
      Swatch swatch = one();
      if (!used.insert(swatch.name + '\n' + std::string(word_for(swatch.kind)) + '\n' + swatch.method).second)
        continue;
      append_swatch(stash, std::move(swatch));
    }
    return stash;
  }

  std::size_t below(std::size_t limit) { return limit == 0 ? 0 : random_() % limit; }

 private:
  std::string text() {
    if (below(3) == 0) return {};
    return name();
  }
  std::string name() {
    const auto& texts = hostile_texts();
    std::string made = texts[below(texts.size())];
    if (below(2) == 0) made += " " + texts[below(texts.size())];
    return *valid_name(made);
  }
  double number(double low, double high) {
    if (below(4) == 0) return low + static_cast<double>(below(100)) / 99.0 * (high - low);
    return std::uniform_real_distribution<double>(low, high)(random_);
  }
  Reading reading() {
    Reading one;
    one.lab = {number(0, 100), number(-120, 120), number(-120, 120)};
    if (below(3) == 0) {
      one.white = "D65/10";
      one.adapted = "Bradford from D65/10";
    }
    one.source = text();
    if (below(2) == 0) one.date = "2026-03-1" + std::to_string(below(10));
    one.batch = text();
    one.surface = text();
    one.dryness = below(3) == 0 ? Dryness::wet : below(2) == 0 ? Dryness::dry : Dryness::unknown;
    if (below(2) == 0) one.condition = "M" + std::to_string(below(4));
    one.note = text();
    if (below(2) == 0) one.error_de00 = number(0, 3);
    if (below(3) == 0) {
      one.start_nm = below(2) == 0 ? 380 : 400;
      one.step_nm = below(3) == 0 ? 10.0 / 3.0 : below(2) == 0 ? 20 : 10;
      const std::size_t bands = 3 + below(5);
      for (std::size_t i = 0; i < bands; ++i) one.spectrum.push_back(number(0, 1.2));
    }
    return one;
  }
  Swatch one() {
    Swatch swatch;
    swatch.name = name();
    swatch.kind = below(2) == 0 ? Kind::stock : below(4) == 0 ? Kind::other : Kind::ink;
    if (swatch.kind == Kind::ink) {
      swatch.method = text();
      swatch.surface = text();
    }
    swatch.finish = below(6) == 0 ? Finish::unmeasurable : Finish::plain;
    swatch.retired = below(4) == 0;
    swatch.in_stock = below(4) != 0;
    swatch.batch = text();
    swatch.note = text();
    const std::size_t readings = below(4);
    for (std::size_t i = 0; i < readings; ++i) swatch.readings.push_back(reading());
    return swatch;
  }

  std::mt19937 random_;
};

}  // namespace kithue::testing
