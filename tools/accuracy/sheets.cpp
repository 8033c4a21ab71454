// SPDX-License-Identifier: MIT
// How often the sheet is found in drawn scenes, and how often something is cut off a face that fills the
// frame. Usage: kithue_sheets [--scenes N] [--faces N] [--first SEED] [--list] [--keep DIR] [PHOTO...] With
// photos it tells where it finds a sheet in each.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "accuracy/colours.h"
#include "accuracy/families.h"
#include "cli/threads.h"
#include "colour/difference.h"
#include "extract/palette.h"
#include "extract/sheet.h"
#include "paper/scene.h"
#include "photo/photo.h"

using namespace kithue;
using namespace kithue::accuracy;

namespace {

struct Options {
  int scenes = 60;
  int faces = 100;
  int first = 1;
  bool list = false;
  std::string keep;
  std::vector<std::string> photos;
};

Options options_of(int argc, char** argv) {
  Options options;
  for (int i = 1; i < argc; ++i) {
    const std::string word = argv[i];
    const auto number = [&] { return i + 1 < argc ? std::stoi(argv[++i]) : 0; };
    if (word == "--scenes") {
      options.scenes = number();
    } else if (word == "--faces") {
      options.faces = number();
    } else if (word == "--first") {
      options.first = number();
    } else if (word == "--list") {
      options.list = true;
    } else if (word == "--keep" && i + 1 < argc) {
      options.keep = argv[++i];
    } else {
      options.photos.push_back(word);
    }
  }
  return options;
}

/// How the photo is made into the numbers that the program sees.
Photo stored(const paper::Shot& shot, paper::Dice& dice, const std::string& keep, const std::string& name) {
  const std::string bytes = dice.unit() < 0.5 ? paper::jpeg_bytes(shot, dice.whole(85, 95)) : png_bytes(shot);
  if (!keep.empty()) std::ofstream(keep + "/" + name, std::ios::binary) << bytes;
  auto photo = decode_photo(bytes, name);
  return *std::move(photo);
}

const Family& family_of(int seed) {
  const auto all = tuning_families();
  return all[static_cast<std::size_t>(seed) % all.size()];
}

paper::Scene random_scene(paper::Dice& dice, const paper::Face& face, int seed) {
  constexpr std::array<Lab, 8> kTables{{{60, 12, 24},
                                        {38, 12, 18},
                                        {88, 0, 2},
                                        {70, 4, 20},
                                        {30, 0, -2},
                                        {52, 0, 1},
                                        {78, -3, 8},
                                        {45, -12, -14}}};
  paper::Scene scene;
  scene.seed = static_cast<std::uint64_t>(seed);
  scene.height = dice.unit() < 0.5 ? 0.75 : 1.33;
  scene.turn_degrees = dice.between(-10.0, 10.0);
  scene.table = kTables[static_cast<std::size_t>(dice.whole(0, 7))];
  scene.kind = static_cast<paper::TableKind>(dice.whole(0, 3));
  scene.texture = scene.kind == paper::TableKind::plain ? 0.0 : dice.between(0.02, 0.08);
  if (dice.unit() < 0.6) {
    scene.shadow = dice.between(0.25, 0.6);
    scene.shadow_offset = {dice.between(-0.02, 0.02), dice.between(0.0, 0.025)};
    scene.shadow_softness = dice.between(0.004, 0.02);
  }
  // As large as the frame lets it be when turned, then smaller by a margin, then put somewhere inside.
  const double turn = std::abs(scene.turn_degrees) * 3.14159265358979 / 180.0;
  const double tall = face.height / face.width;
  const double box_width = std::cos(turn) + tall * std::sin(turn);
  const double box_height = std::sin(turn) + tall * std::cos(turn);
  scene.width = std::min(1.0 / box_width, scene.height / box_height) * dice.between(0.7, 0.93);
  const double free_x = 1.0 - scene.width * box_width;
  const double free_y = scene.height - scene.width * box_height;
  scene.centre = {0.5 + free_x * dice.between(-0.3, 0.3),
                  0.5 * scene.height + free_y * dice.between(-0.3, 0.3)};
  return scene;
}

paper::Camera random_camera(paper::Dice& dice, int seed) {
  paper::Camera camera;
  camera.width = dice.whole(900, 2000);
  camera.samples = 2;
  camera.seed = static_cast<std::uint64_t>(seed);
  camera.fall_right = dice.between(-0.08, 0.08);
  camera.fall_down = dice.between(-0.08, 0.08);
  camera.fall_corner = dice.between(0.0, 0.08);
  camera.exposure = 0.9;
  return camera;
}

/// The largest distance of a found corner outside the sheet, and of a sheet's corner from its found one, as
/// parts of the sheet's width.
std::array<double, 2> misses(const Sheet& sheet, const paper::SceneShot& shot) {
  const auto& c = shot.corners;
  const double size = std::hypot(c[1].x - c[0].x, c[1].y - c[0].y);
  double out = -1e9;
  double lost = 0.0;
  for (std::size_t k = 0; k < 4; ++k) {
    for (std::size_t i = 0; i < 4; ++i) {
      const auto& p = c[i];
      const auto& q = c[(i + 1) % 4];
      const double along = std::hypot(q.x - p.x, q.y - p.y);
      const double side =
          ((q.x - p.x) * (sheet.corners[k].y - p.y) - (q.y - p.y) * (sheet.corners[k].x - p.x));
      out = std::max(out, -side / along);
    }
    lost = std::max(lost, std::hypot(sheet.corners[k].x - c[k].x, sheet.corners[k].y - c[k].y));
  }
  return {out / size, lost / size};
}

void scenes(const Options& options, Executor& executor) {
  int right = 0;
  int wrong = 0;
  int table_kept = 0;
  for (int i = 0; i < options.scenes; ++i) {
    const int seed = options.first + i;
    paper::Dice dice(static_cast<std::uint64_t>(seed) * 104729U);
    const paper::Camera camera = random_camera(dice, seed);
    const paper::Face face = family_of(seed).draw(dice, 1.5 / camera.width);
    const paper::Scene scene = random_scene(dice, face, seed);
    const paper::SceneShot shot = paper::photograph_scene(face, scene, camera, executor);
    const std::string name = "scene" + std::to_string(seed) + ".img";
    const Photo photo = stored(shot.shot, dice, options.keep, name);
    const Sheet sheet = find_sheet(small_picture_of(*photo.light, executor), *photo.light, executor);
    const auto [out, lost] = misses(sheet, shot);
    const bool good = sheet.certain && out <= 0.002 && lost < 0.06;
    right += good ? 1 : 0;
    wrong += sheet.certain && !good ? 1 : 0;
    std::string table;
    if (sheet.certain) {
      const Palette palette = extract_palette(SheetRows(*photo.light, sheet), {}, executor);
      double nearest = 1e9;
      double own = 1e9;
      for (const PaletteColour& colour : palette.colours)
        nearest = std::min(nearest, ciede2000(colour.lab, scene.table));
      for (const paper::Paint& paint : face.colours) own = std::min(own, ciede2000(paint.lab, scene.table));
      if (nearest < 3.0 && own > 6.0) {
        ++table_kept;
        table = " table in the palette";
      }
    }
    if (options.list) {
      std::printf("scene %3d %-16s %s turn %5.1f table %d texture %.2f shadow %.2f over %6.3f lost %5.3f%s\n",
                  seed, std::string(family_of(seed).name).c_str(),
                  good            ? "right"
                  : sheet.certain ? "WRONG"
                                  : "none ",
                  scene.turn_degrees, static_cast<int>(scene.kind), scene.texture, scene.shadow, out, lost,
                  table.c_str());
    }
  }
  std::printf("scenes: %d, found right %d, found wrong %d, not found %d, table in the palette %d\n",
              options.scenes, right, wrong, options.scenes - right - wrong, table_kept);
}

void faces(const Options& options, Executor& executor) {
  int cut = 0;
  for (int i = 0; i < options.faces; ++i) {
    const int seed = options.first + i;
    paper::Dice dice(static_cast<std::uint64_t>(seed) * 15485863U);
    const paper::Camera camera = random_camera(dice, seed);
    const paper::Face face = family_of(seed).draw(dice, 1.0 / camera.width);
    const paper::Shot shot = paper::photograph(face, camera, executor);
    const Photo photo = stored(shot, dice, options.keep, "face" + std::to_string(seed) + ".img");
    const Sheet sheet = find_sheet(small_picture_of(*photo.light, executor), *photo.light, executor);
    if (!sheet.certain) continue;
    ++cut;
    std::printf("face %d %s CUT: %s\n", seed, std::string(family_of(seed).name).c_str(), sheet.words.c_str());
  }
  std::printf("faces that fill the frame: %d, cut wrongly %d\n", options.faces, cut);
}

void photos(const Options& options, Executor& executor) {
  for (const std::string& path : options.photos) {
    std::ifstream file(path, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(file), {}};
    const auto photo = decode_photo(bytes, path);
    if (!photo) {
      std::printf("%s: not read\n", path.c_str());
      continue;
    }
    const Sheet sheet = find_sheet(small_picture_of(*photo->light, executor), *photo->light, executor);
    std::printf("%s: %d x %d: %s\n", path.c_str(), photo->width, photo->height, sheet.words.c_str());
    if (!sheet.certain) continue;
    for (const Spot& corner : sheet.corners) std::printf("  %.0f,%.0f", corner.x, corner.y);
    std::printf("\n");
  }
}

}  // namespace

int main(int argc, char** argv) {
  const Options options = options_of(argc, argv);
  ThreadExecutor executor(0);
  if (!options.photos.empty()) {
    photos(options, executor);
    return 0;
  }
  faces(options, executor);
  scenes(options, executor);
}
