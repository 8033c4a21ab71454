// SPDX-License-Identifier: MIT
#include "swatch/store.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "swatch/cgats.h"
#include "swatch/stash_file.h"

namespace kithue {
namespace {

std::string version_path(const std::string& path, long long number) {
  return path + ".v" + std::to_string(number);
}

/// The bytes of the stash; nothing when there is no file.
Result<std::optional<std::string>> stash_bytes(const std::string& path, SystemCalls& calls) {
  if (path.empty()) {
    return Error{ErrorKind::cannot_read, "no place for the stash: HOME is not set", "",
                 "name a file with --stash"};
  }
  const auto entry = entry_at(path, calls);
  if (!entry) return entry.error();
  switch (*entry) {
    case Entry::nothing:
      return std::optional<std::string>();
    case Entry::file:
    case Entry::link:
      break;
    case Entry::directory:
      return Error{ErrorKind::cannot_read, "the stash must be a file, but this is a folder", path,
                   "name a file in it with --stash"};
    case Entry::other:
      return Error{ErrorKind::cannot_read, "the stash must be an ordinary file", path,
                   "name one with --stash"};
  }
  auto bytes = read_file(path, kMostFileBytes, calls);
  if (!bytes) {
    Error error = bytes.error();
    if (*entry == Entry::link) error.what += " (this is a symbolic link)";
    return error;
  }
  return std::optional<std::string>(std::move(*bytes));
}

/// The newest version that reads well.
std::optional<StashVersion> last_good(const std::string& path, SystemCalls& calls) {
  for (StashVersion& version : stash_versions(path, calls)) {
    const auto bytes = read_file(version.path, kMostFileBytes, calls);
    if (bytes && parse_stash(*bytes, version.path)) return std::move(version);
  }
  return std::nullopt;
}

Error with_remedy(Error error, const std::string& path, SystemCalls& calls) {
  if (error.kind != ErrorKind::damaged) return error;
  if (const auto good = last_good(path, calls)) {
    error.advice = "the last good copy is " + good->path + "; 'kithue stash undo' brings it back";
  } else {
    error.advice =
        "there is no earlier copy; move the file away, then 'kithue stash import' it to save what can be "
        "read";
  }
  return error;
}

/// Writes the new state with the one before it kept as the newest version.
Result<Replaced> save(const std::string& path, const std::string& after, bool exists, SystemCalls& calls) {
  const auto versions = stash_versions(path, calls);
  std::string kept = version_path(path, versions.empty() ? 1 : versions.front().number + 1);
  ReplaceOptions options;
  if (!exists) {
    // The state before the first save is an empty stash, so that the first save can be undone too.
    auto first = replace_file_atomically(kept, stash_text({}), {}, calls);
    if (!first) return first;
  } else if (!versions.empty() && same_file(versions.front().path, path, calls)) {
    kept.clear();  // a crash between link and rename left the version there already
  } else {
    options.keep_as = kept;
  }
  auto saved = replace_file_atomically(path, after, options, calls);
  // Without the new file in place the version would only repeat the stash.
  if (!saved && !kept.empty()) remove_file(kept, calls);
  return saved;
}

void prune(const std::string& path, SystemCalls& calls) {
  const auto versions = stash_versions(path, calls);
  // One left too long is no harm, so a failure here is not reported.
  for (std::size_t i = kVersionsKept; i < versions.size(); ++i) remove_file(versions[i].path, calls);
}

}  // namespace

Result<std::optional<Stash>> load_stash(const std::string& path, SystemCalls& calls) {
  const auto bytes = stash_bytes(path, calls);
  if (!bytes) return bytes.error();
  if (!*bytes) return std::optional<Stash>();
  auto stash = parse_stash(**bytes, path);
  if (!stash) return with_remedy(stash.error(), path, calls);
  return std::optional<Stash>(std::move(*stash));
}

Result<Change> change_stash(const std::string& path, const std::function<MaybeError(Stash&)>& change,
                            SystemCalls& calls, int patience_ms) {
  if (path.empty()) return stash_bytes(path, calls).error();
  // A change that is refused, or that changes nothing, must not leave a folder and a lock behind.
  std::optional<Stash> first;
  if (const auto entry = entry_at(path, calls); entry && *entry == Entry::nothing) {
    first.emplace();
    if (auto fault = change(*first)) return std::move(*fault);
    if (*first == Stash{}) return Change{};
  }
  if (auto fault = make_folder(folder_of(path), calls)) return std::move(*fault);
  const auto lock = FileLock::take(path + ".lock", patience_ms, calls);
  if (!lock) return lock.error();
  const auto before = stash_bytes(path, calls);
  if (!before) return before.error();
  Stash stash;
  if (*before) {
    auto read = parse_stash(**before, path);
    if (!read) return with_remedy(read.error(), path, calls);
    stash = std::move(*read);
  }
  if (first && !*before) {
    stash = std::move(*first);
  } else if (auto fault = change(stash)) {
    return std::move(*fault);
  }
  const std::string after = stash_text(stash);
  if (after == (*before ? **before : stash_text({}))) return Change{};
  if (after.size() > kMostFileBytes) {
    return Error{ErrorKind::impossible, "the stash would be larger than the limit of 64 MB", path,
                 "keep a second one with --stash"};
  }
  const auto saved = save(path, after, before->has_value(), calls);
  if (!saved) return saved.error();
  prune(path, calls);
  return Change{true, saved->doubt};
}

std::vector<StashVersion> stash_versions(const std::string& path, SystemCalls& calls) {
  const std::string folder = folder_of(path);
  const std::string start = name_of(path) + ".v";
  std::vector<StashVersion> versions;
  for (const std::string& name : names_in(folder, calls)) {
    if (!name.starts_with(start)) continue;
    const auto number = parse_whole(std::string_view(name).substr(start.size()));
    if (number && *number > 0) versions.push_back({*number, version_path(path, *number)});
  }
  std::sort(versions.begin(), versions.end(),
            [](const StashVersion& x, const StashVersion& y) { return x.number > y.number; });
  return versions;
}

Result<Undo> undo_stash(const std::string& path, bool dry_run, SystemCalls& calls, int patience_ms) {
  if (path.empty()) return stash_bytes(path, calls).error();
  std::vector<StashVersion> versions = stash_versions(path, calls);
  const Error nothing{ErrorKind::impossible, "nothing to undo", path,
                      "no earlier state is kept beside the stash"};
  if (versions.empty()) return nothing;
  std::optional<FileLock> held;
  if (!dry_run) {
    auto lock = FileLock::take(path + ".lock", patience_ms, calls);
    if (!lock) return lock.error();
    held.emplace(std::move(*lock));
    versions = stash_versions(path, calls);
  }
  const auto now = stash_bytes(path, calls);
  if (!now) return now.error();
  for (std::size_t i = 0; i < versions.size(); ++i) {
    // A version that cannot be read now may be read later: going past it would lose the change in between.
    const auto bytes = read_file(versions[i].path, kMostFileBytes, calls);
    if (!bytes) return bytes.error();
    if (*now && *bytes == **now) {
      // Left by a save that was cut off: it is the present state, not an earlier one.
      if (!dry_run) remove_file(versions[i].path, calls);
      continue;
    }
    auto stash = parse_stash(*bytes, versions[i].path);
    if (!stash) continue;
    Undo undo{std::move(*stash), versions[i].path, versions.size() - i - 1, "", ""};
    if (dry_run) return undo;
    if (*now) {
      undo.set_aside = path + (parse_stash(**now, path) ? ".undone" : ".damaged");
      if (auto fault = keep_copy(path, undo.set_aside, calls)) return std::move(*fault);
    }
    const auto moved = move_file_over(versions[i].path, path, calls);
    if (!moved) return moved.error();
    undo.doubt = moved->doubt;
    return undo;
  }
  return nothing;
}

}  // namespace kithue
