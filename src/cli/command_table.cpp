// SPDX-License-Identifier: MIT
#include <array>

#include "cli/command.h"
#include "cli/commands.h"

namespace kithue {
namespace {

constexpr std::array kCommands{
    CommandInfo{"extract", "Read the palette out of photos of patterned paper",
                "  kithue extract photos/1a.jpg\n"
                "  kithue extract photos/1a.jpg photos/1b.jpg --crop 5%,5%,90%,90%\n",
                add_extract},
};

}  // namespace

std::span<const CommandInfo> command_table() {
  return kCommands;
}

}  // namespace kithue
