// SPDX-License-Identifier: MIT
// Draws the demo pack and photographs it: harbour_morning FOLDER [PIXELS]
// Leaves FOLDER/1a.jpg ... 6b.jpg, and FOLDER/true_colours.csv with what was drawn.
#include <algorithm>
#include <cctype>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>

#include "base/text.h"
#include "cli/threads.h"
#include "harbour_morning/faces.h"
#include "paper/camera.h"

namespace {

bool write(const std::filesystem::path& path, const std::string& bytes) {
  std::ofstream file(path, std::ios::binary);
  file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  return static_cast<bool>(file.flush());
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2 || argc > 3) {
    std::fputs("usage: harbour_morning FOLDER [PIXELS]\n", stderr);
    return 2;
  }
  const auto width = argc == 3 ? kithue::parse_whole(argv[2]) : 1600;
  if (!width || *width < 100 || *width > 8000) {
    std::fputs("harbour_morning: PIXELS is 100 to 8000\n", stderr);
    return 2;
  }
  const std::filesystem::path folder = argv[1];
  std::error_code fault;
  std::filesystem::create_directories(folder, fault);
  kithue::ThreadExecutor executor(0);
  std::string truth = "face,colour,L,a,b,share\n";
  kithue::paper::Dice dice(2026);
  for (const auto& one : kithue::harbour::pack()) {
    kithue::paper::Camera camera;
    camera.width = static_cast<int>(*width);
    camera.blur = dice.between(0.5, 0.9);
    camera.fall_right = dice.between(-0.06, 0.06);
    camera.fall_down = dice.between(-0.05, 0.05);
    camera.fall_corner = dice.between(0.0, 0.05);
    camera.seed = dice.bits();
    const auto shot = kithue::paper::photograph(one.face, camera, executor);
    std::string name = one.label + ".jpg";
    std::transform(name.begin(), name.end(), name.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    if (!write(folder / name, kithue::paper::jpeg_bytes(shot, dice.whole(88, 94)))) {
      std::fprintf(stderr, "harbour_morning: cannot write %s\n", (folder / name).c_str());
      return 5;
    }
    for (std::size_t i = 0; i < one.colours.size(); ++i) {
      const kithue::Lab& lab = shot.means[i];
      truth += one.label + "," + one.colours[i] + "," + kithue::fixed_number(lab.L, 2) + "," +
               kithue::fixed_number(lab.a, 2) + "," + kithue::fixed_number(lab.b, 2) + "," +
               kithue::fixed_number(shot.shares[i], 4) + "\n";
    }
  }
  return write(folder / "true_colours.csv", truth) ? 0 : 5;
}
