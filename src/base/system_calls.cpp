// SPDX-License-Identifier: MIT
#include "base/system_calls.h"

#include <dirent.h>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/random.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstdio>
#include <memory>
#include <string_view>
#include <thread>

namespace kithue {
namespace {

struct CloseDirectory {
  void operator()(DIR* directory) const { ::closedir(directory); }
};

SystemCalls*& calls_in_use() {
  static SystemCalls real;
  static SystemCalls* in_use = &real;
  return in_use;
}

}  // namespace

int SystemCalls::open(const char* path, int flags, mode_t mode) {
  return ::open(path, flags, mode);
}
ssize_t SystemCalls::read(int fd, void* into, std::size_t count) {
  return ::read(fd, into, count);
}
ssize_t SystemCalls::write(int fd, const void* from, std::size_t count) {
  return ::write(fd, from, count);
}
int SystemCalls::fsync(int fd) {
  return ::fsync(fd);
}
int SystemCalls::close(int fd) {
  return ::close(fd);
}
int SystemCalls::rename(const char* from, const char* to) {
  return ::rename(from, to);
}
int SystemCalls::link(const char* from, const char* to) {
  return ::link(from, to);
}
int SystemCalls::unlink(const char* path) {
  return ::unlink(path);
}
int SystemCalls::mkdir(const char* path, mode_t mode) {
  return ::mkdir(path, mode);
}
int SystemCalls::flock(int fd, int operation) {
  return ::flock(fd, operation);
}
int SystemCalls::fstat(int fd, struct stat* facts) {
  return ::fstat(fd, facts);
}
int SystemCalls::lstat(const char* path, struct stat* facts) {
  return ::lstat(path, facts);
}
int SystemCalls::list(const char* path, std::vector<std::string>* names) {
  const std::unique_ptr<DIR, CloseDirectory> directory(::opendir(path));
  if (!directory) return -1;
  for (;;) {
    errno = 0;
    const dirent* entry = ::readdir(directory.get());
    if (entry == nullptr) return errno == 0 ? 0 : -1;
    const std::string_view name = entry->d_name;
    if (name != "." && name != "..") names->emplace_back(name);
  }
}
int SystemCalls::random(void* into, std::size_t count) {
  return ::getrandom(into, count, 0) == static_cast<ssize_t>(count) ? 0 : -1;
}
void SystemCalls::wait_ms(int milliseconds) {
  std::this_thread::sleep_for(std::chrono::milliseconds(milliseconds));
}

SystemCalls& system_calls() {
  return *calls_in_use();
}

SystemCallsStandIn::SystemCallsStandIn(SystemCalls& calls) : before_(calls_in_use()) {
  calls_in_use() = &calls;
}
SystemCallsStandIn::~SystemCallsStandIn() {
  calls_in_use() = before_;
}

}  // namespace kithue
