// SPDX-License-Identifier: MIT
#include "harness/process.h"

#include <fcntl.h>
#include <malloc.h>
#include <poll.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <csignal>
#include <ctime>
#include <fstream>

namespace kithue::harness {
namespace {

using Clock = std::chrono::steady_clock;

std::vector<char*> pointers(const std::vector<std::string>& words) {
  std::vector<char*> list;
  for (const std::string& word : words) list.push_back(const_cast<char*>(word.c_str()));
  list.push_back(nullptr);
  return list;
}

/// Seconds of processor time that a process has used.
double processor_seconds(pid_t process) {
  clockid_t clock = {};
  timespec used = {};
  if (::clock_getcpuclockid(process, &clock) != 0 || ::clock_gettime(clock, &used) != 0) return 0.0;
  return static_cast<double>(used.tv_sec) + 1e-9 * static_cast<double>(used.tv_nsec);
}

double seconds_of(const timeval& time) {
  return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
}

/// Has the process a handler of its own for SIGINT by now?
bool handler_stands(pid_t process) {
  std::ifstream status("/proc/" + std::to_string(process) + "/status");
  for (std::string line; std::getline(status, line);) {
    if (line.starts_with("SigCgt:"))
      return (std::stoull(line.substr(7), nullptr, 16) >> (SIGINT - 1U) & 1U) != 0;
  }
  return false;
}

[[noreturn]] void become(const Start& start, int err) {
  ::signal(SIGPIPE, SIG_DFL);
  ::signal(SIGINT, SIG_DFL);
  int out = -1;
  if (start.out == "|") {
    int ends[2] = {-1, -1};
    if (::pipe(ends) == 0) {
      ::close(ends[0]);
      out = ends[1];
    }
  } else {
    out = ::open(start.out.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
  }
  if (out < 0 || ::dup2(out, 1) < 0 || ::dup2(err, 2) < 0) ::_exit(126);
  const int in = ::open("/dev/null", O_RDONLY);
  if (in < 0 || ::dup2(in, 0) < 0) ::_exit(126);
  if (!start.folder.empty() && ::chdir(start.folder.c_str()) != 0) ::_exit(126);
  if (start.most_memory_mb != 0) {
    const rlimit limit{start.most_memory_mb << 20U, start.most_memory_mb << 20U};
    if (::setrlimit(RLIMIT_AS, &limit) != 0) ::_exit(126);
  }
  if (start.user != 0 && ::geteuid() == 0 && ::setuid(static_cast<uid_t>(start.user)) != 0) ::_exit(126);
  const auto words = pointers(start.words);
  const auto environment = pointers(start.environment);
  ::execve(words[0], words.data(), environment.data());
  ::_exit(127);
}

}  // namespace

Ended run_process(const Start& start, double interrupt_after_s) {
  Ended ended;
  int ends[2] = {-1, -1};
  int started[2] = {-1, -1};
  if (::pipe2(ends, O_CLOEXEC) != 0 || ::pipe2(started, O_CLOEXEC) != 0) return ended;
  ::malloc_trim(0);  // the child's peak begins with what this process holds
  const pid_t child = ::fork();
  if (child == 0) become(start, ends[1]);
  ::close(ends[1]);
  ::close(started[1]);
  // Closed by the child when it becomes the program: from then on its handlers are its own.
  char none = 0;
  while (::read(started[0], &none, 1) < 0 && errno == EINTR) {
  }
  ::close(started[0]);
  const auto begun = Clock::now();
  const auto passed = [&] { return std::chrono::duration<double>(Clock::now() - begun).count(); };
  constexpr double kPatience = 300.0;  // only so that a program that hangs is noticed
  constexpr double kBetweenLooks = 0.001;
  double next = interrupt_after_s > 0.0 ? interrupt_after_s : kPatience;
  double processor_then = 0.0;
  for (;;) {
    const double left = next - passed();
    pollfd waiting{ends[0], POLLIN, 0};
    const int ready = left > 0.0 ? ::poll(&waiting, 1, static_cast<int>(left * 1000.0) + 1) : 0;
    if (ready > 0) {
      char bytes[4096];
      const ssize_t got = ::read(ends[0], bytes, sizeof bytes);
      if (got <= 0) break;
      ended.err.append(bytes, static_cast<std::size_t>(got));
    } else if (passed() > kPatience) {
      ::kill(child, SIGKILL);
      break;
    } else if (next < kPatience && handler_stands(child)) {
      processor_then = processor_seconds(child);
      ended.interrupted_at = passed();
      ::kill(child, SIGINT);
      next = kPatience;
    } else if (next < kPatience) {
      next = passed() + kBetweenLooks;
    }
  }
  ::close(ends[0]);
  int status = 0;
  rusage usage = {};
  ::wait4(child, &status, 0, &usage);
  ended.seconds = passed();
  ended.processor_after = seconds_of(usage.ru_utime) + seconds_of(usage.ru_stime) - processor_then;
  ended.peak_kb = usage.ru_maxrss;
  if (WIFEXITED(status)) ended.status = WEXITSTATUS(status);
  if (WIFSIGNALED(status)) ended.signal = WTERMSIG(status);
  return ended;
}

}  // namespace kithue::harness
