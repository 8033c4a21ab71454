// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <fstream>
#include <memory>
#include <optional>
#include <sstream>

#include "advise/swatches.h"
#include "base/text.h"
#include "cli/advice_run.h"
#include "kit/kit.h"
#include "kit/new_kit.h"
#include "sheet/outside.h"

using namespace kithue;

namespace {

Stash kit_new_stash() {
  Stash stash;
  stash.swatches = {
      swatch_with(1, "Sail", Kind::stock, {95, 1, 5}),  swatch_with(2, "Quay", Kind::stock, {48, -3, -34}),
      swatch_with(3, "Pitch", Kind::ink, {16, 0, 1}),   swatch_with(4, "Rose", Kind::ink, {50, 50, 10}),
      swatch_with(5, "Moss", Kind::ink, {50, -30, 30}), swatch_with(6, "Sun", Kind::ink, {80, 5, 70})};
  stash.next_id = 7;
  return stash;
}

Kit read(const std::string& text) {
  const auto kit = parse_kit(text, "new.toml");
  REQUIRE_MESSAGE(kit.has_value(), (kit ? "" : describe(kit.error())));
  return *kit;
}

/// The file with every key that is only a note put to use.
std::string with_notes_in_use(const std::string& text) {
  std::string used;
  for (const std::string_view line : split(text, '\n')) {
    const bool key = line.size() > 1 && line[0] == '#' && line[1] != ' ';
    used += std::string(key ? line.substr(1) : line) + "\n";
  }
  return used;
}

}  // namespace

TEST_CASE("new kit: what it writes is read without a warning, with and without the keys in its notes") {
  NewKit kit;
  for (const bool letter : {false, true}) {
    for (const bool photos : {false, true}) {
      for (const char* name : {"Harbour Morning", "say \"hi\"\\", "\xd7\x91\xd7\x95\xd7\xa7\xd7\xa8"}) {
        CAPTURE(name);
        kit.letter = letter;
        kit.name = name;
        kit.base = name;
        kit.photos =
            photos ? std::vector<std::string>{"a \"b\".jpg", "c.jpg", "d.jpg"} : std::vector<std::string>();
        kit.mat = photos ? "Quay" : "";
        const std::string text = new_kit_text(kit);
        const Kit plain = read(text);
        CHECK(plain.warnings.empty());
        CHECK(plain.name == name);
        CHECK(plain.faces.size() == (photos ? 3U : 2U));
        CHECK(plain.cards.size() == 1);
        if (kit.photos.empty()) continue;
        const Kit full = read(with_notes_in_use(text));
        CHECK(full.warnings.empty());
        CHECK(full.portions.size() == 1);
        CHECK(full.supplies.size() == 1);
        CHECK(full.punch.has_value());
        CHECK(full.faces[0].directional);
      }
    }
  }
}

TEST_CASE("kit new: the file passes every command that takes a kit") {
  const AdviceRun run(kit_new_stash());
  for (const char* page : {"A4", "letter"}) {
    const std::string file = run.path(std::string(page) + ".toml");
    const auto made =
        run({"kit", "new", file, "--no-input", "--kits", "12", "--page", page, "--mat", "Quay"});
    CAPTURE(made.err);
    REQUIRE(made.status == 0);
    const std::vector<std::vector<std::string>> commands{{"kit", "check", file, "--fail-on", "fault"},
                                                         {"kit", "count", file},
                                                         {"kit", "cut", file},
                                                         {"choose", file},
                                                         {"clash", "--kit", file},
                                                         {"sheet", file, "-o", run.path("x.pdf"), "--force"}};
    for (const auto& command : commands) {
      const auto outcome = run(command);
      CAPTURE(command[0]);
      CAPTURE(outcome.out);
      CAPTURE(outcome.err);
      CHECK(outcome.status == 0);
    }
  }
}

TEST_CASE(
    "kit new: starts from the lightest stock and the darkest ink, and never writes over a file unasked") {
  const AdviceRun run(kit_new_stash());
  const std::string file = run.path("spring.toml");
  CHECK(run({"kit", "new", file, "--no-input", "--dry-run"}).out.find("name = \"spring\"") !=
        std::string::npos);
  CHECK(run({"kit", "new", file, "--no-input", "--json"}).data()["faces"] == 2);
  const Kit kit = read(file_bytes(file));
  CHECK(kit.base == std::vector<std::string>{"Sail"});
  CHECK(kit.inks.must == std::vector<std::string>{"Pitch"});
  const auto again = run({"kit", "new", file, "--no-input"});
  CHECK(again.status == 5);
  CHECK(again.err.find("--force") != std::string::npos);
  CHECK(run({"kit", "new", file, "--no-input", "--force", "--sheets", "3", "--one-sided"}).status == 0);
  CHECK(run({"kit", "new", run.path("."), "--no-input", "--force"}).status == 5);
}

TEST_CASE("kit new: asks what was not said, again after a wrong answer; no answer is the default") {
  const AdviceRun run(kit_new_stash());
  std::istringstream answers("Spring \nmany\n12\n\nLetter\n");
  std::ostringstream out;
  std::ostringstream err;
  const Surroundings around{.out = out,
                            .err = err,
                            .environment = [](const char*) { return std::optional<std::string>(); },
                            .make_executor = [](std::size_t) -> std::unique_ptr<Executor> {
                              return std::make_unique<SerialExecutor>();
                            },
                            .in = &answers};
  const std::string file = run.path("asked.toml");
  CHECK(run_kithue({"kit", "new", file, "--copies", "2", "--stash", run.path("stash.cgats")}, around) == 0);
  CHECK(err.str().find("How many kits [1] ") != std::string::npos);
  CHECK(err.str().find("'many' is not a number") != std::string::npos);
  CHECK(err.str().find("Copies of each sheet") == std::string::npos);  // it was said
  const Kit kit = read(file_bytes(file));
  CHECK(kit.name == "Spring");
  CHECK(kit.kits == 12);
  CHECK(kit.spares == 0);
  CHECK(kit.page == "Letter");
  CHECK(kit.pack.copies == 2);
}

TEST_CASE("kit new: wrong options give one clear line and status 2 or 5, and write nothing") {
  const AdviceRun run(kit_new_stash());
  const std::string file = run.path("k.toml");
  const std::vector<std::pair<std::vector<std::string>, int>> wrong{{{"--kits", "0"}, 2},
                                                                    {{"--pack-sheet", "12 x 12"}, 2},
                                                                    {{"--page", "A5"}, 2},
                                                                    {{"--name", ""}, 2},
                                                                    {{"--name", "a\x01"}, 2},
                                                                    {{"--photo", run.path("none.jpg")}, 5},
                                                                    {{"--pack-sheet", "50 x 50 mm"}, 3}};
  for (const auto& [more, status] : wrong) {
    std::vector<std::string> args{"kit", "new", file, "--no-input"};
    args.insert(args.end(), more.begin(), more.end());
    const auto outcome = run(args);
    CAPTURE(outcome.err);
    CHECK(outcome.status == status);
    CHECK(outcome.error_lines() == 1);
    CHECK(!std::ifstream(file).good());
  }
}
