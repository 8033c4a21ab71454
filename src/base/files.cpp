// SPDX-License-Identifier: MIT
#include "base/files.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace kithue {
namespace {

class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (fd_ >= 0) ::close(fd_);
  }
  [[nodiscard]] int get() const { return fd_; }

 private:
  int fd_;
};

Error read_error(const std::string& path, int code) {
  const char* advice = code == ENOENT ? "check the name and the folder" : "";
  return {ErrorKind::cannot_read, std::string("cannot read: ") + std::strerror(code), path, advice};
}

}  // namespace

Result<std::string> read_file(const std::string& path, std::size_t most_bytes) {
  const Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
  if (file.get() < 0) return read_error(path, errno);
  struct stat facts = {};
  if (::fstat(file.get(), &facts) != 0) return read_error(path, errno);
  if (S_ISDIR(facts.st_mode)) return read_error(path, EISDIR);
  const Error too_large{ErrorKind::bad_input,
                        "larger than the limit of " + std::to_string(most_bytes / (1024 * 1024)) + " MB",
                        path, ""};
  if (S_ISREG(facts.st_mode) && static_cast<std::size_t>(facts.st_size) > most_bytes) return too_large;
  std::string bytes;
  bytes.resize(S_ISREG(facts.st_mode) ? static_cast<std::size_t>(facts.st_size) + 1 : 65536);
  std::size_t used = 0;
  for (;;) {
    if (used == bytes.size()) bytes.resize(bytes.size() * 2);
    const ssize_t got = ::read(file.get(), bytes.data() + used, bytes.size() - used);
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return read_error(path, errno);
    if (got == 0) break;
    used += static_cast<std::size_t>(got);
    if (used > most_bytes) return too_large;
  }
  bytes.resize(used);
  return bytes;
}

}  // namespace kithue
