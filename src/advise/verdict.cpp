// SPDX-License-Identifier: MIT
#include "advise/verdict.h"

namespace kithue {

std::string_view word_for(Verdict verdict) noexcept {
  switch (verdict) {
    case Verdict::same:
      return "same";
    case Verdict::match:
      return "match";
    case Verdict::near_miss:
      return "near-miss";
    case Verdict::undertone:
      return "undertone";
    case Verdict::vibration:
      return "vibration";
    case Verdict::step:
      return "step";
    case Verdict::distinct:
      return "distinct";
    case Verdict::unsure:
      return "unsure";
  }
  return "";
}

std::optional<Bands> bands_of(const std::vector<double>& limits) {
  if (limits.size() != 4) return std::nullopt;
  Bands bands;
  bands.same = limits[0];
  bands.match = limits[1];
  bands.near_miss = limits[2];
  bands.step = limits[3];
  const bool rising = bands.same >= 0.0 && bands.same < bands.match && bands.match < bands.near_miss &&
                      bands.near_miss < bands.step && bands.step <= 1000.0;
  return rising ? std::optional<Bands>(bands) : std::nullopt;
}

}  // namespace kithue
