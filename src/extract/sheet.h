// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <string>
#include <vector>

#include "base/executor.h"
#include "colour/light_rows.h"
#include "extract/small_picture.h"

namespace kithue {

/// A place in a picture, in pixels from its upper left corner.
struct Spot {
  double x = 0.0;
  double y = 0.0;
};

/// Where the sheet lies in its photo.
struct Sheet {
  bool certain = false;           ///< false: nothing may be cut off
  std::array<Spot, 4> corners{};  ///< upper left, upper right, lower right, lower left; the frame's
                                  ///< own corners when it is not certain
  std::array<bool, 4> open{};     ///< left, top, right, bottom: the sheet runs out of the frame there
  double share = 1.0;             ///< of the frame
  double turned_degrees = 0.0;    ///< clockwise
  bool border = false;            ///< not certain, for what is around may be printed on the sheet
  bool shadow = false;            ///< a shadow beside the sheet was left out too
  std::string words;              ///< what is around it, or why nothing is cut off; plain words
};

/// Looks for a sheet on a table, a backing or within a border: what surrounds it reaches the edge of the
/// frame, is of few colours that the sheet's own edge does not have, and ends in straight lines that make a
/// rectangle, turned by up to 15 degrees or seen a little aslant. Certain only when at least 92 % of the
/// length of every line is seen, and when it cannot be a border printed on a sheet that fills the frame: one
/// that is parallel to the frame and equally wide is never cut off, unless a shadow lies on it or each of its
/// pixels is the same. The limits are ours (tools/accuracy/sheets.cpp counts how often they are right).
/// The same for any executor.
Sheet find_sheet(const SmallPicture& small, const LightRows& picture, Executor& executor);

/// A sheet found in a picture, set upright: it is read in blocks of the picture that are moved by whole pairs
/// of pixels and never turned, so that no pixel is mixed with another. Lines that cross a block's edge are
/// broken there; colours and shares stay. The picture must outlive it.
class SheetRows final : public LightRows {
 public:
  SheetRows(const LightRows& whole, const Sheet& sheet);
  [[nodiscard]] int width() const override { return columns_ * block_width_; }
  [[nodiscard]] int height() const override { return rows_ * block_height_; }
  [[nodiscard]] const Matrix3& to_xyz() const override { return whole_.to_xyz(); }
  [[nodiscard]] Sampling sampling() const override { return whole_.sampling(); }
  void read(int x, int y, int count, float* light) const override;
  void read_halved(int x, int y, int count, float* r, float* g, float* b) const override;

 private:
  struct Corner {
    int x;
    int y;
  };
  [[nodiscard]] const Corner& block(int column, int row) const {
    return blocks_[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
                   static_cast<std::size_t>(column)];
  }
  const LightRows& whole_;
  int columns_ = 1;
  int rows_ = 1;
  int block_width_ = 1;
  int block_height_ = 1;
  std::vector<Corner> blocks_;  // where each begins in the whole picture
};

}  // namespace kithue
