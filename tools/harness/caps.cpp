// SPDX-License-Identifier: MIT
#include "harness/caps.h"

#include <algorithm>
#include <cstdio>
#include <map>
#include <set>
#include <vector>

#include "harness/outputs.h"
#include "harness/process.h"
#include "harness/scene.h"
#include "paper/camera.h"

namespace kithue::harness {
namespace {

struct Case {
  std::string what;
  std::vector<std::string> args;
  long most_mb = 0;
  double most_s = 0.0;
  int status = 0;
};

void measure(Tally& tally, const std::string& program, const Scene& scene, const Case& one) {
  constexpr int kTimes = 3;
  const std::string stash = text_of(scene.files(), "stash.cgats");
  Ended best;
  for (int i = 0; i < kTimes; ++i) {
    Ended ended = run_process(start_on(scene, program, one.args));
    ended.seconds = std::min(ended.seconds, ended.processor_after);
    if (i == 0 || ended.seconds < best.seconds) best = ended;
    if (one.args[1] == "undo")
      static_cast<void>(scene.run({"stash", "edit", "swatch 0", "--note", std::to_string(i), "--quiet"}));
    else if (text_of(scene.files(), "stash.cgats") != stash)
      static_cast<void>(scene.run({"stash", "undo", "--quiet"}));
  }
  ++tally.tried;
  ++tally.fired;
  const double mb = static_cast<double>(best.peak_kb) / 1024.0;
  std::printf("    %-36s %6.0f MB of %4ld   %7.3f s of %5.2f\n", one.what.c_str(), mb, one.most_mb,
              best.seconds, one.most_s);
  if (best.status != one.status)
    tally.fail(one.what + ": status " + std::to_string(best.status) + ": " + best.err);
  if (mb > static_cast<double>(one.most_mb)) tally.fail(one.what + ": " + std::to_string(mb) + " MB");
  if (best.seconds > one.most_s) tally.fail(one.what + ": " + std::to_string(best.seconds) + " s");
}

/// Dots on a ground, quickly made: what counts is the size.
std::string large_jpeg(int width, int height) {
  paper::Shot shot;
  shot.width = width;
  shot.height = height;
  shot.rgb.resize(3 * static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  unsigned noise = 1;
  for (int y = 0; y < height; ++y) {
    unsigned char* row = shot.rgb.data() + 3 * static_cast<std::size_t>(y) * static_cast<std::size_t>(width);
    for (int x = 0; x < width; ++x) {
      const bool dot = (x / 400 + y / 400) % 3 == 0 &&
                       (x % 400 - 200) * (x % 400 - 200) + (y % 400 - 200) * (y % 400 - 200) < 22'500;
      noise = noise * 1'664'525U + 1'013'904'223U;
      const unsigned grain = noise >> 29U;
      row[3 * x] = static_cast<unsigned char>((dot ? 176U : 226U) + grain);
      row[3 * x + 1] = static_cast<unsigned char>((dot ? 84U : 220U) + grain);
      row[3 * x + 2] = static_cast<unsigned char>((dot ? 60U : 204U) + grain);
    }
  }
  return paper::jpeg_bytes(shot, 90);
}

/// The head of a PNG of that size, with its checksum wrong and nothing behind it but zeros.
std::string huge_png(unsigned side) {
  std::string bytes("\x89PNG\r\n\x1a\n\0\0\0\rIHDR", 16);
  for (int twice = 0; twice < 2; ++twice) {
    for (unsigned shift = 32; shift > 0; shift -= 8) bytes += static_cast<char>(side >> (shift - 8) & 0xffU);
  }
  bytes += std::string("\x08\x02\0\0\0", 5);
  return bytes + std::string(std::size_t{100} << 20U, '\0');
}

/// The same for JPEG: a frame header that says 65,535 a side.
std::string huge_jpeg() {
  return std::string("\xFF\xD8\xFF\xC0\x00\x11\x08\xFF\xFF\xFF\xFF\x03\x01\x11\x00\x02\x11\x00\x03\x11\x00",
                     21) +
         std::string(std::size_t{100} << 20U, '\0');
}

std::string rows_csv(int rows) {
  std::string text = "name,kind,white,L,a,b\n";
  for (int i = 0; i < rows; ++i)
    text += "row " + std::to_string(i) + ",stock,D50/2," + std::to_string(10 + i % 80) + ",1,2\n";
  return text;
}

}  // namespace

Tally keep_caps(const std::string& program) {
  Tally tally{.name = "memory and time caps"};
  {
    const Scene scene(scene_files(10'000));
    for (const auto& [name, args] : working_arguments()) {
      if (!name.starts_with("stash ") && name != "match" && name != "clash" && name != "standin") continue;
      measure(tally, program, scene, {name + ", 10,000 swatches", words_of(name, args), 64, 0.15, 0});
    }
  }
  struct Photo {
    const char* what;
    int width, height;
    long most_mb;
    double most_s;
  };
  for (const Photo& photo :
       {Photo{"12 megapixels", 4000, 3000, 128, 0.8}, Photo{"24 megapixels", 6000, 4000, 256, 1.5},
        Photo{"48 megapixels", 8000, 6000, 512, 3.0}, Photo{"100 megapixels", 11'600, 8'700, 512, 6.0}}) {
    const Scene scene(Files{{"photo.jpg", large_jpeg(photo.width, photo.height)}});
    measure(tally, program, scene, {photo.what, {"extract", "{}/photo.jpg"}, photo.most_mb, photo.most_s, 0});
  }
  const Scene huge(
      Files{{"huge.png", huge_png(100'000)}, {"many.png", huge_png(20'000)}, {"huge.jpg", huge_jpeg()}});
  for (const char* name : {"huge.png", "many.png", "huge.jpg"})
    measure(tally, program, huge,
            {std::string(name) + " refused", {"extract", "{}/" + std::string(name)}, 32, 0.05, 8});
  const Scene tables(Files{{"rows.csv", rows_csv(100'000)}, {"many.csv", rows_csv(1'000'001)}});
  measure(tally, program, tables,
          {"100,000 rows of CSV", {"stash", "import", "{}/rows.csv", "--dry-run"}, 512, 2.0, 0});
  measure(tally, program, tables,
          {"1,000,001 rows refused", {"stash", "import", "{}/many.csv", "--dry-run"}, 512, 2.0, 3});
  return tally;
}

Tally limit_address_space(const std::string& program) {
  Tally tally{.name = "address space of 64, 128, 256 MB"};
  Files files = scene_files(300);
  files["photo.jpg"] = large_jpeg(4000, 3000);
  const std::set<int> clean{0, 3, 4, 5, 8};
  for (const auto& [name, args] : working_arguments()) {
    for (const std::size_t megabytes : {64U, 128U, 256U}) {
      const Scene scene(files);
      const std::string before = text_of(scene.files(), "stash.cgats");
      Start start = start_on(scene, program, words_of(name, args));
      start.most_memory_mb = megabytes;
      const Ended ended = run_process(start);
      ++tally.tried;
      if (ended.status != 0) ++tally.fired;
      const std::string where = name + " in " + std::to_string(megabytes) + " MB: ";
      if (clean.count(ended.status) == 0)
        tally.fail(where + "status " + std::to_string(ended.status) + ", signal " +
                   std::to_string(ended.signal) + ": " + ended.err);
      if (ended.status != 0 && text_of(scene.files(), "stash.cgats") != before)
        tally.fail(where + "failed, but the stash changed");
    }
  }
  return tally;
}

}  // namespace kithue::harness
