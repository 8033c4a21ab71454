// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>

namespace CLI {
class App;
}

namespace kithue {

/// The help of one command, or of the whole program for the top App: summary, usage, examples, options;
/// wrapped to `columns`, which may be as small as 40.
std::string help_text(const CLI::App& at, std::size_t columns);

}  // namespace kithue
