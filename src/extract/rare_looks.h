// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "extract/looks.h"
#include "extract/mixture.h"

namespace kithue::extract {

/// True when a colour is vivid and far from all that the known colours could mix to.
bool is_unlike_all(const Lab& lab, const Mixtures& mixtures);

/// Looks at small things of a vivid colour that hardly a look has met: the hue of such cores is shared by few
/// of `looks`, which were taken evenly from `cores`. Those looks stand for fewer cores then.
void add_rare_looks(std::vector<Look>& looks, const std::vector<Core>& cores, const std::vector<Lab>& known,
                    const Cutter& cutter, int side, Executor& executor);

}  // namespace kithue::extract
