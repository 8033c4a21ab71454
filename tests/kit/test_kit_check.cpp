// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "advise/swatches.h"
#include "kit/kit_check.h"

using namespace kithue;

namespace {

Stash stash_to_check() {
  Stash stash;
  stash.swatches = {swatch_with(1, "Sail", Kind::stock, {95, 1, 5}),
                    swatch_with(2, "Quay", Kind::stock, {48, -3, -34}),
                    swatch_with(3, "Mooring", Kind::stock, {48, -8, -33}),
                    swatch_with(4, "Pitch", Kind::ink, {16, 0, 1}),
                    swatch_with(5, "Spray", Kind::ink, {80, -14, -8}),
                    swatch_with(6, "Gone", Kind::stock, {60, 20, 20}),
                    swatch_with(7, "Near Gone", Kind::stock, {61, 21, 20})};
  stash.swatches[5].retired = true;
  stash.next_id = 8;
  return stash;
}

const std::string kFaces = R"toml(name = "K"
[[face]]
label = "1A"
direction = "up"
colours = ["lab(90 5 30)", { colour = "lab(50 60 40)", role = "accent" }]
[[face]]
label = "1B"
colours = ["lab(30 -20 10)"]
)toml";

std::string card(const std::string& rest) {
  return "[[card]]\nname = \"Gulls\"\n" + rest;
}
std::string piece(const std::string& name, const std::string& from, const std::string& rest = "") {
  return "[[card.piece]]\nname = \"" + name + "\"\n" + from + "\nsize = \"50 x 80 mm\"\n" + rest;
}

std::vector<KitFinding> found(const std::string& cards, const Stash& stash = stash_to_check(),
                              const Bands& bands = {}) {
  const auto kit = parse_kit(kFaces + cards, "kit.toml");
  REQUIRE_MESSAGE(kit.has_value(), (kit ? "" : describe(kit.error())));
  FaceColours faces;
  for (const KitFace& face : kit->faces) faces.push_back(face.colours);
  return check_kit(*kit, stash, faces, bands);
}

std::vector<std::string> kinds(const std::vector<KitFinding>& findings) {
  std::vector<std::string> list;
  for (const KitFinding& one : findings) list.push_back(std::string(word_for(one.severity)) + " " + one.kind);
  return list;
}

/// Picks the accent of 1A up, so that other tests are not about it.
Stash with_red(Stash stash) {
  stash.swatches.push_back(swatch_with(8, "Red", Kind::stock, {50, 58, 40}));
  stash.next_id = 9;
  return stash;
}
const std::string kRed = piece("red", "stock = \"Red\"");

}  // namespace

TEST_CASE("check_kit: a sound kit has no findings") {
  CHECK(found(card(piece("base", "stock = \"Sail\"") +
                   piece("mat", "stock = \"Quay\"", "touches = [\"base\"]\n") + kRed +
                   "[[card.stamp]]\nink = \"Pitch\"\non = \"base\"\n"),
              with_red(stash_to_check()))
            .empty());
}

TEST_CASE("check_kit: each fault is found, with its card, its place and what to do") {
  struct Row {
    const char* name;
    std::string cards;
    std::vector<std::string> kinds;
    const char* what;
    const char* advice;
  };
  const Row rows[] = {
      {"near-miss that touches",
       piece("a", "stock = \"Quay\"") + piece("b", "stock = \"Mooring\"", "touches = [\"a\"]\n"),
       {"fault clash"},
       "near-miss",
       "third colour"},
      {"near-miss that does not touch",
       piece("a", "stock = \"Quay\"") + piece("b", "stock = \"Mooring\""),
       {},
       "",
       ""},
      {"words that do not read",
       piece("a", "stock = \"Sail\"") + "[[card.stamp]]\nink = \"Spray\"\non = \"a\"\nwords = \"ahoy\"\n",
       {"fault sentiment"},
       "does not read as fine text",
       "stamp it in Pitch"},
      {"the same as a picture",
       piece("a", "stock = \"Sail\"") + "[[card.stamp]]\nink = \"Spray\"\non = \"a\"\nuse = \"picture\"\n",
       {},
       "",
       ""},
      {"a retired stock", piece("a", "stock = \"Gone\""), {"fault missing"}, "is retired", "Near Gone"},
      {"an unknown stock", piece("a", "stock = \"Sial\""), {"fault missing"}, "Sial", "Sail"},
      {"an ink where a stock should be",
       piece("a", "stock = \"Pitch\""),
       {"fault missing"},
       "not stock",
       "kind"},
      {"a directional face on its side",
       piece("a", "face = \"1A\"", "turn = \"always\"\n"),
       {"fault direction"},
       "on its side",
       "turn"},
      {"a piece of a portion that is not there",
       piece("a", "face = \"1A\"", "from = \"portion\"\n"),
       {"fault sides"},
       "no portion holds it",
       "[[portion]]"}};
  for (const Row& row : rows) {
    CAPTURE(row.name);
    const auto findings = found(card(row.cards + kRed), with_red(stash_to_check()));
    CHECK(kinds(findings) == row.kinds);
    if (row.kinds.empty() || findings.empty()) continue;
    CAPTURE(findings[0].what);
    CAPTURE(findings[0].advice);
    CHECK(findings[0].what.find(row.what) != std::string::npos);
    CHECK(findings[0].advice.find(row.advice) != std::string::npos);
    CHECK(findings[0].where.starts_with("kit.toml:"));
    CHECK((findings[0].on.starts_with("Gulls: ") || findings[0].on == "sheet 1"));
  }
}

TEST_CASE("check_kit: accents, batches, both sides of a portion and faces on two cards") {
  Stash stash = stash_to_check();
  Reading second = stash.swatches[0].readings[0];
  stash.swatches[0].readings[0].batch = "H1";
  second.batch = "H2";
  second.lab.b += 3.0;
  stash.swatches[0].readings.push_back(second);
  const auto findings =
      found("[[portion]]\nsize = \"6 x 6 in\"\n" +
                card(piece("a", "face = \"1A\"", "from = \"portion\"\n") + piece("s", "stock = \"Sail\"")) +
                "[[card]]\nname = \"Two\"\n" + piece("a", "face = \"1B\"", "from = \"portion\"\n") +
                piece("b", "face = \"1A\""),
            stash);
  CHECK(kinds(findings) == std::vector<std::string>{"risk batch", "note sides", "note accent", "note twice"});
  CHECK(findings[0].what.find("H1, H2") != std::string::npos);
}

TEST_CASE("check_kit: what does not fit its portion is a fault that says how many it takes") {
  const auto with = [](const std::string& portion, const std::string& rest) {
    return found("[[portion]]\nsize = \"" + portion + "\"\n" +
                     card(piece("a", "face = \"1A\"", "from = \"portion\"\n" + rest) + kRed),
                 with_red(stash_to_check()));
  };
  CHECK(with("60 x 90 mm", "").empty());
  // 1A is directional: 50 x 80 mm does not go into 90 x 60 mm.
  const auto turned = with("90 x 60 mm", "");
  REQUIRE(kinds(turned) == std::vector<std::string>{"fault portion"});
  CHECK(turned[0].what.find("does not fit") != std::string::npos);
  const auto three = with("101 x 81 mm", "count = 3\n");  // two to a portion
  REQUIRE(kinds(three) == std::vector<std::string>{"fault portion"});
  CHECK(three[0].what.find("takes 2 portions") != std::string::npos);
  CHECK(three[0].advice.find("count = 2") != std::string::npos);
}

TEST_CASE("check_kit: a fold across the grain is a risk") {
  const std::string supply = "[[supply]]\nstock = \"Sail\"\nsheet = \"60 x 90 mm\"\ngrain = \"up\"\n";
  // 50 x 80 mm folds across its height; lying down it is too wide for the sheet.
  const auto findings = found(supply + card(piece("a", "stock = \"Sail\"", "score = \"40 mm\"\n") + kRed),
                              with_red(stash_to_check()));
  CHECK(kinds(findings) == std::vector<std::string>{"risk grain"});
}

TEST_CASE("check_kit: touching colours that merge for some eyes, and words that fade for them, are notes") {
  Stash stash = with_red(stash_to_check());
  // A red and an olive of one lightness, far apart for most: a known confusion of protan and deutan sight.
  stash.swatches.push_back(swatch_with(9, "Rust", Kind::stock, {45, 30, 40}));
  stash.swatches.push_back(swatch_with(10, "Olive", Kind::stock, {48, -4, 40}));
  stash.next_id = 11;
  const auto findings = found(
      card(piece("a", "stock = \"Rust\"") + piece("b", "stock = \"Olive\"", "touches = [\"a\"]\n") + kRed),
      stash);
  REQUIRE(kinds(findings) == std::vector<std::string>{"note vision"});
  CHECK(findings[0].what.find("deutan") != std::string::npos);
}

TEST_CASE("check_kit: an uncertain pair is a risk with what would settle it; bands are the caller's") {
  Stash stash = with_red(stash_to_check());
  stash.swatches[1].readings[0].error_de00 = 3.0;
  const std::string cards =
      card(piece("a", "stock = \"Quay\"") + piece("b", "stock = \"Mooring\"", "touches = [\"a\"]\n") + kRed);
  const auto findings = found(cards, stash);
  REQUIRE(kinds(findings) == std::vector<std::string>{"risk clash"});
  CHECK(findings[0].advice.find("measure Quay") != std::string::npos);
  Bands wide;
  wide.match = 5.5;
  CHECK(kinds(found(cards, with_red(stash_to_check()), wide)) == std::vector<std::string>{"note clash"});
}
