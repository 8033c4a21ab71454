// SPDX-License-Identifier: MIT
#include "cli/output_file.h"

#include "base/files.h"

namespace kithue {

MaybeError in_the_way(const std::string& path, bool force) {
  const auto entry = entry_at(path);
  if (!entry) return entry.error();
  if (*entry == Entry::nothing || (*entry == Entry::file && force)) return std::nullopt;
  if (*entry == Entry::file)
    return Error{ErrorKind::cannot_write, "there is such a file already", path,
                 "--force replaces it, or name another"};
  return Error{ErrorKind::cannot_write, "this is not an ordinary file", path, "name another"};
}

}  // namespace kithue
