// SPDX-License-Identifier: MIT
// The night tier of the harnesses, one line each. Usage: kithue_soak PROGRAM [WORDS]
// Only harnesses whose name contains WORDS. Fails when one of them broke a promise or fired nothing.
#include <cstdio>
#include <functional>
#include <string_view>
#include <vector>

#include "harness/caps.h"
#include "harness/crash.h"
#include "harness/damage.h"
#include "harness/interrupt.h"
#include "harness/malformed.h"
#include "harness/names.h"
#include "harness/outputs.h"
#include "harness/power_loss.h"

namespace {

using namespace kithue::harness;

bool report(const Tally& tally) {
  std::printf("%-40s tried %8lld  fired %8lld  failed %lld\n", tally.name.c_str(), tally.tried, tally.fired,
              tally.failed);
  for (const std::string& what : tally.failures) std::printf("    %s\n", what.c_str());
  std::fflush(stdout);
  return tally.passed();
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    std::fputs("usage: kithue_soak PROGRAM [WORDS]\n", stderr);
    return 2;
  }
  const std::string program = argv[1];
  const std::string_view only = argc > 2 ? argv[2] : "";
  struct Harness {
    std::string_view name;
    std::function<Tally()> run;
  };
  const std::vector<Harness> harnesses{
      {"kill calls",
       [] {
         return kill_at_every_call({0, 1, 300, 10'000});
       }},
      {"kill random", [] { return kill_at_random(10'000, 1); }},
      {"kill lock", [] { return kill_lock_holder(200); }},
      {"power",
       [] {
         return cut_power({0, 1, 300});
       }},
      {"faults",
       [] {
         return fail_every_call({0, 1, 300});
       }},
      {"writers", [] { return write_together(16, 250, 8, 20); }},
      {"damage", [] { return damage_stash(20'480, 1, 1, 10'000, 500, 1); }},
      {"spoilt files", [] { return read_spoilt_files(1, 1); }},
      {"run files", [&] { return run_spoilt_and_sound_files(program, 1, 1); }},
      {"sound files", [] { return read_sound_files(1, 1); }},
      {"names", [] { return print_hostile_names(1); }},
      {"outputs", [&] { return spoil_outputs(program); }},
      {"caps", [&] { return keep_caps(program); }},
      {"address space", [&] { return limit_address_space(program); }},
      {"interrupt", [&] { return interrupt_long_commands(program, 200, 1); }},
  };
  bool sound = true;
  for (const Harness& harness : harnesses) {
    if (harness.name.find(only) != std::string_view::npos) sound = report(harness.run()) && sound;
  }
  return sound ? 0 : 1;
}
