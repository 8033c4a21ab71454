// SPDX-License-Identifier: MIT
#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/reading_plot.h"
#include "cli/stash_access.h"
#include "cli/stash_commands.h"
#include "cli/table.h"
#include "colour/css.h"
#include "colour/difference.h"
#include "swatch/check.h"
#include "swatch/condition.h"

namespace kithue {
namespace {

nlohmann::ordered_json reading_json(const Reading& reading) {
  nlohmann::ordered_json object;
  object["lab"] = {reading.lab.L, reading.lab.a, reading.lab.b};
  object["white"] = reading.white;
  object["adapted"] = reading.adapted;
  object["source"] = reading.source;
  object["date"] = reading.date;
  object["batch"] = reading.batch;
  object["surface"] = reading.surface;
  object["dryness"] = word_for(reading.dryness);
  object["condition"] = reading.condition;
  object["note"] = reading.note;
  object["error_de00"] = reading.error_de00;
  if (!reading.spectrum.empty()) {
    object["start_nm"] = reading.start_nm;
    object["step_nm"] = reading.step_nm;
    object["spectrum"] = reading.spectrum;
  }
  return object;
}

void fact(Session& session, std::string_view label, const std::string& value) {
  if (value.empty()) return;
  session.out << label << std::string(12 - label.size(), ' ') << printable(value) << '\n';
}

std::string kind_words(const Swatch& swatch) {
  std::string words(word_for(swatch.kind));
  if (!swatch.method.empty()) words += ", " + swatch.method;
  if (!swatch.surface.empty()) words += ", on " + swatch.surface;
  if (swatch.finish == Finish::unmeasurable) words += ", its finish cannot be measured";
  if (swatch.retired) words += ", retired";
  if (!swatch.in_stock) words += ", used up";
  return words;
}

Table readings_table(const Swatch& swatch) {
  Table table{{"reading", "L", "a", "b", "apart", "white", "read with", "date", "batch", "on", "remarks"},
              {}};
  const auto centre = colour_of(swatch);
  const auto far = far_readings(swatch);
  for (std::size_t i = 0; i < swatch.readings.size(); ++i) {
    const Reading& reading = swatch.readings[i];
    std::vector<std::string> remarks;
    if (std::find(far.begin(), far.end(), i) != far.end()) remarks.emplace_back("far from the others");
    if (!reading.adapted.empty()) remarks.push_back(reading.adapted);
    if (reading.dryness == Dryness::wet) remarks.emplace_back("wet");
    if (!reading.condition.empty()) remarks.push_back(reading.condition);
    if (!reading.spectrum.empty()) remarks.emplace_back("spectrum");
    if (!reading.note.empty()) remarks.push_back(reading.note);
    table.rows.push_back({colour_cell(reading.lab, std::to_string(i + 1)), number_cell(reading.lab.L, 1),
                          number_cell(reading.lab.a, 1), number_cell(reading.lab.b, 1),
                          number_cell(centre ? ciede2000(*centre, reading.lab) : 0.0, 2), cell(reading.white),
                          cell(reading.source), cell(reading.date), cell(reading.batch),
                          cell(reading.surface), cell(joined(remarks, "; "))});
  }
  return table;
}

/// The drawing, and what to do about readings that lie far from the others.
void print_spread(Session& session, const Swatch& swatch) {
  const auto far = far_readings(swatch);
  const std::string drawing = drawn_readings(swatch, far);
  if (drawing.empty()) return;
  session.out << '\n' << drawing;
  const auto centre = colour_of(swatch);
  for (const std::size_t index : far) {
    session.out << "reading " << index + 1 << " lies "
                << fixed_number(ciede2000(*centre, swatch.readings[index].lab), 2)
                << " dE00 from the value: measure again, or drop it with 'kithue stash edit id:" << swatch.id
                << " --drop-reading " << index + 1 << "'\n";
  }
}

}  // namespace

ExitStatus run_stash_show(const StashShowOptions& options, Session& session) {
  const auto stash = open_stash(session);
  if (!stash) return fail(session, stash.error());
  const auto found = find_swatch(*stash, options.name);
  if (!found) return fail(session, found.error());
  const Swatch& swatch = **found;
  for (const std::string& caution : comparison_cautions(swatch, swatch)) warn(session, caution);
  if (session.mode == Mode::json) {
    auto readings = nlohmann::ordered_json::array();
    for (const Reading& reading : swatch.readings) readings.push_back(reading_json(reading));
    return answer(session, "stash show", {{"swatch", swatch_json(swatch)}, {"readings", readings}});
  }
  if (session.mode == Mode::text) {
    const auto lab = colour_of(swatch);
    const std::string block = lab ? colour_block(session.paint, *lab, 6) : std::string();
    session.out << block << (block.empty() ? "" : " ") << printable(id_text(swatch) + " " + swatch.name)
                << '\n';
    fact(session, "kind", kind_words(swatch));
    if (lab) fact(session, "colour", css_lab(*lab, 2));
    if (swatch.readings.size() > 1) fact(session, "spread", fixed_number(spread_of(swatch), 2));
    fact(session, "batch", swatch.batch);
    fact(session, "note", swatch.note);
    if (swatch.readings.empty()) return ExitStatus::done;
    session.out << '\n';
  }
  print_table(session, readings_table(swatch));
  if (session.mode == Mode::text) print_spread(session, swatch);
  return ExitStatus::done;
}

void add_stash_show(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<StashShowOptions>();
  command.add_option("name", options->name, "Name or id of the swatch")->required()->type_name("NAME");
  call.run = [options](Session& session) { return run_stash_show(*options, session); };
}

}  // namespace kithue
