// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "harness/tally.h"

namespace kithue::harness {

/// Every writing command on a stash of each of the sizes, killed at every system call it makes, one call a
/// run. After each: every file is as before or as after the command, the next command works with no help and
/// leaves no temporary. `fired` counts the kills. With a `step` over 1 each command starts at another call,
/// and only every step-th is tried.
Tally kill_at_every_call(const std::vector<std::size_t>& sizes, std::size_t step = 1);

/// A session of adds, edits, imports and undos in a process of its own, killed from outside at random moments
/// `kills` times. Each change that was acknowledged before the kill is there after it, at most one more is,
/// and the lock of the dead does not hold up the next command.
Tally kill_at_random(int kills, std::uint64_t seed);

/// Every writing command with each of its system calls failing in turn, once and from then on, with each
/// error a disk can give, and with short writes and interrupted calls. After a failure: a status that is not
/// 0, one line that names the file or says why, all files as before, no temporary (after a single fault), no
/// sync repeated. Interruptions and short writes are not noticed. With a `step` over 1 each error starts at
/// another call, and only every step-th is tried.
Tally fail_every_call(const std::vector<std::size_t>& sizes, std::size_t step = 1);

/// `writers` processes that each add `adds` swatches, and `readers` that read all the while. Everything is
/// there at the end, every read is a whole stash.
Tally write_together(int writers, int adds, int readers, int rounds);

/// The holder of the lock is killed `times` times; the next change starts in under 100 ms.
Tally kill_lock_holder(int times);

}  // namespace kithue::harness
