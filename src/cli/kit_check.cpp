// SPDX-License-Identifier: MIT
#include "cli/kit_check.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/kit_faces.h"
#include "cli/stash_access.h"
#include "cli/table.h"
#include "kit/kit_check.h"

namespace kithue {
namespace {

std::size_t count_of(const std::vector<KitFinding>& findings, Severity severity) {
  return static_cast<std::size_t>(
      std::count_if(findings.begin(), findings.end(),
                    [&](const KitFinding& finding) { return finding.severity == severity; }));
}

ExitStatus print_json(Session& session, const std::vector<KitFinding>& findings) {
  nlohmann::ordered_json data;
  data["findings"] = nlohmann::ordered_json::array();
  for (const KitFinding& one : findings) {
    data["findings"].push_back(
        {{"severity", word_for(one.severity)},
         {"kind", one.kind},
         {"on", one.on},
         {"what", one.what},
         {"do", one.advice},
         {"where", one.where.empty() ? nlohmann::ordered_json() : nlohmann::ordered_json(one.where)}});
  }
  data["faults"] = count_of(findings, Severity::fault);
  data["risks"] = count_of(findings, Severity::risk);
  data["notes"] = count_of(findings, Severity::note);
  return answer(session, "kit check", data);
}

void print_plain(Session& session, const std::vector<KitFinding>& findings) {
  Table table{{"severity", "kind", "on", "what", "do", "where"}, {}};
  for (const KitFinding& one : findings) {
    table.rows.push_back({cell(std::string(word_for(one.severity))), cell(one.kind), cell(one.on),
                          cell(one.what), cell(one.advice), cell(one.where)});
  }
  print_table(session, table);
}

void print_text(Session& session, const std::vector<KitFinding>& findings) {
  for (const KitFinding& one : findings) {
    session.out << word_for(one.severity) << ": " << printable(one.on) << '\n';
    print_wrapped(session, one.what, 4);
    if (!one.advice.empty()) print_wrapped(session, "do: " + one.advice, 4);
  }
  if (findings.empty()) {
    session.out << "Nothing wrong was found.\n";
    return;
  }
  session.out << '\n'
              << counted(count_of(findings, Severity::fault), "fault") << ", "
              << counted(count_of(findings, Severity::risk), "risk") << ", "
              << counted(count_of(findings, Severity::note), "note") << ".\n";
}

bool is_failure(const std::vector<KitFinding>& findings, const std::string& fail_on) {
  if (fail_on.empty() || findings.empty()) return false;
  const Severity least = fail_on == "fault"  ? Severity::fault
                         : fail_on == "risk" ? Severity::risk
                                             : Severity::note;
  return findings.front().severity <= least;  // worst first
}

}  // namespace

ExitStatus run_kit_check(const KitCheckOptions& options, Session& session) {
  const auto kit = open_kit(options.kit, session);
  if (!kit) return fail(session, kit.error());
  const auto bands = bands_from(options.bands, kit->bands);
  if (!bands) return fail(session, bands.error());
  if (kit->cards.empty())
    return fail(session, {ErrorKind::bad_input, "the kit has no cards to check", options.kit,
                          "add [[card]] with its [[card.piece]] and [[card.stamp]]"});
  const auto stash = open_stash(session);
  if (!stash) return fail(session, stash.error());
  const auto faces = face_colours(*kit, options.kit, session);
  if (!faces) return fail(session, faces.error());
  if (const auto touching = touching_colours(*kit, *stash, *faces))
    warn_of_conditions(session, touching->colours);
  const std::vector<KitFinding> findings = check_kit(*kit, *stash, *faces, *bands);
  present(
      session, [&] { return print_json(session, findings); }, [&] { print_plain(session, findings); },
      [&] { print_text(session, findings); });
  return is_failure(findings, options.fail_on) ? ExitStatus::found : ExitStatus::done;
}

void add_kit_check(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<KitCheckOptions>();
  command.add_option("KIT", options->kit, "The kit file")->required();
  command.add_option("--fail-on", options->fail_on, "Exit with 1 when something is as bad as this")
      ->type_name("WHAT")
      ->check(CLI::IsMember({"fault", "risk", "note"}));
  add_band_option(command, options->bands);
  command.final_callback([options, &call] {
    call.run = [options](Session& session) { return run_kit_check(*options, session); };
  });
}

}  // namespace kithue
