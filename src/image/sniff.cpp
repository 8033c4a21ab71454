// SPDX-License-Identifier: MIT
#include "image/sniff.h"

#include <algorithm>
#include <string>

#include "base/text.h"
#include "image/byte_order.h"

namespace kithue {
namespace {

using namespace std::string_view_literals;  // NOLINT(google-build-using-namespace)

constexpr const char* kExport = "export it as JPEG or PNG";

/// What other kinds of file begin with, in the order in which they are tried.
struct Kind {
  std::size_t at;
  std::string_view magic;
  const char* what;
  const char* advice;
};
constexpr Kind kKinds[] = {
    {0, "GIF8"sv, "this is a GIF", kExport},
    {8, "WEBP"sv, "this is a WebP picture", kExport},
    {0, "II*\0"sv, "this is a TIFF or a camera's raw file", kExport},
    {0, "MM\0*"sv, "this is a TIFF or a camera's raw file", kExport},
    {0, "II+\0"sv, "this is a TIFF", kExport},
    {0, "MM\0+"sv, "this is a TIFF", kExport},
    {0, "II\x1a\0\0\0HEAPCCDR"sv, "this is a camera's raw file", "export it as JPEG"},
    {0, "8BPS"sv, "this is a layered picture (PSD)", kExport},
    {0, "%PDF"sv, "this is a PDF", "export the page as JPEG or PNG"},
    {0, "%!PS"sv, "this is PostScript", kExport},
    {0, "#?RADIANCE"sv, "this is a Radiance HDR picture", kExport},
    {0, "#?RGBE"sv, "this is a Radiance HDR picture", kExport},
    {0, "v/1\x01"sv, "this is an OpenEXR picture", kExport},
    {0, "\0\0\0\x0cjP  \r\n\x87\n"sv, "this is a JPEG 2000 picture", "export it as ordinary JPEG"},
    {0, "\xff\x4f\xff\x51"sv, "this is a JPEG 2000 picture", "export it as ordinary JPEG"},
    {0, "\0\0\0\x0cJXL \r\n\x87\n"sv, "this is a JPEG XL picture", "export it as ordinary JPEG"},
    {0, "\xff\x0a"sv, "this is a JPEG XL picture", "export it as ordinary JPEG"},
    {0, "\x8aMNG"sv, "this is an MNG animation", kExport},
    {0, "\x8bJNG"sv, "this is a JNG picture", kExport},
    {0, "\0\0\1\0"sv, "this is an icon file", kExport},
    {0, "PK\3\4"sv, "this is a ZIP archive or an office document", "unpack it and name the picture"},
    {0, "gimp xcf"sv, "this is a layered picture (XCF)", kExport},
    {36, "acsp"sv, "this is a colour profile, not a picture", "name the photo itself"},
};

Error other(const std::string& what, const std::string& advice) {
  return {ErrorKind::bad_input, what, "", advice};
}

/// ISO base media files: HEIC and AVIF photos, videos, some raw files. ISO/IEC 14496-12, 23008-12.
Error refuse_media_file(std::string_view brand) {
  const auto among = [brand](auto... names) { return ((brand == names) || ...); };
  if (among("heic"sv, "heix"sv, "heim"sv, "heis"sv, "hevc"sv, "hevx"sv, "mif1"sv, "msf1"sv)) {
    return other("this is a HEIC photo",
                 "set the phone's camera to its most compatible format, or export the photo as JPEG");
  }
  if (among("avif"sv, "avis"sv)) return other("this is an AVIF picture", kExport);
  if (brand == "crx "sv) return other("this is a camera's raw file", "export it as JPEG");
  return other("this is a video", "take a photo, or export one frame as JPEG");
}

/// Portable anymaps: P1 to P7 and white space.
bool is_anymap(std::string_view bytes) {
  return bytes.size() > 2 && bytes[0] == 'P' && bytes[1] >= '1' && bytes[1] <= '7' &&
         (bytes[2] == '\n' || bytes[2] == ' ' || bytes[2] == '\r' || bytes[2] == '\t');
}

/// Targa has no mark of its own: its header fields must all make sense.
bool is_targa(std::string_view bytes) {
  if (bytes.size() < 18) return false;
  const unsigned map = byte_at(bytes, 1);
  const unsigned type = byte_at(bytes, 2) & ~8U;
  const unsigned depth = byte_at(bytes, 16);
  return map <= 1 && type >= 1 && type <= 3 && little16(bytes, 12) > 0 && little16(bytes, 14) > 0 &&
         (depth == 8 || depth == 15 || depth == 16 || depth == 24 || depth == 32);
}

bool is_text(std::string_view bytes) {
  std::string_view start = bytes.substr(0, 512);
  while (!start.empty() && byte_at(start, start.size() - 1) >= 0x80) start.remove_suffix(1);
  return start.size() > 1 && is_utf8(start) && std::none_of(start.begin(), start.end(), [](char c) {
           return static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\r' && c != '\t' && c != '\f';
         });
}

}  // namespace

Result<PictureFormat> sniff_picture(std::string_view bytes) {
  if (bytes.empty()) return other("the file is empty", "copy it from the camera or phone again");
  if (bytes.starts_with("\x89PNG\r\n\x1a\n"sv)) return PictureFormat::png;
  if (bytes.starts_with("\xff\xd8"sv)) return PictureFormat::jpeg;
  if (bytes.substr(0, 8).find("PNG"sv) != std::string_view::npos) {
    return other("this PNG's first bytes are damaged, as when a file is sent as text",
                 "copy it again, or export it again");
  }
  if (bytes.substr(0, 12).substr(std::min<std::size_t>(bytes.size(), 4)).starts_with("ftyp"sv)) {
    return refuse_media_file(bytes.substr(8, 4));
  }
  for (const Kind& kind : kKinds) {
    if (bytes.size() > kind.at && bytes.substr(kind.at).starts_with(kind.magic)) {
      return other(kind.what, kind.advice);
    }
  }
  if (bytes.starts_with("BM"sv) && bytes.size() > 14 && little32(bytes, 6) == 0) {
    return other("this is a BMP", kExport);
  }
  if (is_anymap(bytes)) return other("this is a portable anymap (PNM)", kExport);
  if (is_targa(bytes)) return other("this is a TGA", kExport);
  if (is_text(bytes)) return other("this is text, not a picture", "name a JPEG or PNG photo");
  return other("this is not a JPEG or PNG picture", "export the photo as JPEG");
}

}  // namespace kithue
