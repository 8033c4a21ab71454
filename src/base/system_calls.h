// SPDX-License-Identifier: MIT
#pragma once

#include <sys/stat.h>
#include <sys/types.h>

#include <cstddef>
#include <string>
#include <vector>

namespace kithue {

/// Every request that this program makes of the file system, so that a test can record each one, make it
/// fail or stop after it. The base class passes them on to the system: same arguments, same result, -1 and
/// errno on failure.
class SystemCalls {
 public:
  SystemCalls() = default;
  SystemCalls(const SystemCalls&) = delete;
  SystemCalls& operator=(const SystemCalls&) = delete;
  virtual ~SystemCalls() = default;

  virtual int open(const char* path, int flags, mode_t mode);
  virtual ssize_t read(int fd, void* into, std::size_t count);
  virtual ssize_t write(int fd, const void* from, std::size_t count);
  virtual int fsync(int fd);
  virtual int close(int fd);
  virtual int rename(const char* from, const char* to);
  virtual int link(const char* from, const char* to);
  virtual int unlink(const char* path);
  virtual int mkdir(const char* path, mode_t mode);
  virtual int flock(int fd, int operation);
  virtual int fstat(int fd, struct stat* facts);
  virtual int lstat(const char* path, struct stat* facts);
  /// Names in a directory, without "." and "..".
  virtual int list(const char* path, std::vector<std::string>* names);
  virtual int random(void* into, std::size_t count);
  virtual void wait_ms(int milliseconds);
};

/// The calls used where none are named: those of the real system, or what stands in for them.
SystemCalls& system_calls();

/// Puts others in the place of the real calls, for the whole process, while it lives. For harnesses; not for
/// two threads at once.
class SystemCallsStandIn {
 public:
  explicit SystemCallsStandIn(SystemCalls& calls);
  SystemCallsStandIn(const SystemCallsStandIn&) = delete;
  SystemCallsStandIn& operator=(const SystemCallsStandIn&) = delete;
  ~SystemCallsStandIn();

 private:
  SystemCalls* before_;
};

}  // namespace kithue
