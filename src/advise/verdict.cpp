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

}  // namespace kithue
