// SPDX-License-Identifier: MIT
#include <array>

#include "cli/command.h"
#include "cli/commands.h"

namespace kithue {
namespace {

constexpr std::array<CommandInfo, 0> kCommands{};

}  // namespace

std::span<const CommandInfo> command_table() {
  return kCommands;
}

}  // namespace kithue
