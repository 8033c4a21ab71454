// SPDX-License-Identifier: MIT
#include "cutting/random_job.h"

#include <array>
#include <string>

namespace kithue::cutting {

std::int64_t between(std::mt19937_64& dice, std::int64_t least, std::int64_t most) {
  return least + static_cast<std::int64_t>(dice() % static_cast<std::uint64_t>(most - least + 1));
}

CutJob random_job(std::mt19937_64& dice, bool small) {
  constexpr std::int64_t kInch = kNanometresPerInch;
  constexpr std::int64_t kMm = kNanometresPerMm;
  // 12 x 12 in, US Letter, 6 x 6 in (common practice, no source), A4 (ISO 216).
  constexpr std::array<Size, 4> kSheets{{{{12 * kInch}, {12 * kInch}},
                                         {{kInch * 17 / 2}, {11 * kInch}},
                                         {{6 * kInch}, {6 * kInch}},
                                         {{210 * kMm}, {297 * kMm}}}};
  CutJob job;
  job.paper = "paper";
  job.sheet = kSheets[dice() % kSheets.size()];
  const std::int64_t steps[] = {kInch / 8, kMm, 1};
  const std::int64_t step = steps[dice() % 3];
  const std::int64_t kinds = small ? between(dice, 1, 4) : between(dice, 1, 8);
  std::int64_t left = 7;
  for (std::int64_t k = 0; k < kinds && left > 0; ++k) {
    CutPiece piece;
    piece.name = "piece " + std::to_string(k);
    // Small jobs are of large pieces, so that they take more than one sheet.
    const std::int64_t part = small ? 4 : 12;
    const auto side = [&](Length whole) {
      return Length{between(dice, (whole.nm / part + step - 1) / step, whole.nm * 4 / 5 / step) * step};
    };
    piece.size = {side(job.sheet.width), side(job.sheet.height)};
    const std::uint64_t ways = dice() % 4;
    piece.upright = true;
    piece.turned = ways != 0;
    if (ways == 1 && piece.size.height <= job.sheet.width && piece.size.width <= job.sheet.height)
      piece.upright = false;
    piece.count = small ? between(dice, 1, std::min<std::int64_t>(left, 4)) : between(dice, 0, 60);
    left -= small ? piece.count : 0;
    job.pieces.push_back(std::move(piece));
  }
  return job;
}

}  // namespace kithue::cutting
