// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <filesystem>
#include <fstream>

#include "base/files.h"
#include "base/temporary_folder.h"
#include "harness/faulty_calls.h"

namespace {

using kithue::ErrorKind;
using kithue::testing::FaultyCalls;
using kithue::testing::TemporaryFolder;

std::string bytes_of(const std::string& path) {
  const auto bytes = kithue::read_file(path, 1 << 24);
  return bytes ? *bytes : "<" + bytes.error().what + ">";
}

mode_t mode_of(const std::string& path) {
  struct stat facts = {};
  return ::lstat(path.c_str(), &facts) == 0 ? facts.st_mode & 0777U : 0;
}

}  // namespace

TEST_CASE("replace_file_atomically: the new bytes are there, private, with nothing left beside them") {
  const TemporaryFolder folder;
  const std::string path = folder / "a.txt";
  REQUIRE(kithue::replace_file_atomically(path, "one").has_value());
  REQUIRE(kithue::replace_file_atomically(path, "two", {path + ".old", false}).has_value());
  CHECK(bytes_of(path) == "two");
  CHECK(bytes_of(path + ".old") == "one");
  CHECK(mode_of(path) == 0600);
  CHECK(kithue::names_in(folder.path()) == std::vector<std::string>{"a.txt", "a.txt.old"});
}

TEST_CASE("replace_file_atomically: the file is synced before the rename and the folder after it") {
  const TemporaryFolder folder;
  FaultyCalls calls;
  REQUIRE(kithue::replace_file_atomically(folder / "a.txt", "one", {}, calls).has_value());
  const auto rename = std::find(calls.log.begin(), calls.log.end(), "rename");
  REQUIRE(rename != calls.log.end());
  CHECK(std::count(calls.log.begin(), rename, "fsync") == 1);
  CHECK(std::count(rename, calls.log.end(), "fsync") == 1);
}

TEST_CASE("replace_file_atomically: short writes and interrupted calls do not show") {
  const TemporaryFolder folder;
  const std::string path = folder / "a.txt";
  std::string long_text;
  for (int i = 0; i < 300; ++i) long_text += std::to_string(i) + ' ';
  for (const std::size_t most : {1U, 7U, 4096U}) {
    FaultyCalls calls;
    calls.most_written = most;
    calls.interrupts = 3;
    REQUIRE(kithue::replace_file_atomically(path, long_text, {}, calls).has_value());
    CHECK(calls.fired > 0);
    CHECK(bytes_of(path) == long_text);
    const auto back = kithue::read_file(path, 1 << 20, calls);
    REQUIRE(back.has_value());
    CHECK(*back == long_text);
  }
}

TEST_CASE("replace_file_atomically: any call may fail; the file is old or new and nothing is left") {
  std::size_t fired = 0;
  for (const int fault : {EIO, ENOSPC, EDQUOT, EACCES, EROFS, EMFILE}) {
    for (const bool lasting : {false, true}) {
      for (std::size_t n = 1;; ++n) {
        const TemporaryFolder folder;
        const std::string path = folder / "a.txt";
        REQUIRE(kithue::replace_file_atomically(path, "old").has_value());
        FaultyCalls calls;
        calls.fail_at = n;
        calls.fault = fault;
        calls.from_then_on = lasting;
        const auto written = kithue::replace_file_atomically(path, "new", {}, calls);
        if (calls.fired == 0) break;
        fired += calls.fired;
        CAPTURE(n);
        CAPTURE(calls.log.back());
        REQUIRE(calls.syncs_after_failed_sync == 0);
        const std::string now = bytes_of(path);
        REQUIRE(now == (written ? "new" : "old"));
        if (!written) {
          REQUIRE(written.error().where == path);
          REQUIRE_FALSE(written.error().what.empty());
        }
        // Where even unlink fails the next writer tidies up.
        if (!lasting) {
          REQUIRE(kithue::names_in(folder.path()).size() == 1);
        }
      }
    }
  }
  MESSAGE("faults fired: " << fired);
  CHECK(fired > 100);
}

TEST_CASE(
    "replace_file_atomically: a writer killed at any call leaves old or new, and the next one tidies up") {
  std::size_t killed = 0;
  for (std::size_t n = 1;; ++n) {
    const TemporaryFolder folder;
    const std::string path = folder / "a.txt";
    REQUIRE(kithue::replace_file_atomically(path, "old").has_value());
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      FaultyCalls calls;
      calls.fail_at = n;
      calls.die = true;
      const auto written = kithue::replace_file_atomically(path, "new", {}, calls);
      ::_exit(written ? 0 : 1);
    }
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    if (WEXITSTATUS(status) == 0) break;
    REQUIRE(WEXITSTATUS(status) == 9);
    ++killed;
    const std::string now = bytes_of(path);
    REQUIRE((now == "old" || now == "new"));
    REQUIRE(kithue::replace_file_atomically(path, "next").has_value());
    REQUIRE(kithue::names_in(folder.path()).size() == 1);
  }
  MESSAGE("kill points: " << killed);
  CHECK(killed > 8);
}

TEST_CASE("replace_file_atomically: a folder, a link and a dangling link are refused and stay as they are") {
  const TemporaryFolder folder;
  std::filesystem::create_directory(folder / "dir");
  REQUIRE(kithue::replace_file_atomically(folder / "real", "real").has_value());
  std::filesystem::create_symlink(folder / "real", folder / "link");
  std::filesystem::create_symlink(folder / "nowhere", folder / "dangling");
  for (const char* name : {"dir", "link", "dangling"}) {
    CAPTURE(name);
    const auto written = kithue::replace_file_atomically(folder / name, "x");
    REQUIRE_FALSE(written.has_value());
    CHECK(written.error().kind == ErrorKind::cannot_write);
    CHECK_FALSE(written.error().advice.empty());
  }
  CHECK(bytes_of(folder / "real") == "real");
  CHECK_FALSE(std::filesystem::exists(folder / "nowhere"));
  const auto again = kithue::replace_file_atomically(folder / "real", "x", {"", true});
  REQUIRE_FALSE(again.has_value());
  CHECK(again.error().advice.find("--force") != std::string::npos);
}

TEST_CASE("replace_file_atomically: a full device gives one clear error") {
  const auto written = kithue::replace_file_atomically("/dev/full", "x");
  REQUIRE_FALSE(written.has_value());
  CHECK(written.error().kind == ErrorKind::cannot_write);
}

TEST_CASE("replace_file_atomically: a failed write, sync or close of the new file keeps the old one") {
  const TemporaryFolder folder;
  const std::string path = folder / "a.txt";
  REQUIRE(kithue::replace_file_atomically(path, "old").has_value());
  FaultyCalls clean;
  REQUIRE(kithue::replace_file_atomically(path, "old", {}, clean).has_value());
  const auto write = std::find(clean.log.begin(), clean.log.end(), "write");
  for (const char* name : {"write", "fsync", "close"}) {
    CAPTURE(name);
    FaultyCalls calls;
    calls.fail_at = static_cast<std::size_t>(std::find(write, clean.log.end(), name) - clean.log.begin()) + 1;
    const auto written = kithue::replace_file_atomically(path, "new", {}, calls);
    CHECK(calls.fired == 1);
    CHECK(calls.log.at(calls.fail_at - 1) == name);
    CHECK_FALSE(written.has_value());
    CHECK(bytes_of(path) == "old");
    CHECK(kithue::names_in(folder.path()).size() == 1);
  }
}

TEST_CASE("keep_copy: a file system without links gets a copy") {
  const TemporaryFolder folder;
  const std::string path = folder / "a.txt";
  REQUIRE(kithue::replace_file_atomically(path, "one").has_value());
  FaultyCalls calls;
  calls.links = false;
  REQUIRE(kithue::replace_file_atomically(path, "two", {path + ".old", false}, calls).has_value());
  CHECK(bytes_of(path) == "two");
  CHECK(bytes_of(path + ".old") == "one");
}

TEST_CASE("make_folder: folders above are made too, and private") {
  const TemporaryFolder folder;
  REQUIRE_FALSE(kithue::make_folder(folder / "x/y/z").has_value());
  CHECK(mode_of(folder / "x/y/z") == 0700);
  CHECK_FALSE(kithue::make_folder(folder / "x/y/z").has_value());
  REQUIRE(kithue::replace_file_atomically(folder / "file", "f").has_value());
  CHECK(kithue::make_folder(folder / "file/below").has_value());
}

TEST_CASE("FileLock: a second process waits, then is told busy; a killed holder frees it at once") {
  const TemporaryFolder folder;
  const std::string path = folder / "a.lock";
  int ready[2];
  REQUIRE(::pipe(ready) == 0);
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    const auto lock = kithue::FileLock::take(path);
    const char byte = lock ? 'y' : 'n';
    if (::write(ready[1], &byte, 1) != 1) ::_exit(1);
    for (;;) ::pause();
  }
  char byte = 0;
  REQUIRE(::read(ready[0], &byte, 1) == 1);
  REQUIRE(byte == 'y');
  const auto busy = kithue::FileLock::take(path, 50);
  REQUIRE_FALSE(busy.has_value());
  CHECK(busy.error().kind == ErrorKind::busy);
  REQUIRE(::kill(child, SIGKILL) == 0);
  int status = 0;
  REQUIRE(::waitpid(child, &status, 0) == child);
  CHECK(kithue::FileLock::take(path, 0).has_value());
  ::close(ready[0]);
  ::close(ready[1]);
}

TEST_CASE("folder_of and name_of: both parts of a path") {
  CHECK(kithue::folder_of("/a/b.txt") == "/a");
  CHECK(kithue::folder_of("/b.txt") == "/");
  CHECK(kithue::folder_of("b.txt") == ".");
  CHECK(kithue::name_of("/a/b.txt") == "b.txt");
  CHECK(kithue::name_of("b.txt") == "b.txt");
}
