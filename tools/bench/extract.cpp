// SPDX-License-Identifier: MIT
// How long `kithue extract` takes on a drawn and photographed face, beside the bare stb_image decode of the
// same file, both in this run. Usage: bench_extract [megapixels] [runs] [threads]
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <functional>
#include <string>
#include <vector>

#include "cli/threads.h"
#include "extract/palette.h"
#include "paper/camera.h"
#include "photo/photo.h"

#define STB_IMAGE_IMPLEMENTATION
#define STB_IMAGE_STATIC
#define STBI_ONLY_JPEG
#define STBI_NO_STDIO
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wunused-function"
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wsign-conversion"
#include <stb/stb_image.h>
#pragma GCC diagnostic pop

using namespace kithue;

namespace {

std::string drawn_photo(double megapixels, Executor& executor) {
  paper::Face face{
      4.0, 3.0, {{{92.0, 1.0, 9.0}}, {{45.0, 48.0, 22.0}}, {{40.0, -10.0, -22.0}}, {{70.0, 5.0, 55.0}}}, {}};
  for (int row = 0; row < 24; ++row) {
    for (int column = 0; column < 32; ++column) {
      const paper::Point at{0.06 + 0.125 * column, 0.06 + 0.125 * row};
      if ((row + column) % 3 == 0) {
        paper::add_flower(face, 1, at, 0.05, 5, 0.3 * column);
      } else {
        paper::add_circle(face, (row + column) % 3 + 1, at, 0.02);
      }
    }
  }
  paper::Camera camera;
  camera.width = static_cast<int>(std::lround(std::sqrt(megapixels * 1e6 * 4.0 / 3.0)));
  camera.fall_right = 0.05;
  return paper::jpeg_bytes(paper::photograph(face, camera, executor), 90);
}

double median_ms(int runs, const std::function<void()>& work) {
  std::vector<double> times;
  for (int i = 0; i < runs; ++i) {
    const auto begin = std::chrono::steady_clock::now();
    work();
    times.push_back(
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begin).count());
  }
  std::sort(times.begin(), times.end());
  return times[times.size() / 2];
}

}  // namespace

int main(int argc, char** argv) {
  const double megapixels = argc > 1 ? std::stod(argv[1]) : 12.0;
  const int runs = argc > 2 ? std::stoi(argv[2]) : 11;
  ThreadExecutor executor(argc > 3 ? std::stoul(argv[3]) : 0);
  const std::string bytes = drawn_photo(megapixels, executor);
  const double bare = median_ms(runs, [&] {
    int width = 0;
    int height = 0;
    int channels = 0;
    stbi_image_free(stbi_load_from_memory(reinterpret_cast<const stbi_uc*>(bytes.data()),
                                          static_cast<int>(bytes.size()), &width, &height, &channels, 3));
  });
  const double decode = median_ms(runs, [&] { (void)decode_photo(bytes, "bench"); });
  std::size_t colours = 0;
  const double whole = median_ms(runs, [&] {
    const auto photo = decode_photo(bytes, "bench");
    if (photo) colours = extract_palette(*photo->light, {}, executor).colours.size();
  });
  std::printf("%.0f MP, %zu bytes, %d runs, %zu threads, medians in ms; %zu colours\n", megapixels,
              bytes.size(), runs, executor.width(), colours);
  std::printf("stb_image %d decode %.1f; our decode %.1f; decode and palette %.1f = %.2f x stb_image\n",
              STBI_VERSION, bare, decode, whole, whole / bare);
}
