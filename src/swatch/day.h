// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

namespace kithue {

/// A day as ISO 8601 ("2026-03-14") from how instruments and spreadsheets write it: "2026/3/14",
/// "14.3.2026", "14 March 2026", "March 14, 2026", "Fri Mar 14 10:22:05 2026", any of them with a time.
/// Empty when the text is none of these, or could be two days ("3/4/2026"): a day is never guessed.
std::string day_from(std::string_view text);

}  // namespace kithue
