// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>
#include <vector>

#include "colour/difference.h"
#include "colour/words.h"
#include "extract/bands_between.h"
#include "extract/blocks.h"
#include "extract/cells.h"
#include "extract/census.h"
#include "extract/evenness.h"
#include "extract/flat.h"
#include "extract/histogram.h"
#include "extract/interior.h"
#include "extract/mixture.h"
#include "extract/narrow.h"
#include "extract/palette.h"
#include "extract/roles.h"
#include "extract/shares.h"
#include "extract/slopes.h"
#include "extract/thin.h"
#include "extract/trust.h"
#include "extract/vivid_spots.h"

namespace kithue {
namespace {

using extract::Cells;

using Labels = std::vector<std::uint8_t>;

/// What most of the picture shows where hardly a place of it is flat: the colours of all cells without a
/// label.
void add_any_peaks(extract::FlatColours& flats, const Cells& cells, const Labels& labels, int grain) {
  constexpr double kLeast = 0.002;  // of the cells
  constexpr double kNear = 6.0;     // dE00
  extract::Histogram all;
  const extract::CellRow every = cells.row(0);
  for (std::size_t i = 0; i < cells.count(); ++i) {
    if (labels[i] == extract::kNoLabel) all.add(every[static_cast<std::ptrdiff_t>(i)]);
  }
  const auto peaks = extract::peaks_of(all.bins(), {kLeast * static_cast<double>(cells.count()),
                                                    static_cast<double>(grain) / extract::kSteps});
  for (const auto& peak : peaks) {
    const bool known = std::any_of(flats.colours.begin(), flats.colours.end(),
                                   [&](const Lab& lab) { return ciede2000(lab, peak.lab) < kNear; });
    if (!known && flats.colours.size() < extract::kMostFlatColours) flats.colours.push_back(peak.lab);
  }
}

/// A picture with what is known of it before its lines are looked for.
struct Patterned {
  const LightRows& picture;
  const Cells& cells;
  const extract::FlatTest& flat;
  int grain;
  const std::function<double(double, double)>& gain;
  Executor& executor;
};

/// All colours of a picture: those that have plain places, then those that only lines have.
struct Drawn {
  std::vector<Lab> seen;  ///< as the half-size picture shows them, by which cells are labelled
  std::size_t sure = 0;   ///< the first so many have large plain places
  Labels labels;
  extract::ThinFindings thin;
};

Labels labelled(const Patterned& here, const std::vector<Lab>& colours, std::size_t sure) {
  return extract::labels_of(here.cells, here.flat, colours, sure, here.executor);
}

/// Means of patterns that other colours mix to are no colours: they leave when the lines in them were looked
/// for.
void drop_patterns(Drawn& drawn) {
  constexpr double kMixture = 6.0;  // Lab units
  const std::size_t known = drawn.seen.size() - drawn.thin.colours.size();
  std::vector<Lab> others(drawn.seen.begin(), drawn.seen.begin() + static_cast<std::ptrdiff_t>(known));
  for (const auto& one : drawn.thin.colours) {
    if (!one.pattern) others.push_back(one.lab);
  }
  for (std::size_t i = drawn.thin.colours.size(); i-- > 0;) {
    const extract::ThinColour& one = drawn.thin.colours[i];
    if (!one.pattern || !extract::is_mixture(one.lab, others, kMixture)) continue;
    const auto gone = static_cast<std::uint8_t>(known + i);
    drawn.thin.colours.erase(drawn.thin.colours.begin() + static_cast<std::ptrdiff_t>(i));
    drawn.seen.erase(drawn.seen.begin() + gone);
    std::erase_if(drawn.thin.places, [gone](const extract::ThinPlace& place) {
      return place.left == gone || place.thin == gone || place.right == gone;
    });
    for (extract::ThinPlace& place : drawn.thin.places) {
      for (std::uint8_t* const number : {&place.left, &place.thin, &place.right})
        *number = static_cast<std::uint8_t>(*number - (*number > gone ? 1 : 0));
    }
  }
}

Drawn with_lines(const Patterned& here, const extract::FlatColours& flats, Labels labels) {
  Drawn out{flats.colours, flats.sure, std::move(labels), {}};
  constexpr double kUnexplained = 0.005;  // of the cells
  constexpr double kExplained = 0.001;
  const auto unexplained = [&] { return extract::census_of(here.cells, 4, out.seen, here.executor).strange; };
  for (int pass = 0; pass < 2; ++pass) {
    if (pass > 0 && unexplained() < kExplained) break;
    const Labels nearest = extract::nearest_of(here.cells, here.flat, out.seen, here.executor);
    const auto look = [&](const Labels& labels_here) {
      return extract::thin_colours(here.picture, here.cells, {labels_here, nearest}, out.seen, out.sure,
                                   here.grain, out.thin, here.gain, here.executor);
    };
    extract::ThinFindings thin = look(out.labels);
    // Between lines in close groups nothing is flat: cells very near to a colour will do there.
    if (pass == 0 && thin.colours.empty() && unexplained() > kUnexplained)
      thin = look(labelled(here, out.seen, 0));
    out.thin.smear = thin.smear;
    out.thin.corrected.insert(out.thin.corrected.end(), thin.corrected.begin(), thin.corrected.end());
    if (thin.colours.empty()) break;
    for (const auto& one : thin.colours) {
      out.seen.push_back(one.lab);
      out.thin.colours.push_back(one);
    }
    out.thin.places.insert(out.thin.places.end(), thin.places.begin(), thin.places.end());
    out.labels = labelled(here, out.seen, out.sure);
  }
  const std::size_t before = out.seen.size();
  drop_patterns(out);
  if (out.seen.size() != before) out.labels = labelled(here, out.seen, out.sure);
  return out;
}

extract::FlatColours without(const extract::FlatColours& flats, const std::vector<std::size_t>& left_out) {
  extract::FlatColours out;
  out.sure = flats.sure;
  for (std::size_t i = 0; i < flats.colours.size(); ++i) {
    if (std::find(left_out.begin(), left_out.end(), i) == left_out.end())
      out.colours.push_back(flats.colours[i]);
  }
  return out;
}

/// Colours of nothing but narrow strokes are left to the lines; those that no line accounts for come back.
Drawn drawn_of(const Patterned& here, const extract::FlatColours& flats, Labels labels) {
  std::vector<std::size_t> narrow = extract::narrow_colours(flats, here.cells, labels);
  if (narrow.empty()) return with_lines(here, flats, std::move(labels));
  const auto drawn_without = [&](const std::vector<std::size_t>& left_out) {
    const extract::FlatColours fewer = without(flats, left_out);
    return with_lines(here, fewer, labelled(here, fewer.colours, fewer.sure));
  };
  Drawn drawn = drawn_without(narrow);
  std::vector<Lab> inks;
  for (const auto& one : drawn.thin.colours) inks.push_back(one.lab);
  const auto unexplained = std::erase_if(narrow, [&](std::size_t i) {
    return !extract::shines_through(flats.colours[i], flats.colours, flats.sure, inks);
  });
  if (unexplained > 0) return drawn_without(narrow);
  return drawn;
}

/// The colours of a picture and what was seen on the way.
struct Extracted {
  Cells cells;
  extract::Evenness evenness;
  std::vector<Lab> seen;     ///< as the half-size picture shows them
  std::vector<Lab> colours;  ///< the same, as they are
  std::vector<double> shares;
  double sharp = 0.0;
};

/// Colours with plain places, and which cells show them.
struct LabelledFlats {
  extract::FlatColours flats;
  Labels labels;
};

LabelledFlats plain_colours(const Cells& cells, const extract::FlatTest& flat, int grain,
                            Executor& executor) {
  constexpr double kHardlyPlain = 0.03;  // of the cells
  LabelledFlats out{extract::flat_colours(cells, flat, grain, executor), {}};
  extract::FlatColours& flats = out.flats;
  const auto label = [&] {
    out.labels = extract::labels_of(cells, flat, flats.colours, flats.sure, executor);
  };
  label();
  const auto unlabelled = extract::count_labels(out.labels, executor)[extract::kNoLabel];
  if (static_cast<double>(unlabelled) > (1.0 - kHardlyPlain) * static_cast<double>(cells.count())) {
    const bool none = flats.colours.empty();
    add_any_peaks(flats, cells, out.labels, grain);
    if (none) flats.sure = flats.colours.size();
    label();
  }
  if (extract::drop_gradients(flats, cells, flat, grain, out.labels)) label();
  const auto interiors = [&] {
    return extract::interior_means(flats.colours.size(), cells, flat, grain, out.labels, executor);
  };
  auto inside = interiors();
  const bool joined = extract::join_touching(flats, cells, flat, out.labels, inside, executor);
  if (joined) label();
  const bool dropped = extract::drop_slopes(flats, cells, flat, out.labels);
  if (dropped) label();
  if (joined || dropped) inside = interiors();
  // In a weave or pile every colour is a range of shades.
  if (grain < extract::kMostGrain && extract::move_inside(flats.colours, inside)) label();
  return out;
}

Extracted extracted(const LightRows& picture, Cells cells, Executor& executor) {
  const int grain = std::min(extract::grain_of(cells, executor), extract::kMostGrain);
  const extract::FlatTest flat(cells, grain, executor);
  const extract::Evenness evenness = extract::evenness_of(cells, flat, executor);
  extract::even_out(cells, evenness, executor);
  LabelledFlats plain = plain_colours(cells, flat, grain, executor);
  const auto light_at = [&](double x, double y) {
    return evenness.at((x + 0.5) / picture.width(), (y + 0.5) / picture.height());
  };
  const Patterned here{picture, cells, flat, grain, light_at, executor};
  Drawn drawn = drawn_of(here, plain.flats, std::move(plain.labels));
  const std::vector<Lab> spots = extract::vivid_spots(cells, drawn.labels, drawn.seen, executor);
  if (!spots.empty()) {
    plain.flats.colours.insert(plain.flats.colours.end(), spots.begin(), spots.end());
    drawn = drawn_of(here, plain.flats, labelled(here, plain.flats.colours, plain.flats.sure));
  }
  std::vector<Lab> colours = drawn.seen;
  for (const extract::Corrected& one : drawn.thin.corrected) colours[one.number] = one.lab;
  const std::size_t known = colours.size() - drawn.thin.colours.size();
  std::vector<bool> told = extract::refine_narrow_bands(picture, cells, drawn.labels, known, drawn.thin.smear,
                                                        colours, light_at, executor);
  std::vector<extract::CutTrust> cuts;
  for (const auto& one : drawn.thin.colours) cuts.push_back({one.misfit, one.ground == extract::kNoLabel});
  extract::refine_by_blocks(picture, cells, drawn.labels, drawn.thin.places, cuts,
                            {drawn.sure, known, std::move(told)}, colours, light_at, executor);
  std::vector<double> shares = extract::shares_of(cells, drawn.labels, drawn.seen, executor);
  return {std::move(cells),   evenness,          drawn.seen,
          std::move(colours), std::move(shares), drawn.thin.smear.sharp};
}

/// Compares what was found in a part of a large picture with single `rows` all over it. False when more is to
/// be seen there; else the shares are set right.
bool completed(Cells rows, Extracted& found, Executor& executor) {
  extract::even_out(rows, found.evenness, executor);
  const extract::Census all_over = extract::census_of(rows, 1, found.seen, executor);
  const extract::Census here = extract::census_of(found.cells, 4, found.seen, executor);
  if (extract::shows_more(all_over, here)) return false;
  extract::set_right(found.shares, all_over, here);
  return true;
}

Palette palette_of(const LightRows& picture, const ExtractOptions& options, const Extracted& found) {
  Palette palette;
  for (std::size_t i = 0; i < found.colours.size(); ++i) {
    Lab lab = found.colours[i];
    lab.L = std::min(lab.L, 100.0);  // evening out may lift an overexposed white
    palette.colours.push_back({lab, found.shares[i], Role::motif, plain_words(lab)});
  }
  extract::keep_colours(palette.colours, options.colours);
  extract::give_roles(palette.colours);
  palette.evenness = found.evenness;
  palette.trust = extract::trust_of(picture, options.facts, found.evenness, found.sharp, palette.colours);
  return palette;
}

}  // namespace

Palette extract_palette(const LightRows& picture, const ExtractOptions& options, Executor& executor,
                        EarlyLook* early) {
  const bool made = early != nullptr && early->is_of(picture);
  const extract::RowPlan plan = extract::rows_for_colours(picture);
  Extracted out =
      extracted(picture, made ? early->cells() : extract::cells_of(picture, plan, executor), executor);
  if (plan.every > 1) {
    Cells rows = made ? early->rows() : extract::cells_of(picture, extract::single_rows(picture), executor);
    if (!completed(std::move(rows), out, executor)) {
      out = {};  // the memory is needed again
      out = extracted(picture, extract::cells_of(picture, {}, executor), executor);
    }
  }
  return palette_of(picture, options, out);
}

}  // namespace kithue
