// SPDX-License-Identifier: MIT
#include "harness/scene.h"

#include <filesystem>
#include <fstream>
#include <iterator>

#include "paper/camera.h"
#include "paper/face.h"
#include "swatch/edit.h"
#include "swatch/stash_file.h"

namespace kithue::harness {
namespace {

namespace fs = std::filesystem;

constexpr const char* kKit =
    "name = \"Harbour Morning\"\n"
    "kits = 3\n"
    "page = \"A4\"\n"
    "[[face]]\n"
    "label = \"1A\"\n"
    "colours = [{ colour = \"lab(52 43 21)\", share = 0.6 }, { colour = \"lab(90 2 8)\", share = 0.4 }]\n"
    "[inks]\n"
    "choose = 1\n"
    "[[card]]\n"
    "name = \"Slipway\"\n"
    "[[card.piece]]\n"
    "name = \"base\"\n"
    "stock = \"swatch 0\"\n"
    "size = \"210 x 148 mm\"\n";
constexpr const char* kReadings =
    "name,kind,white,L,a,b\n"
    "Slipway,stock,D50/2,71.5,-3.25,12\n"
    "Tarred Rope,ink,D65/10,21,2,3.5\n"
    "Slipway,stock,D50/2,71.9,-3.1,12.2\n";

/// Invented swatches, all different.
Stash stash_of(std::size_t swatches) {
  Stash stash;
  for (std::size_t i = 0; i < swatches; ++i) {
    Swatch swatch;
    swatch.name = "swatch " + std::to_string(i);
    swatch.kind = i % 2 == 0 ? kithue::Kind::stock : kithue::Kind::ink;
    Reading reading;
    reading.lab = {20.0 + static_cast<double>(i % 71), static_cast<double>(i % 61) - 30.0,
                   static_cast<double>(i % 47) - 23.0};
    reading.batch = "first";
    swatch.readings.push_back(reading);
    if (i == 0) {
      reading.batch = "second";
      swatch.readings.push_back(reading);
    }
    append_swatch(stash, swatch);
  }
  return stash;
}

Files build_scene(std::size_t swatches) {
  Files files{{"kit.toml", kKit}, {"readings.csv", kReadings}, {"chips.jpg", photo_of_dots(64)}};
  if (swatches == 0) return files;
  Stash stash = stash_of(swatches);
  files["stash.cgats.v1"] = stash_text({});
  stash.swatches.front().note = "before";
  files["stash.cgats.v2"] = stash_text(stash);
  stash.swatches.front().note = "now";
  files["stash.cgats"] = stash_text(stash);
  return files;
}

std::string replaced(std::string text, const std::string& folder) {
  if (const auto at = text.find("{}"); at != std::string::npos) text.replace(at, 2, folder);
  return text;
}

}  // namespace

const std::vector<WritingCommand>& writing_commands() {
  static const std::vector<WritingCommand> commands{
      {"stash add", {"stash", "add", "New", "--kind", "stock", "--lab", "50,1,2", "--white", "D50/2"}, ""},
      {"stash edit note", {"stash", "edit", "swatch 0", "--note", "the last three sheets"}, ""},
      {"stash edit reading", {"stash", "edit", "swatch 0", "--reading", "61,2,3", "--white", "D65/10"}, ""},
      {"stash retire", {"stash", "retire", "swatch 0"}, ""},
      {"stash remove", {"stash", "remove", "swatch 0", "--force"}, ""},
      {"stash import", {"stash", "import", "{}/readings.csv"}, ""},
      {"measure",
       {"measure", "{}/chips.jpg", "--grid", "2x2", "--known", "1=lab(88 2 9)", "--name", "2=Kelp", "--kind",
        "stock"},
       ""},
      {"stash undo", {"stash", "undo"}, ""},
      {"stash export csv", {"stash", "export", "-o", "{}/out.csv"}, "out.csv"},
      {"stash export cgats", {"stash", "export", "-o", "{}/out.cgats"}, "out.cgats"},
      {"kit new", {"kit", "new", "{}/out.toml"}, "out.toml"},
      {"kit repeat", {"kit", "repeat", "{}/kit.toml", "--remember"}, "kit-history.csv", false},
      {"kit scraps", {"kit", "scraps", "{}/kit.toml", "--keep"}, "scraps.csv", false},
      {"kit count", {"kit", "count", "{}/kit.toml", "-o", "{}/out.csv"}, "out.csv"},
      {"measure picture",
       {"measure", "{}/chips.jpg", "--grid", "2x2", "-n", "--picture", "{}/out.svg"},
       "out.svg"},
      {"sheet", {"sheet", "{}/kit.toml", "-o", "{}/out.pdf"}, "out.pdf"},
      {"sheet svg", {"sheet", "{}/kit.toml", "-o", "{}/out.svg"}, "out.svg"},
      {"sheet html", {"sheet", "{}/kit.toml", "-o", "{}/out.html"}, "out.html"},
      {"harmony picture", {"harmony", "#c8553d", "--picture", "{}/out.svg"}, "out.svg"},
      {"clash picture", {"clash", "#336699", "#c8553d", "--picture", "{}/out.svg"}, "out.svg"},
  };
  return commands;
}

const Files& scene_files(std::size_t swatches) {
  static std::map<std::size_t, Files> built;
  const auto at = built.find(swatches);
  return at != built.end() ? at->second : built.emplace(swatches, build_scene(swatches)).first->second;
}

Scene::Scene(const Files& files) {
  for (const auto& [name, bytes] : files) std::ofstream(folder_ / name, std::ios::binary) << bytes;
}

Files Scene::files() const {
  Files found;
  for (const auto& entry : fs::directory_iterator(path())) {
    if (!entry.is_regular_file()) continue;
    std::ifstream in(entry.path(), std::ios::binary);
    found[entry.path().filename().string()] = {std::istreambuf_iterator<char>(in), {}};
  }
  return found;
}

Run Scene::run(const std::vector<std::string>& args) const {
  std::vector<std::string> real;
  for (const std::string& arg : args) real.push_back(replaced(arg, path()));
  return harness::run(real, {{"KITHUE_STASH", stash()}});
}

std::size_t Scene::temporaries() const {
  std::size_t count = 0;
  for (const auto& entry : fs::directory_iterator(path()))
    count += entry.path().filename().string().find(".tmp.") != std::string::npos ? 1 : 0;
  return count;
}

Start start_on(const Scene& scene, const std::string& program, const std::vector<std::string>& args) {
  Start start;
  start.words = {program};
  for (const std::string& arg : args) start.words.push_back(replaced(arg, scene.path()));
  start.environment = {"KITHUE_STASH=" + scene.stash(), "HOME=" + scene.path(), "PATH=/usr/bin:/bin"};
  return start;
}

std::string photo_of_dots(int width) {
  paper::Face face;
  face.height = 0.75;
  face.colours = {{{88, 2, 9}, 0.0}, {{48, 40, 22}, 0.0}, {{42, -8, -28}, 0.0}};
  for (int row = 0; row < 6; ++row) {
    for (int column = 0; column < 8; ++column)
      paper::add_circle(face, 1 + (row + column) % 2, {0.06 + 0.125 * column, 0.06 + 0.125 * row}, 0.035);
  }
  paper::Camera camera;
  camera.width = width;
  camera.samples = width > 4000 ? 1 : 2;
  SerialExecutor executor;
  return paper::jpeg_bytes(paper::photograph(face, camera, executor), 90);
}

std::string text_of(const Files& files, const std::string& name) {
  const auto at = files.find(name);
  return at == files.end() ? std::string() : at->second;
}

}  // namespace kithue::harness
