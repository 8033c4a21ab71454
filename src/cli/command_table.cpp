// SPDX-License-Identifier: MIT
#include <array>

#include "cli/command.h"
#include "cli/commands.h"
#include "cli/completion.h"

namespace kithue {
namespace {

constexpr std::array kCommands{
    CommandInfo{"stash", "Keep your swatches: stocks, inks and other things", "", nullptr},
    CommandInfo{
        "stash add", "Add a swatch",
        "  kithue stash add \"Limpet Shell\" --kind stock --lab 78,4,18 --white D50/2\n"
        "  kithue stash add \"Cockle Row\" --method pad --on \"Sailcloth\" --lab 61,-18,-4 --white D65/10\n"
        "  kithue stash add \"Brass Bell\" --kind ink --method \"embossing powder\" --finish metallic\n",
        add_stash_add},
    CommandInfo{"stash list", "List your swatches",
                "  kithue stash list\n"
                "  kithue stash list --kind ink --json\n",
                add_stash_list},
    CommandInfo{"stash show", "Show one swatch with all its readings",
                "  kithue stash show \"Wet Sand\"\n"
                "  kithue stash show id:2 --json\n",
                add_stash_show},
    CommandInfo{"stash edit", "Change a swatch, or give it another reading",
                "  kithue stash edit \"Wet Sand\" --reading 77.6,4.2,18.3 --white D50/2 --batch 2026-03\n"
                "  kithue stash edit \"Wet Sand\" --note \"the last three sheets\"\n",
                add_stash_edit},
    CommandInfo{"stash drift", "Say whether a new batch is still the same colour",
                "  kithue stash drift \"Wet Sand\"\n"
                "  kithue stash drift \"Wet Sand\" --apart 0.8 --stop 1.5\n",
                add_stash_drift},
    CommandInfo{"stash retire", "Mark a swatch as no longer to be had, or bring it back",
                "  kithue stash retire \"Wet Sand\"\n"
                "  kithue stash retire \"Wet Sand\" --back\n",
                add_stash_retire},
    CommandInfo{"stash remove", "Take a swatch out of the stash",
                "  kithue stash remove \"Wet Sand\" --dry-run\n"
                "  kithue stash remove \"Wet Sand\" --force\n",
                add_stash_remove},
    CommandInfo{"stash import", "Take in readings from a spreadsheet or an instrument (CSV, CGATS)",
                "  kithue stash import readings.csv --dry-run\n"
                "  kithue stash import readings.csv --kind stock --white D65/10\n",
                add_stash_import},
    CommandInfo{"stash export", "Write the whole stash as CSV or CGATS",
                "  kithue stash export\n"
                "  kithue stash export --output stash.csv --force\n",
                add_stash_export},
    CommandInfo{"stash undo", "Take back the last change, up to 20 of them",
                "  kithue stash undo --dry-run\n"
                "  kithue stash undo\n",
                add_stash_undo},
    CommandInfo{"stash check", "Check that the stash is sound, and find twins and odd readings",
                "  kithue stash check\n"
                "  kithue stash check --json\n",
                add_stash_check},
    CommandInfo{"extract", "Read the palette out of photos of patterned paper",
                "  kithue extract photos/1a.jpg\n"
                "  kithue extract photos/1a.jpg photos/1b.jpg --crop 5%,5%,90%,90%\n",
                add_extract},
    CommandInfo{"measure", "Take readings off chips in a scan or photo",
                "  kithue measure photos/1a.jpg --grid 4x6\n"
                "  kithue measure photos/1a.jpg --grid 2x2 --within 10%,10%,80%,80% --known \"1=Wet Sand\"\n"
                "  kithue measure photos/1a.jpg --grid 2x2 --known \"1=Wet Sand\" --name \"2=Dune\" --kind "
                "stock -n\n",
                add_measure},
    CommandInfo{"match", "Find the nearest swatches you own, with the difference in words",
                "  kithue match \"lab(52 43 21)\"\n"
                "  kithue match \"Wet Sand\" --kind ink -n 3\n",
                add_match},
    CommandInfo{"clash", "Say which of two or more colours clash when they touch, and why",
                "  kithue clash \"Wet Sand\" \"Sailcloth\"\n"
                "  kithue clash \"Wet Sand\" \"lab(80 4 17)\" \"#1d3557\" --why\n"
                "  kithue clash --kit kit.toml\n"
                "  kithue clash \"Wet Sand\" \"Sailcloth\" --picture pairs.svg --force\n",
                add_clash},
    CommandInfo{"kit", "Look after a kit: its cards, pieces and stamps", "", nullptr},
    CommandInfo{
        "kit new", "Write a kit file with notes in it, by asking or from options",
        "  kithue kit new april.toml --kits 24 --force\n"
        "  kithue kit new april.toml --photo photos/1a.jpg photos/1b.jpg --page Letter --force --no-input\n",
        add_kit_new},
    CommandInfo{"kit check", "List all that is wrong with a kit, worst first, with what to do",
                "  kithue kit check kit.toml\n"
                "  kithue kit check kit.toml --json\n",
                add_kit_check},
    CommandInfo{"kit count", "Count the sheets, packs, portions, dots and inks that a kit takes",
                "  kithue kit count kit.toml\n"
                "  kithue kit count kit.toml -o count.csv --force\n"
                "  kithue kit count kit.toml --packs 4\n",
                add_kit_count},
    CommandInfo{"kit cut", "Plan how to cut every sheet, edge to edge, with running totals",
                "  kithue kit cut kit.toml\n"
                "  kithue kit cut kit.toml --paper \"Sailcloth\" --json\n",
                add_kit_cut},
    CommandInfo{"kit scraps", "Say what can be cut from scraps, and what a kit leaves over",
                "  kithue kit scraps kit.toml\n"
                "  kithue kit scraps kit.toml --keep --dry-run\n",
                add_kit_scraps},
    CommandInfo{"kit repeat", "Say which earlier kit is nearest in palette",
                "  kithue kit repeat kit.toml --remember\n"
                "  kithue kit repeat kit.toml --most 3\n",
                add_kit_repeat},
    CommandInfo{"sheet", "Draw the sheets of a kit as PDF, SVG or HTML",
                "  kithue sheet kit.toml\n"
                "  kithue sheet kit.toml --kit -o harbour-morning.pdf --page letter --force\n"
                "  kithue sheet kit.toml --pattern-strip --cut --colour-map -o harbour-morning.html --force\n"
                "  kithue sheet kit.toml --student --for readings.csv --force\n"
                "  kithue sheet --printer-check -o printer-check.pdf --force\n",
                add_sheet},
    CommandInfo{"standin", "Find what you own that replaces a missing or retired colour",
                "  kithue standin \"Sunburnt Nose\"\n"
                "  kithue standin \"Wet Sand\" --with \"Sailcloth\" --with \"Net Cord\" -n 3\n"
                "  kithue standin \"Wet Sand\" \"Net Cord\" --for readings.csv\n",
                add_standin},
    CommandInfo{"overprint", "Predict the colour of an ink on a coloured stock, and whether words read",
                "  kithue overprint \"Spindrift\" \"Wet Sand\"\n"
                "  kithue overprint \"Spindrift\" \"Wet Sand\" --strength 0.5\n",
                add_overprint},
    CommandInfo{"light", "Say whether a match holds under other lights",
                "  kithue light \"Wet Sand\" \"Sailcloth\"\n"
                "  kithue light \"Wet Sand\" \"Net Cord\" --reference D50 --observer 2\n",
                add_light},
    CommandInfo{"harmony", "Build colour sets around one colour from what you own",
                "  kithue harmony \"Thrift Cushion\"\n"
                "  kithue harmony \"lab(52 43 21)\" --kind stock --circle painter\n"
                "  kithue harmony \"Thrift Cushion\" --picture sets.svg --force\n",
                add_harmony},
    CommandInfo{"tones", "Find inks and stocks of yours for tone-on-tone stamping",
                "  kithue tones\n"
                "  kithue tones \"Wet Sand\" --readable\n",
                add_tones},
    CommandInfo{"choose", "Choose the best inks for a whole pack, and prove it",
                "  kithue choose kit.toml\n"
                "  kithue choose kit.toml --fewest --within 8\n"
                "  kithue choose kit.toml --kind mat -n 2 --why\n"
                "  kithue choose kit.toml --kind mat -n 2 --picture cards.svg --force\n",
                add_choose},
    CommandInfo{"completion", "Print what makes a shell complete commands, options and names",
                "  kithue completion bash\n"
                "  kithue completion fish\n",
                add_completion},
};

}  // namespace

std::span<const CommandInfo> command_table() {
  return kCommands;
}

}  // namespace kithue
