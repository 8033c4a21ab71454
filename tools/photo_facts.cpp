// SPDX-License-Identifier: MIT
// What decoding makes of each picture named: one line with the outcome, the time and the peak memory so far.
// Every accepted picture is read through once. Usage: photo_facts FILE...
// Each file in a process of its own (for its own peak): printf '%s\n' FILE... | xargs -n 1 photo_facts
#include <sys/resource.h>

#include <chrono>
#include <cstdio>
#include <string>
#include <vector>

#include "base/files.h"
#include "base/text.h"
#include "colour/lab.h"
#include "photo/photo.h"

using namespace kithue;

namespace {

double seconds_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

std::string mean_lab(const LightRows& light) {
  std::vector<float> row(static_cast<std::size_t>(light.width()) * 3);
  std::array<double, 3> sum{};
  for (int y = 0; y < light.height(); ++y) {
    light.read(0, y, light.width(), row.data());
    for (std::size_t i = 0; i < row.size(); ++i) sum[i % 3] += static_cast<double>(row[i]);
  }
  for (double& value : sum) value /= static_cast<double>(light.width()) * light.height();
  const auto xyz = times(light.to_xyz(), sum);
  const Lab lab = lab_from_xyz({xyz[0], xyz[1], xyz[2]});
  return fixed_number(lab.L, 1) + " " + fixed_number(lab.a, 1) + " " + fixed_number(lab.b, 1);
}

std::string outcome(const std::string& path, double& decoding, double& reading) {
  const auto bytes = read_file(path, PhotoLimits{}.most_bytes);
  if (!bytes) return "refused\t" + describe(bytes.error());
  const auto start = std::chrono::steady_clock::now();
  const auto photo = decode_photo(*bytes, path.substr(path.rfind('/') + 1));
  decoding = seconds_since(start);
  if (!photo) return "refused\t" + describe(photo.error());
  const auto second = std::chrono::steady_clock::now();
  const std::string mean = mean_lab(*photo->light);
  reading = seconds_since(second);
  std::string text = "ok\t" + photo->format + " " + std::to_string(photo->width) + "x" +
                     std::to_string(photo->height) + " " + std::to_string(photo->bits) + " bit, turned " +
                     std::to_string(photo->orientation) + ", " + photo->profile +
                     (photo->profile_state == ProfileState::broken ? " [broken]" : "") +
                     (photo->had_alpha ? ", alpha" : "") + ", clipped " +
                     fixed_number(photo->clipped_share, 3) + ", mean Lab " + mean;
  for (const std::string& warning : photo->warnings) text += "; warning: " + warning;
  return text;
}

}  // namespace

int main(int count, char** words) {
  for (int i = 1; i < count; ++i) {
    double decoding = 0.0;
    double reading = 0.0;
    const std::string text = outcome(words[i], decoding, reading);
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    std::printf("%s\t%.1f\t%.1f\t%.1f\t%s\n", words[i], decoding * 1e3, reading * 1e3,
                static_cast<double>(usage.ru_maxrss) / 1024.0, printable(text).c_str());
  }
  return 0;
}
