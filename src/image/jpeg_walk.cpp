// SPDX-License-Identifier: MIT
#include "image/jpeg_walk.h"

#include <algorithm>
#include <cstring>
#include <optional>

#include "base/text.h"
#include "image/byte_order.h"
#include "image/size_check.h"

namespace kithue {
namespace {

using namespace std::string_view_literals;  // NOLINT(google-build-using-namespace)

// A camera writes 1 scan, a progressive file 8 to 12; a decoder's time grows with scans times pixels.
constexpr int kMostScans = 100;
constexpr long long kMostScannedPixels = 2'000'000'000;

Error damaged_jpeg(const std::string& what) {
  return {ErrorKind::bad_input, "this JPEG is damaged_jpeg: " + what, "",
          "copy it from the camera or phone again"};
}
Error cut_short_jpeg() {
  return {ErrorKind::bad_input, "this JPEG is cut short: the end of the picture is missing", "",
          "copy it from the camera or phone again"};
}
Error not_decoded(const std::string& what, const char* advice = "export it as an ordinary JPEG") {
  return {ErrorKind::bad_input, "this JPEG " + what, "", advice};
}

long long over(long long count, long long part) {
  return (count + part - 1) / part;
}

/// Every table is 16 counts and as many codes as they say, 256 at most (ITU-T T.81, B.2.4.2 and C.1):
/// stb_image writes past its own table when there are more.
bool huffman_tables_fit(std::string_view body) {
  while (!body.empty()) {
    if (body.size() < 17) return false;
    std::size_t codes = 0;
    for (std::size_t i = 1; i <= 16; ++i) codes += byte_at(body, i);
    if (codes > 256 || body.size() < 17 + codes) return false;
    body.remove_prefix(17 + codes);
  }
  return true;
}

class JpegWalk {
 public:
  JpegWalk(std::string_view bytes, const PictureLimits& limits) : bytes_(bytes), limits_(limits) {}

  Result<JpegFacts> run() {
    auto facts = walk();
    if (facts || facts.error().kind == ErrorKind::impossible) return facts;
    Error error = facts.error();
    error.where = "byte " + std::to_string(begun_at_);
    return error;
  }

 private:
  Result<JpegFacts> walk();
  std::optional<unsigned> next_marker();
  MaybeError segment(unsigned marker, std::string_view body);
  MaybeError frame(unsigned marker, std::string_view body);
  MaybeError scan(std::string_view body);
  void quantisation_tables(std::string_view body);
  MaybeError scan_size(const std::vector<std::size_t>& members, unsigned spectral_start, unsigned refines,
                       std::size_t coded_bytes, long long restarts) const;
  void application(unsigned marker, std::string_view body);
  void join_icc();

  std::string_view bytes_;
  const PictureLimits& limits_;
  JpegFacts facts_;
  std::size_t at_ = 2;        // after SOI
  std::size_t begun_at_ = 0;  // where what is being looked at begins
  long long restart_interval_ = 0;
  bool exif_seen_ = false;
  std::size_t kept_to_ = 0;       // what lies before is in facts_.clean or was stray
  std::array<bool, 4> tables_{};  // which quantisation tables there are by now
  std::vector<bool> begun_;       // which components have had their first scan
  std::vector<std::string_view> icc_pieces_;
  std::size_t icc_count_ = 0;
};

/// Steps to the next marker and past it; nothing at the end of the bytes.
std::optional<unsigned> JpegWalk::next_marker() {
  const std::size_t start = at_;
  for (;;) {
    while (at_ < bytes_.size() && byte_at(bytes_, at_) != 0xff) ++at_;
    const std::size_t fill = at_;
    while (at_ < bytes_.size() && byte_at(bytes_, at_) == 0xff) ++at_;
    if (at_ >= bytes_.size()) return {};
    const unsigned marker = byte_at(bytes_, at_++);
    if (marker == 0) continue;
    if (fill > start) {
      facts_.clean.append(bytes_.substr(kept_to_, start - kept_to_));
      kept_to_ = at_ - 2;
    }
    return marker;
  }
}

MaybeError JpegWalk::frame(unsigned marker, std::string_view body) {
  if (!facts_.components.empty()) return damaged_jpeg("it has two frame headers");
  if (marker == 0xc3 || marker == 0xf7) return not_decoded("is of the lossless kind");
  if (marker == 0xc9 || marker == 0xca || marker == 0xcb) return not_decoded("uses arithmetic coding");
  if (marker >= 0xc5) return not_decoded("is of the hierarchical kind");
  if (body.size() < 6) return damaged_jpeg("its frame header is too short");
  const unsigned bits = byte_at(body, 0);
  if (bits != 8) {
    return not_decoded("has " + std::to_string(bits) + " bits a channel", "export it with 8 bits a channel");
  }
  facts_.height = static_cast<int>(big16(body, 1));
  facts_.width = static_cast<int>(big16(body, 3));
  facts_.progressive = marker == 0xc2;
  const std::size_t count = byte_at(body, 5);
  if (facts_.width == 0 || facts_.height == 0) return damaged_jpeg("its size is given as 0 pixels");
  if (auto wrong = check_size(facts_.width, facts_.height, limits_)) return wrong;
  if (count == 4) return not_decoded("is CMYK", "export it as RGB");
  if (count != 1 && count != 3) {
    return not_decoded("has " + counted(count, "colour channel"), "export it as RGB");
  }
  if (body.size() != 6 + 3 * count) return damaged_jpeg("its frame header has the wrong length");
  for (std::size_t i = 0; i < count; ++i) {
    const unsigned factors = byte_at(body, 7 + 3 * i);
    const JpegComponent component{byte_at(body, 6 + 3 * i), static_cast<int>(factors >> 4),
                                  static_cast<int>(factors & 15), byte_at(body, 8 + 3 * i)};
    if (component.across < 1 || component.across > 4 || component.down < 1 || component.down > 4) {
      return damaged_jpeg("its sampling factors are impossible");
    }
    facts_.components.push_back(component);
  }
  begun_.assign(count, false);
  return {};
}

/// A scan too short for its blocks was cut, whatever marker follows it: every block takes at least two
/// bits in a sequential scan and one in a progressive DC scan, and restart markers can be counted.
MaybeError JpegWalk::scan_size(const std::vector<std::size_t>& members, unsigned spectral_start,
                               unsigned refines, std::size_t coded_bytes, long long restarts) const {
  int most_across = 1;
  int most_down = 1;
  for (const JpegComponent& component : facts_.components) {
    most_across = std::max(most_across, component.across);
    most_down = std::max(most_down, component.down);
  }
  long long units = over(facts_.width, 8LL * most_across) * over(facts_.height, 8LL * most_down);
  long long blocks = 0;
  if (members.size() == 1) {
    const auto size = jpeg_blocks(facts_, facts_.components[members[0]]);
    units = blocks = size[0] * size[1];
  } else {
    for (const std::size_t member : members) {
      blocks += units * facts_.components[member].across * facts_.components[member].down;
    }
  }
  long long least_bits = 0;
  if (!facts_.progressive) least_bits = 2 * blocks;
  if (facts_.progressive && spectral_start == 0) least_bits = blocks;
  if (static_cast<long long>(coded_bytes) * 8 < least_bits) return cut_short_jpeg();
  if (refines == 0 && restart_interval_ > 0 && restarts < over(units, restart_interval_) - 1)
    return cut_short_jpeg();
  return {};
}

MaybeError JpegWalk::scan(std::string_view body) {
  if (facts_.components.empty()) return damaged_jpeg("picture data comes before the frame header");
  const std::size_t count = body.empty() ? 0 : byte_at(body, 0);
  if (count < 1 || count > 4 || body.size() != 4 + 2 * count) return damaged_jpeg("a scan header is wrong");
  ++facts_.scans;
  if (facts_.scans > kMostScans ||
      static_cast<long long>(facts_.width) * facts_.height * facts_.scans > kMostScannedPixels) {
    return not_decoded("is built of far too many scans", "export it as a baseline JPEG");
  }
  const unsigned spectral_start = byte_at(body, 1 + 2 * count);
  const unsigned refines = byte_at(body, 3 + 2 * count) >> 4;
  std::vector<std::size_t> members;
  for (std::size_t i = 0; i < count; ++i) {
    const unsigned id = byte_at(body, 1 + 2 * i);
    for (std::size_t k = 0; k < facts_.components.size(); ++k) {
      if (facts_.components[k].id != id || members.size() > i) continue;
      members.push_back(k);
      const unsigned table = facts_.components[k].table;
      // stb_image would take what is missing for zeros.
      if (table >= tables_.size() || !tables_[table]) return damaged_jpeg("a quantisation table is missing");
      if (!facts_.progressive || (spectral_start == 0 && refines == 0)) begun_[k] = true;
    }
    if (members.size() != i + 1) return damaged_jpeg("a scan names a channel that does not exist");
  }
  const std::size_t start = at_;
  if (facts_.data_start == 0) facts_.data_start = start;
  long long restarts = 0;
  for (;;) {
    const auto* hit = static_cast<const char*>(std::memchr(bytes_.data() + at_, 0xff, bytes_.size() - at_));
    if (hit == nullptr) return cut_short_jpeg();
    at_ = static_cast<std::size_t>(hit - bytes_.data());
    std::size_t after = at_ + 1;
    while (after < bytes_.size() && byte_at(bytes_, after) == 0xff) ++after;
    if (after >= bytes_.size()) return cut_short_jpeg();
    const unsigned code = byte_at(bytes_, after);
    if (code != 0 && (code < 0xd0 || code > 0xd7)) break;
    restarts += code != 0 ? 1 : 0;
    at_ = after + 1;
  }
  return scan_size(members, spectral_start, refines, at_ - start, restarts);
}

/// T.81 B.2.4.1. Tables that are cut short are left to the decoder.
void JpegWalk::quantisation_tables(std::string_view body) {
  for (std::size_t at = 0; at < body.size();) {
    const unsigned kind = byte_at(body, at);
    if ((kind & 15) < tables_.size()) tables_[kind & 15] = true;
    at += kind >> 4 == 0 ? 65 : 129;
  }
}

void JpegWalk::application(unsigned marker, std::string_view body) {
  if (marker == 0xe1 && !exif_seen_ && body.starts_with("Exif\0\0"sv)) {
    exif_seen_ = true;
    facts_.exif = read_exif(body.substr(6));
  }
  if (marker != 0xe2 || !body.starts_with("ICC_PROFILE\0"sv) || body.size() < 14) return;
  const std::size_t number = byte_at(body, 12);
  const std::size_t count = byte_at(body, 13);
  if (icc_pieces_.empty()) {
    icc_count_ = count;
    icc_pieces_.resize(count);
  }
  if (count != icc_count_ || number < 1 || number > count || icc_pieces_[number - 1].data() != nullptr) {
    facts_.icc_fault = "its pieces are numbered wrongly";
    return;
  }
  icc_pieces_[number - 1] = body.substr(14);
}

/// ICC.1:2022 Annex B.4: numbered pieces in any order.
void JpegWalk::join_icc() {
  if (icc_pieces_.empty() || !facts_.icc_fault.empty()) return;
  std::size_t whole = 0;
  for (std::size_t i = 0; i < icc_pieces_.size(); ++i) {
    if (icc_pieces_[i].data() == nullptr) {
      facts_.icc_fault =
          "piece " + std::to_string(i + 1) + " of " + std::to_string(icc_count_) + " is missing";
      return;
    }
    whole += icc_pieces_[i].size();
  }
  if (whole > kMostIcc) {
    facts_.icc_fault = "it is larger than 4 MB";
    return;
  }
  for (const std::string_view piece : icc_pieces_) facts_.icc += piece;
}

MaybeError JpegWalk::segment(unsigned marker, std::string_view body) {
  if (marker == 0xda) return scan(body);
  if (marker == 0xf7 ||
      (marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc)) {
    return frame(marker, body);
  }
  if (marker == 0xdd) {
    if (body.size() != 2) return damaged_jpeg("its restart interval is wrong");
    restart_interval_ = big16(body, 0);
  }
  if (marker == 0xdb) quantisation_tables(body);
  if (marker == 0xc4 && !huffman_tables_fit(body)) return damaged_jpeg("a code table is impossible");
  if (marker == 0xde || marker == 0xdf) return not_decoded("is of the hierarchical kind");
  if (marker >= 0xe0 && marker <= 0xef) application(marker, body);
  return {};
}

Result<JpegFacts> JpegWalk::walk() {
  for (;;) {
    begun_at_ = at_;
    const auto marker = next_marker();
    if (!marker) return facts_.scans == 0 ? damaged_jpeg("it holds no picture") : cut_short_jpeg();
    if (*marker == 0xd9) break;
    if (*marker == 0x01 || (*marker >= 0xd0 && *marker <= 0xd7)) continue;
    if (*marker == 0xd8) return damaged_jpeg("a second picture begins inside the first");
    if (bytes_.size() - at_ < 2) return cut_short_jpeg();
    const std::size_t length = big16(bytes_, at_);
    if (length < 2) return damaged_jpeg("a segment has an impossible length");
    if (length > bytes_.size() - at_) return cut_short_jpeg();
    const std::string_view body = bytes_.substr(at_ + 2, length - 2);
    at_ += length;
    if (auto wrong = segment(*marker, body)) return *wrong;
  }
  if (facts_.scans == 0) return damaged_jpeg("it holds no picture");
  if (std::find(begun_.begin(), begun_.end(), false) != begun_.end()) return cut_short_jpeg();
  join_icc();
  facts_.length = at_;
  if (kept_to_ > 0) {
    facts_.clean.append(bytes_.substr(kept_to_, at_ - kept_to_));
    facts_.warnings.emplace_back("stray bytes between the parts of the JPEG were passed over");
  }
  return std::move(facts_);
}

}  // namespace

std::array<long long, 2> jpeg_blocks(const JpegFacts& facts, const JpegComponent& component) {
  int most_across = 1;
  int most_down = 1;
  for (const JpegComponent& other : facts.components) {
    most_across = std::max(most_across, other.across);
    most_down = std::max(most_down, other.down);
  }
  return {over(over(static_cast<long long>(facts.width) * component.across, most_across), 8),
          over(over(static_cast<long long>(facts.height) * component.down, most_down), 8)};
}

Result<JpegFacts> walk_jpeg(std::string_view bytes, const PictureLimits& limits) {
  return JpegWalk(bytes, limits).run();
}

}  // namespace kithue
