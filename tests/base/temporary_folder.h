// SPDX-License-Identifier: MIT
#pragma once

#include "harness/temporary_folder.h"
