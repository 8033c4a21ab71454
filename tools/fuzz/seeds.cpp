// SPDX-License-Identifier: MIT
#include "fuzz/targets.h"
#include "harness/names.h"
#include "samples/samples.h"
#include "swatch/export.h"
#include "swatch/import.h"
#include "swatch/stash_file.h"

namespace kithue::fuzz {
namespace {

constexpr std::size_t kSeeds = 30;  // sound ones, and as many spoilt
constexpr std::size_t kLargest = 16'384;

void add(std::vector<std::string>& seeds, samples::Kind kind) {
  constexpr std::uint64_t kSeed = 2;
  for (const auto& files :
       {samples::sound_files(kind, kSeeds, kSeed), samples::spoilt_files(kind, kSeeds, kSeed)}) {
    for (const samples::Sample& file : files) {
      if (file.bytes.size() <= kLargest) seeds.push_back(file.bytes);
    }
  }
}

/// What the sound tables hold, a stash a table.
std::vector<Stash> imported() {
  std::vector<Stash> stashes;
  for (const samples::Kind kind : {samples::Kind::csv, samples::Kind::cgats}) {
    for (const samples::Sample& file : samples::sound_files(kind, kSeeds, 3)) {
      const auto import = read_import(file.bytes, "seed", ImportOptions{});
      stashes.emplace_back();
      if (import) merge_import(stashes.back(), *import);
    }
  }
  return stashes;
}

/// Our own exports.
void add_exports(std::vector<std::string>& seeds) {
  for (const Stash& stash : imported()) {
    const std::string text = csv_text(stash);
    if (text.size() <= kLargest) seeds.push_back(text);
  }
}

/// Stash files, whole and with a piece cut out.
void add_stashes(std::vector<std::string>& seeds) {
  for (const Stash& stash : imported()) {
    const std::string text = stash_text(stash);
    seeds.push_back(text);
    if (seeds.size() % 4 == 0)
      seeds.push_back(text.substr(0, text.size() / 2) + text.substr(text.size() / 2 + 40));
  }
}

/// Each hostile name through another command.
void add_names(std::vector<std::string>& seeds) {
  std::size_t turn = 0;
  for (const std::string& name : harness::hostile_names()) {
    turn += 7;
    seeds.push_back(static_cast<char>(turn & 0xffU) + name.substr(0, 400));
  }
}

}  // namespace

std::vector<std::string> seeds_for(const Target& target) {
  std::vector<std::string> seeds;
  if (target.name == "csv") {
    add(seeds, samples::Kind::csv);
    add_exports(seeds);
  }
  if (target.name == "cgats") add(seeds, samples::Kind::cgats);
  if (target.name == "stash") add_stashes(seeds);
  if (target.name == "kit") add(seeds, samples::Kind::kit);
  if (target.name == "jpeg") add(seeds, samples::Kind::jpeg);
  if (target.name == "png") add(seeds, samples::Kind::png);
  if (target.name == "profile") {
    add(seeds, samples::Kind::profile);
    add(seeds, samples::Kind::exif);
  }
  if (target.name == "names") add_names(seeds);
  return seeds;
}

}  // namespace kithue::fuzz
