// SPDX-License-Identifier: MIT
#include "harness/crash.h"

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <random>

#include "base/files.h"
#include "harness/faulty_calls.h"
#include "harness/scene.h"
#include "swatch/stash_file.h"
#include "swatch/store.h"

namespace kithue::harness {
namespace {

using testing::FaultyCalls;

constexpr int kKilled = 9;  // what FaultyCalls ends the process with

/// Runs in a child process; gives back its exit status, or -1 when a signal ended it.
template <typename Body>
int in_child(Body body) {
  const pid_t child = ::fork();
  if (child == 0) ::_exit(body());
  int status = 0;
  if (child < 0 || ::waitpid(child, &status, 0) != child) return -1;
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

/// What a user would look at: the stash and the outputs, without lock, versions and temporaries.
bool same_results(const Files& files, const Files& other, const WritingCommand& command) {
  return text_of(files, "stash.cgats") == text_of(other, "stash.cgats") &&
         (command.output.empty() || text_of(files, command.output) == text_of(other, command.output));
}

struct Outcome {
  Files before;
  Files after;
};

/// The files before and after the command when nothing goes wrong.
Outcome undisturbed(const Files& start, const WritingCommand& command) {
  const Scene scene(start);
  Outcome outcome{scene.files(), {}};
  static_cast<void>(scene.run(command.args));
  outcome.after = scene.files();
  return outcome;
}

/// Empty when the program goes on as if nothing had been; else what is wrong.
std::string next_command_fault(const Scene& scene, const WritingCommand& command) {
  const Run next =
      scene.run({"stash", "add", "Next", "--kind", "stock", "--lab", "40,1,2", "--white", "D50/2"});
  if (next.status != 0) return "the next change fails: " + next.err;
  if (!command.output.empty()) {
    std::vector<std::string> again = command.args;
    if (command.overwrites) again.emplace_back("--force");
    const Run second = scene.run(again);
    if (second.status != 0) return "doing it again fails: " + second.err;
  }
  if (scene.temporaries() != 0) return "a temporary stays";
  return {};
}

std::string place(const WritingCommand& command, std::size_t size, const FaultyCalls& calls, std::size_t n) {
  return command.name + " on " + std::to_string(size) + " swatches, call " + std::to_string(n) +
         (calls.log.empty() ? "" : " (" + calls.log.back() + ")") + ": ";
}

}  // namespace

Tally kill_at_every_call(const std::vector<std::size_t>& sizes, std::size_t step) {
  Tally tally{.name = "kill at every system call"};
  std::size_t turn = 0;
  for (const std::size_t size : sizes) {
    const Files& start = scene_files(size);
    for (const WritingCommand& command : writing_commands()) {
      const Outcome outcome = undisturbed(start, command);
      for (std::size_t n = 1 + turn++ % step;; n += step) {
        const Scene scene(start);
        FaultyCalls calls;
        calls.fail_at = n;
        calls.die = true;
        const int status = in_child([&] {
          const SystemCallsStandIn standing(calls);
          return scene.run(command.args).status == 0 ? 0 : 1;
        });
        ++tally.tried;
        if (status != kKilled) {
          if (status < 0) tally.fail(place(command, size, calls, n) + "the program crashed");
          break;
        }
        ++tally.fired;
        const Files now = scene.files();
        if (!same_results(now, outcome.before, command) && !same_results(now, outcome.after, command))
          tally.fail(place(command, size, calls, n) + "neither old nor new");
        if (const std::string fault = next_command_fault(scene, command); !fault.empty())
          tally.fail(place(command, size, calls, n) + fault);
      }
    }
  }
  return tally;
}

namespace {

struct FaultKind {
  int error = 0;  ///< errno; 0 = short writes
  bool from_then_on = false;
  std::size_t most_written = 0;  ///< short writes of this many bytes
};

std::vector<FaultKind> fault_kinds() {
  std::vector<FaultKind> kinds;
  for (const int error : {ENOSPC, EDQUOT, EIO, EACCES, EROFS, EMFILE}) {
    kinds.push_back({error, false, 0});
    kinds.push_back({error, true, 0});
  }
  return kinds;
}

void check_fault(Tally& tally, const std::string& where, const WritingCommand& command,
                 const Outcome& outcome, const Scene& scene, const Run& run, const FaultyCalls& calls,
                 bool lasting) {
  const Files now = scene.files();
  const bool is_new = same_results(now, outcome.after, command);
  const bool is_old = same_results(now, outcome.before, command);
  if (run.status == 0 && !is_new) tally.fail(where + "said done, but it is not");
  if (run.status != 0 && !is_old) tally.fail(where + "failed, but something changed");
  if (run.status != 0 && run.err.find("kithue: ") == std::string::npos) tally.fail(where + "no message");
  if (run.status == static_cast<int>(70)) tally.fail(where + "our fault: " + run.err);
  if (calls.syncs_after_failed_sync != 0) tally.fail(where + "a failed sync was repeated");
  if (!lasting && scene.temporaries() != 0) tally.fail(where + "a temporary stays");
  if (!load_stash(scene.stash()).has_value()) tally.fail(where + "the stash does not load");
}

/// EINTR on every call that may give it, and writes of a few bytes at a time: the result must not differ.
void check_invisible(Tally& tally, const WritingCommand& command, std::size_t size, const Files& start,
                     const Outcome& outcome) {
  for (const std::size_t interrupts : {std::size_t{0}, std::size_t{1}, std::size_t{2}, std::size_t{3}}) {
    for (const std::size_t most : {std::size_t{1}, std::size_t{1000}, std::size_t{0}}) {
      if (interrupts == 0 && most == 0) continue;
      if (interrupts == 1) continue;  // every call interrupted for ever: nothing could go on
      if (most == 1 && size > 1) continue;
      const Scene scene(start);
      FaultyCalls calls;
      calls.interrupts = interrupts;
      calls.most_written = most;
      Run run;
      {
        const SystemCallsStandIn standing(calls);
        run = scene.run(command.args);
      }
      ++tally.tried;
      if (calls.fired + calls.cut_short > 0) ++tally.fired;
      if (!same_results(scene.files(), outcome.after, command))
        tally.fail(command.name + ": short or interrupted calls are noticed: " + run.err);
    }
  }
}

}  // namespace

Tally fail_every_call(const std::vector<std::size_t>& sizes, std::size_t step) {
  Tally tally{.name = "I/O faults"};
  std::size_t turn = 0;
  for (const std::size_t size : sizes) {
    const Files& start = scene_files(size);
    for (const WritingCommand& command : writing_commands()) {
      const Outcome outcome = undisturbed(start, command);
      for (const FaultKind& kind : fault_kinds()) {
        for (std::size_t n = 1 + turn++ % step;; n += step) {
          const Scene scene(start);
          FaultyCalls calls;
          calls.fail_at = n;
          calls.fault = kind.error;
          calls.from_then_on = kind.from_then_on;
          Run run;
          {
            const SystemCallsStandIn standing(calls);
            run = scene.run(command.args);
          }
          ++tally.tried;
          if (calls.fired == 0) break;
          ++tally.fired;
          check_fault(tally, place(command, size, calls, n), command, outcome, scene, run, calls,
                      kind.from_then_on);
        }
      }
      check_invisible(tally, command, size, start, outcome);
    }
  }
  return tally;
}

namespace {

/// The script of a session: step k, always the same for the same k.
std::vector<std::string> session_step(int k) {
  const std::string name = "step " + std::to_string(k);
  switch (k % 4) {
    case 1:
      return {"stash", "edit", "step " + std::to_string(k - 1), "--note", "note " + std::to_string(k)};
    case 3:
      return {"stash", "edit", "step " + std::to_string(k - 1), "--reading", "33,1,2", "--white", "D50/2"};
    default:
      return {"stash", "add", name, "--kind", "ink", "--lab", "30,1,2", "--white", "D50/2"};
  }
}

/// How many steps of the script the stash has seen; -1 when it is in no state of the script.
int steps_in(const std::string& path) {
  const auto stash = load_stash(path);
  if (!stash) return -1;
  if (!*stash) return 0;
  int steps = 0;
  for (const Swatch& swatch : (*stash)->swatches) {
    const bool edited = steps % 4 == 0 ? !swatch.note.empty() : swatch.readings.size() == 2;
    if (swatch.name != "step " + std::to_string(steps)) return -1;
    steps += 2;
    if (!edited) {
      if (&swatch != &(*stash)->swatches.back()) return -1;
      --steps;
    }
  }
  return steps;
}

}  // namespace

Tally kill_at_random(int kills, std::uint64_t seed) {
  constexpr int kMostSteps = 1'000'000;  // it is killed long before
  Tally tally{.name = "kill at random moments"};
  std::mt19937_64 random(seed);
  for (int i = 0; i < kills; ++i) {
    const Scene scene(scene_files(0));
    int ends[2] = {-1, -1};
    if (::pipe(ends) != 0) {
      tally.fail("no pipe");
      return tally;
    }
    const pid_t child = ::fork();
    if (child == 0) {
      ::close(ends[0]);
      for (int k = 0; k < kMostSteps; ++k) {
        if (scene.run(session_step(k)).status != 0) ::_exit(1);
        const char acknowledged = 'x';
        if (::write(ends[1], &acknowledged, 1) != 1) ::_exit(1);
      }
      ::_exit(0);
    }
    ::close(ends[1]);
    const auto moment = std::uniform_int_distribution<int>(0, 60'000)(random);
    ::usleep(static_cast<useconds_t>(moment));
    ::kill(child, SIGKILL);
    int status = 0;
    ::waitpid(child, &status, 0);
    int acknowledged = 0;
    char one = 0;
    while (::read(ends[0], &one, 1) == 1) ++acknowledged;
    ::close(ends[0]);
    ++tally.tried;
    if (WIFSIGNALED(status)) ++tally.fired;
    if (WIFEXITED(status) && WEXITSTATUS(status) != 0) tally.fail("a step of the session failed by itself");
    const int seen = steps_in(scene.stash());
    const std::string where =
        std::to_string(acknowledged) + " acknowledged, " + std::to_string(seen) + " there: ";
    if (seen < acknowledged || seen > acknowledged + 1) tally.fail(where + "a change is lost or half done");
    // A stale lock would be told as a busy stash.
    if (const std::string fault = next_command_fault(scene, writing_commands().front()); !fault.empty())
      tally.fail(where + fault);
  }
  return tally;
}

/// Readers that never pause leave the writers no processor on two cores.
constexpr unsigned kReaderPauseUs = 50'000;

Tally write_together(int writers, int adds, int readers, int rounds) {
  Tally tally{.name = "writers and readers together"};
  for (int round = 0; round < rounds; ++round) {
    const Scene scene(scene_files(0));
    std::vector<pid_t> children;
    std::vector<pid_t> reading;
    for (int w = 0; w < writers; ++w) {
      const pid_t child = ::fork();
      if (child != 0) {
        children.push_back(child);
        continue;
      }
      for (int i = 0; i < adds; ++i) {
        const std::string name = "w" + std::to_string(w) + " " + std::to_string(i);
        int status = 6;
        // "busy" is an honest answer; the user tries again.
        while (status == 6)
          status = scene.run({"stash", "add", name, "--kind", "ink", "--lab", "30,1,2", "--white", "D50/2"})
                       .status;
        if (status != 0) ::_exit(1);
      }
      ::_exit(0);
    }
    for (int r = 0; r < readers; ++r) {
      const pid_t child = ::fork();
      if (child != 0) {
        reading.push_back(child);
        continue;
      }
      std::size_t most = 0;
      for (;;) {
        const auto stash = load_stash(scene.stash());
        if (!stash) ::_exit(1);
        const std::size_t now = *stash ? (*stash)->swatches.size() : 0;
        if (now < most) ::_exit(2);  // a stash never shrinks here
        most = now;
        if (most == static_cast<std::size_t>(writers) * static_cast<std::size_t>(adds)) ::_exit(0);
        ::usleep(kReaderPauseUs);
      }
    }
    for (const pid_t child : children) {
      int status = 0;
      ::waitpid(child, &status, 0);
      if (!WIFEXITED(status) || WEXITSTATUS(status) != 0) tally.fail("a writer failed");
    }
    const auto stash = load_stash(scene.stash());
    const std::size_t wanted = static_cast<std::size_t>(writers) * static_cast<std::size_t>(adds);
    ++tally.tried;
    if (!stash || !*stash || (*stash)->swatches.size() != wanted) {
      tally.fail("changes are lost");
      for (const pid_t child : reading) ::kill(child, SIGKILL);
    } else {
      tally.fired += static_cast<long long>((*stash)->swatches.size());
    }
    for (const pid_t child : reading) {
      int status = 0;
      ::waitpid(child, &status, 0);
      if (!WIFEXITED(status) || WEXITSTATUS(status) != 0) tally.fail("a bad read");
    }
  }
  return tally;
}

Tally kill_lock_holder(int times) {
  Tally tally{.name = "kill the holder of the lock"};
  const Scene scene(scene_files(1));
  for (int i = 0; i < times; ++i) {
    int ends[2] = {-1, -1};
    if (::pipe(ends) != 0) break;
    const pid_t child = ::fork();
    if (child == 0) {
      const auto lock = FileLock::take(scene.stash() + ".lock");
      const char held = lock ? 'x' : '-';
      if (::write(ends[1], &held, 1) != 1) ::_exit(1);
      for (;;) ::pause();
    }
    ::close(ends[1]);
    char held = '-';
    if (::read(ends[0], &held, 1) == 1 && held == 'x') ++tally.fired;
    ::close(ends[0]);
    ::kill(child, SIGKILL);
    int status = 0;
    ::waitpid(child, &status, 0);
    ++tally.tried;
    if (!FileLock::take(scene.stash() + ".lock", 0)) tally.fail("the lock is still held");
  }
  return tally;
}

}  // namespace kithue::harness
