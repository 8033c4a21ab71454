// SPDX-License-Identifier: MIT
#include "image/picture.h"

#include <cstdlib>

#include "image/stb.h"

namespace kithue {

void FreePixels::operator()(unsigned char* pixels) const noexcept {
  std::free(pixels);
}

Result<Picture> decode_picture(std::string_view bytes, const std::string& name, const PictureLimits& limits) {
  Picture picture;
  if (bytes.starts_with("\x89PNG\r\n\x1a\n")) {
    picture.format = PictureFormat::png;
    picture.bits = bytes.size() > 24 && bytes[24] == 16 ? 16 : 8;
  } else if (!bytes.starts_with("\xff\xd8")) {
    return Error{ErrorKind::bad_input, "this is not a JPEG or PNG picture", name, "export the photo as JPEG"};
  }
  StbPixels found = stb_decode(bytes, picture.bits == 16);
  if (!found.pixels) {
    return Error{ErrorKind::bad_input, "the picture is damaged: " + found.fault, name, "export it again"};
  }
  if (static_cast<long long>(found.width) * found.height > limits.most_pixels) {
    return Error{ErrorKind::impossible, "the picture is too large", name, "shrink it first"};
  }
  picture.width = found.width;
  picture.height = found.height;
  picture.channels = found.channels;
  picture.pixels = std::move(found.pixels);
  return picture;
}

}  // namespace kithue
