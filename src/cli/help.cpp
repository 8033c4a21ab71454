// SPDX-License-Identifier: MIT
#include "cli/help.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <utility>
#include <vector>

#include "base/text.h"
#include "cli/command.h"

namespace kithue {
namespace {

using HelpRow = std::pair<std::string, std::string>;  // a word or option, and what it does

std::string full_name(const CLI::App& at) {
  return at.get_parent() == nullptr ? at.get_name() : full_name(*at.get_parent()) + " " + at.get_name();
}

/// The text with line breaks so that no line passes `columns`, each line after the first indented.
std::string wrapped(const std::string& text, std::size_t indent, std::size_t columns) {
  std::string out;
  std::size_t at = indent;
  for (const std::string_view word : split(text, ' ')) {
    const std::size_t width = display_width(word);
    if (at > indent && at + 1 + width > columns) {
      out += "\n" + std::string(indent, ' ');
      at = indent;
    } else if (at > indent) {
      out += ' ';
      ++at;
    }
    out += word;
    at += width;
  }
  return out;
}

std::string rows_text(const std::vector<HelpRow>& rows, std::size_t columns) {
  std::size_t widest = 0;
  for (const HelpRow& row : rows) widest = std::max(widest, display_width(row.first));
  const std::size_t column = std::min<std::size_t>(widest, std::min<std::size_t>(26, columns / 3)) + 4;
  std::string out;
  for (const HelpRow& row : rows) {
    std::string line = "  " + row.first;
    if (display_width(line) + 2 > column) {
      line += "\n" + std::string(column, ' ');
    } else {
      line += std::string(column - display_width(line), ' ');
    }
    out += line + wrapped(row.second, column, columns) + "\n";
  }
  return out;
}

std::string value_word(const CLI::Option& option) {
  if (option.get_items_expected_max() == 0) return {};
  const std::string type = option.get_type_name();
  // CLI11 adds the check to the type name, "N:INT in [1 - 64]": the description says it better.
  return type.substr(0, type.find_first_of(":{ "));
}

HelpRow option_row(const CLI::Option& option) {
  std::string names;
  for (const std::string& name : option.get_snames()) names += "-" + name + ", ";
  for (const std::string& name : option.get_lnames()) names += "--" + name + ", ";
  if (!names.empty()) names.resize(names.size() - 2);
  const std::string value = value_word(option);
  return {value.empty() ? names : names + " " + value, option.get_description()};
}

std::string usage_text(const CLI::App& at, bool has_verbs) {
  std::string line = "Usage: " + full_name(at) + (has_verbs ? " COMMAND" : "") + " [options]";
  for (const CLI::Option* option : at.get_options()) {
    if (!option->get_positional()) continue;
    std::string word = value_word(*option);
    if (word.empty() || word == "TEXT") word = option->get_name(true);
    if (option->get_items_expected_max() > 1) word += "...";
    line += option->get_required() ? " " + word : " [" + word + "]";
  }
  return line;
}

}  // namespace

std::string help_text(const CLI::App& at, std::size_t columns) {
  std::vector<HelpRow> verbs;
  for (const CLI::App* command : at.get_subcommands([](const CLI::App*) { return true; })) {
    verbs.emplace_back(command->get_name(), command->get_description());
  }
  std::vector<HelpRow> words;
  std::vector<HelpRow> options;
  for (const CLI::Option* option : at.get_options()) {
    if (option->get_positional()) {
      std::string word = value_word(*option);
      if (word.empty() || word == "TEXT") word = option->get_name(true);
      words.emplace_back(word, option->get_description());
    } else {
      options.push_back(option_row(*option));
    }
  }
  std::string out = wrapped(at.get_description(), 0, columns) + "\n\n";
  out += wrapped(usage_text(at, !verbs.empty()), 0, columns) + "\n";
  if (!at.get_footer().empty()) out += "\nExamples:\n" + at.get_footer() + "\n";
  if (!verbs.empty()) out += "\nCommands:\n" + rows_text(verbs, columns);
  if (!words.empty()) out += "\n" + rows_text(words, columns);
  out += std::string(at.get_parent() == nullptr ? "\nOptions of every command:\n" : "\nOptions:\n") +
         rows_text(options, columns);
  if (at.get_parent() != nullptr)
    out += "\n" + wrapped("'kithue --help' lists the options that every command has.", 0, columns) + "\n";
  return out;
}

}  // namespace kithue
