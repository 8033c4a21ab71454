// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <nlohmann/json_fwd.hpp>

#include "base/result.h"
#include "cli/command.h"
#include "kit/allocation.h"

namespace kithue {

/// The patterned paper of so many packs, shared out among the pieces of a kit.
struct SharedPacks {
  std::int64_t packs = 0;
  AllocationJob job;
  Allocation allocation;
};
Result<SharedPacks> share_packs(const Kit& kit, std::int64_t packs);

/// {"packs", "score", "best_score", "proved", "pieces": [{"name", "face", "count"}], "short": [{"name",
/// "missing"}]}. Portions and snippets come first and count for no score.
nlohmann::ordered_json shared_json(const SharedPacks& shared);
void print_shared(Session& session, const SharedPacks& shared);

}  // namespace kithue
