// SPDX-License-Identifier: MIT
#include "cli/face_cache.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/checksum.h"
#include "base/files.h"
#include "photo_code.inc"

namespace kithue {
namespace {

constexpr std::size_t kMostEntryBytes = 8 << 20;
constexpr std::size_t kSumLength = 32;

/// Doubles keep every bit in CBOR (RFC 8949), so that a remembered colour equals the one that was read.
nlohmann::json json_of(const FaceRead& face) {
  nlohmann::json colours = nlohmann::json::array();
  for (const KitColour& one : face.colours)
    colours.push_back({one.lab.L, one.lab.a, one.lab.b, one.share, one.role, one.error_de00});
  nlohmann::json json{{"colours", colours}, {"warnings", face.warnings}, {"poor", face.poor}};
  if (face.small) {
    json["width"] = face.small->width;
    json["height"] = face.small->height;
    json["rgb"] = nlohmann::json::binary(face.small->rgb);
    json["profile"] = nlohmann::json::binary({face.small->profile.begin(), face.small->profile.end()});
  }
  return json;
}

bool is_sound(const Thumbnail& small) {
  return small.width > 0 && small.height > 0 && small.width <= 4096 && small.height <= 4096 &&
         small.rgb.size() ==
             3 * static_cast<std::size_t>(small.width) * static_cast<std::size_t>(small.height);
}

/// Throws what the library throws when something is not where it belongs.
std::optional<FaceRead> face_from(const nlohmann::json& json) {
  FaceRead face;
  for (const auto& row : json.at("colours")) {
    face.colours.push_back({{row.at(0).get<double>(), row.at(1).get<double>(), row.at(2).get<double>()},
                            row.at(3).get<double>(),
                            row.at(4).get<std::string>(),
                            row.at(5).get<double>()});
  }
  face.warnings = json.at("warnings").get<std::vector<std::string>>();
  face.poor = json.at("poor").get<std::string>();
  if (json.contains("rgb")) {
    Thumbnail small{
        json.at("width").get<int>(), json.at("height").get<int>(), json.at("rgb").get_binary(), {}};
    const auto& profile = json.at("profile").get_binary();
    small.profile.assign(profile.begin(), profile.end());
    if (!is_sound(small)) return std::nullopt;
    face.small = std::move(small);
  }
  return face;
}

}  // namespace

std::string FaceCache::key_of(std::string_view photo, const KitFace& face, bool with_picture) {
  const std::string wanted = std::string(kPhotoCode) + "\n" + face.crop + "\n" +
                             (with_picture ? "picture " : "") + (face.colours.empty() ? "colours" : "");
  return checksum(photo) + checksum(wanted);
}

std::optional<FaceRead> FaceCache::find(const std::string& key) const {
  if (folder_.empty()) return std::nullopt;
  const auto bytes = read_file(folder_ + "/" + key, kMostEntryBytes);
  if (!bytes || bytes->size() < kSumLength) return std::nullopt;
  const std::string_view body = std::string_view(*bytes).substr(kSumLength);
  if (checksum(key + checksum(body)) != bytes->substr(0, kSumLength)) return std::nullopt;
  try {
    return face_from(nlohmann::json::from_cbor(body));
  } catch (const nlohmann::json::exception&) {
    return std::nullopt;
  }
}

void FaceCache::keep(const std::string& key, const FaceRead& face) const {
  if (folder_.empty() || make_folder(folder_)) return;
  std::string body;
  nlohmann::json::to_cbor(json_of(face), body);
  // Whatever goes wrong, the next run reads the photo again.
  (void)replace_file_atomically(folder_ + "/" + key, checksum(key + checksum(body)) + body);
}

void FaceCache::prune(const std::vector<std::string>& used, std::size_t most) const {
  if (folder_.empty()) return;
  const std::vector<std::string> names = names_in(folder_);
  if (names.size() <= most) return;
  for (const std::string& name : names) {
    if (std::find(used.begin(), used.end(), name) == used.end()) (void)remove_file(folder_ + "/" + name);
  }
}

}  // namespace kithue
