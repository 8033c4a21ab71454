// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "base/temporary_folder.h"
#include "harness/faulty_calls.h"
#include "swatch/cgats.h"
#include "swatch/edit.h"
#include "swatch/stash_file.h"
#include "swatch/store.h"

namespace {

using kithue::ErrorKind;
using kithue::MaybeError;
using kithue::Stash;
using kithue::testing::FaultyCalls;
using kithue::testing::TemporaryFolder;

std::string bytes_of(const std::string& path) {
  const auto bytes = kithue::read_file(path, kithue::kMostFileBytes);
  return bytes ? *bytes : std::string();
}

std::function<MaybeError(Stash&)> adding(const std::string& name) {
  return [name](Stash& stash) -> MaybeError {
    kithue::Swatch swatch;
    swatch.name = name;
    kithue::Reading reading;
    reading.lab = {50, 1, 2};
    swatch.readings.push_back(reading);
    append_swatch(stash, swatch);
    return std::nullopt;
  };
}

void add(const std::string& path, const std::string& name) {
  const auto change = kithue::change_stash(path, adding(name));
  REQUIRE(change.has_value());
  REQUIRE(change->written);
}

std::size_t temporaries_in(const std::string& folder) {
  std::size_t count = 0;
  for (const std::string& name : kithue::names_in(folder))
    count += name.find(".tmp.") != std::string::npos ? 1 : 0;
  return count;
}

}  // namespace

TEST_CASE("stash store: an absent stash is nothing, and the first change makes it with its folder") {
  const TemporaryFolder folder;
  const std::string path = folder / "data/kithue/stash.cgats";
  const auto none = kithue::load_stash(path);
  REQUIRE(none.has_value());
  CHECK_FALSE(none->has_value());
  CHECK_FALSE(std::filesystem::exists(folder / "data"));
  add(path, "Wet Sand");
  const auto one = kithue::load_stash(path);
  REQUIRE(one.has_value());
  CHECK((*one)->swatches.at(0).name == "Wet Sand");
}

TEST_CASE("stash store: undo goes back 20 states, each byte for byte, and no further") {
  const TemporaryFolder folder;
  const std::string path = folder / "stash.cgats";
  std::vector<std::string> states{kithue::stash_text(Stash{})};
  for (int i = 0; i < 25; ++i) {
    add(path, "swatch " + std::to_string(i));
    states.push_back(bytes_of(path));
  }
  CHECK(kithue::stash_versions(path).size() == kithue::kVersionsKept);
  for (std::size_t back = 1; back <= kithue::kVersionsKept; ++back) {
    const auto undo = kithue::undo_stash(path);
    REQUIRE(undo.has_value());
    CHECK(undo->left == kithue::kVersionsKept - back);
    REQUIRE(bytes_of(path) == states[states.size() - 1 - back]);
  }
  const auto more = kithue::undo_stash(path);
  REQUIRE_FALSE(more.has_value());
  CHECK(more.error().kind == ErrorKind::impossible);
}

TEST_CASE("stash store: the first change can be undone, and a change after an undo is kept") {
  const TemporaryFolder folder;
  const std::string path = folder / "stash.cgats";
  add(path, "a");
  REQUIRE(kithue::undo_stash(path).has_value());
  CHECK(bytes_of(path) == kithue::stash_text(Stash{}));
  add(path, "b");
  add(path, "c");
  REQUIRE(kithue::undo_stash(path).has_value());
  CHECK((*kithue::load_stash(path))->swatches.at(0).name == "b");
}

TEST_CASE("stash store: a change that changes nothing writes nothing, and a refused one too") {
  const TemporaryFolder folder;
  const std::string path = folder / "stash.cgats";
  add(path, "a");
  const std::string before = bytes_of(path);
  const auto same = kithue::change_stash(path, [](Stash&) -> MaybeError { return std::nullopt; });
  REQUIRE(same.has_value());
  CHECK_FALSE(same->written);
  const auto refused = kithue::change_stash(path, [](Stash& stash) -> MaybeError {
    stash.swatches.clear();
    return kithue::Error{ErrorKind::not_found, "no", "", ""};
  });
  CHECK(refused.error().kind == ErrorKind::not_found);
  CHECK(bytes_of(path) == before);
  CHECK(kithue::stash_versions(path).size() == 1);
}

TEST_CASE("stash store: damage is named with the last good copy, and undo brings it back") {
  const TemporaryFolder folder;
  const std::string path = folder / "stash.cgats";
  add(path, "a");
  const std::string good = bytes_of(path);
  add(path, "b");
  std::string broken = bytes_of(path);
  broken[broken.size() / 2] ^= 1;
  std::ofstream(path, std::ios::binary) << broken;
  const auto loaded = kithue::load_stash(path);
  REQUIRE_FALSE(loaded.has_value());
  CHECK(loaded.error().kind == ErrorKind::damaged);
  CHECK(loaded.error().advice.find("stash.cgats.v2") != std::string::npos);
  const auto change = kithue::change_stash(path, adding("c"));
  CHECK(change.error().kind == ErrorKind::damaged);
  CHECK(bytes_of(path) == broken);
  const auto undo = kithue::undo_stash(path);
  REQUIRE(undo.has_value());
  CHECK(bytes_of(path) == good);
  CHECK(bytes_of(path + ".damaged") == broken);
}

TEST_CASE("stash store: undo skips damaged versions and restores a stash that is gone") {
  const TemporaryFolder folder;
  const std::string path = folder / "stash.cgats";
  add(path, "a");
  const std::string one = bytes_of(path);
  add(path, "b");
  add(path, "c");
  std::ofstream(path + ".v3", std::ios::binary) << "rubbish";
  std::filesystem::remove(path);
  REQUIRE(kithue::undo_stash(path).has_value());
  CHECK(bytes_of(path) == one);
}

TEST_CASE("stash store: a folder, a dangling link and a file in place of the folder give one clear error") {
  const TemporaryFolder folder;
  std::filesystem::create_directory(folder / "dir");
  std::filesystem::create_symlink(folder / "nowhere", folder / "dangling");
  std::ofstream(folder / "file") << "x";
  for (const std::string& path : {folder / "dir", folder / "dangling", folder / "file/stash.cgats"}) {
    CAPTURE(path);
    const auto loaded = kithue::load_stash(path);
    REQUIRE_FALSE(loaded.has_value());
    CHECK(loaded.error().where == path);
    const auto change = kithue::change_stash(path, adding("a"));
    REQUIRE_FALSE(change.has_value());
    CHECK_FALSE(change.error().what.empty());
  }
  CHECK_FALSE(std::filesystem::exists(folder / "nowhere"));
  CHECK(kithue::load_stash("").error().advice.find("--stash") != std::string::npos);
}

TEST_CASE("stash store: any call may fail in a change; the stash is old or new, and whole") {
  std::size_t fired = 0;
  for (const int fault : {EIO, ENOSPC, EMFILE, EACCES}) {
    for (const bool lasting : {false, true}) {
      for (std::size_t n = 1;; ++n) {
        const TemporaryFolder folder;
        const std::string path = folder / "stash.cgats";
        add(path, "a");
        add(path, "b");
        const std::string before = bytes_of(path);
        FaultyCalls calls;
        calls.fail_at = n;
        calls.fault = fault;
        calls.from_then_on = lasting;
        const auto change = kithue::change_stash(path, adding("c"), calls, 20);
        if (calls.fired == 0) break;
        fired += calls.fired;
        CAPTURE(n);
        CAPTURE(calls.log.back());
        REQUIRE(calls.syncs_after_failed_sync == 0);
        REQUIRE((bytes_of(path) != before) == change.has_value());
        REQUIRE(kithue::load_stash(path).has_value());
        if (!lasting) {
          REQUIRE(temporaries_in(folder.path()) == 0);
        }
        add(path, "d");
        REQUIRE(temporaries_in(folder.path()) == 0);
        REQUIRE(kithue::undo_stash(path).has_value());
        REQUIRE((bytes_of(path) != before) == change.has_value());
      }
    }
  }
  MESSAGE("faults fired: " << fired);
  CHECK(fired > 200);
}

TEST_CASE("stash store: killed at any call of a change or an undo, the stash is old or new and works on") {
  std::size_t killed = 0;
  for (const bool undoing : {false, true}) {
    for (const int states : {0, 1, 3, 22}) {
      for (std::size_t n = 1;; ++n) {
        const TemporaryFolder folder;
        const std::string path = folder / "stash.cgats";
        for (int i = 0; i < states; ++i) add(path, "s" + std::to_string(i));
        const std::string before = bytes_of(path);
        const pid_t child = ::fork();
        REQUIRE(child >= 0);
        if (child == 0) {
          FaultyCalls calls;
          calls.fail_at = n;
          calls.die = true;
          if (undoing) {
            ::_exit(kithue::undo_stash(path, false, calls).has_value() ? 0 : 1);
          }
          ::_exit(kithue::change_stash(path, adding("new"), calls).has_value() ? 0 : 1);
        }
        int status = 0;
        REQUIRE(::waitpid(child, &status, 0) == child);
        if (WEXITSTATUS(status) != 9) break;
        ++killed;
        CAPTURE(n);
        const auto loaded = kithue::load_stash(path);
        REQUIRE(loaded.has_value());
        const std::string now = bytes_of(path);
        if (!undoing && now != before) {
          REQUIRE((*loaded)->swatches.size() == static_cast<std::size_t>(states) + 1);
        }
        // The next command needs no help, and undoing it gives this very state again.
        add(path, "next");
        REQUIRE(temporaries_in(folder.path()) == 0);
        REQUIRE(kithue::undo_stash(path).has_value());
        REQUIRE(bytes_of(path) == (now.empty() ? kithue::stash_text(Stash{}) : now));
      }
    }
  }
  MESSAGE("kill points: " << killed);
  CHECK(killed > 60);
}

TEST_CASE("stash store: processes that add at the same time lose nothing of each other") {
  const TemporaryFolder folder;
  const std::string path = folder / "stash.cgats";
  constexpr int kProcesses = 4;
  constexpr int kAdds = 20;
  std::vector<pid_t> children;
  for (int p = 0; p < kProcesses; ++p) {
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      for (int i = 0; i < kAdds; ++i) {
        const std::string name = std::to_string(p) + " " + std::to_string(i);
        auto added = kithue::change_stash(path, adding(name));
        // On a machine that is busy enough, "busy" is an honest answer.
        while (!added.has_value() && added.error().kind == kithue::ErrorKind::busy)
          added = kithue::change_stash(path, adding(name));
        if (!added.has_value()) ::_exit(1);
      }
      ::_exit(0);
    }
    children.push_back(child);
  }
  for (const pid_t child : children) {
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    CHECK(WEXITSTATUS(status) == 0);
  }
  const auto loaded = kithue::load_stash(path);
  REQUIRE(loaded.has_value());
  CHECK((*loaded)->swatches.size() == kProcesses * kAdds);
  CHECK((*loaded)->next_id == kProcesses * kAdds + 1);
}
