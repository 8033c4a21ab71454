// SPDX-License-Identifier: MIT
#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "advise/words.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/stash_access.h"
#include "cli/stash_commands.h"
#include "cli/table.h"
#include "swatch/condition.h"
#include "swatch/drift.h"

namespace kithue {
namespace {

std::string batch_name(const std::string& batch) {
  return batch.empty() ? "no batch" : batch;
}

/// The batch on the shelf against the first one, where the user does not say.
Result<Drift> compare(const Swatch& swatch, const std::vector<BatchColour>& batches,
                      const StashDriftOptions& options) {
  if (batches.empty()) return Error{ErrorKind::impossible, full_name(swatch) + " has no readings", "", ""};
  const std::string from = options.from.value_or(batches.front().batch);
  std::string to = batches.back().batch;
  for (const BatchColour& one : batches) {
    if (one.batch == swatch.batch && one.batch != from) to = one.batch;
  }
  return drift_between(swatch, from, options.to.value_or(to), {options.apart, options.stop});
}

std::string advice_for(const Drift& drift, const DriftLimits& limits) {
  switch (drift.verdict) {
    case DriftVerdict::same:
      return "one colour: the batches can be mixed in a kit";
    case DriftVerdict::keep_apart:
      return "keep apart: do not let the two batches touch on one card";
    case DriftVerdict::stop:
      return drift.de00 >= limits.stop
                 ? "stop: this batch is another colour; give it a name of its own"
                 : "stop: so few readings cannot rule out a shift over " + exact_number(limits.stop);
  }
  return {};
}

std::string doubt_of(const Drift& drift) {
  if (drift.sure) return {};
  const bool few = drift.from.readings < 3 || drift.to.readings < 3;
  return std::string(few ? "too few readings to be sure" : "too close to a limit to be sure") +
         (drift.readings > 0 ? "; read each batch " + std::to_string(drift.readings) + " times"
                             : "; not even 20 readings of each would tell: treat it as the stricter");
}

nlohmann::ordered_json batch_json(const BatchColour& one) {
  return {{"batch", one.batch}, {"readings", one.readings}, {"lab", {one.lab.L, one.lab.a, one.lab.b}}};
}

/// Nothing to compare is an answer, not a fault.
ExitStatus tell_one_batch(Session& session, const Swatch& swatch, const std::vector<BatchColour>& batches) {
  const std::string words =
      batches.empty() ? "no readings" : "readings of one batch only: " + batch_name(batches.front().batch);
  if (session.mode == Mode::json) {
    return answer(
        session, "stash drift",
        {{"swatch", swatch_json(swatch)}, {"verdict", "unknown"}, {"sure", false}, {"words", words}});
  }
  if (session.mode == Mode::plain) {
    session.out << "verdict\twords\nunknown\t" << printable(words) << '\n';
    return ExitStatus::done;
  }
  session.out << printable(full_name(swatch) + ": unknown: " + words) << '\n';
  hint(session, "read the new batch: 'kithue stash edit id:" + std::to_string(swatch.id) +
                    " --reading L,a,b --white D50/2 --batch NEW'");
  return ExitStatus::done;
}

ExitStatus answer_json(Session& session, const Swatch& swatch, const Drift& drift) {
  return answer(session, "stash drift",
                {{"swatch", swatch_json(swatch)},
                 {"from", batch_json(drift.from)},
                 {"to", batch_json(drift.to)},
                 {"de00", drift.de00},
                 {"uncertainty", drift.uncertainty},
                 {"noise", drift.noise},
                 {"verdict", word_for(drift.verdict)},
                 {"sure", drift.sure},
                 {"readings_wanted", drift.readings},
                 {"words", difference_words(drift.from.lab, drift.to.lab)}});
}

void print_text(Session& session, const Swatch& swatch, const Drift& drift, const DriftLimits& limits) {
  session.out << printable(full_name(swatch) + ": " + advice_for(drift, limits)) << "\n";
  if (const std::string doubt = doubt_of(drift); !doubt.empty()) session.out << doubt << '\n';
  session.out << '\n'
              << printable("batch " + batch_name(drift.to.batch) + " against " +
                           batch_name(drift.from.batch) + ": " + fixed_number(drift.de00, 2) + " dE00 (+- " +
                           fixed_number(2.0 * drift.uncertainty, 2) + "), " +
                           difference_words(drift.from.lab, drift.to.lab))
              << "\n\n";
  Table table{{"batch", "readings", "L", "a", "b"}, {}};
  for (const BatchColour* one : {&drift.from, &drift.to}) {
    table.rows.push_back({colour_cell(one->lab, batch_name(one->batch)),
                          number_cell(static_cast<double>(one->readings), 0), number_cell(one->lab.L, 2),
                          number_cell(one->lab.a, 2), number_cell(one->lab.b, 2)});
  }
  print_table(session, table);
}

}  // namespace

ExitStatus run_stash_drift(const StashDriftOptions& options, Session& session) {
  if (!(options.apart > 0.0) || !(options.stop > options.apart)) {
    return fail(session, {ErrorKind::bad_usage, "the limits must rise", "--apart, --stop",
                          "as in --apart 1 --stop 2"});
  }
  const auto stash = open_stash(session);
  if (!stash) return fail(session, stash.error());
  const auto found = find_swatch(*stash, options.name);
  if (!found) return fail(session, found.error());
  const Swatch& swatch = **found;
  const auto batches = batches_of(swatch);
  if (batches.size() < 2 && !options.from && !options.to) return tell_one_batch(session, swatch, batches);
  const auto drift = compare(swatch, batches, options);
  if (!drift) return fail(session, drift.error());
  for (const std::string& caution : comparison_cautions(swatch, swatch)) warn(session, caution);
  if (session.mode == Mode::json) return answer_json(session, swatch, *drift);
  if (session.mode == Mode::plain) {
    print_table(session, {{"from", "to", "de00", "uncertainty", "verdict", "sure", "words"},
                          {{cell(drift->from.batch), cell(drift->to.batch), cell(exact_number(drift->de00)),
                            cell(exact_number(drift->uncertainty)),
                            cell(std::string(word_for(drift->verdict))), cell(drift->sure ? "yes" : "no"),
                            cell(difference_words(drift->from.lab, drift->to.lab))}}});
  } else {
    print_text(session, swatch, *drift, {options.apart, options.stop});
  }
  const bool found_drift = drift->verdict == DriftVerdict::stop;
  return options.fail_on == "stop" && found_drift ? ExitStatus::found : ExitStatus::done;
}

void add_stash_drift(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<StashDriftOptions>();
  command.add_option("name", options->name, "Name or id of the swatch")->required()->type_name("NAME");
  command.add_option("--from", options->from, "The batch to compare with; the first one read if left out")
      ->type_name("BATCH");
  command.add_option("--to", options->to, "The new batch; the one on the shelf if left out")
      ->type_name("BATCH");
  command.add_option("--apart", options->apart, "From here on the batches are kept apart")
      ->type_name("DE00")
      ->capture_default_str();
  command.add_option("--stop", options->stop, "From here on it is another colour")
      ->type_name("DE00")
      ->capture_default_str();
  command.add_option("--fail-on", options->fail_on, "End with status 1 on this verdict")
      ->type_name("stop")
      ->check(CLI::IsMember({"stop"}));
  call.run = [options](Session& session) { return run_stash_drift(*options, session); };
}

}  // namespace kithue
