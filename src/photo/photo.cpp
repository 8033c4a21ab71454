// SPDX-License-Identifier: MIT
#include "photo/photo.h"

#include "icc/colour_model.h"
#include "image/picture.h"
#include "photo/coded_rows.h"

namespace kithue {

Result<Photo> decode_photo(std::string_view bytes, const std::string& name, const PhotoLimits& limits) {
  auto picture = decode_picture(bytes, name, {limits.most_pixels, limits.most_side});
  if (!picture) return picture.error();
  Photo photo;
  photo.format = picture->format == PictureFormat::jpeg ? "JPEG" : "PNG";
  photo.bits = picture->bits;
  photo.lossy = picture->format == PictureFormat::jpeg;
  photo.orientation = picture->orientation;
  photo.had_alpha = picture->channels == 2 || picture->channels == 4;
  photo.clipped_share = clipped_share(*picture);
  photo.profile = "sRGB (assumed)";
  const int bits = picture->bits;
  photo.light = std::make_unique<CodedRows>(std::move(*picture), srgb_model(bits));
  photo.width = photo.light->width();
  photo.height = photo.light->height();
  return photo;
}

}  // namespace kithue
