// SPDX-License-Identifier: MIT
#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/stash_commands.h"
#include "cli/table.h"
#include "swatch/check.h"

namespace kithue {
namespace {

nlohmann::ordered_json findings_json(const std::vector<Finding>& findings) {
  auto list = nlohmann::ordered_json::array();
  for (const Finding& finding : findings)
    list.push_back({{"code", finding.code}, {"message", finding.what}, {"ids", finding.ids}});
  return list;
}

/// The first few of each sort; all with --verbose.
void print_findings(Session& session, const std::vector<Finding>& findings) {
  constexpr std::size_t kShown = 5;
  for (std::size_t i = 0; i < findings.size();) {
    std::size_t end = i;
    while (end < findings.size() && findings[end].code == findings[i].code) ++end;
    const std::size_t shown = session.verbose ? end - i : std::min(kShown, end - i);
    for (std::size_t j = i; j < i + shown; ++j) session.out << "- " << printable(findings[j].what) << '\n';
    if (shown < end - i) session.out << "  and " << end - i - shown << " more like that (--verbose)\n";
    i = end;
  }
}

}  // namespace

ExitStatus run_stash_check(const StashCheckOptions& options, Session& session) {
  const auto stash = open_stash(session);
  if (!stash) return fail(session, stash.error());
  const auto findings = check_stash(*stash);
  const ExitStatus status =
      !options.fail_on.empty() && !findings.empty() ? ExitStatus::found : ExitStatus::done;
  std::size_t readings = 0;
  for (const Swatch& swatch : stash->swatches) readings += swatch.readings.size();
  const std::size_t versions = stash_versions(session.stash_path).size();
  if (session.mode == Mode::json) {
    answer(session, "stash check",
           {{"swatches", stash->swatches.size()},
            {"readings", readings},
            {"versions", versions},
            {"findings", findings_json(findings)}});
    return status;
  }
  if (session.mode == Mode::plain) {
    Table table{{"code", "finding"}, {}};
    for (const Finding& finding : findings) table.rows.push_back({cell(finding.code), cell(finding.what)});
    print_table(session, table);
    return status;
  }
  const std::size_t count = stash->swatches.size();
  session.out << "sound: " << count << (count == 1 ? " swatch, " : " swatches, ")
              << counted(readings, "reading") << ", " << counted(versions, "earlier state")
              << " to go back to\n";
  print_findings(session, findings);
  return status;
}

void add_stash_check(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<StashCheckOptions>();
  command.add_option("--fail-on", options->fail_on, "End with status 1 when there are findings")
      ->type_name("findings")
      ->check(CLI::IsMember({"findings"}));
  call.run = [options](Session& session) { return run_stash_check(*options, session); };
}

}  // namespace kithue
