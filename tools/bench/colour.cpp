// SPDX-License-Identifier: MIT
// How many CIEDE2000 pairs a second, on one thread: the plain function, every batch variant of this machine
// and Little CMS, turn by turn in one run; medians and spread of the rounds. Usage: bench_colour [ROUNDS]
#include <lcms2.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "base/text.h"
#include "colour/difference.h"
#include "colour/difference_batch.h"
#include "colour/srgb.h"

namespace {

using namespace kithue;

constexpr std::size_t kColours = 4096;  // 128 KB in columns: a big stash
constexpr std::size_t kFroms = 256;     // 1,048,576 pairs a pass

/// The same colours each time: a fixed linear generator (Knuth's constants).
std::vector<Lab> screen_colours(std::size_t count) {
  std::uint64_t state = 1;
  const auto next = [&state] {
    state = state * 6364136223846793005U + 1442695040888963407U;
    return light_from_coded(static_cast<double>(state >> 11U) * 0x1p-53);
  };
  std::vector<Lab> out(count);
  for (Lab& lab : out) {
    const double r = next();
    const double g = next();
    lab = lab_from_rgb({r, g, next()});
  }
  return out;
}

struct Contender {
  std::string name;
  std::function<void(std::vector<double>&)> pass;  // fills all pairs
  std::vector<double> seconds;
  double worst = 0.0;  // against the plain function
};

std::vector<Contender> contenders(const std::vector<Lab>& froms, const std::vector<Lab>& colours,
                                  const LabColumns& columns) {
  std::vector<Contender> out;
  out.push_back({"Little CMS " + std::to_string(cmsGetEncodedCMMversion()),
                 [&](std::vector<double>& to) {
                   for (std::size_t i = 0; i < froms.size(); ++i) {
                     const cmsCIELab from{froms[i].L, froms[i].a, froms[i].b};
                     for (std::size_t j = 0; j < colours.size(); ++j) {
                       const cmsCIELab other{colours[j].L, colours[j].a, colours[j].b};
                       to[i * colours.size() + j] = cmsCIE2000DeltaE(&from, &other, 1.0, 1.0, 1.0);
                     }
                   }
                 },
                 {}});
  out.push_back({"plain",
                 [&](std::vector<double>& to) {
                   for (std::size_t i = 0; i < froms.size(); ++i) {
                     for (std::size_t j = 0; j < colours.size(); ++j) {
                       to[i * colours.size() + j] = ciede2000(froms[i], colours[j]);
                     }
                   }
                 },
                 {}});
  for (const BatchVariant& variant : batch_variants()) {
    out.push_back({"batch, " + std::string(variant.name),
                   [&](std::vector<double>& to) {
                     for (std::size_t i = 0; i < froms.size(); ++i) {
                       variant.run(LabColumns::row_from(froms[i]), columns.L(), columns.a(), columns.b(),
                                   columns.C(), colours.size(), to.data() + i * colours.size());
                     }
                   },
                   {}});
  }
  return out;
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

}  // namespace

int main(int count, char** words) {
  const int rounds = count > 1 ? std::max(1, std::atoi(words[1])) : 11;
  const std::vector<Lab> colours = screen_colours(kColours);
  const std::vector<Lab> froms(colours.begin(), colours.begin() + kFroms);
  const LabColumns columns(colours);
  const double pairs = static_cast<double>(kFroms * kColours);

  std::vector<Contender> all = contenders(froms, colours, columns);
  std::vector<double> plain(kFroms * kColours);
  all[1].pass(plain);
  std::vector<double> answers(plain.size());
  for (int round = 0; round < rounds; ++round) {
    for (Contender& one : all) {
      const std::clock_t start = std::clock();
      one.pass(answers);
      one.seconds.push_back(static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
      for (std::size_t i = 0; i < plain.size(); ++i) {
        one.worst = std::max(one.worst, std::fabs(answers[i] - plain[i]));
      }
    }
  }

  std::printf("%-20s %14s %10s %10s %8s %14s\n", "CIEDE2000, double", "M pairs/s", "slowest", "fastest",
              "x lcms", "worst error");
  const double lcms = median(all[0].seconds);
  for (const Contender& one : all) {
    const auto [fastest, slowest] = std::minmax_element(one.seconds.begin(), one.seconds.end());
    std::printf("%-20s %14.2f %10.2f %10.2f %8.1f %14.1e\n", one.name.c_str(),
                pairs / median(one.seconds) / 1e6, pairs / *slowest / 1e6, pairs / *fastest / 1e6,
                lcms / median(one.seconds), one.worst);
  }
  std::printf("median of %d rounds of %zu pairs, one thread, processor time\n", rounds, kFroms * kColours);
  return 0;
}
