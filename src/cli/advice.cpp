// SPDX-License-Identifier: MIT
#include "cli/advice.h"

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/text.h"
#include "colour/difference.h"
#include "swatch/condition.h"

namespace kithue {

void add_band_option(CLI::App& command, BandOptions& options) {
  command.add_option("--bands", options.limits, "Where same, match, near-miss and step end, in dE00")
      ->type_name("SAME,MATCH,NEAR,STEP")
      ->delimiter(',')
      ->expected(4);
}

Result<Bands> bands_from(const BandOptions& options, const std::optional<Bands>& else_these) {
  if (options.limits.empty()) return else_these.value_or(Bands{});
  const auto bands = bands_of(options.limits);
  if (!bands) {
    return Error{ErrorKind::bad_usage, "the limits of --bands must rise from 0 to 1000", "",
                 "the usual ones are --bands 1,2,6,12"};
  }
  return *bands;
}

Result<std::vector<NamedColour>> resolve_colours(const Stash& stash, const std::vector<std::string>& texts) {
  std::vector<NamedColour> colours;
  for (const std::string& text : texts) {
    auto colour = resolve_colour(stash, text);
    if (!colour) return colour.error();
    colours.push_back(*std::move(colour));
  }
  return colours;
}

void warn_of_conditions(Session& session, const std::vector<const Swatch*>& compared, bool others) {
  for (const std::string& caution : mixed_cautions(compared, others)) warn(session, caution);
}

void warn_of_conditions(Session& session, const std::vector<NamedColour>& compared) {
  std::vector<const Swatch*> swatches;
  bool others = false;
  for (const NamedColour& colour : compared) {
    swatches.push_back(colour.swatch);
    others = others || colour.swatch == nullptr;
  }
  warn_of_conditions(session, swatches, others);
}

nlohmann::ordered_json lab_json(const Lab& lab) {
  return nlohmann::ordered_json::array({lab.L, lab.a, lab.b});
}

nlohmann::ordered_json match_json(const Match& match) {
  nlohmann::ordered_json json;
  json["id"] = match.swatch->id;
  json["name"] = match.swatch->name;
  json["kind"] = word_for(match.swatch->kind);
  json["method"] = match.swatch->method;
  json["lab"] = lab_json(match.lab);
  json["de00"] = match.de00;
  json["verdict"] = word_for(match.verdict);
  json["words"] = match.words;
  json["uncertainty"] = match.uncertainty;
  json["orders_only"] = match.de00 > kOrdersOnlyAbove;
  return json;
}

namespace {

const char* why_no_number(const Swatch& swatch) {
  return swatch.finish == Finish::unmeasurable ? "not measurable" : "no reading";
}

}  // namespace

nlohmann::ordered_json left_out_json(const std::vector<const Swatch*>& swatches) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const Swatch* swatch : swatches) {
    list.push_back({{"id", swatch->id}, {"name", swatch->name}, {"reason", why_no_number(*swatch)}});
  }
  return list;
}

void insert_terms(std::vector<Cell>& row, const NamedColour& from, const Match& match) {
  const DifferenceTerms terms = ciede2000_terms(from.lab, match.lab);
  row.insert(row.begin() + 3, {number_cell(match.uncertainty, 2), number_cell(terms.lightness, 2),
                               number_cell(terms.chroma, 2), number_cell(terms.hue, 2)});
}

std::string kind_and_method(const Swatch& swatch) {
  const std::string kind(word_for(swatch.kind));
  return swatch.method.empty() ? kind : kind + ", " + swatch.method;
}

void print_wrapped(Session& session, const std::string& text, std::size_t indent) {
  const std::string margin(indent, ' ');
  const std::size_t room = session.columns > indent + 20 ? session.columns - indent : 20;
  std::string line;
  const std::string clean = printable(text);
  for (const std::string_view word : split(clean, ' ')) {
    if (!line.empty() && display_width(line) + 1 + display_width(word) > room) {
      session.out << margin << line << '\n';
      line.clear();
    }
    if (!line.empty()) line += ' ';
    line += word;
  }
  session.out << margin << line << '\n';
}

void print_left_out(Session& session, const std::vector<const Swatch*>& swatches) {
  if (swatches.empty()) return;
  constexpr std::size_t kShown = 8;
  std::vector<std::string> names;
  for (const Swatch* swatch : swatches) {
    if (names.size() == kShown) {
      names.push_back("and " + std::to_string(swatches.size() - kShown) + " more");
      break;
    }
    names.push_back(swatch->name + " (" + why_no_number(*swatch) + ")");
  }
  print_wrapped(session, "Left out, without a number: " + joined(names, ", "), 0);
}

void print_limits(Session& session, const Bands& bands) {
  const auto to = [](double limit) { return exact_number(limit); };
  print_wrapped(session,
                "Limits in dE00: same up to " + to(bands.same) + ", match " + to(bands.match) +
                    ", near-miss " + to(bands.near_miss) + ", step " + to(bands.step) +
                    ", distinct above (common practice, no source; --bands sets them).",
                0);
}

void print_orders_only(Session& session) {
  print_wrapped(session, "Above about 5 the distance puts colours in order; it no longer measures how far.",
                0);
}

}  // namespace kithue
