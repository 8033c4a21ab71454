// SPDX-License-Identifier: MIT
#include "cli/stash_access.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "colour/css.h"

namespace kithue {

namespace {

Result<Stash> opened(Session& session, bool needed) {
  auto loaded = load_stash(session.stash_path);
  if (!loaded) return loaded.error();
  if (*loaded) return std::move(**loaded);
  if (session.stash_named) {
    return Error{
        ErrorKind::cannot_read, "there is no stash here", session.stash_path,
        "check the name, or start one with 'kithue stash add NAME --kind stock --lab L,a,b --white D50/2'"};
  }
  if (needed)
    warn(session,
         "the stash is empty; start with 'kithue stash add NAME --kind stock --lab L,a,b --white D50/2'");
  return Stash{};
}

}  // namespace

Result<Stash> open_stash(Session& session) {
  return opened(session, true);
}

Result<Stash> open_stash_for(Session& session, const std::vector<std::string>& colours) {
  const bool literals = std::all_of(colours.begin(), colours.end(),
                                    [](const std::string& text) { return lab_from_css(text).has_value(); });
  return opened(session, !literals);
}

Result<Change> edit_stash(Session& session, bool dry_run, const std::function<MaybeError(Stash&)>& change) {
  if (dry_run) {
    auto loaded = load_stash(session.stash_path);
    if (!loaded) return loaded.error();
    Stash stash = *loaded ? std::move(**loaded) : Stash{};
    if (auto fault = change(stash)) return std::move(*fault);
    return Change{};
  }
  auto changed = change_stash(session.stash_path, change);
  if (changed && !changed->doubt.empty())
    warn(session, "saved, but a power cut might undo it: " + changed->doubt);
  return changed;
}

void tell_change(Session& session, bool dry_run, const std::string& line) {
  if (dry_run) return hint(session, "dry run, nothing written: " + line);
  hint(session, line + "; 'kithue stash undo' takes it back");
}

void warn_of_duplicates(Session& session, const std::vector<Finding>& findings) {
  constexpr std::size_t kShown = 5;
  for (std::size_t i = 0; i < findings.size() && i < kShown; ++i) {
    const bool batches = findings[i].code == "mixed_batches";
    warn(session, findings[i].what + (batches ? "; 'kithue stash drift' compares them" : ""));
  }
  if (findings.size() > kShown) {
    warn(session, "and " + std::to_string(findings.size() - kShown) +
                      " more like that: 'kithue stash check --verbose' lists them");
  }
}

nlohmann::ordered_json swatch_json(const Swatch& swatch) {
  nlohmann::ordered_json object;
  object["id"] = swatch.id;
  object["name"] = swatch.name;
  object["kind"] = word_for(swatch.kind);
  object["method"] = swatch.method;
  if (const auto lab = colour_of(swatch)) {
    object["lab"] = {lab->L, lab->a, lab->b};
  } else {
    object["lab"] = nullptr;
  }
  object["spread"] = spread_of(swatch);
  object["uncertainty"] = uncertainty_of(swatch);
  object["readings"] = swatch.readings.size();
  object["retired"] = swatch.retired;
  object["in_stock"] = swatch.in_stock;
  object["measurable"] = swatch.finish == Finish::plain;
  object["surface"] = swatch.surface;
  object["batch"] = swatch.batch;
  object["note"] = swatch.note;
  return object;
}

}  // namespace kithue
