// SPDX-License-Identifier: MIT
// The accuracy table: draws faces with known colours, photographs them, reads their palettes, and prints how
// well they agree. Usage: kithue_accuracy [--seeds N] [--first N] [--family NAME] [--big]
//                                        [--held-out | --wider | --last | --further]
//                                        [--worst] [--all] [--no-kmeans] [--keep DIR] [--threads N]
// --keep reads back the faces that an earlier run left in DIR; delete them when the drawing changes.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <iterator>
#include <span>
#include <string>
#include <vector>

#include "accuracy/families.h"
#include "accuracy/kmeans.h"
#include "cli/threads.h"
#include "colour/difference.h"
#include "extract/palette.h"
#include "paper/camera.h"
#include "photo/photo.h"

using namespace kithue;
using namespace kithue::accuracy;

namespace {

constexpr double kCounted = 0.0025;  // a colour of less area is not asked for
constexpr double kLarge = 0.01;
constexpr double kMissed = 5.0;
constexpr double kFalseShare = 0.02;
constexpr double kVividChroma = 40.0;

struct Options {
  int seeds = 6;
  int first = 1;
  std::string family;
  std::span<const Family> families = tuning_families();
  bool big = false;
  bool worst = false;
  bool all = false;
  bool no_kmeans = false;
  std::string keep;  ///< folder in which drawn faces are kept for the next run
  std::size_t threads = 0;
};

/// The figures of one method over some faces.
struct Figures {
  int faces = 0;
  int colours = 0;
  double sum_de00 = 0.0;
  double worst_de00 = 0.0;
  int large = 0;
  int large_missed = 0;
  int accents = 0;
  int accents_missed = 0;
  int false_colours = 0;
  int exact = 0;
  double sum_share = 0.0;
  double seconds = 0.0;
};

struct Named {
  std::string face;
  std::vector<Cluster> truth, found;
};

void measure(const std::vector<Cluster>& truth, const std::vector<Cluster>& found, Figures& out) {
  ++out.faces;
  std::size_t counted = 0;
  for (const Cluster& one : truth) {
    if (one.share < kCounted) continue;
    ++counted;
    double nearest = 100.0;
    double share = 0.0;
    for (const Cluster& other : found) {
      const double d = ciede2000(one.lab, other.lab);
      if (d < nearest) {
        nearest = d;
        share = other.share;
      }
    }
    ++out.colours;
    out.sum_de00 += nearest;
    out.worst_de00 = std::max(out.worst_de00, nearest);
    out.sum_share += 100.0 * std::abs(share - one.share);
    if (one.share >= kLarge) {
      ++out.large;
      if (nearest > kMissed) ++out.large_missed;
    } else if (chroma(one.lab) >= kVividChroma) {
      ++out.accents;
      if (nearest > kMissed) ++out.accents_missed;
    }
  }
  for (const Cluster& other : found) {
    double nearest = 100.0;
    for (const Cluster& one : truth) nearest = std::min(nearest, ciede2000(one.lab, other.lab));
    if (nearest > kMissed && other.share > kFalseShare) ++out.false_colours;
  }
  if (found.size() == counted) ++out.exact;
}

void add(Figures& sum, const Figures& more) {
  sum.faces += more.faces;
  sum.colours += more.colours;
  sum.sum_de00 += more.sum_de00;
  sum.worst_de00 = std::max(sum.worst_de00, more.worst_de00);
  sum.large += more.large;
  sum.large_missed += more.large_missed;
  sum.accents += more.accents;
  sum.accents_missed += more.accents_missed;
  sum.false_colours += more.false_colours;
  sum.exact += more.exact;
  sum.sum_share += more.sum_share;
  sum.seconds += more.seconds;
}

void print_row(const char* name, const Figures& f) {
  std::printf("%-18s %5d %5d  %6.2f %6.2f  %3d of %-4d %3d of %-4d %5d  %4d (%3.0f %%) %7.2f %7.3f\n", name,
              f.faces, f.colours, f.sum_de00 / std::max(1, f.colours), f.worst_de00, f.large_missed, f.large,
              f.accents_missed, f.accents, f.false_colours, f.exact, 100.0 * f.exact / std::max(1, f.faces),
              f.sum_share / std::max(1, f.colours), f.seconds / std::max(1, f.faces));
}

void print_head() {
  std::printf("%-18s %5s %5s  %6s %6s  %-10s %-10s %5s  %-12s %7s %7s\n", "family", "faces", "cols", "mean",
              "worst", "1%+ missed", "acc missed", "false", "count right", "share", "s");
}

paper::Camera camera_of(paper::Dice& dice, bool big, std::uint64_t seed) {
  paper::Camera camera;
  const double pixels = big ? std::exp(dice.between(std::log(2e6), std::log(48e6)))
                            : std::exp(dice.between(std::log(2e6), std::log(5e6)));
  camera.width = static_cast<int>(std::sqrt(pixels * 1.05));
  camera.blur = dice.between(0.4, 1.2);
  camera.grain = dice.between(0.003, 0.015);
  camera.grain_pixels = dice.between(1.5, 5.0);
  camera.noise = dice.between(0.003, 0.012);
  // The largest departure from 1 anywhere in the frame stays within 12 %.
  const double x = dice.between(-1.0, 1.0);
  const double y = dice.between(-1.0, 1.0);
  const double c = dice.between(0.0, 1.0);
  const double scale = dice.between(0.0, 0.12) / (std::abs(x) + std::abs(y) + 0.67 * c);
  camera.fall_right = x * scale;
  camera.fall_down = y * scale;
  camera.fall_corner = c * scale;
  camera.samples = 4;
  camera.seed = seed;
  return camera;
}

struct Case {
  const Family* family = nullptr;
  int seed = 0;
};

/// Every drawn colour must matter: at least 0.25 % of the area, or the face is drawn again.
bool all_matter(const paper::Shot& shot) {
  return std::all_of(shot.shares.begin(), shot.shares.end(), [](double share) { return share >= kCounted; });
}

void print_case(const Named& named) {
  std::printf("   %s\n", named.face.c_str());
  for (const Cluster& one : named.truth) {
    double nearest = 100.0;
    const Cluster* who = nullptr;
    for (const Cluster& other : named.found) {
      const double d = ciede2000(one.lab, other.lab);
      if (d < nearest) {
        nearest = d;
        who = &other;
      }
    }
    std::printf("     true %6.1f %6.1f %6.1f %6.2f %%  off %5.2f", one.lab.L, one.lab.a, one.lab.b,
                100 * one.share, nearest);
    if (who != nullptr)
      std::printf("   found %6.1f %6.1f %6.1f %6.2f %%", who->lab.L, who->lab.a, who->lab.b,
                  100 * who->share);
    std::printf("\n");
  }
  for (const Cluster& other : named.found) {
    double nearest = 100.0;
    for (const Cluster& one : named.truth) nearest = std::min(nearest, ciede2000(one.lab, other.lab));
    if (nearest > 3.0) {
      std::printf("     extra %6.1f %6.1f %6.1f %6.2f %%  %5.2f from any true one\n", other.lab.L,
                  other.lab.a, other.lab.b, 100 * other.share, nearest);
    }
  }
}

/// A drawn and photographed face, and what is true of it.
struct Sample {
  std::string line;  ///< what was drawn, for people
  std::vector<Cluster> truth;
  std::string jpeg;
};

Sample draw_sample(const Case& one, bool big, ThreadExecutor& executor) {
  paper::Shot shot;
  paper::Camera camera;
  int quality = 90;
  std::uint64_t salt = 0;
  do {
    std::uint64_t name = 1469598103934665603U;
    for (const char c : one.family->name) name = (name ^ static_cast<unsigned char>(c)) * 1099511628211U;
    const std::uint64_t seed = name + static_cast<std::uint64_t>(one.seed) * 1000003U + salt++;
    paper::Dice dice(seed);
    camera = camera_of(dice, big, seed);
    quality = dice.whole(85, 95);
    const paper::Face face = one.family->draw(dice, 1.0 / camera.width);
    shot = paper::photograph(face, camera, executor);
  } while (!all_matter(shot));
  char line[200];
  std::snprintf(line, sizeof line,
                "%.*s seed %d: %d x %d, q %d, blur %.2f, grain %.3f/%.1f, noise %.3f, fall %.2f %.2f %.2f",
                static_cast<int>(one.family->name.size()), one.family->name.data(), one.seed, shot.width,
                shot.height, quality, camera.blur, camera.grain, camera.grain_pixels, camera.noise,
                camera.fall_right, camera.fall_down, camera.fall_corner);
  Sample sample{line, {}, paper::jpeg_bytes(shot, quality)};
  for (std::size_t i = 0; i < shot.means.size(); ++i) sample.truth.push_back({shot.means[i], shot.shares[i]});
  return sample;
}

/// Reads a face that an earlier run kept; false when there is none.
bool read_sample(const std::string& file, Sample& sample) {
  std::ifstream truth(file + ".txt");
  if (!std::getline(truth, sample.line)) return false;
  Cluster one;
  while (truth >> one.lab.L >> one.lab.a >> one.lab.b >> one.share) sample.truth.push_back(one);
  std::ifstream jpeg(file + ".jpg", std::ios::binary);
  sample.jpeg.assign(std::istreambuf_iterator<char>(jpeg), {});
  return !sample.jpeg.empty();
}

void write_sample(const std::string& file, const Sample& sample) {
  std::ofstream(file + ".jpg", std::ios::binary) << sample.jpeg;
  std::ofstream truth(file + ".txt");
  truth.precision(17);
  truth << sample.line << '\n';
  for (const Cluster& one : sample.truth)
    truth << one.lab.L << ' ' << one.lab.a << ' ' << one.lab.b << ' ' << one.share << '\n';
}

Sample sample_of(const Case& one, const Options& options, ThreadExecutor& executor) {
  if (options.keep.empty()) return draw_sample(one, options.big, executor);
  std::string name =
      std::string(one.family->name) + "-" + std::to_string(one.seed) + (options.big ? "b" : "");
  std::replace(name.begin(), name.end(), ' ', '_');
  Sample sample;
  const std::string file = options.keep + "/" + name;
  if (read_sample(file, sample)) return sample;
  sample = draw_sample(one, options.big, executor);
  write_sample(file, sample);
  return sample;
}

void run_case(const Case& one, const Options& options, Figures& ours, Figures& yardstick,
              ThreadExecutor& executor) {
  const Sample sample = sample_of(one, options, executor);
  const auto photo = decode_photo(sample.jpeg, sample.line);
  if (!photo) {
    std::printf("cannot decode %s: %s\n", sample.line.c_str(), photo.error().what.c_str());
    return;
  }
  const auto begin = std::chrono::steady_clock::now();
  ExtractOptions wanted;
  wanted.facts.lossy = true;
  const Palette palette = extract_palette(*photo->light, wanted, executor);
  ours.seconds += std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  Named named{sample.line, sample.truth, {}};
  for (const PaletteColour& colour : palette.colours) named.found.push_back({colour.lab, colour.share});
  Figures here;
  measure(named.truth, named.found, here);
  if (options.all || (options.worst && (here.worst_de00 > 1.5 || here.exact == 0 || here.false_colours > 0)))
    print_case(named);
  add(ours, here);
  if (!options.no_kmeans) {
    measure(named.truth, kmeans_palette(*photo->light, static_cast<int>(named.truth.size())), yardstick);
  }
}

Options options_of(int argc, char** argv) {
  Options options;
  for (int i = 1; i < argc; ++i) {
    const std::string word = argv[i];
    const std::string value = i + 1 < argc ? argv[i + 1] : "";
    if (word == "--held-out") options.families = held_out_families();
    if (word == "--wider") options.families = wider_families();
    if (word == "--last") options.families = last_families();
    if (word == "--further") options.families = further_families();
    if (word == "--big") options.big = true;
    if (word == "--worst") options.worst = true;
    if (word == "--all") options.all = true;
    if (word == "--no-kmeans") options.no_kmeans = true;
    if (word == "--seeds") options.seeds = std::stoi(value);
    if (word == "--first") options.first = std::stoi(value);
    if (word == "--family") options.family = value;
    if (word == "--keep") options.keep = value;
    if (word == "--threads") options.threads = static_cast<std::size_t>(std::stoul(value));
  }
  return options;
}

std::vector<Family> wanted_families(const Options& options) {
  std::vector<Family> out;
  const bool by_name = !options.family.empty();
  for (const auto& set :
       {tuning_families(), held_out_families(), wider_families(), last_families(), further_families()}) {
    if (!by_name && set.data() != options.families.data()) continue;
    std::copy_if(set.begin(), set.end(), std::back_inserter(out),
                 [&](const Family& family) { return !by_name || options.family == family.name; });
  }
  return out;
}

}  // namespace

int main(int argc, char** argv) {
  const Options options = options_of(argc, argv);
  ThreadExecutor executor(options.threads);
  Figures all;
  Figures all_yardstick;
  print_head();
  for (const Family& family : wanted_families(options)) {
    Figures ours;
    Figures yardstick;
    for (int seed = options.first; seed < options.first + options.seeds; ++seed) {
      run_case({&family, seed}, options, ours, yardstick, executor);
    }
    print_row(std::string(family.name).c_str(), ours);
    std::fflush(stdout);
    add(all, ours);
    add(all_yardstick, yardstick);
  }
  print_row("ALL", all);
  if (!options.no_kmeans) print_row("k-means, told k", all_yardstick);
  std::printf("to reach               0.25   1.50  0          at most 1%%    0   95 %%             1.00\n");
}
