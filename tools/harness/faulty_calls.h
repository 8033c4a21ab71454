// SPDX-License-Identifier: MIT
#pragma once

#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <set>
#include <string>
#include <vector>

#include "base/system_calls.h"

namespace kithue::testing {

/// The real calls, counted; the one of a given number fails, is cut short or ends the process.
class FaultyCalls : public SystemCalls {
 public:
  std::size_t fail_at = 0;       ///< counted from 1; 0 = never
  int fault = EIO;               ///< errno of the failure
  bool from_then_on = false;     ///< later calls fail too
  bool die = false;              ///< _exit() instead of failing, before the call is made
  std::size_t most_written = 0;  ///< bytes a write takes at most; 0 = all
  std::size_t interrupts = 0;    ///< every n-th call that may be is interrupted once; 0 = none
  bool links = true;             ///< false: the file system knows no hard links

  std::size_t made = 0;
  std::size_t fired = 0;
  std::size_t cut_short = 0;
  std::size_t syncs_after_failed_sync = 0;
  std::vector<std::string> log;

  int open(const char* path, int flags, mode_t mode) override {
    return fails("open") ? -1 : SystemCalls::open(path, flags, mode);
  }
  ssize_t read(int fd, void* into, std::size_t count) override {
    return fails("read") ? -1 : SystemCalls::read(fd, into, count);
  }
  ssize_t write(int fd, const void* from, std::size_t count) override {
    if (fails("write")) return -1;
    if (most_written != 0 && count > most_written) {
      ++cut_short;
      count = most_written;
    }
    written_.insert(fd);
    return SystemCalls::write(fd, from, count);
  }
  int fsync(int fd) override {
    if (sync_failed_.count(fd) != 0) ++syncs_after_failed_sync;
    if (fails("fsync", false)) {
      sync_failed_.insert(fd);
      return -1;
    }
    return SystemCalls::fsync(fd);
  }
  int close(int fd) override {
    sync_failed_.erase(fd);
    const bool wrong = fails("close", false);
    // What a disk does that could not put the bytes away: they are gone.
    if (wrong && written_.count(fd) != 0 && ::ftruncate(fd, 0) != 0) std::abort();
    written_.erase(fd);
    const int result = SystemCalls::close(fd);
    if (wrong) errno = fault;
    return wrong ? -1 : result;
  }
  int rename(const char* from, const char* to) override {
    return fails("rename", false) ? -1 : SystemCalls::rename(from, to);
  }
  int link(const char* from, const char* to) override {
    if (!links) {
      errno = EPERM;
      return -1;
    }
    return fails("link", false) ? -1 : SystemCalls::link(from, to);
  }
  int unlink(const char* path) override { return fails("unlink", false) ? -1 : SystemCalls::unlink(path); }
  int mkdir(const char* path, mode_t mode) override {
    return fails("mkdir", false) ? -1 : SystemCalls::mkdir(path, mode);
  }
  int flock(int fd, int operation) override {
    return fails("flock") ? -1 : SystemCalls::flock(fd, operation);
  }
  int fstat(int fd, struct stat* facts) override {
    return fails("fstat") ? -1 : SystemCalls::fstat(fd, facts);
  }
  int lstat(const char* path, struct stat* facts) override {
    return fails("lstat") ? -1 : SystemCalls::lstat(path, facts);
  }
  int list(const char* path, std::vector<std::string>* names) override {
    return fails("list", false) ? -1 : SystemCalls::list(path, names);
  }
  int random(void* into, std::size_t count) override {
    return fails("random") ? -1 : SystemCalls::random(into, count);
  }

 private:
  bool fails(const char* name, bool interruptible = true) {
    ++made;
    log.emplace_back(name);
    if (fail_at != 0 && (made == fail_at || (from_then_on && made > fail_at))) {
      ++fired;
      if (die) ::_exit(9);
      errno = fault;
      return true;
    }
    if (interruptible && interrupts != 0 && made % interrupts == 0) {
      ++fired;
      errno = EINTR;
      return true;
    }
    return false;
  }
  std::set<int> sync_failed_;
  std::set<int> written_;
};

}  // namespace kithue::testing
