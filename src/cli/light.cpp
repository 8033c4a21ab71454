// SPDX-License-Identifier: MIT
#include "cli/light.h"

#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "advise/light.h"
#include "base/text.h"
#include "cli/advice.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/table.h"

namespace kithue {
namespace {

struct Pair {
  NamedColour a;
  NamedColour b;
  LightReport report;
};

std::optional<Power> spectrum_of(const NamedColour& colour) {
  return colour.swatch == nullptr ? std::nullopt : mean_spectrum(*colour.swatch);
}

/// "Wet Sand and Sailcloth": those of the two without a spectrum.
std::string without_spectrum(const Pair& pair) {
  std::vector<std::string> names;
  for (const NamedColour* one : {&pair.a, &pair.b}) {
    if (!spectrum_of(*one)) names.push_back(one->name);
  }
  return joined(names, " and ");
}

void compare(Pair& pair, const Illuminant& reference, Observer observer) {
  const auto x = spectrum_of(pair.a);
  const auto y = spectrum_of(pair.b);
  if (x && y) {
    pair.report = compare_under_lights(*x, *y, reference, observer);
  } else {
    pair.report.words = "unknown: needs a spectral reading of " + without_spectrum(pair);
  }
}

nlohmann::ordered_json data_of(const Pair& pair, const LightOptions& options) {
  nlohmann::ordered_json data;
  data["a"] = pair.a.name;
  data["b"] = pair.b.name;
  data["verdict"] = word_for(pair.report.verdict);
  data["words"] = pair.report.words;
  data["observer_degrees"] = options.observer;
  data["reference"] = options.reference;
  data["lights"] = nlohmann::ordered_json::array();
  for (const UnderLight& one : pair.report.lights) {
    data["lights"].push_back({{"light", one.light->name},
                              {"words", one.light->words},
                              {"de76", one.de76},
                              {"de00", one.de00},
                              {"index_de76", one.index_de76},
                              {"index_de00", one.index_de00}});
  }
  const bool known = !pair.report.lights.empty();
  data["worst"] = known ? nlohmann::ordered_json(pair.report.lights[pair.report.worst].light->name) : nullptr;
  return data;
}

void print_lights(Session& session, const Pair& pair) {
  Table table{{"light", "what it is", "dE00", "index", "index dE00"}, {}};
  for (const UnderLight& one : pair.report.lights) {
    table.rows.push_back({cell(std::string(one.light->name)), cell(std::string(one.light->words)),
                          number_cell(one.de00, 2), number_cell(one.index_de76, 2),
                          number_cell(one.index_de00, 2)});
  }
  print_table(session, table);
}

}  // namespace

ExitStatus run_light(const LightOptions& options, Session& session) {
  const Illuminant* reference = find_illuminant(options.reference);
  if (reference == nullptr) {
    return fail(session, {ErrorKind::bad_usage, "no such light: " + options.reference, "--reference",
                          "one of D50, D65, A, FL1 to FL12, LED-B1 to LED-B5 and others of CIE 015"});
  }
  const auto stash = open_stash(session);
  if (!stash) return fail(session, stash.error());
  auto a = resolve_colour(*stash, options.a);
  if (!a) return fail(session, a.error());
  auto b = resolve_colour(*stash, options.b);
  if (!b) return fail(session, b.error());
  Pair pair{*a, *b, {}};
  warn_of_conditions(session, {*a, *b});
  compare(pair, *reference, options.observer == 2 ? Observer::two_degrees : Observer::ten_degrees);
  if (session.mode == Mode::json) return answer(session, "light", data_of(pair, options));
  if (session.mode == Mode::text) {
    session.out << printable(pair.a.name + " and " + pair.b.name + ": " + pair.report.words) << "\n";
    if (pair.report.lights.empty()) {
      hint(session,
           "two colours measured as L, a, b say nothing of other lights; a spectrophotometer's file does: "
           "'kithue stash import FILE'");
      return ExitStatus::done;
    }
    session.out << '\n';
  }
  print_lights(session, pair);
  return ExitStatus::done;
}

void add_light(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<LightOptions>();
  command.add_option("A", options->a, "A swatch with a spectral reading")->required();
  command.add_option("B", options->b, "Another")->required();
  command.add_option("--reference", options->reference, "The light under which they should match")
      ->type_name("LIGHT")
      ->capture_default_str();
  command.add_option("--observer", options->observer, "2 degrees, or 10 for what is larger than a thumbnail")
      ->type_name("2|10")
      ->check(CLI::IsMember({2, 10}))
      ->capture_default_str();
  call.run = [options](Session& session) { return run_light(*options, session); };
}

}  // namespace kithue
