// SPDX-License-Identifier: MIT
#include "cli/kit_new.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <functional>
#include <istream>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/files.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/output_file.h"
#include "cli/stash_access.h"
#include "kit/kit.h"
#include "kit/new_kit.h"

namespace kithue {
namespace {

constexpr int kMostKits = 100'000;
constexpr int kMostSheets = 500;

/// Takes an answer; what is wrong with it, or nothing.
using Taker = std::function<MaybeError(const std::string&)>;

/// Asks for what was not said. The end of the answers is an answer: the default.
class Questions {
 public:
  explicit Questions(Session& session) : session_(session) {}

  MaybeError ask(const std::string& question, const std::string& otherwise,
                 const std::optional<std::string>& said, const Taker& take) {
    if (said) {
      MaybeError error = take(*said);
      if (error) error->kind = ErrorKind::bad_usage;
      return error;
    }
    while (session_.in != nullptr) {
      session_.err << printable(question) << " [" << printable(otherwise) << "] " << std::flush;
      std::string line;
      if (!std::getline(*session_.in, line)) break;
      const std::string answer(trimmed(line));
      if (answer.empty()) break;
      const MaybeError error = take(answer);
      if (!error) return std::nullopt;
      session_.err << printable(describe(*error)) << '\n';
    }
    return otherwise.empty() ? std::nullopt : take(otherwise);
  }

 private:
  Session& session_;
};

Error wrong(std::string what, std::string advice) {
  return {ErrorKind::bad_input, std::move(what), "", std::move(advice)};
}

Taker whole(int& into, int least, int most) {
  return [&into, least, most](const std::string& text) -> MaybeError {
    const auto number = parse_whole(text);
    if (!number || *number < least || *number > most)
      return wrong(
          "'" + text + "' is not a number from " + std::to_string(least) + " to " + std::to_string(most),
          "write a whole number such as " + std::to_string(least + 1));
    into = static_cast<int>(*number);
    return std::nullopt;
  };
}

Taker name(std::string& into) {
  return [&into](const std::string& text) -> MaybeError {
    constexpr std::size_t kLongest = 200;
    if (trimmed(text).empty())
      return wrong("a name cannot be empty", "write one, such as \"Harbour Morning\"");
    const bool plain = std::none_of(text.begin(), text.end(), [](char letter) {
      const auto byte = static_cast<unsigned char>(letter);
      return byte < 0x20 || byte == 0x7F;
    });
    if (!is_utf8(text) || !plain || text.size() > kLongest)
      return wrong("the name is not one short line of UTF-8 text", "write a shorter one");
    into = text;
    return std::nullopt;
  };
}

std::optional<std::string> text_of(const std::optional<int>& number) {
  return number ? std::optional(std::to_string(*number)) : std::nullopt;
}

/// "harbour-morning" out of "kits/harbour-morning.toml".
std::string stem_of(const std::string& path) {
  const std::string file = name_of(path);
  const auto dot = file.rfind('.');
  return dot == std::string::npos || dot == 0 ? file : file.substr(0, dot);
}

/// Stocks and inks to start from: the lightest stock and the darkest ink that are there.
struct Offered {
  std::string base;
  std::string ink;
};

Offered offered_by(const Stash& stash) {
  Offered offered{"White card", "Black"};
  double lightest = -1.0;
  double darkest = 1000.0;
  for (const Swatch& swatch : stash.swatches) {
    const auto lab = colour_of(swatch);
    if (!lab || swatch.retired || !swatch.in_stock) continue;
    // Only a name that means one swatch may stand in the file.
    if (const auto found = find_swatch(stash, swatch.name); !found) continue;
    if (swatch.kind == Kind::stock && lab->L > lightest) {
      lightest = lab->L;
      offered.base = swatch.name;
    }
    if (swatch.kind == Kind::ink && lab->L < darkest) {
      darkest = lab->L;
      offered.ink = swatch.name;
    }
  }
  return offered;
}

MaybeError take_photos(const KitNewOptions& options, NewKit& kit) {
  for (const std::string& photo : options.photos) {
    const auto entry = entry_at(photo);
    if (!entry) return entry.error();
    if (*entry == Entry::nothing)
      return Error{ErrorKind::cannot_read, "there is no such photo", photo, "name one that is there"};
    // The kit file names its photos from where it lies itself.
    const std::filesystem::path path(photo);
    kit.photos.push_back(
        path.is_absolute() ? photo : path.lexically_proximate(folder_of(options.kit)).generic_string());
  }
  return std::nullopt;
}

MaybeError ask_all(const KitNewOptions& options, const Stash& stash, Session& session, NewKit& kit) {
  Questions questions(session);
  const Offered offered = offered_by(stash);
  std::vector<std::function<MaybeError()>> steps{
      [&] { return questions.ask("Name of the kit", stem_of(options.kit), options.name, name(kit.name)); },
      [&] {
        return questions.ask("How many kits", "1", text_of(options.kits), whole(kit.kits, 1, kMostKits));
      },
      [&] {
        return questions.ask("Spare kits", "0", text_of(options.spares), whole(kit.spares, 0, kMostKits));
      },
      [&] {
        return questions.ask("Paper in the printer, A4 or Letter", "A4", options.page,
                             [&](const std::string& text) -> MaybeError {
                               kit.letter = folded(text) == "letter";
                               if (kit.letter || folded(text) == "a4") return std::nullopt;
                               return wrong("'" + text + "' is not a page", "write A4 or Letter");
                             });
      },
      [&] {
        return questions.ask("Size of a patterned sheet", "12 x 12 in", options.pack_sheet,
                             [&](const std::string& text) -> MaybeError {
                               const auto size = size_from(text);
                               if (!size) return size.error();
                               kit.pack_sheet = *size;
                               return std::nullopt;
                             });
      },
      [&] {
        return questions.ask("Copies of each sheet in a pack", "1", text_of(options.copies),
                             whole(kit.copies, 1, 1000));
      },
      [&]() -> MaybeError {
        if (!kit.photos.empty()) return std::nullopt;
        return questions.ask("Different sheets in a pack", "1", text_of(options.sheets),
                             whole(kit.sheets, 1, kMostSheets));
      },
      [&] { return questions.ask("Stock of the card bases", offered.base, options.base, name(kit.base)); },
      [&] { return questions.ask("Stock of a mat, if any", "", options.mat, name(kit.mat)); },
      [&] { return questions.ask("Ink for words", offered.ink, options.ink, name(kit.ink)); }};
  for (const auto& step : steps) {
    if (MaybeError error = step()) return error;
  }
  return std::nullopt;
}

MaybeError save(const KitNewOptions& options, const std::string& text, Session& session) {
  ReplaceOptions how;
  how.only_if_new = !options.force;
  how.mode = kSharedMode;
  const auto written = replace_file_atomically(options.kit, text, how);
  if (!written) return written.error();
  if (!written->doubt.empty())
    warn(session, options.kit + ": saved, but a power cut might undo it: " + written->doubt);
  return std::nullopt;
}

}  // namespace

ExitStatus run_kit_new(const KitNewOptions& options, Session& session) {
  if (const auto error = in_the_way(options.kit, options.force)) return fail(session, *error);
  const auto stash = open_stash(session);
  if (!stash) return fail(session, stash.error());
  NewKit kit;
  kit.one_sided = options.one_sided;
  kit.spoilage_percent = options.spoilage.value_or(0.0);
  if (const auto error = take_photos(options, kit)) return fail(session, *error);
  if (const auto error = ask_all(options, *stash, session, kit)) return fail(session, *error);
  const std::string text = new_kit_text(kit);
  // What is written must load: a sheet that the example card does not fit is told now.
  const auto read = parse_kit(text, options.kit);
  if (!read) {
    Error error = read.error();
    if (error.what.find("does not fit") == std::string::npos) return fail(session, error);
    error.advice =
        "the example card does not fit: choose a larger sheet, and make the card smaller in the file";
    return fail(session, error);
  }
  if (!options.dry_run) {
    if (const auto error = save(options, text, session)) return fail(session, *error);
  }
  const std::size_t faces = read->faces.size();
  if (session.mode == Mode::json)
    return answer(
        session, "kit new",
        {{"file", options.kit}, {"name", kit.name}, {"faces", faces}, {"dry_run", options.dry_run}});
  if (options.dry_run) {
    session.out << text;
    return ExitStatus::done;
  }
  if (session.mode == Mode::plain)
    session.out << "file\tfaces\n" << printable(options.kit) << '\t' << faces << '\n';
  hint(session,
       "wrote " + options.kit + "; open it in a text editor, then 'kithue kit check " + options.kit + "'");
  return ExitStatus::done;
}

void add_kit_new(CLI::App& command, Invocation& call) {
  auto options = std::make_shared<KitNewOptions>();
  command.add_option("KIT", options->kit, "The kit file to write")->required();
  command.add_option("--name", options->name, "Name of the kit (else that of the file)");
  command.add_option("--kits", options->kits, "How many kits")->type_name("N");
  command.add_option("--spares", options->spares, "Whole kits beyond those")->type_name("N");
  command.add_option("--spoilage", options->spoilage, "Pieces cut beyond what is needed, in percent")
      ->type_name("PERCENT")
      ->check(CLI::Range(0.0, 100.0));
  command.add_option("--page", options->page, "Paper in the printer: A4 or Letter")->type_name("SIZE");
  command.add_option("--pack-sheet", options->pack_sheet, "Size of a patterned sheet, as in \"12 x 12 in\"")
      ->type_name("SIZE");
  command.add_option("--copies", options->copies, "Of each sheet in a pack")->type_name("N");
  command.add_option("--sheets", options->sheets, "Different sheets in a pack, without photos")
      ->type_name("N");
  command.add_option("--photo", options->photos, "Photos of the sides: 1A, 1B, 2A ...")->type_name("FILE");
  command.add_flag("--one-sided", options->one_sided, "The paper has one patterned side");
  command.add_option("--base", options->base, "Stock of the card bases (else your lightest)")
      ->type_name("NAME");
  command.add_option("--mat", options->mat, "Stock of a mat (else none)")->type_name("NAME");
  command.add_option("--ink", options->ink, "Ink for words (else your darkest)")->type_name("NAME");
  command.add_flag("-f,--force", options->force, "Replace the file if it is there");
  command.add_flag("-n,--dry-run", options->dry_run, "Print it instead of writing it");
  command.final_callback([options, &call] {
    call.run = [options](Session& session) { return run_kit_new(*options, session); };
  });
}

}  // namespace kithue
