// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "kit/kit.h"
#include "photo/thumbnail.h"

namespace kithue {

/// What the photo of a face said. The names of face and photo are not in it: they may change while the photo
/// stays the same.
struct FaceRead {
  std::vector<KitColour> colours;
  std::optional<Thumbnail> small;     ///< for print, when it was wanted
  std::vector<std::string> warnings;  ///< of the decoder
  std::string poor;                   ///< why the photo is a poor guide to the colours; empty: it is not
};

/// What was read from photos before, so that a sheet is made again without decoding them. An entry is found
/// by content: the bytes of the photo, the crop, what was wanted, and the code that reads photos. It may be
/// deleted at any time and changes no answer; a damaged entry is as good as none, and what cannot be written
/// is done without.
class FaceCache {
 public:
  /// `folder` is made when something is kept; empty: nothing is ever found or kept.
  explicit FaceCache(std::string folder) : folder_(std::move(folder)) {}

  static std::string key_of(std::string_view photo, const KitFace& face, bool with_picture);
  [[nodiscard]] std::optional<FaceRead> find(const std::string& key) const;
  void keep(const std::string& key, const FaceRead& face) const;
  /// Beyond this many entries those that `used` does not name are removed.
  void prune(const std::vector<std::string>& used, std::size_t most = 400) const;

 private:
  std::string folder_;
};

}  // namespace kithue
