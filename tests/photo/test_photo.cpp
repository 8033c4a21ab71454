// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "photo/photo.h"

using namespace kithue;

TEST_CASE("decode_photo: what is no picture is refused with its name and what to do") {
  const auto photo = decode_photo("Dear teacher,", "letter.jpg");
  REQUIRE_FALSE(photo.has_value());
  CHECK(photo.error().kind == ErrorKind::bad_input);
  CHECK(photo.error().where == "letter.jpg");
  CHECK_FALSE(photo.error().advice.empty());
}
