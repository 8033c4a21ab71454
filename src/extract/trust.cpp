// SPDX-License-Identifier: MIT
#include "extract/trust.h"

#include <algorithm>
#include <cmath>

namespace kithue {

std::string_view word_for(Grade grade) noexcept {
  switch (grade) {
    case Grade::good:
      return "good";
    case Grade::fair:
      return "fair";
    case Grade::poor:
      return "poor";
  }
  return "poor";
}

}  // namespace kithue

namespace kithue::extract {

Trust trust_of(const LightRows& picture, const PictureFacts& facts) {
  // dE00. The first is what an unknown light and camera do to colours that the camera has balanced by
  // itself; common practice, no source. The rest add as independent errors.
  constexpr double kNoReference = 4.0;
  constexpr double kNoProfile = 3.0;  // Display P3 read as sRGB: mean 3.0 over random colours (computed)
  constexpr double kClipped = 3.0;
  constexpr double kTiny = 2.0;
  constexpr double kLossy = 0.5;
  constexpr double kClippedShare = 0.02;
  constexpr int kTinySide = 200;
  Trust trust;
  double squares = kNoReference * kNoReference;
  const auto add = [&](bool holds, double error, const char* reason) {
    if (!holds) return;
    squares += error * error;
    trust.reasons.emplace_back(reason);
  };
  add(facts.profile_broken, kNoProfile, "its colour profile is broken; sRGB was assumed");
  add(facts.clipped_share > kClippedShare, kClipped, "parts are overexposed, their colour is lost");
  trust.reasons.emplace_back("no white or known chip in the frame: the colour of the light is unknown");
  add(!facts.profile_known && !facts.profile_broken, 0.5 * kNoProfile, "no colour profile; sRGB was assumed");
  add(std::min(picture.width(), picture.height()) < kTinySide, kTiny, "the picture is tiny");
  add(facts.lossy, kLossy, "JPEG blurs the colour of fine lines");
  trust.de00 = std::sqrt(squares);
  trust.grade = trust.de00 < 3.0 ? Grade::good : trust.de00 < 6.0 ? Grade::fair : Grade::poor;
  return trust;
}

}  // namespace kithue::extract
