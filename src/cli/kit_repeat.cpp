// SPDX-License-Identifier: MIT
#include "cli/kit_repeat.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/files.h"
#include "base/text.h"
#include "cli/advice.h"
#include "cli/commands.h"
#include "cli/kit_faces.h"
#include "cli/table.h"
#include "colour/difference.h"
#include "kit/repeat.h"

namespace kithue {
namespace {

constexpr std::size_t kMostPalettesFile = 16 << 20;

bool same_kit(const PastKit& x, const PastKit& y) {
  return x.name == y.name && x.date == y.date;
}

std::string called(const PastKit& kit) {
  return kit.date.empty() ? kit.name : kit.name + ", " + kit.date;
}

/// Puts the kit in the place of what was remembered of it, or at the end.
void remember(const PastKit& kit, std::vector<PastKit>& past) {
  const auto at =
      std::find_if(past.begin(), past.end(), [&](const PastKit& one) { return same_kit(one, kit); });
  if (at == past.end())
    past.push_back(kit);
  else
    *at = kit;
}

MaybeError save(const std::string& path, const std::vector<PastKit>& past, Session& session) {
  if (auto error = make_folder(folder_of(path))) return error;
  const auto written = replace_file_atomically(path, history_csv(past));
  if (!written) return written.error();
  if (!written->doubt.empty())
    warn(session, path + ": saved, but a power cut might undo it: " + written->doubt);
  return std::nullopt;
}

}  // namespace

std::string path_beside_stash(const std::string& named, const std::string& name, const Session& session) {
  return named.empty() ? folder_of(session.stash_path) + "/" + name : named;
}

Result<std::string> text_beside_stash(const std::string& named, const std::string& path) {
  if (named.empty()) {
    const auto entry = entry_at(path);
    if (!entry) return entry.error();
    if (*entry == Entry::nothing) return std::string();
  }
  return read_file(path, kMostPalettesFile);
}

ExitStatus run_kit_repeat(const KitRepeatOptions& options, Session& session) {
  const auto kit = open_kit(options.kit, session);
  if (!kit) return fail(session, kit.error());
  const std::string path = path_beside_stash(options.history, "kit-history.csv", session);
  // A history that is to be begun need not be there.
  const auto entry = entry_at(path);
  const bool begun = options.remember && entry && *entry == Entry::nothing;
  const auto text = begun ? Result<std::string>(std::string()) : text_beside_stash(options.history, path);
  if (!text) return fail(session, text.error());
  std::vector<PastKit> past;
  if (!text->empty()) {
    auto read = history_from_csv(*text, path);
    if (!read) return fail(session, read.error());
    past = *std::move(read);
  }
  const auto faces = face_colours(*kit, options.kit, session);
  if (!faces) return fail(session, faces.error());
  const PastKit own = past_kit(*kit, *faces);
  std::vector<PastKit> others;
  std::copy_if(past.begin(), past.end(), std::back_inserter(others),
               [&](const PastKit& one) { return !same_kit(one, own); });
  std::vector<Repeat> repeats = nearest_kits(own, others);
  repeats.resize(std::min(repeats.size(), options.count));
  if (options.remember && !options.dry_run) {
    remember(own, past);
    if (const auto error = save(path, past, session)) return fail(session, *error);
  }
  const auto print_json = [&] {
    nlohmann::ordered_json data{{"kits", nlohmann::ordered_json::array()},
                                {"compared", others.size()},
                                {"history", path},
                                {"remembered", options.remember && !options.dry_run}};
    for (const Repeat& one : repeats)
      data["kits"].push_back({{"name", others[one.kit].name},
                              {"date", others[one.kit].date},
                              {"de00", one.de00},
                              {"words", words_for_repeat(one.de00)}});
    return answer(session, "kit repeat", data);
  };
  const auto print = [&] {
    Table table{{"kit", "date", "de00", "how near"}, {}};
    for (const Repeat& one : repeats)
      table.rows.push_back({cell(others[one.kit].name), cell(others[one.kit].date), number_cell(one.de00, 2),
                            cell(std::string(words_for_repeat(one.de00)))});
    print_table(session, table);
  };
  return present(session, print_json, print, [&] {
    if (repeats.empty()) {
      session.out << "No earlier kit to compare with.\n";
    } else {
      print();
      print_orders_only(session);
    }
    if (options.remember)
      hint(session, (options.dry_run ? "would remember " : "remembered ") + called(own) + " in " + path);
    else
      hint(session, "next: --remember keeps this palette for later kits");
  });
}

void add_kit_repeat(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<KitRepeatOptions>();
  command.add_option("KIT", options->kit, "The kit file")->required();
  command
      .add_option("--history", options->history,
                  "Palettes of earlier kits (else kit-history.csv beside the stash)")
      ->type_name("FILE");
  command.add_flag("--remember", options->remember, "Keep the palette of this kit there");
  command.add_flag("-n,--dry-run", options->dry_run, "Say what would be kept and write nothing");
  command.add_option("--most", options->count, "How many to show")
      ->type_name("N")
      ->check(CLI::Range(1, 1000));
  command.final_callback([options, &call] {
    call.run = [options](Session& session) { return run_kit_repeat(*options, session); };
  });
}

}  // namespace kithue
