// SPDX-License-Identifier: MIT
#include "harness/damage.h"

#include <random>

#include "harness/scene.h"
#include "swatch/stash_file.h"

namespace kithue::harness {
namespace {

/// A stash of invented swatches whose file is at least this long.
std::string stash_of_size(std::size_t bytes) {
  std::size_t swatches = 8;
  while (text_of(scene_files(swatches), "stash.cgats").size() < bytes) swatches += 8;
  return text_of(scene_files(swatches), "stash.cgats");
}

class DamageTest {
 public:
  DamageTest(Tally& tally, std::string sound, std::size_t restore_step)
      : tally_(tally),
        sound_(std::move(sound)),
        stash_(*parse_stash(sound_, "stash")),
        restore_step_(restore_step) {}

  void check(const std::string& what, const std::string& bytes) {
    ++tally_.tried;
    if (bytes == sound_) return;
    ++tally_.fired;
    const auto read = parse_stash(bytes, "stash.cgats");
    if (read && !(*read == stash_)) {
      tally_.fail(what + ": loaded as other data");
    } else if (!read && read.error().kind != ErrorKind::damaged && read.error().kind != ErrorKind::too_new) {
      tally_.fail(what + ": refused, but not named as damaged");
    }
    if (tally_.fired % static_cast<long long>(restore_step_) == 0 && !read) restore(what, bytes);
  }

 private:
  void restore(const std::string& what, const std::string& bytes) {
    const Scene scene(
        {{"stash.cgats", bytes}, {"stash.cgats.v1", stash_text({})}, {"stash.cgats.v2", sound_}});
    const Run list = scene.run({"stash", "list"});
    if (list.status != 7 || list.err.find("stash.cgats.v2") == std::string::npos)
      tally_.fail(what + ": the last good copy is not offered: " + list.err);
    if (text_of(scene.files(), "stash.cgats") != bytes) tally_.fail(what + ": reading changed the file");
    const Run undo = scene.run({"stash", "undo"});
    const Files now = scene.files();
    if (undo.status != 0 || text_of(now, "stash.cgats") != sound_)
      tally_.fail(what + ": undo does not restore it");
    if (text_of(now, "stash.cgats.damaged") != bytes) tally_.fail(what + ": the damaged file is not kept");
  }

  Tally& tally_;
  std::string sound_;
  Stash stash_;
  std::size_t restore_step_;
};

}  // namespace

Tally damage_stash(std::size_t bytes, std::size_t bit_step, std::size_t cut_step, int edits,
                   std::size_t restore_step, std::uint64_t seed) {
  Tally tally{.name = "damaged stash"};
  const std::string sound = stash_of_size(bytes);
  DamageTest test(tally, sound, restore_step);
  for (std::size_t bit = 0; bit < sound.size() * 8; bit += bit_step) {
    std::string broken = sound;
    broken[bit / 8] = static_cast<char>(static_cast<unsigned char>(broken[bit / 8]) ^ (1U << (bit % 8)));
    test.check("bit " + std::to_string(bit), broken);
  }
  for (std::size_t cut = 0; cut < sound.size(); cut += cut_step)
    test.check("cut at " + std::to_string(cut), sound.substr(0, cut));
  std::mt19937_64 random(seed);
  const auto below = [&](std::size_t n) {
    return std::uniform_int_distribution<std::size_t>(0, n - 1)(random);
  };
  for (int i = 0; i < edits; ++i) {
    std::string broken = sound;
    for (std::size_t k = 0, n = 2 + below(15); k < n; ++k)
      broken[below(broken.size())] = static_cast<char>(below(256));
    test.check("edit " + std::to_string(i), broken);
  }
  test.check("two glued", sound + sound);
  test.check("empty", "");
  test.check("zeros", std::string(sound.size(), '\0'));
  test.check("first half twice", sound.substr(0, sound.size() / 2) + sound.substr(0, sound.size() / 2));
  return tally;
}

}  // namespace kithue::harness
