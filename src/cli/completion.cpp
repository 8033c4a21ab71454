// SPDX-License-Identifier: MIT
#include "cli/completion.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/text.h"
#include "swatch/store.h"

namespace kithue {
namespace {

// Every script asks the program for the words that fit and quotes each one itself. Nothing goes through
// `compgen -W`, which runs what a name holds.
constexpr const char* kBash = R"sh(# kithue in bash: eval "$(kithue completion bash)" in ~/.bashrc
_kithue() {
  local cur=${COMP_WORDS[COMP_CWORD]} word
  COMPREPLY=()
  while IFS= read -r word; do
    case $cur in
      \"*) word=${word//\\/\\\\}; word=${word//\"/\\\"}; word=${word//\$/\\\$}; word=${word//\`/\\\`} ;;
      \'*) [[ $word == *\'* ]] && continue ;;
      *) printf -v word '%q' "$word" ;;
    esac
    COMPREPLY+=("$word")
  done < <(kithue completion words -- "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)
}
complete -o default -F _kithue kithue
)sh";
constexpr const char* kZsh = R"sh(#compdef kithue
# kithue in zsh: kithue completion zsh > a file named _kithue in a folder of $fpath
_kithue() {
  local -a found
  found=("${(@f)$(kithue completion words -- "${(@Q)words[2,CURRENT]}" 2>/dev/null)}")
  [[ -n $found[1] ]] && compadd -a found
  _files
}
compdef _kithue kithue
)sh";
constexpr const char* kFish =
    R"sh(# kithue in fish: kithue completion fish > ~/.config/fish/completions/kithue.fish
function __kithue_words
  set -l given (commandline -opc)
  kithue completion words -- $given[2..-1] (commandline -ct) 2>/dev/null
end
complete -c kithue -a '(__kithue_words)'
)sh";

struct CompletionOptions {
  std::string shell;
  std::vector<std::string> given;
};

/// What was typed, less an opening quote and the backslashes before characters.
std::string without_quotes(std::string_view typed) {
  if (typed.starts_with('"') || typed.starts_with('\'')) typed.remove_prefix(1);
  std::string text;
  for (std::size_t i = 0; i < typed.size(); ++i) {
    if (typed[i] == '\\' && i + 1 < typed.size()) ++i;
    text += typed[i];
  }
  return text;
}

/// The row of the command that the words name, null when they name none or only a noun; what may come next.
const CommandInfo* command_in(const std::vector<std::string>& words, std::vector<std::string>& next) {
  std::string so_far;
  for (const std::string& word : words) {
    if (word.starts_with('-')) continue;
    so_far += (so_far.empty() ? "" : " ") + word;
    for (const CommandInfo& row : command_table()) {
      if (row.name == so_far && row.add != nullptr) return &row;
    }
  }
  const std::string start = so_far.empty() ? "" : so_far + " ";
  for (const CommandInfo& row : command_table()) {
    if (!row.name.starts_with(start)) continue;
    const std::string_view rest = row.name.substr(start.size());
    if (!rest.empty() && rest.find(' ') == std::string_view::npos) next.emplace_back(rest);
  }
  return nullptr;
}

std::vector<std::string> options_of(const CommandInfo& command) {
  CLI::App app;
  Invocation call;
  command.add(app, call);
  std::vector<std::string> names{"--json",     "--plain", "--quiet", "--verbose", "--no-input",
                                 "--no-color", "--color", "--stash", "--threads", "--help"};
  for (const CLI::Option* option : app.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
  }
  return names;
}

/// The swatches' names. A broken stash has none, and says nothing: somebody is typing. A name that a terminal
/// or a line could not hold as it is, is left out; its id serves.
std::vector<std::string> names_of(const std::string& stash_path) {
  std::vector<std::string> names;
  const auto stash = stash_path.empty() ? Result<std::optional<Stash>>(std::nullopt) : load_stash(stash_path);
  if (!stash || !*stash) return names;
  for (const Swatch& swatch : (*stash)->swatches) {
    if (printable(swatch.name) == swatch.name) names.push_back(swatch.name);
  }
  return names;
}

std::vector<std::string> fitting(std::vector<std::string> given, const std::string& stash_path) {
  const std::string typed = given.empty() ? "" : without_quotes(given.back());
  if (!given.empty()) given.pop_back();
  std::vector<std::string> words;
  const CommandInfo* command = command_in(given, words);
  if (command != nullptr) words = typed.starts_with('-') ? options_of(*command) : names_of(stash_path);
  std::erase_if(words, [&](const std::string& word) { return !word.starts_with(typed); });
  std::sort(words.begin(), words.end());
  words.erase(std::unique(words.begin(), words.end()), words.end());
  return words;
}

ExitStatus run_completion(const CompletionOptions& options, Session& session) {
  if (options.shell == "words") {
    const auto words = fitting(options.given, session.stash_path);
    if (session.mode == Mode::json) return answer(session, "completion", {{"words", words}});
    for (const std::string& word : words) session.out << word << '\n';
    return ExitStatus::done;
  }
  const std::string script = options.shell == "bash" ? kBash : options.shell == "zsh" ? kZsh : kFish;
  if (session.mode == Mode::json)
    return answer(session, "completion", {{"shell", options.shell}, {"script", script}});
  session.out << script;
  return ExitStatus::done;
}

}  // namespace

void add_completion(CLI::App& command, Invocation& call) {
  const auto options = std::make_shared<CompletionOptions>();
  command.add_option("shell", options->shell, "bash, zsh or fish; 'words' is what their scripts ask")
      ->type_name("SHELL")
      ->required()
      ->check(CLI::IsMember({"bash", "zsh", "fish", "words"}));
  command.add_option("given", options->given, "With 'words', after --: what was typed so far")
      ->type_name("WORD");
  call.run = [options](Session& session) { return run_completion(*options, session); };
}

}  // namespace kithue
