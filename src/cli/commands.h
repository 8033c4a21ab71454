// SPDX-License-Identifier: MIT
#pragma once

#include "cli/command.h"

namespace kithue {

// One line a command: each binds its options to CLI11 and leaves the call in the Invocation.
void add_stash_add(CLI::App& command, Invocation& call);
void add_stash_list(CLI::App& command, Invocation& call);
void add_stash_show(CLI::App& command, Invocation& call);
void add_stash_edit(CLI::App& command, Invocation& call);
void add_stash_retire(CLI::App& command, Invocation& call);
void add_stash_remove(CLI::App& command, Invocation& call);
void add_stash_import(CLI::App& command, Invocation& call);
void add_stash_export(CLI::App& command, Invocation& call);
void add_stash_drift(CLI::App& command, Invocation& call);
void add_stash_undo(CLI::App& command, Invocation& call);
void add_stash_check(CLI::App& command, Invocation& call);
void add_extract(CLI::App& command, Invocation& call);
void add_match(CLI::App& command, Invocation& call);
void add_clash(CLI::App& command, Invocation& call);
void add_sheet(CLI::App& command, Invocation& call);
void add_standin(CLI::App& command, Invocation& call);
void add_overprint(CLI::App& command, Invocation& call);
void add_harmony(CLI::App& command, Invocation& call);
void add_measure(CLI::App& command, Invocation& call);
void add_light(CLI::App& command, Invocation& call);
void add_tones(CLI::App& command, Invocation& call);
void add_kit_check(CLI::App& command, Invocation& call);
void add_kit_new(CLI::App& command, Invocation& call);
void add_kit_count(CLI::App& command, Invocation& call);
void add_kit_cut(CLI::App& command, Invocation& call);
void add_kit_repeat(CLI::App& command, Invocation& call);
void add_kit_scraps(CLI::App& command, Invocation& call);
void add_choose(CLI::App& command, Invocation& call);

}  // namespace kithue
