// SPDX-License-Identifier: MIT
#include "photo/photo.h"

#include <utility>

#include "base/watermark.h"
#include "icc/profile.h"
#include "image/picture.h"
#include "photo/choose_model.h"
#include "photo/coded_rows.h"
#include "photo/ycc_rows.h"

namespace kithue {
namespace {

/// Nobody wants the rows early.
class NoTaker final : public RowsTaker {
 public:
  std::vector<int> begin(const LightRows&) override { return {}; }
  void take(std::size_t) override {}
};

/// Lets the others go on however the filling ends: those that wait would hold up what was thrown.
class AtEnd {
 public:
  AtEnd(Watermark& mark, int height) : mark_(mark), height_(height) {}
  ~AtEnd() { mark_.raise(height_); }
  AtEnd(const AtEnd&) = delete;
  AtEnd& operator=(const AtEnd&) = delete;

 private:
  Watermark& mark_;
  int height_;
};

/// Decodes into the planes that `rows` reads, and lets `taker` have them from the top.
MaybeError fill_beside(const Picture& picture, const YccRows& rows, RowsTaker& taker, Executor& executor) {
  const std::vector<int> needs = taker.begin(rows);
  Watermark there;
  MaybeError fault;
  executor.run(needs.size() + 1, [&](std::size_t job) {
    if (job == 0) {
      const AtEnd release(there, rows.height());
      fault = picture.fill([&](int now) { there.raise(now); });
      return;
    }
    there.wait(rows.rows_for(needs[job - 1]));
    taker.take(job - 1);
  });
  return fault;
}

void take_all(const LightRows& rows, RowsTaker& taker, Executor& executor) {
  const std::size_t jobs = taker.begin(rows).size();
  executor.run(jobs, [&](std::size_t job) { taker.take(job); });
}

/// Into `photo`, from `picture`, whose model is found. Errors do not have the file's name yet.
MaybeError read_light(Photo& photo, Picture picture, ColourModel model, RowsTaker& taker,
                      Executor& executor) {
  if (!picture.ycc) {
    photo.clipped_share = clipped_share(picture);
    photo.light = std::make_unique<CodedRows>(std::move(picture), std::move(model));
    take_all(*photo.light, taker, executor);
    return std::nullopt;
  }
  const bool upright = picture.orientation == 1;
  if (!upright) {
    if (auto error = picture.fill({})) return error;
  }
  auto rows = std::make_unique<YccRows>(std::move(*picture.ycc), picture.width, picture.height,
                                        picture.orientation, std::move(model));
  if (upright) {
    if (auto error = fill_beside(picture, *rows, taker, executor)) return error;
  } else {
    take_all(*rows, taker, executor);
  }
  photo.clipped_share = rows->clipped_share();
  photo.light = std::move(rows);
  return std::nullopt;
}

/// Read up to where its colours are known; a JPEG's pixels come later, where that is possible.
Result<Picture> opened(std::string_view bytes, const std::string& name, const PhotoLimits& limits) {
  if (bytes.size() > limits.most_bytes) {
    return Error{ErrorKind::impossible,
                 "the file is larger than the limit of " + std::to_string(limits.most_bytes >> 20) + " MB",
                 name, "shrink the picture and try again"};
  }
  return decode_picture(bytes, name, {limits.most_pixels, limits.most_side}, JpegForm::ycc_later);
}

int colours_of(const Picture& picture) {
  return picture.channels < 3 ? 1 : 3;
}

Result<Photo> photo_of(Picture picture, ChosenModel chosen, const std::string& name, RowsTaker& taker,
                       Executor& executor) {
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
  if (auto error = read_light(photo, std::move(picture), std::move(chosen.model), taker, executor)) {
    error->where = error->where.empty() ? name : name + ", " + error->where;
    return *error;
  }
  photo.width = photo.light->width();
  photo.height = photo.light->height();
  return photo;
}

}  // namespace

Result<Photo> decode_photo(std::string_view bytes, const std::string& name, const PhotoLimits& limits,
                           RowsTaker& taker, Executor& executor) {
  auto picture = opened(bytes, name, limits);
  if (!picture) return picture.error();
  ChosenModel chosen = choose_model(picture->colour, colours_of(*picture), picture->bits);
  return photo_of(std::move(*picture), std::move(chosen), name, taker, executor);
}

Result<Photo> decode_photo(std::string_view bytes, const std::string& name, const PhotoLimits& limits) {
  NoTaker nobody;
  SerialExecutor serial;
  return decode_photo(bytes, name, limits, nobody, serial);
}

Result<Photo> decode_scan(std::string_view bytes, const std::string& name, std::string_view icc,
                          const std::string& profile_name, const PhotoLimits& limits) {
  auto picture = opened(bytes, name, limits);
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
  NoTaker nobody;
  SerialExecutor serial;
  return photo_of(std::move(*picture), std::move(chosen), name, nobody, serial);
}

}  // namespace kithue
