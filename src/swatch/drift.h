// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "swatch/swatch.h"

namespace kithue {

/// From which difference on two batches are kept apart, and are no longer one colour, in dE00. Common
/// practice, no source.
struct DriftLimits {
  double apart = 1.0;
  double stop = 2.0;
};

enum class DriftVerdict { same, keep_apart, stop };
std::string_view word_for(DriftVerdict verdict) noexcept;  ///< "same", "keep apart", "stop"

/// The readings of one batch.
struct BatchColour {
  std::string batch;  ///< empty for readings without one
  std::size_t readings = 0;
  Lab lab;  ///< the one reading, the mean of two, the component-wise median of three or more
};

/// How the colour of a swatch moved between two batches.
struct Drift {
  BatchColour from;
  BatchColour to;
  double de00 = 0.0;
  double noise = 0.0;        ///< standard deviation of one reading in each of L, a and b
  double uncertainty = 0.0;  ///< standard error of de00
  DriftVerdict verdict = DriftVerdict::same;
  bool sure = false;  ///< two standard errors away from every limit, and three readings or more of each
  std::size_t readings = 0;  ///< of each batch that would make it sure; 0 when it is, or when 20 would not do
};

/// The batches of a swatch that have readings of their own, in the order in which they were first read.
std::vector<BatchColour> batches_of(const Swatch& swatch);

/// Compares two batches by name. The noise of a reading is taken from the scatter within the batches, leaning
/// on 0.3 where there are few (common practice for hand-held instruments, no source). With few readings the
/// stop limit is lowered, to where a true shift of 1.25 times it is missed less than once in a hundred.
/// Errors: not_found for a batch without readings; impossible when there is only one.
Result<Drift> drift_between(const Swatch& swatch, const std::string& from, const std::string& to,
                            const DriftLimits& limits);

}  // namespace kithue
