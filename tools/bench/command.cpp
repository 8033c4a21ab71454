// SPDX-License-Identifier: MIT
// The whole command on files: `kithue extract` beside the bare stb_image decode of the same file and, where
// it is installed, ImageMagick's `-colors` at quarter size; then many photos on one and on two threads.
// Usage: bench_command KITHUE FOLDER [runs] [photos]   FOLDER: the JPEGs to use, such as
// `kithue_accuracy --save FOLDER` writes. Medians; every program is started anew each time.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <string>
#include <vector>

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

namespace {

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

std::string shell_word(const std::string& path) {
  std::string out = "'";
  for (const char c : path) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

/// Ends the bench when a program fails: its time would mean nothing.
void run(const std::string& line) {
  if (std::system((line + " >/dev/null 2>&1").c_str()) == 0) return;
  std::printf("failed: %s\n", line.c_str());
  std::exit(1);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) {
    std::printf("usage: bench_command KITHUE FOLDER [runs] [photos]\n");
    return 2;
  }
  const std::string kithue = shell_word(argv[1]);
  const int runs = argc > 3 ? std::stoi(argv[3]) : 5;
  const std::size_t many = argc > 4 ? std::stoul(argv[4]) : 48;
  std::vector<std::string> photos;
  for (const auto& entry : std::filesystem::directory_iterator(argv[2])) {
    if (entry.path().extension() == ".jpg") photos.push_back(entry.path().string());
  }
  std::sort(photos.begin(), photos.end());
  if (photos.empty()) {
    std::printf("no .jpg in %s\n", argv[2]);
    return 2;
  }
  const bool magick = std::system("convert -version >/dev/null 2>&1") == 0;
  if (!magick) std::printf("ImageMagick is not installed: left out\n");
  std::printf("stb_image %d; %d runs, medians in ms\n%-32s %6s %8s %8s %8s %6s", STBI_VERSION, runs, "photo",
              "MP", "stb", "start", "kithue", "ratio");
  std::printf(magick ? " %8s %6s\n" : "\n", "magick", "x");
  const double start = median_ms(runs, [&] { run(kithue + " --version"); });
  for (const std::string& photo : photos) {
    std::ifstream in(photo, std::ios::binary);
    const std::string bytes((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
    int width = 0;
    int height = 0;
    const double bare = median_ms(runs, [&] {
      int channels = 0;
      stbi_image_free(stbi_load_from_memory(reinterpret_cast<const stbi_uc*>(bytes.data()),
                                            static_cast<int>(bytes.size()), &width, &height, &channels, 3));
    });
    const double whole = median_ms(runs, [&] { run(kithue + " extract " + shell_word(photo)); });
    std::printf("%-32s %6.1f %8.1f %8.1f %8.1f %6.2f", std::filesystem::path(photo).filename().c_str(),
                static_cast<double>(width) * height / 1e6, bare, start, whole, whole / bare);
    if (magick) {
      const double other = median_ms(
          1, [&] { run("convert " + shell_word(photo) + " -resize 25% -colors 6 -unique-colors txt:-"); });
      std::printf(" %8.1f %6.1f", other, other / whole);
    }
    std::printf("\n");
    std::fflush(stdout);
  }
  std::string all;
  for (std::size_t i = 0; i < many; ++i) all += " " + shell_word(photos[i % photos.size()]);
  const double one = median_ms(1, [&] { run(kithue + " extract --threads 1" + all); });
  const double two = median_ms(1, [&] { run(kithue + " extract --threads 2" + all); });
  std::printf("%zu photos: one thread %.0f ms, two %.0f ms = %.2f x\n", many, one, two, one / two);
}
