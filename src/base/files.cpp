// SPDX-License-Identifier: MIT
#include "base/files.h"

#include <fcntl.h>
#include <sys/file.h>

#include <algorithm>
#include <cerrno>
#include <cstring>

#include "base/file_start.h"

namespace kithue {
namespace {

constexpr std::string_view kTemporary = ".tmp.";
constexpr std::size_t kRandomDigits = 16;

/// Repeats a call that a signal interrupted.
template <typename Call>
auto again(Call call) {
  for (;;) {
    const auto result = call();
    if (result >= 0 || errno != EINTR) return result;
  }
}

class Descriptor {
 public:
  Descriptor(SystemCalls& calls, int fd) : calls_(calls), fd_(fd) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (fd_ >= 0) calls_.close(fd_);
  }
  [[nodiscard]] int get() const { return fd_; }
  /// Linux frees the descriptor even when close fails, so it is never tried again.
  int close() {
    const int fd = fd_;
    fd_ = -1;
    const int result = calls_.close(fd);
    return result != 0 && errno == EINTR ? 0 : result;
  }

 private:
  SystemCalls& calls_;
  int fd_;
};

Error read_error(const std::string& path, int code) {
  const char* advice = code == ENOENT ? "check the name and the folder" : "";
  return {ErrorKind::cannot_read, std::string("cannot read: ") + std::strerror(code), path, advice};
}

std::string write_advice(int code) {
  switch (code) {
    case ENOSPC:
    case EDQUOT:
      return "make room on the disk, then try again";
    case EACCES:
    case EPERM:
    case EROFS:
      return "choose a place where you may write";
    case ENOENT:
    case ENOTDIR:
      return "check the folder";
    default:
      return "";
  }
}

Error write_error(const std::string& path, int code) {
  return {ErrorKind::cannot_write, std::string("cannot write: ") + std::strerror(code), path,
          write_advice(code)};
}

/// Removes the temporary unless it was put in place.
class Temporary {
 public:
  Temporary(SystemCalls& calls, std::string path) : calls_(calls), path_(std::move(path)) {}
  Temporary(const Temporary&) = delete;
  Temporary& operator=(const Temporary&) = delete;
  ~Temporary() {
    if (!placed_) calls_.unlink(path_.c_str());
  }
  void placed() { placed_ = true; }

 private:
  SystemCalls& calls_;
  std::string path_;
  bool placed_ = false;
};

bool is_temporary_of(std::string_view name, std::string_view base) {
  if (!name.starts_with(base)) return false;
  name.remove_prefix(base.size());
  if (!name.starts_with(kTemporary)) return false;
  name.remove_prefix(kTemporary.size());
  return name.size() == kRandomDigits && name.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

/// A live writer holds a lock on its temporary; a dead one cannot.
void remove_dead_temporaries(const std::string& path, SystemCalls& calls) {
  const std::string folder = folder_of(path);
  const std::string base = name_of(path);
  for (const std::string& name : names_in(folder, calls)) {
    if (!is_temporary_of(name, base)) continue;
    std::string left = folder;
    left.append("/").append(name);
    const Descriptor file(calls, calls.open(left.c_str(), O_RDONLY | O_CLOEXEC | O_NOFOLLOW, 0));
    if (file.get() >= 0 && calls.flock(file.get(), LOCK_EX | LOCK_NB) == 0) calls.unlink(left.c_str());
  }
}

Result<std::string> temporary_path(const std::string& path, SystemCalls& calls) {
  unsigned char bytes[kRandomDigits / 2];
  if (again([&] { return calls.random(bytes, sizeof bytes); }) != 0) return write_error(path, errno);
  constexpr char kHex[] = "0123456789abcdef";
  std::string name = path + std::string(kTemporary);
  for (const unsigned char byte : bytes) {
    name += kHex[byte >> 4U];
    name += kHex[byte & 15U];
  }
  return name;
}

MaybeError write_all(int fd, std::string_view bytes, const std::string& path, SystemCalls& calls) {
  while (!bytes.empty()) {
    const ssize_t put = again([&] { return calls.write(fd, bytes.data(), bytes.size()); });
    if (put < 0) return write_error(path, errno);
    if (put == 0) return write_error(path, ENOSPC);
    bytes.remove_prefix(static_cast<std::size_t>(put));
  }
  return std::nullopt;
}

/// Why the folder could not be synced, or nothing.
std::string sync_folder(const std::string& folder, SystemCalls& calls) {
  Descriptor place(calls,
                   again([&] { return calls.open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0); }));
  if (place.get() < 0) return std::strerror(errno);
  // Some file systems cannot sync a folder and say EINVAL: there is nothing more to do on those.
  const int result = calls.fsync(place.get());
  if (result != 0 && errno != EINVAL) return std::strerror(errno);
  return {};
}

Result<Entry> entry_or_error(const std::string& path, SystemCalls& calls) {
  struct stat facts = {};
  if (again([&] { return calls.lstat(path.c_str(), &facts); }) != 0) {
    if (errno == ENOENT) return Entry::nothing;
    return read_error(path, errno);
  }
  if (S_ISREG(facts.st_mode)) return Entry::file;
  if (S_ISDIR(facts.st_mode)) return Entry::directory;
  if (S_ISLNK(facts.st_mode)) return Entry::link;
  return Entry::other;
}

/// Only a plain file, or nothing, may be written over.
MaybeError refuse_odd_target(const std::string& path, bool only_if_new, SystemCalls& calls) {
  const auto entry = entry_or_error(path, calls);
  if (!entry) {
    Error error = entry.error();
    error.kind = ErrorKind::cannot_write;
    return error;
  }
  switch (*entry) {
    case Entry::nothing:
      return std::nullopt;
    case Entry::file:
      if (!only_if_new) return std::nullopt;
      return Error{ErrorKind::cannot_write, "there is a file of this name already", path,
                   "choose another name, or replace it with --force"};
    case Entry::directory:
      return Error{ErrorKind::cannot_write, "this is a folder, not a file", path, "name a file in it"};
    case Entry::link:
      return Error{ErrorKind::cannot_write, "this is a symbolic link", path, "name the file it points to"};
    case Entry::other:
      return Error{ErrorKind::cannot_write, "this is not an ordinary file", path, "choose another name"};
  }
  return std::nullopt;
}

}  // namespace

Result<std::string> read_file(const std::string& path, std::size_t most_bytes, SystemCalls& calls) {
  const Descriptor file(calls, again([&] { return calls.open(path.c_str(), O_RDONLY | O_CLOEXEC, 0); }));
  if (file.get() < 0) return read_error(path, errno);
  struct stat facts = {};
  if (again([&] { return calls.fstat(file.get(), &facts); }) != 0) return read_error(path, errno);
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
    const ssize_t got =
        again([&] { return calls.read(file.get(), bytes.data() + used, bytes.size() - used); });
    if (got < 0) return read_error(path, errno);
    if (got == 0) break;
    used += static_cast<std::size_t>(got);
    if (used > most_bytes) return too_large;
  }
  bytes.resize(used);
  return bytes;
}

Result<std::string> read_start(const std::string& path, std::size_t count, SystemCalls& calls) {
  const Descriptor file(calls, again([&] { return calls.open(path.c_str(), O_RDONLY | O_CLOEXEC, 0); }));
  if (file.get() < 0) return read_error(path, errno);
  struct stat facts = {};
  if (again([&] { return calls.fstat(file.get(), &facts); }) != 0) return read_error(path, errno);
  std::string bytes;
  if (!S_ISREG(facts.st_mode)) return bytes;
  bytes.resize(std::min(count, static_cast<std::size_t>(facts.st_size)));
  for (std::size_t used = 0; used < bytes.size();) {
    const ssize_t got =
        again([&] { return calls.read(file.get(), bytes.data() + used, bytes.size() - used); });
    if (got < 0) return read_error(path, errno);
    if (got == 0) bytes.resize(used);
    used += static_cast<std::size_t>(got);
  }
  return bytes;
}

Result<Entry> entry_at(const std::string& path, SystemCalls& calls) {
  return entry_or_error(path, calls);
}

Result<Replaced> replace_file_atomically(const std::string& path, std::string_view bytes,
                                         const ReplaceOptions& options, SystemCalls& calls) {
  if (auto fault = refuse_odd_target(path, options.only_if_new, calls)) return std::move(*fault);
  remove_dead_temporaries(path, calls);
  const auto name = temporary_path(path, calls);
  if (!name) return name.error();
  Descriptor file(calls, again([&] {
                    return calls.open(name->c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW,
                                      options.mode);
                  }));
  if (file.get() < 0) return write_error(path, errno);
  Temporary temporary(calls, *name);
  // The lock only tells other writers that this temporary is alive; a file system without locks may refuse.
  calls.flock(file.get(), LOCK_EX | LOCK_NB);
  if (auto fault = write_all(file.get(), bytes, path, calls)) return std::move(*fault);
  if (calls.fsync(file.get()) != 0) return write_error(path, errno);
  if (file.close() != 0) return write_error(path, errno);
  if (!options.keep_as.empty()) {
    if (auto fault = keep_copy(path, options.keep_as, calls)) return std::move(*fault);
  }
  if (calls.rename(name->c_str(), path.c_str()) != 0) return write_error(path, errno);
  temporary.placed();
  return Replaced{sync_folder(folder_of(path), calls)};
}

Result<Replaced> move_file_over(const std::string& from, const std::string& path, SystemCalls& calls) {
  if (auto fault = refuse_odd_target(path, false, calls)) return std::move(*fault);
  if (calls.rename(from.c_str(), path.c_str()) != 0) return write_error(path, errno);
  return Replaced{sync_folder(folder_of(path), calls)};
}

MaybeError keep_copy(const std::string& path, const std::string& as, SystemCalls& calls) {
  if (calls.link(path.c_str(), as.c_str()) == 0) return std::nullopt;
  if (errno == EEXIST) {
    if (calls.unlink(as.c_str()) != 0) return write_error(as, errno);
    if (calls.link(path.c_str(), as.c_str()) == 0) return std::nullopt;
  }
  if (errno != EPERM && errno != EOPNOTSUPP && errno != ENOSYS && errno != EMLINK)
    return write_error(as, errno);
  constexpr std::size_t kMostCopied = 1024UL * 1024 * 1024;
  const auto bytes = read_file(path, kMostCopied, calls);
  if (!bytes) return bytes.error();
  const auto copy = replace_file_atomically(as, *bytes, {}, calls);
  if (!copy) return copy.error();
  return std::nullopt;
}

bool same_file(const std::string& x, const std::string& y, SystemCalls& calls) {
  struct stat first = {};
  struct stat second = {};
  return calls.lstat(x.c_str(), &first) == 0 && calls.lstat(y.c_str(), &second) == 0 &&
         first.st_ino == second.st_ino && first.st_dev == second.st_dev;
}

MaybeError remove_file(const std::string& path, SystemCalls& calls) {
  if (calls.unlink(path.c_str()) == 0 || errno == ENOENT) return std::nullopt;
  return write_error(path, errno);
}

MaybeError make_folder(const std::string& path, SystemCalls& calls) {
  if (path.empty() || path == "." || path == "/") return std::nullopt;
  if (calls.mkdir(path.c_str(), 0700) != 0) {
    if (errno == EEXIST) return std::nullopt;
    const std::string above = folder_of(path);
    if (errno != ENOENT || above == path) return write_error(path, errno);
    if (auto fault = make_folder(above, calls)) return fault;
    if (calls.mkdir(path.c_str(), 0700) != 0 && errno != EEXIST) return write_error(path, errno);
  }
  // Best effort: the sync of the first file in the new folder says whether it will last.
  sync_folder(folder_of(path), calls);
  return std::nullopt;
}

std::vector<std::string> names_in(const std::string& folder, SystemCalls& calls) {
  std::vector<std::string> names;
  if (calls.list(folder.c_str(), &names) != 0) return {};
  std::sort(names.begin(), names.end());
  return names;
}

std::string folder_of(const std::string& path) {
  const auto slash = path.rfind('/');
  if (slash == std::string::npos) return ".";
  return slash == 0 ? "/" : path.substr(0, slash);
}

std::string name_of(const std::string& path) {
  const auto slash = path.rfind('/');
  return slash == std::string::npos ? path : path.substr(slash + 1);
}

FileLock::~FileLock() {
  if (fd_ >= 0) calls_->close(fd_);
}

Result<FileLock> FileLock::take(const std::string& path, int patience_ms, SystemCalls& calls) {
  const int fd =
      again([&] { return calls.open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0600); });
  if (fd < 0) return write_error(path, errno);
  FileLock lock(calls, fd);
  constexpr int kPause = 10;
  for (int waited = 0;; waited += kPause) {
    if (again([&] { return calls.flock(fd, LOCK_EX | LOCK_NB); }) == 0) return lock;
    if (errno != EWOULDBLOCK) return write_error(path, errno);
    if (waited >= patience_ms) {
      return Error{ErrorKind::busy, "another command is changing this file", path,
                   "wait for it to end, then try again"};
    }
    calls.wait_ms(kPause);
  }
}

}  // namespace kithue
