// SPDX-License-Identifier: MIT
#pragma once

#include "cli/command.h"
#include "harness/run.h"

namespace kithue_test {

using kithue::harness::Run;
using kithue::harness::run;

}  // namespace kithue_test
