// SPDX-License-Identifier: MIT
#include "extract/cells.h"

#include <algorithm>
#include <array>
#include <vector>

#include "extract/row_work.h"

namespace kithue::extract {
namespace {

/// Pixels a cell.
int side_for(const LightRows& picture) noexcept {
  constexpr int kSmallSide = 96;
  return std::min(picture.width(), picture.height()) < kSmallSide ? 1 : 2;
}

/// One row in so many leaves about `enough` cells, if `most` allows it.
int every_for(const LightRows& picture, double enough, int most) noexcept {
  const int side = side_for(picture);
  const double all = static_cast<double>(picture.width() / side) * (picture.height() / side);
  return std::clamp(static_cast<int>(all / enough + 0.5), 1, most);
}

/// To X, Y, Z over the white.
LightMatrix over_white(const Matrix3& to_xyz) {
  const std::array<double, 3> white{kD50.X, kD50.Y, kD50.Z};
  LightMatrix out{};
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) out.m[i][j] = static_cast<float>(to_xyz.row[i][j] / white[i]);
  }
  return out;
}

/// A row of single pixels, each kind of light in a row of its own.
void read_whole(const LightRows& picture, int y, std::vector<float>& all,
                std::array<std::vector<float>, 3>& rows) {
  const std::size_t count = rows[0].size();
  all.resize(3 * count);
  picture.read(0, y, static_cast<int>(count), all.data());
  for (std::size_t x = 0; x < count; ++x) {
    for (std::size_t c = 0; c < 3; ++c) rows[c][x] = all[3 * x + c];
  }
}

}  // namespace

Lab lab_of(const CellLab& cell) noexcept {
  constexpr double kUnit = 1.0 / kSteps;
  return {cell.L * kUnit, cell.a * kUnit, cell.b * kUnit};
}

RowPlan rows_for_colours(const LightRows& picture) noexcept {
  // What accuracy was measured at; more is only more of the same.
  constexpr double kEnough = 0.85e6;
  constexpr int kMostEvery = 4;  // so that what is missing in one piece stays narrow against any motif
  return {16, every_for(picture, kEnough, kMostEvery)};
}

RowPlan single_rows(const LightRows& picture) noexcept {
  return {1, every_for(picture, 0.4e6, 16)};
}

std::vector<int> CellMaker::begin(const LightRows& picture, const RowPlan& plan) {
  picture_ = &picture;
  Cells& cells = cells_;
  cells.side = side_for(picture);
  cells.width = picture.width() / cells.side;
  cells.whole_height = picture.height() / cells.side;
  cells.run = plan.run;
  cells.every = plan.every;
  const int runs = cells.whole_height / (cells.run * cells.every);
  const int rest = cells.whole_height - runs * cells.run * cells.every;
  cells.height = runs * cells.run + std::min(rest, cells.run);
  cells.memory = LargeBlock(3 * cells.count() * sizeof(std::int16_t));
  cells.L = reinterpret_cast<std::int16_t*>(cells.memory.data());
  cells.a = cells.L + cells.count();
  cells.b = cells.a + cells.count();
  std::vector<int> needs;
  for (std::size_t band = 0; band < bands(cells.height); ++band) {
    const int last = std::min(static_cast<int>(band + 1) * kBand, cells.height) - 1;
    needs.push_back(cells.pixel_row(last) + cells.side);
  }
  return needs;
}

void CellMaker::take(std::size_t job) {
  Cells& cells = cells_;
  const LightMatrix matrix = over_white(picture_->to_xyz());
  const RowWork& work = row_work();
  const int first = static_cast<int>(job) * kBand;
  const int last = std::min(first + kBand, cells.height);
  const auto count = static_cast<std::size_t>(cells.width);
  std::array<std::vector<float>, 3> rows;
  for (auto& row : rows) row.resize(count);
  std::vector<float> all;
  for (int y = first; y < last; ++y) {
    if (cells.side == 1) {
      read_whole(*picture_, y, all, rows);
    } else {
      picture_->read_halved(0, cells.pixel_row(y), cells.width, rows[0].data(), rows[1].data(),
                            rows[2].data());
    }
    const std::size_t start = cells.at(0, y);
    work.lab_from_light(rows[0].data(), rows[1].data(), rows[2].data(), matrix, count, cells.L + start,
                        cells.a + start, cells.b + start);
  }
}

Cells cells_of(const LightRows& picture, const RowPlan& plan, Executor& executor) {
  CellMaker maker;
  const std::size_t jobs = maker.begin(picture, plan).size();
  executor.run(jobs, [&](std::size_t job) { maker.take(job); });
  return maker.result();
}

}  // namespace kithue::extract
