// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "base/system_calls.h"

namespace kithue {

/// All bytes of a file. Refuses a directory, and a file of more than `most_bytes` before reading it.
/// Errors: cannot_read (missing, no permission, device error), bad_input (too large).
Result<std::string> read_file(const std::string& path, std::size_t most_bytes,
                              SystemCalls& calls = system_calls());

/// What stands at a path, symbolic links not followed.
enum class Entry { nothing, file, directory, link, other };
/// Errors: cannot_read, for a folder that may not be searched.
Result<Entry> entry_at(const std::string& path, SystemCalls& calls = system_calls());

/// For files that the user asked for: whoever the umask lets may read them.
inline constexpr unsigned kSharedMode = 0666;

/// How a new file takes the place of an old one.
struct ReplaceOptions {
  std::string keep_as;       ///< the previous file stays under this path as well; empty = it does not
  bool only_if_new = false;  ///< refuse when something stands at the path already
  unsigned mode =
      0600;  ///< of the new file, less what the umask takes; kSharedMode for what the user asked for
};

/// What happened after the new file was in place: nothing, or a reason why a power cut might undo it.
struct Replaced {
  std::string doubt;  ///< empty when the change is certain to last
};

/// Writes a file so that after a crash or a power cut at any moment the old or the new one is there, whole:
/// a temporary of the wanted mode in the same folder, written, synced, renamed over the old, folder synced.
/// Interrupted calls are taken up again, short writes continued, close is checked, and a sync that failed is
/// never tried again: the page may be gone. A temporary is removed after a caught error; those of killed
/// writers are removed by the next writer of the same file.
/// A symbolic link or a directory at the path is refused.
/// Errors: cannot_write, with the old file untouched.
Result<Replaced> replace_file_atomically(const std::string& path, std::string_view bytes,
                                         const ReplaceOptions& options = {},
                                         SystemCalls& calls = system_calls());

/// Puts `from` in the place of `path` by renaming, and syncs the folder. Both in one folder.
/// Errors: cannot_write, with both files untouched.
Result<Replaced> move_file_over(const std::string& from, const std::string& path,
                                SystemCalls& calls = system_calls());

/// Gives a file a second name by hard link, or by a copy where the file system knows no links. A file that
/// has that name already is replaced. Errors: cannot_write.
MaybeError keep_copy(const std::string& path, const std::string& as, SystemCalls& calls = system_calls());

/// True when both paths are the same file on disk (one hard-linked to the other).
bool same_file(const std::string& x, const std::string& y, SystemCalls& calls = system_calls());

/// Removes a file; one that is not there is no error.
MaybeError remove_file(const std::string& path, SystemCalls& calls = system_calls());

/// Makes the folder and those above it, mode 0700, where they are not there. Errors: cannot_write.
MaybeError make_folder(const std::string& path, SystemCalls& calls = system_calls());

/// Names in a folder, sorted; none when it cannot be read.
std::vector<std::string> names_in(const std::string& folder, SystemCalls& calls = system_calls());

/// "/a/b.txt" in two parts: "/a" and "b.txt". A path without a slash is in ".".
std::string folder_of(const std::string& path);
std::string name_of(const std::string& path);

/// Held while it lives; the system releases it when the process ends, however it ends.
class FileLock {
 public:
  FileLock(FileLock&& other) noexcept : calls_(other.calls_), fd_(other.fd_) { other.fd_ = -1; }
  FileLock(const FileLock&) = delete;
  FileLock& operator=(const FileLock&) = delete;
  FileLock& operator=(FileLock&&) = delete;
  ~FileLock();

  /// Takes the lock on `path`, a file that only serves as a lock and stays; makes it where it is missing.
  /// Waits at most `patience_ms`. Errors: busy; cannot_write.
  static Result<FileLock> take(const std::string& path, int patience_ms = 10'000,
                               SystemCalls& calls = system_calls());

 private:
  FileLock(SystemCalls& calls, int fd) : calls_(&calls), fd_(fd) {}
  SystemCalls* calls_;
  int fd_;
};

}  // namespace kithue
