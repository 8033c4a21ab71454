// SPDX-License-Identifier: MIT
#include "harness/names.h"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "harness/scene.h"
#include "swatch/edit.h"
#include "swatch/stash_file.h"

namespace kithue::harness {
namespace {

/// A character that a terminal could obey, or that turns text around; "" when there is none.
std::string obeyed(std::string_view text, bool tabs) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const auto next = i + 1 < text.size() ? static_cast<unsigned char>(text[i + 1]) : 0U;
    const auto third = i + 2 < text.size() ? static_cast<unsigned char>(text[i + 2]) : 0U;
    if (byte < 0x20 && byte != '\n' && !(tabs && byte == '\t'))
      return "a control character " + std::to_string(byte);
    if (byte == 0x7F) return "DEL";
    if (byte == 0xC2 && next >= 0x80 && next < 0xA0) return "an 8-bit control";
    if (byte == 0xE2 && next == 0x80 && third >= 0xA8 && third <= 0xAE)
      return "a direction mark or line separator";
    if (byte == 0xE2 && next == 0x81 && third >= 0xA6 && third <= 0xA9) return "a direction mark";
  }
  return is_utf8(text) ? "" : "bytes that are not UTF-8";
}

long long count_of(std::string_view text, std::string_view part) {
  long long count = 0;
  for (auto at = text.find(part); at != std::string_view::npos; at = text.find(part, at + part.size()))
    ++count;
  return count;
}

/// Cells of one line of CSV, the quotes taken off.
std::vector<std::string> cells_of(std::string_view line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (c == '"') {
      if (quoted && i + 1 < line.size() && line[i + 1] == '"') {
        cells.back() += c;
        ++i;
      } else {
        quoted = !quoted;
      }
    } else if (c == ',' && !quoted) {
      cells.emplace_back();
    } else {
      cells.back() += c;
    }
  }
  return cells;
}

bool starts_formula(const std::string& cell) {
  if (cell.empty() || parse_number(cell)) return false;
  constexpr std::array kStarts{
      "=", "+", "-", "@", "\t", "\r", "\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0"};
  return std::any_of(kStarts.begin(), kStarts.end(),
                     [&](const char* start) { return cell.starts_with(start); });
}

Stash stash_with(const std::string& name) {
  Stash stash;
  for (int i = 0; i < 3; ++i) {
    Swatch swatch;
    swatch.name = i == 1 ? "Slipway" : i == 2 ? "Tarred Rope" : name;
    swatch.kind = i == 2 ? kithue::Kind::ink : kithue::Kind::stock;
    swatch.note = i == 1 ? name : "";
    swatch.batch = i == 1 ? name : "";
    Reading reading;
    reading.lab = {60.0 - 20.0 * i, 10.0 * i, 5.0};
    reading.source = name;
    swatch.readings.push_back(reading);
    append_swatch(stash, swatch);
  }
  return stash;
}

/// Commands whose output or error holds the name. "{}" is the folder, "{name}" the name itself.
const std::vector<std::vector<std::string>>& printing_commands() {
  static const std::vector<std::vector<std::string>> commands{
      {"stash", "list"},
      {"stash", "show", "id:1"},
      {"stash", "show", "id:2"},
      {"stash", "check"},
      {"stash", "export"},
      {"stash", "retire", "id:1", "--dry-run"},
      {"stash", "remove", "id:1", "--dry-run"},
      {"stash", "edit", "id:1", "--note", "{name}", "--dry-run"},
      {"stash", "add", "{name}", "--kind", "ink", "--lab", "50,1,2", "--white", "D50/2", "--dry-run"},
      {"stash", "undo", "--dry-run"},
      {"stash", "import", "{}/readings.csv", "--dry-run"},
      {"match", "lab(60 0 5)"},
      {"match", "{name}"},
      {"clash", "id:1", "id:2", "--why"},
      {"clash", "id:1", "id:2", "--picture", "{}/out.svg"},
      {"standin", "id:1"},
      {"harmony", "id:1"},
      {"overprint", "id:3", "id:1"},
      {"tones"},
      {"choose", "{}/kit.toml"},
      {"sheet", "{}/kit.toml", "-o", "{}/out.pdf"},
      {"stash", "export", "-o", "{}/out.csv"},
      {"extract", "{name}"},
      {"sheet", "{name}"},
      {"{name}"},
      {"--stash", "{name}", "stash", "list"},
  };
  return commands;
}

std::string filled(std::string text, const std::string& what, const std::string& with) {
  if (const auto at = text.find(what); at != std::string::npos) text.replace(at, what.size(), with);
  return text;
}

struct Printed {
  Run run;
  Files files;
};

Printed print(const std::vector<std::string>& command, const std::string& mode, const std::string& name) {
  Files files;
  files["stash.cgats"] = stash_text(stash_with(is_utf8(name) ? name : "x"));
  std::string csv_name = "\"";
  for (const char c : name) csv_name += c == '"' ? std::string("\"\"") : std::string(1, c);
  files["readings.csv"] =
      "name,kind,white,L,a,b\n" + csv_name + "\",stock,D50/2,71,1,2\nSlipway,stock,D50/2,500,1,2\n";
  // A literal string of TOML 1.0 cannot hold every name; the escape of a basic one can.
  std::string toml;
  for (const char c : name) {
    constexpr char kHex[] = "0123456789ABCDEF";
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7F || c == '"' || c == '\\')
      toml += std::string("\\u00") + kHex[byte >> 4U] + kHex[byte & 15U];
    else
      toml += c;
  }
  files["kit.toml"] = "name = \"" + toml + "\"\nkits = 3\n[[face]]\nlabel = \"" + toml +
                      "\"\ncolours = [{ colour = \"lab(52 43 21)\", share = 1.0 }]\n[inks]\nchoose = 1\n";
  const Scene scene(files);
  std::vector<std::string> args;
  for (const std::string& arg : command) args.push_back(filled(arg, "{name}", name));
  if (!mode.empty()) args.push_back(mode);
  Printed printed{scene.run(args), {}};
  printed.files = scene.files();
  // The folder of the scene has another name each time.
  for (std::string* text : {&printed.run.out, &printed.run.err}) {
    for (auto at = text->find(scene.path()); at != std::string::npos; at = text->find(scene.path()))
      text->replace(at, scene.path().size(), "FOLDER");
  }
  return printed;
}

void check_files(Tally& tally, const std::string& where, const Printed& hostile, const Printed& plain) {
  for (const auto& [file, bytes] : hostile.files) {
    const std::string other = text_of(plain.files, file);
    if (other.empty()) {
      if (file.find(".lock") == std::string::npos)
        tally.fail(where + "a file that was not asked for: " + file);
      continue;
    }
    if (file == "out.svg") {
      for (const char* part : {"<", "=\""}) {
        if (count_of(bytes, part) != count_of(other, part)) tally.fail(where + "other elements in the SVG");
      }
      if (!obeyed(bytes, false).empty()) tally.fail(where + obeyed(bytes, false) + " in the SVG");
    }
    if (file == "out.pdf") {
      for (const char* part : {"endobj", "/Launch", "/JavaScript", "/URI"}) {
        const bool objects = std::string(part) == "endobj";
        if (objects ? count_of(bytes, part) > count_of(other, part) + 8
                    : count_of(bytes, part) != count_of(other, part))
          tally.fail(where + "other objects in the PDF");
      }
    }
    if (file == "out.csv") {
      for (const std::string_view line : split(bytes, '\n')) {
        for (const std::string& cell : cells_of(line)) {
          if (starts_formula(cell)) tally.fail(where + "a formula in the CSV: " + cell);
        }
      }
    }
  }
}

void check_printed(Tally& tally, const std::string& where, const std::string& mode, const Printed& hostile,
                   const Printed& plain) {
  // The export is a file that happens to go to standard output: its bytes are the data, not words for a
  // person.
  const bool csv_out = hostile.run.out.starts_with("swatch_id,");
  if (csv_out) {
    if (const std::string what = obeyed(hostile.run.err, false); !what.empty()) tally.fail(where + what);
    return;
  }
  for (const std::string& text : {hostile.run.out, hostile.run.err}) {
    if (const std::string what = obeyed(text, mode == "--plain"); !what.empty()) tally.fail(where + what);
  }
  if (mode == "--json") {
    if (!nlohmann::json::accept(hostile.run.out)) tally.fail(where + "the JSON does not parse");
  } else if (hostile.run.status == plain.run.status && mode == "--plain") {
    if (count_of(hostile.run.out, "\n") != count_of(plain.run.out, "\n")) tally.fail(where + "a forged line");
  }
  if (hostile.run.status == 70) tally.fail(where + "our fault");
  // One line an error or warning: each starts with the program's name.
  for (const std::string_view line : split(hostile.run.err, '\n')) {
    if (line.starts_with("kithue: saved") || line.starts_with("kithue: done"))
      tally.fail(where + "a forged message");
  }
}

constexpr std::array kModes{"", "--plain", "--json"};

void check_name(Tally& tally, const std::vector<std::string>& command, const std::string& mode,
                const std::string& name, const Printed& plain) {
  const Printed hostile = print(command, mode, name);
  ++tally.tried;
  ++tally.fired;
  const std::string where = command.front() + (command.size() > 1 ? " " + command[1] : "") + " " + mode +
                            ", name \"" + printable(name.substr(0, 60)) + "\": ";
  check_printed(tally, where, mode, hostile, plain);
  check_files(tally, where, hostile, plain);
}

}  // namespace

Tally print_hostile_names(std::size_t names_step) {
  Tally tally{.name = "hostile names in every output"};
  const std::vector<std::string> names = hostile_names();
  for (const std::vector<std::string>& command : printing_commands()) {
    for (const char* mode : kModes) {
      const Printed plain = print(command, mode, "Plain Sand");
      for (std::size_t i = 0; i < names.size(); i += names_step)
        check_name(tally, command, mode, names[i], plain);
    }
  }
  return tally;
}

Tally print_name(std::size_t turn, const std::string& name) {
  Tally tally{.name = "a name in an output"};
  const std::size_t which = turn / kModes.size() % printing_commands().size();
  const std::string mode = kModes[turn % kModes.size()];
  const auto& command = printing_commands()[which];
  static std::map<std::string, Printed> plain;
  const std::string key = std::to_string(which) + mode;
  auto at = plain.find(key);
  if (at == plain.end()) at = plain.emplace(key, print(command, mode, "Plain Sand")).first;
  check_name(tally, command, mode, name, at->second);
  return tally;
}

}  // namespace kithue::harness
