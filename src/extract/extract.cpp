// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "colour/words.h"
#include "extract/blocks.h"
#include "extract/cells.h"
#include "extract/evenness.h"
#include "extract/flat.h"
#include "extract/histogram.h"
#include "extract/palette.h"
#include "extract/roles.h"
#include "extract/shares.h"
#include "extract/thin.h"
#include "extract/trust.h"

namespace kithue {
namespace {

using extract::Cells;

/// Colours from all cells, for a picture in which no place is flat.
std::vector<extract::Peak> any_peaks(const Cells& cells, int grain) {
  extract::Histogram all;
  const extract::CellRow every = cells.row(0);
  for (std::size_t i = 0; i < cells.count(); ++i) all.add(every[static_cast<std::ptrdiff_t>(i)]);
  return extract::peaks_of(
      all.bins(), {0.002 * static_cast<double>(cells.count()), static_cast<double>(grain) / extract::kSteps});
}

}  // namespace

EarlyCells::EarlyCells() : maker_(std::make_unique<extract::CellMaker>()) {}
EarlyCells::~EarlyCells() = default;

std::vector<int> EarlyCells::begin(const LightRows& picture) {
  return maker_->begin(picture);
}

void EarlyCells::take(std::size_t job) {
  maker_->take(job);
}

Palette extract_palette(const LightRows& picture, const ExtractOptions& options, Executor& executor,
                        EarlyCells* early) {
  const bool made = early != nullptr && early->maker().picture() == &picture;
  Cells cells = made ? early->maker().result() : extract::cells_of(picture, executor);
  const double count = static_cast<double>(cells.count());
  // Where everything changes, the pattern itself would pass for grain: believe in two Lab units at most.
  const int grain = std::min(extract::grain_of(cells, executor), 2 * extract::kSteps);
  const extract::FlatTest flat(cells, grain, executor);
  const extract::Evenness evenness = extract::evenness_of(cells, flat, executor);
  extract::even_out(cells, evenness, executor);
  extract::FlatColours flats =
      extract::flat_colours(extract::flat_histograms(cells, flat, executor), count, grain, executor);
  if (flats.colours.empty()) {
    for (const auto& peak : any_peaks(cells, grain)) flats.colours.push_back(peak.lab);
    if (flats.colours.size() > 64) flats.colours.resize(64);
    flats.sure = flats.colours.size();
  }
  auto labels = extract::labels_of(cells, flat, flats.colours, flats.sure, executor);
  const std::size_t before = flats.colours.size();
  extract::join_touching(flats, cells, labels, executor);
  std::vector<Lab> colours = flats.colours;
  const auto light_at = [&](double x, double y) {
    return evenness.at((x + 0.5) / picture.width(), (y + 0.5) / picture.height());
  };
  if (colours.size() != before) labels = extract::labels_of(cells, flat, colours, flats.sure, executor);
  extract::drop_slopes(flats, cells, flat, labels);
  if (flats.colours.size() != colours.size()) {
    colours = flats.colours;
    labels = extract::labels_of(cells, flat, colours, flats.sure, executor);
  }
  extract::ThinFindings thin_so_far;
  // What the colours look like to the half-size picture, by which cells are labelled, and what they are.
  std::vector<Lab> seen = colours;
  const extract::PlainCounts plain{flats.sure, seen.size()};
  const auto refine = [&] {
    colours = seen;
    extract::refine_by_blocks(picture, cells, labels, thin_so_far.places, plain, colours, light_at, executor);
  };
  for (int pass = 0; pass < 2; ++pass) {
    const auto thin = extract::thin_colours(picture, cells, labels, colours, flats.sure, grain, thin_so_far,
                                            light_at, executor);
    thin_so_far.sharp = thin.sharp;
    if (thin.colours.empty()) break;
    for (const auto& one : thin.colours) {
      colours.push_back(one.lab);
      seen.push_back(one.lab);
      thin_so_far.colours.push_back(one);
    }
    auto& places = thin_so_far.places;
    places.insert(places.end(), thin.places.begin(), thin.places.end());
    labels = extract::labels_of(cells, flat, seen, flats.sure, executor);
  }
  refine();
  const auto shares = extract::shares_of(cells, labels, seen, executor);
  Palette palette;
  for (std::size_t i = 0; i < colours.size(); ++i) {
    Lab lab = colours[i];
    lab.L = std::min(lab.L, 100.0);  // evening out may lift an overexposed white
    palette.colours.push_back({lab, shares[i], Role::motif, plain_words(lab)});
  }
  extract::keep_colours(palette.colours, options.colours);
  extract::give_roles(palette.colours);
  palette.evenness = evenness;
  palette.trust = extract::trust_of(picture, options.facts, evenness, thin_so_far.sharp, palette.colours);
  return palette;
}

}  // namespace kithue
