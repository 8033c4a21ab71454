// SPDX-License-Identifier: MIT
#include <algorithm>
#include <unordered_map>
#include <vector>

#include "base/text.h"
#include "swatch/edit.h"
#include "swatch/import.h"
#include "swatch/stash_file.h"

namespace kithue {
namespace {

std::string identity_of(const Swatch& swatch) {
  return swatch.name + '\n' + std::string(word_for(swatch.kind)) + '\n' + swatch.method;
}

/// Equal exactly when the readings are.
std::string text_of(const Reading& reading) {
  std::string text;
  for (const double value :
       {reading.lab.L, reading.lab.a, reading.lab.b, reading.error_de00, reading.start_nm, reading.step_nm})
    text += exact_number(value) + ' ';
  for (const double value : reading.spectrum) text += exact_number(value) + ' ';
  for (const std::string* part : {&reading.white, &reading.adapted, &reading.source, &reading.date,
                                  &reading.batch, &reading.surface, &reading.condition, &reading.note})
    text += '\n' + escaped_text(*part);
  return text + '\n' + std::string(word_for(reading.dryness));
}

}  // namespace

ImportCount merge_import(Stash& stash, const Import& import) {
  ImportCount count;
  std::unordered_map<std::string, std::size_t> places;
  for (std::size_t i = 0; i < stash.swatches.size(); ++i) places.emplace(identity_of(stash.swatches[i]), i);
  const std::size_t before = stash.swatches.size();
  // How often the stash held each reading that the file names, before this import.
  std::unordered_map<std::string, std::size_t> held;
  std::vector<bool> counted_already(before, false);
  for (const ImportRow& row : import.rows) {
    const auto [at, is_new] = places.emplace(identity_of(row.swatch), stash.swatches.size());
    if (is_new) {
      if (row.swatch.id >= stash.next_id) stash.next_id = row.swatch.id;
      append_swatch(stash, row.swatch);
      ++count.new_swatches;
      count.changed.push_back(stash.swatches.back().id);
    }
    Swatch& swatch = stash.swatches[at->second];
    if (!row.reading) {
      if (!is_new) ++count.already_there;
      continue;
    }
    if (at->second < before) {
      const std::string key_start = std::to_string(swatch.id) + '\n';
      if (!counted_already[at->second]) {
        for (const Reading& reading : swatch.readings) ++held[key_start + text_of(reading)];
        counted_already[at->second] = true;
      }
      const auto found = held.find(key_start + text_of(*row.reading));
      if (found != held.end() && found->second > 0) {
        --found->second;
        ++count.already_there;
        continue;
      }
    }
    swatch.readings.push_back(*row.reading);
    ++count.new_readings;
    if (count.changed.empty() || count.changed.back() != swatch.id) count.changed.push_back(swatch.id);
  }
  stash.next_id = std::max(stash.next_id, import.next_id);
  return count;
}

}  // namespace kithue
