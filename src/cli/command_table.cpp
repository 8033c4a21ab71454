// SPDX-License-Identifier: MIT
#include <array>

#include "cli/command.h"
#include "cli/commands.h"

namespace kithue {
namespace {

constexpr std::array kCommands{
    CommandInfo{"stash", "Keep your swatches: stocks, inks and other things", "", nullptr},
    CommandInfo{
        "stash add", "Add a swatch",
        "  kithue stash add \"Wet Sand\" --kind stock --lab 78,4,18\n"
        "  kithue stash add \"Sea Glass\" --method pad --on \"Sailcloth\" --lab 61,-18,-4 --white D65/10\n"
        "  kithue stash add \"Brass Bell\" --kind ink --method \"embossing powder\" --finish metallic\n",
        add_stash_add},
    CommandInfo{"stash list", "List your swatches",
                "  kithue stash list\n"
                "  kithue stash list --kind ink --json\n",
                add_stash_list},
    CommandInfo{"extract", "Read the palette out of photos of patterned paper",
                "  kithue extract photos/1a.jpg\n"
                "  kithue extract photos/1a.jpg photos/1b.jpg --crop 5%,5%,90%,90%\n",
                add_extract},
    CommandInfo{"match", "Find the nearest swatches you own, with the difference in words",
                "  kithue match \"lab(52 43 21)\"\n"
                "  kithue match \"Wet Sand\" --kind ink -n 3\n",
                add_match},
    CommandInfo{"clash", "Say which of two or more colours clash when they touch, and why",
                "  kithue clash \"Wet Sand\" \"Sailcloth\"\n"
                "  kithue clash \"Wet Sand\" \"lab(80 4 17)\" \"#1d3557\" --why\n",
                add_clash},
};

}  // namespace

std::span<const CommandInfo> command_table() {
  return kCommands;
}

}  // namespace kithue
