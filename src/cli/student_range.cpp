// SPDX-License-Identifier: MIT
#include "cli/student_range.h"

#include <utility>

#include "base/files.h"
#include "base/text.h"
#include "swatch/import.h"

namespace kithue {

Result<Stash> read_student_range(const std::string& list, Kind kind, const std::string& white,
                                 Session& session) {
  constexpr std::size_t kMostBytes = 64 << 20;
  auto bytes = read_file(list, kMostBytes);
  if (!bytes) return bytes.error();
  ImportOptions how;
  how.kind = kind;
  how.white = white;
  const auto import = read_import(*std::move(bytes), list, how);
  if (!import) return import.error();
  for (const std::string& line : import->warnings) warn(session, line);
  if (!import->rejected.empty()) {
    const Rejection& first = import->rejected.front();
    const std::string where = list + ":" + std::to_string(first.line);
    if (import->rows.empty())
      return Error{ErrorKind::bad_input, first.reason, where, "no row of it can be used"};
    warn(session, counted(import->rejected.size(), "row") + " of the list left out, the first at " + where +
                      ": " + first.reason);
  }
  Stash range;
  merge_import(range, *import);
  return range;
}

}  // namespace kithue
