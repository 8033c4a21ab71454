// SPDX-License-Identifier: MIT
// Lets the n-th request for memory fail, for n = 1, 2, 3 ... until none is left to fail, in six ways into the
// program: once, and from then on; then at random. Each must end with the undisturbed result, or with a clean
// error (an Error, or std::bad_alloc, which main turns into one); nothing may crash or leak. A program of its
// own, because it replaces malloc for itself and every library. Usage: kithue_out_of_memory [STEP] STEP:
// every n-th number only, to make it shorter.
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <functional>
#include <new>
#include <string>

#include "advise/choose.h"
#include "harness/run.h"
#include "harness/scene.h"
#include "photo/photo.h"
#include "samples/samples.h"
#include "swatch/import.h"
#include "swatch/stash_file.h"

// glibc's own, behind the names that are replaced here.
// NOLINTBEGIN(bugprone-reserved-identifier)
extern "C" {
void* __libc_malloc(std::size_t size);
void* __libc_calloc(std::size_t count, std::size_t size);
void* __libc_realloc(void* memory, std::size_t size);
void* __libc_memalign(std::size_t alignment, std::size_t size);
void __libc_free(void* memory);
}
// NOLINTEND(bugprone-reserved-identifier)

namespace {

struct Requests {
  bool watched = false;
  long made = 0;
  long fail_at = 0;  ///< 0 = none
  bool from_then_on = false;
  unsigned one_in = 0;  ///< at random, when not 0
  unsigned dice = 1;
  long fired = 0;
  long held = 0;  ///< pieces that were given out and not given back
};
Requests requests;

bool refused() {
  if (!requests.watched) return false;
  ++requests.made;
  bool refuse = requests.fail_at != 0 && (requests.made == requests.fail_at ||
                                          (requests.from_then_on && requests.made > requests.fail_at));
  if (requests.one_in != 0) {
    requests.dice = requests.dice * 1'664'525U + 1'013'904'223U;
    refuse = requests.dice / 65'536U % requests.one_in == 0;
  }
  if (!refuse) return false;
  ++requests.fired;
  errno = ENOMEM;
  return true;
}

void* counted(void* memory) {
  if (memory != nullptr) ++requests.held;
  return memory;
}

}  // namespace

extern "C" {
void* malloc(std::size_t size) {
  return refused() ? nullptr : counted(__libc_malloc(size));
}
void* calloc(std::size_t count, std::size_t size) {
  return refused() ? nullptr : counted(__libc_calloc(count, size));
}
void* realloc(void* memory, std::size_t size) {
  if (refused()) return nullptr;
  void* moved = __libc_realloc(memory, size);
  if (memory == nullptr && moved != nullptr) ++requests.held;
  return moved;
}
void* memalign(std::size_t alignment, std::size_t size) {
  return refused() ? nullptr : counted(__libc_memalign(alignment, size));
}
void* aligned_alloc(std::size_t alignment, std::size_t size) {
  return memalign(alignment, size);
}
int posix_memalign(void** into, std::size_t alignment, std::size_t size) {
  void* memory = memalign(alignment, size);
  if (memory == nullptr) return ENOMEM;
  *into = memory;
  return 0;
}
void free(void* memory) {
  if (memory != nullptr) --requests.held;
  __libc_free(memory);
}
}

namespace {

using namespace kithue;

/// A way in: gives a number that stands for the result, or 0 for a clean error.
struct Way {
  const char* name;
  std::function<long long()> run;
};

long long sum_of(const Photo& photo) {
  // What could not be used for want of memory is told as a warning, and is no silent change.
  if (!photo.warnings.empty()) return 0;
  std::vector<float> row(static_cast<std::size_t>(photo.width) * 3);
  double sum = 1.0;
  for (int y = 0; y < photo.height; ++y) {
    photo.light->read(0, y, photo.width, row.data());
    for (std::size_t i = 0; i < row.size(); ++i)
      sum += static_cast<double>(row[i]) * static_cast<double>(i + 1);
  }
  return static_cast<long long>(sum * 1000.0) + 1;
}

long long imported(const std::string& bytes) {
  const auto import = read_import(bytes, "x", ImportOptions{});
  if (!import) return 0;
  Stash stash;
  merge_import(stash, *import);
  return static_cast<long long>(std::hash<std::string>{}(stash_text(stash)) >> 2U) + 1;
}

long long decoded(const std::string& bytes) {
  const auto photo = decode_photo(bytes, "x");
  return photo ? sum_of(*photo) : 0;
}

/// Of the sound files, the first that is as large as they come.
std::string largest(samples::Kind kind) {
  std::string most;
  for (samples::Sample& sample : samples::sound_files(kind, 20, 1)) {
    if (sample.bytes.size() > most.size() && sample.bytes.size() < 16'384) most = std::move(sample.bytes);
  }
  return most;
}

std::vector<Way> ways() {
  static const std::string stash = harness::text_of(harness::scene_files(12), "stash.cgats");
  static const std::string csv = largest(samples::Kind::csv);
  static const std::string cgats = largest(samples::Kind::cgats);
  static const std::string jpeg = largest(samples::Kind::jpeg);
  static const std::string png = largest(samples::Kind::png);
  static const harness::Scene scene(harness::scene_files(12));
  return {{"stash",
           [] {
             const auto read = parse_stash(stash, "x");
             return read ? static_cast<long long>(read->swatches.size()) : 0LL;
           }},
          {"CSV", [] { return imported(csv); }},
          {"CGATS", [] { return imported(cgats); }},
          {"JPEG", [] { return decoded(jpeg); }},
          {"PNG", [] { return decoded(png); }},
          {"choose", [] {
             const auto ended = scene.run({"choose", "{}/kit.toml", "--plain"});
             return ended.status == 0 ? static_cast<long long>(std::hash<std::string>{}(ended.out) >> 2U) + 1
                                      : 0LL;
           }}};
}

/// 0 well, 1 no request was left to fail, 2 a wrong result, 3 a leak, 4 another exception.
int one_run(const Way& way, long long sound, long fail_at, bool from_then_on, unsigned one_in,
            unsigned seed) {
  requests = {};
  requests.fail_at = fail_at;
  requests.from_then_on = from_then_on;
  requests.one_in = one_in;
  requests.dice = seed;
  long long result = 0;
  bool strange = false;
  requests.watched = true;
  try {
    result = way.run();
  } catch (const std::bad_alloc&) {
    result = 0;
  } catch (...) {
    strange = true;
  }
  requests.watched = false;
  if (strange) return 4;
  if (requests.fired == 0) return 1;
  if (result != 0 && result != sound) return 2;
  return requests.held > 0 ? 3 : 0;
}

struct Count {
  long tried = 0;
  long fired = 0;
  long failed = 0;
};

/// Each run in a process of its own, so that a crash is one failure.
int in_child(const std::function<int()>& body) {
  const pid_t child = ::fork();
  if (child == 0) ::_exit(body());
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : 100 + WTERMSIG(status);
}

bool count_one(Count& count, const Way& way, int code, const std::string& what) {
  ++count.tried;
  if (code == 1) return false;
  ++count.fired;
  if (code == 0) return true;
  ++count.failed;
  constexpr long kShown = 5;
  if (count.failed <= kShown)
    std::printf("    %s, %s: %s\n", way.name, what.c_str(),
                code == 2   ? "another result"
                : code == 3 ? "memory was not given back"
                : code == 4 ? "an exception that is not bad_alloc"
                            : ("ended by signal " + std::to_string(code - 100)).c_str());
  return true;
}

}  // namespace

int main(int argc, char** argv) {
  constexpr long kMost = 5000;
  constexpr unsigned kRandom = 2000;
  const long step = argc > 1 ? std::atol(argv[1]) : 1;
  if (step < 1) return 2;
  Count count;
  const std::vector<Way> all = ways();
  for (const Way& way : all) {
    static_cast<void>(way.run());  // what is made once and kept is no leak
    const long long sound = way.run();
    if (sound == 0) {
      std::printf("    %s: does not work at all\n", way.name);
      ++count.failed;
    }
    for (const bool from_then_on : {false, true}) {
      for (long n = 1; n <= kMost; n += step) {
        const int code = in_child([&] { return one_run(way, sound, n, from_then_on, 0, 0); });
        if (!count_one(count, way, code,
                       "request " + std::to_string(n) + (from_then_on ? " and all after it" : "")))
          break;
      }
    }
    for (unsigned i = 0; i < kRandom / all.size() / static_cast<unsigned>(step); ++i) {
      const int code = in_child([&] { return one_run(way, sound, 0, false, 20 + i % 200, 7 * i + 1); });
      count_one(count, way, code, "at random, " + std::to_string(i));
    }
  }
  std::printf("%-40s tried %8ld  fired %8ld  failed %ld\n", "out of memory", count.tried, count.fired,
              count.failed);
  return count.failed == 0 && count.fired > 0 ? 0 : 1;
}
