// SPDX-License-Identifier: MIT
#include "image/png_walk.h"

#include <zlib.h>

#include <algorithm>

#include "image/byte_order.h"
#include "image/inflate.h"
#include "image/size_check.h"

namespace kithue {

Error damaged_png(const std::string& what) {
  return {ErrorKind::bad_input, "this PNG is damaged_png: " + what, "", "copy or export it again"};
}

namespace {

constexpr std::size_t kSignature = 8;
constexpr std::size_t kAround = 12;  // length, type and checksum of a chunk
constexpr std::size_t kMostExif = std::size_t{1} << 20;

Error cut_short_png() {
  return {ErrorKind::bad_input, "this PNG is cut short: the end of the picture is missing", "",
          "copy or export it again"};
}

bool depth_allowed(int type, int depth) {
  switch (type) {
    case 0:
      return depth == 1 || depth == 2 || depth == 4 || depth == 8 || depth == 16;
    case 3:
      return depth == 1 || depth == 2 || depth == 4 || depth == 8;
    case 2:
    case 4:
    case 6:
      return depth == 8 || depth == 16;
    default:
      return false;
  }
}

class PngWalk {
 public:
  PngWalk(std::string_view bytes, const PictureLimits& limits) : bytes_(bytes), limits_(limits) {}
  Result<PngFacts> run() {
    auto facts = walk();
    if (facts || facts.error().kind == ErrorKind::impossible) return facts;
    Error error = facts.error();
    error.where = "byte " + std::to_string(at_);
    return error;
  }

 private:
  Result<PngFacts> walk();
  MaybeError header(std::string_view body);
  MaybeError critical(std::string_view type, std::string_view body, std::size_t at);
  void ancillary(std::string_view type, std::string_view body);
  void colour(std::string_view type, std::string_view body);
  void profile(std::string_view body);
  void chromaticities(std::string_view body);
  void warn(const std::string& text) {
    auto& list = facts_.warnings;
    if (std::find(list.begin(), list.end(), text) == list.end()) list.push_back(text);
  }

  std::string_view bytes_;
  const PictureLimits& limits_;
  std::size_t at_ = kSignature;  // where the chunk begins that is being looked at
  PngFacts facts_;
  bool header_seen_ = false;
  bool exif_seen_ = false;
  bool profile_seen_ = false;
  bool data_over_ = false;  // another chunk came after the picture data
};

MaybeError PngWalk::header(std::string_view body) {
  if (header_seen_) return damaged_png("it has two headers");
  header_seen_ = true;
  if (body.size() != 13) return damaged_png("its header has the wrong length");
  const std::uint32_t width = big32(body, 0);
  const std::uint32_t height = big32(body, 4);
  if (width == 0 || height == 0) return damaged_png("its size is given as 0 pixels");
  if (auto wrong = check_size(width, height, limits_)) return wrong;
  facts_.width = static_cast<int>(width);
  facts_.height = static_cast<int>(height);
  facts_.depth = static_cast<int>(byte_at(body, 8));
  facts_.type = static_cast<int>(byte_at(body, 9));
  facts_.interlaced = byte_at(body, 12) == 1;
  if (!depth_allowed(facts_.type, facts_.depth)) {
    return damaged_png("its colour type and depth (" + std::to_string(facts_.type) + ", " +
                       std::to_string(facts_.depth) + ") do not exist");
  }
  if (byte_at(body, 10) != 0 || byte_at(body, 11) != 0 || byte_at(body, 12) > 1) {
    return damaged_png("its header names methods that do not exist");
  }
  return {};
}

MaybeError PngWalk::critical(std::string_view type, std::string_view body, std::size_t at) {
  if (type == "IHDR") return header(body);
  if (type == "PLTE") {
    if (facts_.palette_size > 0 || facts_.data_start > 0) return damaged_png("its palette is out of place");
    if (body.empty() || body.size() % 3 != 0 || body.size() > 768)
      return damaged_png("its palette is malformed");
    if (facts_.type == 0 || facts_.type == 4) return damaged_png("a grey picture has a palette");
    facts_.palette_size = body.size() / 3;
    facts_.palette = body;
    return {};
  }
  if (type == "IDAT") {
    if (facts_.type == 3 && facts_.palette_size == 0) return damaged_png("its palette is missing");
    if (data_over_) return damaged_png("its picture data is in pieces");
    if (facts_.data_start == 0) facts_.data_start = at;
    return {};
  }
  if (type == "CgBI") {
    return Error{ErrorKind::bad_input, "this is a PNG in a phone maker's private form", "",
                 "export it as JPEG or ordinary PNG"};
  }
  return damaged_png("it holds a part (" + std::string(type) + ") that is not known");
}

void PngWalk::profile(std::string_view body) {
  if (profile_seen_) return warn("a second colour profile in the PNG was passed over");
  profile_seen_ = true;
  const std::size_t end = body.substr(0, 80).find('\0');
  if (end == std::string_view::npos || end == 0 || body.size() < end + 2 || body[end + 1] != 0) {
    facts_.colour.icc_fault = "its chunk is malformed";
    return;
  }
  auto whole = inflate_all(body.substr(end + 2), kMostIcc);
  if (whole && !whole->empty()) {
    facts_.colour.icc = std::move(*whole);
  } else {
    facts_.colour.icc_fault = "it does not unpack, or not to 4 MB or less";
  }
}

void PngWalk::chromaticities(std::string_view body) {
  if (facts_.colour.chroma) return;
  std::array<double, 8> chroma{};
  for (std::size_t i = 0; i < 8; ++i) chroma[i] = big32(body, 4 * i) / 100000.0;
  facts_.colour.chroma = chroma;
}

/// Chunks about colour stand before the palette and the data; later ones are passed over.
void PngWalk::colour(std::string_view type, std::string_view body) {
  if (facts_.palette_size > 0 || facts_.data_start > 0) {
    return warn("a misplaced colour chunk (" + std::string(type) + ") in the PNG was passed over");
  }
  if (type == "iCCP") return profile(body);
  const std::size_t size = type == "cICP" ? 4 : type == "sRGB" ? 1 : type == "gAMA" ? 4 : 32;
  if (body.size() != size)
    return warn("a malformed colour chunk (" + std::string(type) + ") was passed over");
  if (type == "cICP" && !facts_.colour.cicp) {
    facts_.colour.cicp = {byte_at(body, 0), byte_at(body, 1), byte_at(body, 2), byte_at(body, 3)};
  } else if (type == "sRGB") {
    facts_.colour.srgb = true;
  } else if (type == "gAMA" && !facts_.colour.gamma) {
    facts_.colour.gamma = big32(body, 0) / 100000.0;
  } else if (type == "cHRM") {
    chromaticities(body);
  }
}

void PngWalk::ancillary(std::string_view type, std::string_view body) {
  if (type == "cICP" || type == "iCCP" || type == "sRGB" || type == "gAMA" || type == "cHRM") {
    return colour(type, body);
  }
  if (type == "eXIf" && !exif_seen_ && body.size() <= kMostExif) {
    exif_seen_ = true;
    facts_.exif = read_exif(body);
  }
  if (type != "tRNS" || facts_.data_start > 0 || facts_.transparent_key) return;
  const bool fits = facts_.type == 3   ? !body.empty() && body.size() <= facts_.palette_size
                    : facts_.type == 0 ? body.size() == 2
                    : facts_.type == 2 ? body.size() == 6
                                       : false;
  if (fits) {
    facts_.transparent_key = true;
    facts_.key = body;
  } else {
    warn("a malformed transparency chunk in the PNG was passed over");
  }
}

Result<PngFacts> PngWalk::walk() {
  for (std::size_t& at = at_;;) {
    if (bytes_.size() - at < kAround) return cut_short_png();
    const std::size_t length = big32(bytes_, at);
    const std::string_view type = bytes_.substr(at + 4, 4);
    const bool letters = std::all_of(type.begin(), type.end(),
                                     [](char c) { return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); });
    if (!letters) return damaged_png("what should be the name of a part is not one");
    if (!header_seen_ && type != "IHDR" && type != "CgBI") return damaged_png("its header is missing");
    if (length > bytes_.size() - at - kAround) return cut_short_png();
    const std::string_view body = bytes_.substr(at + 8, length);
    const bool needed = (type[0] & 0x20) == 0;
    const auto* checked = reinterpret_cast<const Bytef*>(type.data());
    const bool sound = crc32(0, checked, static_cast<uInt>(length + 4)) == big32(bytes_, at + 8 + length);
    if (!sound && needed)
      return damaged_png("the checksum of a part (" + std::string(type) + ") does not fit");
    if (facts_.data_start > 0 && type != "IDAT") data_over_ = true;
    if (type == "IEND") break;
    if (!sound && type == "iCCP" && !profile_seen_ && facts_.data_start == 0) {
      profile_seen_ = true;
      facts_.colour.icc_fault = "its checksum does not fit";
    } else if (!sound) {
      warn("a damaged_png chunk (" + std::string(type) + ") in the PNG was passed over");
    } else if (needed) {
      if (auto wrong = critical(type, body, at)) return *wrong;
    } else {
      ancillary(type, body);
    }
    at += kAround + length;
  }
  if (facts_.data_start == 0) return damaged_png("it holds no picture data");
  return std::move(facts_);
}

}  // namespace

int PngFacts::channels() const {
  if (type == 3) return transparent_key ? 4 : 3;
  return samples() + (transparent_key ? 1 : 0);
}

Result<PngFacts> walk_png(std::string_view bytes, const PictureLimits& limits) {
  return PngWalk(bytes, limits).run();
}

}  // namespace kithue
