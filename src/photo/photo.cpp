// SPDX-License-Identifier: MIT
#include "photo/photo.h"

#include <utility>

#include "icc/profile.h"
#include "image/picture.h"
#include "photo/choose_model.h"
#include "photo/coded_rows.h"
#include "photo/ycc_rows.h"

namespace kithue {
namespace {

Result<Picture> decoded(std::string_view bytes, const std::string& name, const PhotoLimits& limits) {
  if (bytes.size() > limits.most_bytes) {
    return Error{ErrorKind::impossible,
                 "the file is larger than the limit of " + std::to_string(limits.most_bytes >> 20) + " MB",
                 name, "shrink the picture and try again"};
  }
  return decode_picture(bytes, name, {limits.most_pixels, limits.most_side}, JpegForm::ycc_where_possible);
}

int colours_of(const Picture& picture) {
  return picture.channels < 3 ? 1 : 3;
}

Photo photo_of(Picture picture, ChosenModel chosen) {
  Photo photo;
  photo.format = picture.format == PictureFormat::jpeg ? "JPEG" : "PNG";
  photo.bits = picture.bits;
  photo.lossy = picture.format == PictureFormat::jpeg;
  photo.orientation = picture.orientation;
  photo.profile_state = chosen.state;
  photo.profile = std::move(chosen.name);
  photo.had_alpha = picture.channels != colours_of(picture);
  photo.day = std::move(picture.day);
  photo.warnings = std::move(picture.warnings);
  photo.warnings.insert(photo.warnings.end(), chosen.warnings.begin(), chosen.warnings.end());
  if (picture.ycc) {
    auto rows = std::make_unique<YccRows>(std::move(*picture.ycc), picture.width, picture.height,
                                          picture.orientation, std::move(chosen.model));
    photo.clipped_share = rows->clipped_share();
    photo.light = std::move(rows);
  } else {
    photo.clipped_share = clipped_share(picture);
    photo.light = std::make_unique<CodedRows>(std::move(picture), std::move(chosen.model));
  }
  photo.width = photo.light->width();
  photo.height = photo.light->height();
  return photo;
}

}  // namespace

Result<Photo> decode_photo(std::string_view bytes, const std::string& name, const PhotoLimits& limits) {
  auto picture = decoded(bytes, name, limits);
  if (!picture) return picture.error();
  ChosenModel chosen = choose_model(picture->colour, colours_of(*picture), picture->bits);
  return photo_of(std::move(*picture), std::move(chosen));
}

Result<Photo> decode_scan(std::string_view bytes, const std::string& name, std::string_view icc,
                          const std::string& profile_name, const PhotoLimits& limits) {
  auto picture = decoded(bytes, name, limits);
  if (!picture) return picture.error();
  auto model = model_for_measuring(icc, colours_of(*picture), picture->bits);
  if (!model) {
    return Error{ErrorKind::bad_input, "the profile cannot be used: " + model.error().what, profile_name,
                 "give the ICC profile made for this scanner"};
  }
  ChosenModel chosen;
  chosen.state = ProfileState::embedded;
  chosen.name = model->name;
  chosen.model = std::move(*model);
  return photo_of(std::move(*picture), std::move(chosen));
}

}  // namespace kithue
