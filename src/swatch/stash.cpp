// SPDX-License-Identifier: MIT
#include "swatch/stash.h"

#include <algorithm>
#include <optional>

#include "base/text.h"
#include "colour/css.h"

namespace kithue {
namespace {

using Found = std::vector<const Swatch*>;

bool all_digits(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

/// The id in "17", "#17" or "id:17". "#123" is a colour.
std::optional<long long> id_in(std::string_view text) {
  if (text.starts_with("id:")) {
    text.remove_prefix(3);
  } else if (text.starts_with('#')) {
    text.remove_prefix(1);
    const std::size_t digits = text.size();
    if (digits == 3 || digits == 4 || digits == 6 || digits == 8) return std::nullopt;
  }
  if (!all_digits(text)) return std::nullopt;
  return parse_whole(text);
}

/// "Name (marker)" in two parts; nothing without brackets at the end.
struct Qualified {
  std::string_view name;
  std::string_view word;
};
std::optional<Qualified> qualified(std::string_view text) {
  if (!text.ends_with(')')) return std::nullopt;
  const auto open = text.rfind('(');
  if (open == std::string_view::npos || open == 0) return std::nullopt;
  const std::string_view name = trimmed(text.substr(0, open));
  const std::string_view word = trimmed(text.substr(open + 1, text.size() - open - 2));
  if (name.empty() || word.empty()) return std::nullopt;
  return Qualified{name, word};
}

template <typename Test>
Found all_where(const Stash& stash, Test test) {
  Found found;
  for (const Swatch& swatch : stash.swatches) {
    if (test(swatch)) found.push_back(&swatch);
  }
  return found;
}

bool answers_to(const Swatch& swatch, std::string_view folded_word) {
  return folded(swatch.method) == folded_word || word_for(swatch.kind) == folded_word;
}

Found by_name(const Stash& stash, std::string_view text) {
  Found found = all_where(stash, [&](const Swatch& swatch) { return swatch.name == text; });
  if (!found.empty()) return found;
  const auto parts = qualified(text);
  const std::string word = parts ? folded(parts->word) : std::string();
  if (parts) {
    found = all_where(
        stash, [&](const Swatch& swatch) { return swatch.name == parts->name && answers_to(swatch, word); });
    if (!found.empty()) return found;
  }
  const std::string key = folded(text);
  const std::string short_key = parts ? folded(parts->name) : std::string();
  Found within;
  for (const Swatch& swatch : stash.swatches) {
    const std::string own = folded(swatch.name);
    if (own == key) found.push_back(&swatch);
    if (parts && own == short_key && answers_to(swatch, word)) within.push_back(&swatch);
  }
  return found.empty() ? within : found;
}

Error not_found(const Stash& stash, std::string_view text) {
  Error error{ErrorKind::not_found, "no swatch is called \"" + std::string(text) + "\"", "", ""};
  std::vector<std::string> known;
  known.reserve(stash.swatches.size());
  for (const Swatch& swatch : stash.swatches) known.push_back(swatch.name);
  std::vector<std::string> near = near_spellings(text, known);
  if (near.empty()) {
    if (const auto parts = qualified(text)) near = near_spellings(parts->name, known);
  }
  for (std::string& name : near) name.insert(0, 1, '"').push_back('"');
  error.advice =
      !near.empty() ? "did you mean " + joined(near, " or ") + "?"
      : stash.swatches.empty()
          ? "the stash is empty; start with 'kithue stash add NAME --kind stock --lab L,a,b --white D50/2'"
          : "'kithue stash list' shows all names";
  return error;
}

Error ambiguous(std::string_view text, const Found& found) {
  std::vector<std::string> names;
  for (const Swatch* swatch : found) {
    if (names.size() == 5) {
      names.push_back("and " + std::to_string(found.size() - 5) + " more");
      break;
    }
    names.push_back(id_text(*swatch) + " " + full_name(*swatch));
  }
  return {ErrorKind::ambiguous, "\"" + std::string(text) + "\" could be " + joined(names, ", "), "",
          "name one by its id, as in 'id:" + std::to_string(found.front()->id) + "'"};
}

Error unknown_id(const Stash& stash, std::string_view text) {
  return {
      ErrorKind::not_found, "no swatch has the id " + std::string(text), "",
      stash.swatches.empty()
          ? "the stash is empty; start with 'kithue stash add NAME --kind stock --lab L,a,b --white D50/2'"
          : "'kithue stash list' shows all ids"};
}

}  // namespace

std::string full_name(const Swatch& swatch) {
  const std::string_view word = swatch.method.empty() ? word_for(swatch.kind) : swatch.method;
  return swatch.name + " (" + std::string(word) + ")";
}

const Swatch* swatch_with_id(const Stash& stash, long long id) {
  const auto at = std::lower_bound(stash.swatches.begin(), stash.swatches.end(), id,
                                   [](const Swatch& swatch, long long wanted) { return swatch.id < wanted; });
  return at != stash.swatches.end() && at->id == id ? &*at : nullptr;
}

Result<const Swatch*> find_swatch(const Stash& stash, std::string_view given) {
  const std::string_view text = trimmed(given);
  if (text.empty()) {
    return Error{ErrorKind::not_found, "an empty name means no swatch", "", "give a name or an id"};
  }
  const auto id = id_in(text);
  const Swatch* numbered = id ? swatch_with_id(stash, *id) : nullptr;
  if (text.starts_with("id:") && id) {
    if (numbered == nullptr) return unknown_id(stash, text);
    return numbered;
  }
  Found found = by_name(stash, text);
  if (numbered != nullptr && std::find(found.begin(), found.end(), numbered) == found.end()) {
    found.insert(found.begin(), numbered);
  }
  if (found.empty()) return id ? unknown_id(stash, text) : not_found(stash, text);
  if (found.size() > 1) return ambiguous(text, found);
  return found.front();
}

Result<NamedColour> resolve_colour(const Stash& stash, std::string_view given) {
  const std::string_view text = trimmed(given);
  if (looks_like_css(text)) {
    const bool is_name = std::any_of(stash.swatches.begin(), stash.swatches.end(),
                                     [&](const Swatch& swatch) { return swatch.name == text; });
    const bool is_id = text.starts_with('#') && id_in(text);
    if (!is_name && !is_id) {
      const auto lab = lab_from_css(text);
      if (!lab) return lab.error();
      return NamedColour{std::string(text), *lab, 0.0, nullptr};
    }
  }
  const auto found = find_swatch(stash, text);
  if (!found) {
    Error error = found.error();
    if (error.kind == ErrorKind::not_found && error.advice.find("did you mean") == std::string::npos) {
      error.advice += "; a colour is written as \"lab(52 43 21)\" or \"#c8553d\"";
    }
    return error;
  }
  const Swatch& swatch = **found;
  const auto lab = colour_of(swatch);
  if (!lab) {
    const bool shiny = swatch.finish == Finish::unmeasurable;
    return Error{ErrorKind::impossible,
                 "\"" + swatch.name +
                     "\" has no number: " + (shiny ? "its finish cannot be measured" : "it has no reading"),
                 "",
                 shiny ? "judge it by eye"
                       : "add one with 'kithue stash edit " + std::string("id:") + std::to_string(swatch.id) +
                             " --reading L,a,b'"};
  }
  return NamedColour{swatch.name, *lab, uncertainty_of(swatch), &swatch};
}

}  // namespace kithue
