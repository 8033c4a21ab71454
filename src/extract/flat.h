// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "base/executor.h"
#include "extract/cells.h"
#include "extract/histogram.h"

namespace kithue::extract {

/// Squared distance of two cells in steps; a* and b* count half, for they carry more noise and JPEG keeps
/// them at half size.
inline int gap2(const CellLab& p, const CellLab& q) noexcept {
  const int dL = p.L - q.L;
  const int da = (p.a - q.a) / 2;
  const int db = (p.b - q.b) / 2;
  return dL * dL + da * da + db * db;
}

/// How much neighbouring cells differ where nothing is drawn, in steps.
int grain_of(const Cells& cells, Executor& executor);

/// Which cells lie in a place where the picture does not change: edge mixtures never do.
class FlatTest {
 public:
  /// `grain` as grain_of gives it.
  FlatTest(const Cells& cells, int grain);
  [[nodiscard]] bool at(int x, int y) const;

 private:
  const Cells& cells_;
  int limit2_;
};

/// The colours of the flat cells.
Histogram flat_histogram(const Cells& cells, const FlatTest& flat, Executor& executor);

inline constexpr std::uint8_t kNoLabel = 255;

/// For each cell the colour (index in `colours`) that it surely has: flat cells only, others kNoLabel.
std::vector<std::uint8_t> labels_of(const Cells& cells, const FlatTest& flat, const std::vector<Lab>& colours,
                                    Executor& executor);

}  // namespace kithue::extract
