// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "colour/light_rows.h"
#include "extract/cells.h"
#include "extract/small_picture.h"

namespace kithue {

/// Does the first part of read_face and extract_palette while the picture is still being decoded: give it to
/// decode_photo. What was made is used up once, and only for this very picture.
class EarlyLook final : public RowsTaker {
 public:
  std::vector<int> begin(const LightRows& picture) override;
  void take(std::size_t job) override;

  [[nodiscard]] bool is_of(const LightRows& picture) const noexcept { return picture_ == &picture; }
  /// REQUIRES of these three: is_of(picture) and every job was done; `rows` of a picture read in part.
  [[nodiscard]] SmallPicture small() { return small_.result(); }
  [[nodiscard]] extract::Cells cells() { return cells_.result(); }
  [[nodiscard]] extract::Cells rows() { return rows_.result(); }

 private:
  enum class Maker { small, cells, rows };
  struct Job {
    int needs;  ///< rows of pixels
    Maker maker;
    std::size_t number;
  };
  void add(Maker maker, const std::vector<int>& needs);

  const LightRows* picture_ = nullptr;
  SmallPictureMaker small_;
  extract::CellMaker cells_;
  extract::CellMaker rows_;
  std::vector<Job> jobs_;
};

}  // namespace kithue
