// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "swatch/edit.h"
#include "swatch/stash.h"

namespace {

using kithue::ErrorKind;
using kithue::Kind;

kithue::Swatch made(const std::string& name, Kind kind, const std::string& method, const kithue::Lab& lab) {
  kithue::Swatch swatch;
  swatch.name = name;
  swatch.kind = kind;
  swatch.method = method;
  kithue::Reading reading;
  reading.lab = lab;
  swatch.readings.push_back(reading);
  return swatch;
}

kithue::Stash sample() {
  kithue::Stash stash;
  append_swatch(stash, made("Wet Sand", Kind::stock, "", {78, 4, 18}));
  append_swatch(stash, made("Sea Glass", Kind::ink, "pad", {60, -18, -4}));
  append_swatch(stash, made("Sea Glass", Kind::ink, "marker", {58, -20, -4}));
  append_swatch(stash, made("Café au Lait", Kind::stock, "", {70, 8, 20}));
  append_swatch(stash, made("Driftwood", Kind::stock, "", {60, 4, 9}));
  append_swatch(stash, made("DRIFTWOOD", Kind::stock, "", {61, 4, 9}));
  append_swatch(stash, made("Shell (pink)", Kind::stock, "", {85, 12, 6}));
  append_swatch(stash, made("#c8553d", Kind::stock, "", {50, 40, 40}));
  kithue::Swatch foil = made("Brass Bell", Kind::ink, "embossing powder", {60, 4, 40});
  foil.finish = kithue::Finish::unmeasurable;
  append_swatch(stash, foil);
  return stash;
}

int id_of(const kithue::Stash& stash, std::string_view text) {
  const auto found = find_swatch(stash, text);
  return found ? (*found)->id : 0;
}

}  // namespace

TEST_CASE("find_swatch: a name forgives case, accents, width and spacing") {
  const auto stash = sample();
  CHECK(id_of(stash, "Wet Sand") == 1);
  CHECK(id_of(stash, "  wet   SAND ") == 1);
  CHECK(id_of(stash, "ｗｅｔ ｓａｎｄ") == 1);
  CHECK(id_of(stash, "cafe au lait") == 4);
  CHECK(id_of(stash, "CAFE\xCC\x81 AU LAIT") == 4);
}

TEST_CASE("find_swatch: an exact spelling wins over a forgiven one") {
  const auto stash = sample();
  CHECK(id_of(stash, "Driftwood") == 5);
  CHECK(id_of(stash, "DRIFTWOOD") == 6);
  CHECK(find_swatch(stash, "driftwood").error().kind == ErrorKind::ambiguous);
}

TEST_CASE("find_swatch: the method in brackets tells twins apart, and brackets may be part of a name") {
  const auto stash = sample();
  CHECK(id_of(stash, "Sea Glass (marker)") == 3);
  CHECK(id_of(stash, "sea glass (PAD)") == 2);
  CHECK(id_of(stash, "Wet Sand (stock)") == 1);
  CHECK(id_of(stash, "shell (pink)") == 7);
  CHECK(find_swatch(stash, "Sea Glass (wash)").error().kind == ErrorKind::not_found);
}

TEST_CASE("find_swatch: an ambiguous name lists the candidates with their ids") {
  const auto stash = sample();
  const auto found = find_swatch(stash, "Sea Glass");
  REQUIRE_FALSE(found.has_value());
  CHECK(found.error().kind == ErrorKind::ambiguous);
  CHECK(found.error().what == "\"Sea Glass\" could be #2 Sea Glass (pad), #3 Sea Glass (marker)");
  CHECK(found.error().advice.find("id:2") != std::string::npos);
}

TEST_CASE("find_swatch: ids in every spelling, and no swatch under a free id") {
  const auto stash = sample();
  CHECK(id_of(stash, "4") == 4);
  CHECK(id_of(stash, "#4") == 4);
  CHECK(id_of(stash, "id:4") == 4);
  for (const char* text : {"#99", "99", "id:99", "id:99999999999999999999", "id:", "id:-1", "0"}) {
    CAPTURE(text);
    CHECK(find_swatch(stash, text).error().kind == ErrorKind::not_found);
  }
}

TEST_CASE("find_swatch: a number that is a name and another's id is ambiguous, id: is not") {
  auto stash = sample();
  append_swatch(stash, made("2", Kind::stock, "", {10, 0, 0}));
  CHECK(find_swatch(stash, "2").error().kind == ErrorKind::ambiguous);
  CHECK(id_of(stash, "id:2") == 2);
}

TEST_CASE("find_swatch: a wrong name is refused with near spellings and never guessed") {
  const auto stash = sample();
  const auto found = find_swatch(stash, "Wet Sandd");
  REQUIRE_FALSE(found.has_value());
  CHECK(found.error().kind == ErrorKind::not_found);
  CHECK(found.error().advice == "did you mean \"Wet Sand\"?");
  CHECK(find_swatch(stash, "Zebra").error().advice == "'kithue stash list' shows all names");
  CHECK(find_swatch(stash, "").error().kind == ErrorKind::not_found);
  CHECK(find_swatch(kithue::Stash{}, "Zebra").error().advice.find("stash add") != std::string::npos);
}

TEST_CASE("resolve_colour: literals, names, and a name that looks like a literal") {
  const auto stash = sample();
  const auto literal = resolve_colour(stash, "lab(52 43 21)");
  REQUIRE(literal.has_value());
  CHECK(literal->lab == kithue::Lab{52, 43, 21});
  CHECK(literal->swatch == nullptr);
  const auto named = resolve_colour(stash, "wet sand");
  REQUIRE(named.has_value());
  CHECK(named->lab == kithue::Lab{78, 4, 18});
  CHECK(named->name == "Wet Sand");
  CHECK(resolve_colour(stash, "#c8553d")->lab == kithue::Lab{50, 40, 40});
  CHECK(resolve_colour(stash, "#c8553e")->swatch == nullptr);
  CHECK(resolve_colour(stash, "#4")->swatch->id == 4);
}

TEST_CASE("resolve_colour: a swatch without a number is impossible, bad literals are bad input") {
  const auto stash = sample();
  CHECK(resolve_colour(stash, "Brass Bell").error().kind == ErrorKind::impossible);
  CHECK(resolve_colour(stash, "lab(1 2)").error().kind == ErrorKind::bad_input);
  CHECK(resolve_colour(stash, "#zzz").error().kind == ErrorKind::bad_input);
  CHECK(resolve_colour(stash, "Nowhere").error().kind == ErrorKind::not_found);
}
