// SPDX-License-Identifier: MIT
// Fits the overprint model on measured prints and prints how well it does on papers it has not seen: each
// data set is left out in turn. Usage: overprint_fit tests/data/advise/ink_on_stock.csv
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <functional>
#include <string>
#include <vector>

#include "advise/overprint.h"
#include "base/files.h"
#include "base/text.h"
#include "colour/difference.h"

using namespace kithue;

namespace {

struct Case {
  std::string kind;
  std::string set;
  Layer paper, ink, stock;
  Lab measured;
};

std::vector<Case> read_cases(const std::string& text) {
  std::vector<Case> cases;
  for (const std::string_view line : split(text, '\n')) {
    const auto fields = split(line, ',');
    if (line.starts_with('#') || line.starts_with("kind,") || fields.size() != 18) continue;
    const auto lab = [&](std::size_t at) {
      return Lab{*parse_number(fields[at]), *parse_number(fields[at + 1]), *parse_number(fields[at + 2])};
    };
    cases.push_back({std::string(fields[0]), std::string(fields[1]), layer_of(lab(6)), layer_of(lab(9)),
                     layer_of(lab(12)), lab(15)});
  }
  return cases;
}

struct Figures {
  double mean = 0.0;
  double most = 0.0;
  int count = 0;
};

Figures figures(const std::vector<Case>& cases, const OverprintModel& model, const std::string& kind,
                const std::function<bool(const std::string&)>& wanted) {
  Figures out;
  for (const Case& one : cases) {
    if (one.kind != kind || !wanted(one.set)) continue;
    const double d = ciede2000(overprint_colour(one.ink, one.paper, one.stock, {}, model), one.measured);
    out.mean += d;
    out.most = std::max(out.most, d);
    ++out.count;
  }
  if (out.count > 0) out.mean /= out.count;
  return out;
}

using Point = std::vector<double>;

OverprintModel model_at(const Point& x) {
  OverprintModel model;
  model.trap_loss = x[0];
  model.floor_share = x[1];
  model.floor_start = x[2];
  model.sink_loss = x[3];
  return model;
}

/// What the fit makes small: the figures wanted, each as a share of its aim; black counts only past its aim.
double cost(const std::vector<Case>& cases, const Point& x, const std::string& left_out) {
  if (x[0] < 0.0 || x[1] < 0.0 || x[3] < 0.0) return 1e9;
  const OverprintModel model = model_at(x);
  const auto wanted = [&](const std::string& set) { return set != left_out; };
  const Figures solid = figures(cases, model, "solid", wanted);
  const Figures tint = figures(cases, model, "tint", wanted);
  const Figures black = figures(cases, model, "black", wanted);
  return 2.2 * solid.mean / 2.6 + 2.4 * tint.mean / 2.5 + 0.8 * std::max(black.mean / 4.0, 0.93) +
         0.2 * std::max(0.85, solid.most / 5.5);
}

/// Nelder & Mead, Computer J. 7, 308-313 (1965).
Point least(const std::function<double(const Point&)>& f, const Point& start, const Point& step, int rounds) {
  const std::size_t n = start.size();
  struct Vertex {
    double value;
    Point x;
  };
  std::vector<Vertex> simplex{{f(start), start}};
  for (std::size_t i = 0; i < n; ++i) {
    Point x = start;
    x[i] += step[i];
    simplex.push_back({f(x), x});
  }
  const auto by_value = [](const Vertex& a, const Vertex& b) { return a.value < b.value; };
  for (int round = 0; round < rounds; ++round) {
    std::sort(simplex.begin(), simplex.end(), by_value);
    const Point& worst = simplex.back().x;
    const auto along = [&](double share) {
      Point x(n);
      for (std::size_t j = 0; j < n; ++j) {
        double centre = 0.0;
        for (std::size_t i = 0; i < n; ++i) centre += simplex[i].x[j] / static_cast<double>(n);
        x[j] = centre + share * (centre - worst[j]);
      }
      return Vertex{f(x), x};
    };
    Vertex next = along(1.0);
    if (next.value < simplex.front().value) {
      Vertex further = along(2.0);
      if (further.value < next.value) next = further;
    } else if (next.value >= simplex[n - 1].value) {
      next = along(next.value < simplex.back().value ? 0.5 : -0.5);
    }
    if (next.value < simplex.back().value) {
      simplex.back() = next;
      continue;
    }
    for (std::size_t i = 1; i <= n; ++i) {
      for (std::size_t j = 0; j < n; ++j) simplex[i].x[j] = (simplex[i].x[j] + simplex[0].x[j]) / 2.0;
      simplex[i].value = f(simplex[i].x);
    }
  }
  return std::min_element(simplex.begin(), simplex.end(), by_value)->x;
}

struct Residual {
  std::string set;
  double error, band, from_ink, from_paper;
};

void print_bins(std::vector<Residual> all, double Residual::*by, const char* name) {
  std::sort(all.begin(), all.end(), [&](const Residual& a, const Residual& b) { return a.*by < b.*by; });
  std::printf("error by %s (eighths): at, mean, 90 %%\n", name);
  for (std::size_t i = 0; i < 8; ++i) {
    std::vector<double> errors;
    double at = 0.0;
    double sum = 0.0;
    for (std::size_t k = all.size() * i / 8; k < all.size() * (i + 1) / 8; ++k) {
      errors.push_back(all[k].error);
      at += all[k].*by;
      sum += all[k].error;
    }
    std::sort(errors.begin(), errors.end());
    const auto n = static_cast<double>(errors.size());
    std::printf("  %6.2f %6.2f %6.2f\n", at / n, sum / n, errors[errors.size() * 9 / 10]);
  }
}

/// What a few measured overprints of an ink do for its other stocks: every set and ink, tints and solids of
/// stocks at even places as readings (at most 12), the rest predicted.
void print_calibration(const std::vector<Case>& cases) {
  std::vector<double> before;
  std::vector<double> after;
  for (std::size_t first = 0; first < cases.size();) {
    std::size_t end = first;
    while (end < cases.size() && cases[end].set == cases[first].set && cases[end].kind == cases[first].kind &&
           cases[end].ink.lab == cases[first].ink.lab)
      ++end;
    const std::size_t spacing = std::max<std::size_t>(2, (end - first) / 12 + 1);
    std::vector<OverprintReading> readings;
    for (std::size_t k = first; k < end; k += spacing)
      readings.push_back({cases[k].stock, cases[k].measured});
    const InkManner manner = fitted_manner(cases[first].ink, cases[first].paper, readings, {});
    for (std::size_t k = first; k < end && end - first > 12; ++k) {
      if ((k - first) % spacing == 0) continue;
      const Case& one = cases[k];
      before.push_back(ciede2000(overprint_colour(one.ink, one.paper, one.stock), one.measured));
      after.push_back(ciede2000(overprint_colour(one.ink, one.paper, one.stock, manner), one.measured));
    }
    first = end;
  }
  std::sort(before.begin(), before.end());
  std::sort(after.begin(), after.end());
  const auto at = [](const std::vector<double>& v, double share) {
    return v[static_cast<std::size_t>(share * static_cast<double>(v.size() - 1))];
  };
  std::printf(
      "other stocks of an ink with up to 12 measured overprints: median %.2f -> %.2f, 95 %% %.2f -> %.2f\n",
      at(before, 0.5), at(after, 0.5), at(before, 0.95), at(after, 0.95));
}

}  // namespace

int main(int argc, char** argv) {
  const auto text = argc == 2 ? read_file(argv[1], 1 << 24) : Result<std::string>(Error{});
  if (!text) {
    std::fprintf(stderr, "usage: overprint_fit ink_on_stock.csv\n");
    return 2;
  }
  const std::vector<Case> cases = read_cases(*text);
  const std::array<std::string, 9> sets{"FOGRA39", "TR006",   "TR003",  "FOGRA27", "FOGRA40",
                                        "FOGRA29", "FOGRA47", "IFRA26", "TR002"};
  const OverprintModel now;
  // From far off, so that no fit knows the set it leaves out.
  const Point start{0.5, 1.0, 0.0, 1.0};
  const Point step{0.2, 0.2, 0.01, 1.0};
  constexpr int kRounds = 400;
  const Point best = least([&](const Point& x) { return cost(cases, x, ""); }, start, step, kRounds);
  std::printf("fitted on all: trap_loss %.4f floor_share %.4f floor_start %.5f sink_loss %.3f\n", best[0],
              best[1], best[2], best[3]);
  std::vector<Residual> residuals;
  std::array<Figures, 4> sum{};
  const std::array<std::string, 4> kinds{"solid", "tri", "tint", "black"};
  std::printf("left out      solid mean/max      tri   tint  black\n");
  for (const std::string& set : sets) {
    const Point x = least([&](const Point& y) { return cost(cases, y, set); }, start, step, kRounds);
    std::array<Figures, 4> part;
    for (std::size_t k = 0; k < 4; ++k) {
      part[k] = figures(cases, model_at(x), kinds[k], [&](const std::string& s) { return s == set; });
      sum[k].mean += part[k].mean / static_cast<double>(sets.size());
      sum[k].most = std::max(sum[k].most, part[k].most);
    }
    std::printf("%-10s %9.2f / %.2f %10.2f %6.2f %6.2f\n", set.c_str(), part[0].mean, part[0].most,
                part[1].mean, part[2].mean, part[3].mean);
    for (const Case& one : cases) {
      if (one.set != set) continue;
      const Lab predicted = overprint_colour(one.ink, one.paper, one.stock, {}, model_at(x));
      residuals.push_back({set, ciede2000(predicted, one.measured),
                           overprint_error(one.ink, one.paper, one.stock), ciede2000(predicted, one.ink.lab),
                           ciede2000(one.stock.lab, one.paper.lab)});
    }
  }
  std::printf("mean       %9.2f / %.2f %10.2f %6.2f %6.2f\n", sum[0].mean, sum[0].most, sum[1].mean,
              sum[2].mean, sum[3].mean);
  const auto shipped = [&](const char* kind) {
    return figures(cases, now, kind, [](const std::string&) { return true; });
  };
  std::printf("as shipped, in sample: solid %.2f / %.2f, tint %.2f, black %.2f\n", shipped("solid").mean,
              shipped("solid").most, shipped("tint").mean, shipped("black").mean);
  print_bins(residuals, &Residual::from_ink, "shift of the ink");
  print_bins(residuals, &Residual::from_paper, "stock from paper");
  print_calibration(cases);
  std::printf("share of held-out errors within the stated band:\n");
  int inside = 0;
  for (const std::string& set : sets) {
    int in = 0;
    int of = 0;
    for (const Residual& r : residuals) {
      if (r.set != set) continue;
      ++of;
      in += r.error <= r.band ? 1 : 0;
    }
    inside += in;
    std::printf("  %-10s %5.1f %% of %d\n", set.c_str(), 100.0 * in / of, of);
  }
  std::printf("  all        %5.1f %% of %zu\n", 100.0 * inside / static_cast<double>(residuals.size()),
              residuals.size());
  return 0;
}
