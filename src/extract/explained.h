// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <vector>

#include "extract/candidate.h"

namespace kithue::extract {

/// True when most of its looks show, before any fit, what no colours that are there could mix to.
bool is_vivid(const Candidate& one, const std::vector<Lab>& colours, const std::vector<ThinColour>& found);

/// True when it is no colour of its own. `most_looks`: of the colour that most show.
bool is_explained(const Search& search, const Candidate& one, const std::vector<ThinColour>& found,
                  std::size_t most_looks);

}  // namespace kithue::extract
