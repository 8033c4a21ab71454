// SPDX-License-Identifier: MIT
#include "extract/trust.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"

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
namespace {

// dE00 that covers nine colours of ten, by the simulation of lights and cameras in tools/accuracy/trust.cpp.
constexpr double kNoReference = 10.3;
constexpr double kOneReference = 7.4;
constexpr double kFewReferences = 4.5;
const std::string kColouredLight = "no colour is near white or grey: the light itself may be coloured";
const std::string kUnknownLight = "no white or known chip in the frame: the colour of the light is unknown";

void grade(Trust& trust) {
  constexpr double kGood = 3.0;
  constexpr double kFair = 12.0;
  trust.grade = trust.de00 < kGood ? Grade::good : trust.de00 < kFair ? Grade::fair : Grade::poor;
}

/// What a coloured light may add to the error, dE00. No colour near neutral, and all colours together leaning
/// one way: both are likelier under a lamp than on paper. Chroma counts as a grey of L* 75 would show it, so
/// that dark colours do not pass for neutral. The numbers are from the same simulation.
double cast_error(const std::vector<PaletteColour>& colours) {
  constexpr double kDark = 25.0;
  constexpr double kLeastCastShare = 0.005;
  double least = 1e9;
  double a = 0.0;
  double b = 0.0;
  int n = 0;
  for (const PaletteColour& colour : colours) {
    if (colour.share < kLeastCastShare) continue;
    const double grown = (75.0 + 16.0) / (colour.lab.L + 16.0);
    if (colour.lab.L >= kDark) least = std::min(least, chroma(colour.lab) * grown);
    a += colour.lab.a * grown;
    b += colour.lab.b * grown;
    ++n;
  }
  if (n == 0 || least >= 1e9) return 0.0;
  const double leaning = std::hypot(a / n, b / n);
  constexpr double kMost = 30.0;  // no lamp does more
  return std::clamp(std::min(0.8 * (leaning - 8.0), 1.5 * (least - 6.0)), 0.0, kMost);
}

}  // namespace

Trust trust_of(const LightRows& picture, const PictureFacts& facts, const Evenness& evenness, double sharp,
               const std::vector<PaletteColour>& colours) {
  // They add as independent errors, in dE00.
  constexpr double kNoProfile = 3.0;  // Display P3 read as sRGB: mean 3.0 over random colours (computed)
  constexpr double kClipped = 4.0;
  constexpr double kTiny = 2.0;
  constexpr double kLossy = 0.7;
  constexpr double kBlurred = 1.5;
  constexpr double kUneven = 1.5;
  constexpr double kClippedShare = 0.02;
  constexpr double kBlurredPixels = 2.2;
  constexpr double kUnevenPart = 0.15;  // from the lightest to the darkest place
  constexpr double kTint = 1.5;         // a* and b*; even light over drawn faces stays under it
  constexpr int kTinySide = 200;
  Trust trust;
  const double cast = cast_error(colours);
  trust.light = std::hypot(kNoReference, cast);
  double squares = trust.light * trust.light;
  const auto add = [&](bool holds, double error, const std::string& reason) {
    if (!holds) return;
    squares += error * error;
    trust.reasons.push_back(reason);
  };
  trust.reasons.push_back(kUnknownLight);
  if (cast > kNoReference) trust.reasons.push_back(kColouredLight);
  add(facts.clipped_share > kClippedShare, kClipped, "parts are overexposed, their colour is lost");
  add(facts.profile_broken, kNoProfile, "its colour profile is broken; sRGB was assumed");
  add(std::min(picture.width(), picture.height()) < kTinySide, kTiny, "the picture is tiny");
  const double range = 2.0 * evenness.spread;
  add(range > kUnevenPart, evenness.supported ? kUneven : 100.0 / 6.0 * range,
      "the light is uneven: it varies by " + std::to_string(std::lround(100.0 * range)) +
          " % across the frame; " +
          (evenness.supported ? "it was evened out" : "that is too much to be evened out"));
  add(evenness.tint > kTint, evenness.tint,
      "mixed light: its colour changes across the frame, by up to " + fixed_number(evenness.tint, 1) +
          " in a* and b* either way");
  add(sharp > kBlurredPixels, kBlurred, "the picture is blurred: fine lines mix with what is around them");
  add(!facts.profile_known && !facts.profile_broken, 0.5 * kNoProfile, "no colour profile; sRGB was assumed");
  add(facts.lossy, kLossy, "JPEG blurs the colour of fine lines");
  trust.de00 = std::sqrt(squares);
  grade(trust);
  return trust;
}

void trust_correction(Trust& trust, int patches, double left_out, const std::string& reason) {
  // Nine of ten colours lie within two and a half times the mean; few patches say little about colours unlike
  // theirs.
  constexpr double kCover = 2.4;
  constexpr double kFew = 6.0;
  const double reference = left_out < 0.0                     ? kOneReference
                           : patches < static_cast<int>(kFew) ? std::max(kFewReferences, kCover * left_out)
                                                              : std::max(1.0, kCover * left_out);
  const double rest = std::max(0.0, trust.de00 * trust.de00 - trust.light * trust.light);
  trust.de00 = std::sqrt(rest + reference * reference);
  trust.light = 0.0;
  std::erase_if(trust.reasons,
                [](const std::string& one) { return one == kUnknownLight || one == kColouredLight; });
  trust.reasons.insert(trust.reasons.begin(), reason);
  grade(trust);
}

}  // namespace kithue::extract
