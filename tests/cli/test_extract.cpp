// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/extract.h"
#include "cli/threads.h"
#include "paper/camera.h"

using namespace kithue;

namespace {

/// A PNG on disk that goes away with the test.
class PhotoFile {
 public:
  explicit PhotoFile(const std::string& name)
      : path_((std::filesystem::temp_directory_path() / (std::to_string(::getpid()) + name)).string()) {
    paper::Face face{4.0, 3.0, {{{90.0, 0.0, 8.0}}, {{40.0, 50.0, 25.0}}}, {}};
    paper::add_circle(face, 1, {2.0, 1.5}, 1.0);
    paper::Camera camera;
    camera.width = 320;
    SerialExecutor executor;
    std::ofstream(path_, std::ios::binary) << paper::png_bytes(paper::photograph(face, camera, executor));
  }
  ~PhotoFile() { std::filesystem::remove(path_); }
  PhotoFile(const PhotoFile&) = delete;
  PhotoFile& operator=(const PhotoFile&) = delete;
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_;
};

struct Ran {
  ExitStatus status;
  std::string out;
  std::string err;
};

Ran run(const ExtractCommand& options, Mode mode) {
  std::ostringstream out;
  std::ostringstream err;
  SerialExecutor executor;
  Session session{out, err, executor};
  session.mode = mode;
  const ExitStatus status = run_extract(options, session);
  return {status, out.str(), err.str()};
}

}  // namespace

TEST_CASE("crop: pixels, per cent and a mixture are read; all else is refused") {
  const auto mixed = crop_from_text("10%, 20 ,50%,30");
  REQUIRE(mixed);
  const auto window = crop_in_pixels(*mixed, 200, 100);
  REQUIRE(window);
  CHECK(window->x == 20);
  CHECK(window->y == 20);
  CHECK(window->width == 100);
  CHECK(window->height == 30);
  for (const char* wrong :
       {"", "1,2,3", "1,2,3,4,5", "a,b,c,d", "-1,0,5,5", "0,0,0,5", "0,0,5,0%", "1e9,0,5,5"}) {
    CAPTURE(wrong);
    const auto words = crop_from_text(wrong);
    REQUIRE_FALSE(words);
    CHECK(words.error().kind == ErrorKind::bad_usage);
  }
}

TEST_CASE("crop: a window that leaves the picture is refused") {
  for (const char* outside : {"0,0,201,100", "150,0,51,10", "0,99,10,2", "50%,0,51%,10", "0,0,0.2,5"}) {
    CAPTURE(outside);
    const auto words = crop_from_text(outside);
    REQUIRE(words);
    CHECK_FALSE(crop_in_pixels(*words, 200, 100));
  }
}

TEST_CASE("extract --json: the fields that scripts rely on") {
  const PhotoFile photo("kithue_extract_json.png");
  ExtractCommand options;
  options.photos = {photo.path()};
  const Ran ran = run(options, Mode::json);
  CHECK(ran.status == ExitStatus::done);
  const auto answer = nlohmann::json::parse(ran.out);
  CHECK(answer["schema"] == 1);
  CHECK(answer["command"] == "extract");
  const auto& face = answer["data"]["faces"][0];
  CHECK(face["photo"] == photo.path());
  CHECK(face["pixels"] == nlohmann::json({320, 240}));
  CHECK(face["profile"].is_string());
  REQUIRE(face["colours"].size() == 2);
  const auto& ground = face["colours"][0];
  CHECK(ground["role"] == "ground");
  CHECK(ground["lab"].size() == 3);
  CHECK(ground["hex"].get<std::string>().size() == 7);
  CHECK(ground["share"].get<double>() > 0.7);
  CHECK(ground["words"].is_string());
  CHECK(face["trust"]["grade"] == "fair");
  CHECK(face["trust"]["de00"].get<double>() > 3.0);
  CHECK(face["trust"]["reasons"].size() >= 1);
  CHECK(face["sheet"]["found"] == false);
  CHECK(face["sheet"]["words"].get<std::string>().find("nothing was cut off") == 0);
}

TEST_CASE("extract --plain: a header, a row a colour, the photo in each") {
  const PhotoFile photo("kithue_extract_plain.png");
  ExtractCommand options;
  options.photos = {photo.path(), photo.path()};
  const Ran ran = run(options, Mode::plain);
  CHECK(ran.out.starts_with("photo\tcolour\thex\tshare\trole\twords\ttrust\tde00\n"));
  CHECK(std::count(ran.out.begin(), ran.out.end(), '\n') == 5);
}

TEST_CASE("extract --crop: only the window is looked at") {
  const PhotoFile photo("kithue_extract_crop.png");
  ExtractCommand options;
  options.photos = {photo.path()};
  options.crop = "40%,40%,20%,20%";
  const Ran ran = run(options, Mode::json);
  const auto answer = nlohmann::json::parse(ran.out);
  CHECK(answer["data"]["faces"][0]["colours"].size() == 1);
  CHECK(answer["data"]["faces"][0]["pixels"] == nlohmann::json({64, 48}));
}

TEST_CASE("extract: a photo that cannot be read is said, the others are done, the status tells") {
  const PhotoFile photo("kithue_extract_some.png");
  ExtractCommand options;
  options.photos = {"/nowhere/at/all.jpg", photo.path()};
  const Ran some = run(options, Mode::json);
  CHECK(some.status == ExitStatus::cannot_read_write);
  CHECK(some.err.find("/nowhere/at/all.jpg") != std::string::npos);
  CHECK(nlohmann::json::parse(some.out)["data"]["faces"].size() == 1);

  options.photos = {"/nowhere/at/all.jpg"};
  const Ran none = run(options, Mode::text);
  CHECK(none.status == ExitStatus::cannot_read_write);
  CHECK(std::count(none.err.begin(), none.err.end(), '\n') == 1);
}

TEST_CASE("extract --white: the card corrects the face, and its colour is said or asked for") {
  const PhotoFile photo("kithue_extract_white.png");
  ExtractCommand options;
  options.photos = {photo.path()};
  options.white = "0,0,20,20";
  options.white_is = "lab(80 0 0)";  // the ground was drawn as lab(90 0 8)
  const Ran ran = run(options, Mode::json);
  CHECK(ran.status == ExitStatus::done);
  const auto face = nlohmann::json::parse(ran.out)["data"]["faces"][0];
  const auto lab = face["colours"][0]["lab"].get<std::vector<double>>();
  CHECK(std::abs(lab[0] - 80.0) < 0.5);
  CHECK(std::abs(lab[1]) < 0.5);
  CHECK(std::abs(lab[2]) < 0.5);
  CHECK(face["trust"]["reasons"][0].get<std::string>().find("corrected") == 0);

  options.white_is = "";
  CHECK(run(options, Mode::text).err.find("--white-is") != std::string::npos);
}

TEST_CASE("extract --white-is: alone it looks for the card, corrects by it and says where, or says why not") {
  // A sheet on a brown table with a card beside it; under a light with too little blue.
  paper::Face face{1.0, 0.75, {{{42.0, 12.0, 22.0}}, {{84.0, 2.0, 22.0}}, {{94.0, 0.0, 1.0}}}, {}};
  paper::add_polygon(face, 1, paper::turned(paper::rectangle(0.08, 0.08, 0.62, 0.68), {0.35, 0.38}, 0.05));
  paper::add_polygon(face, 2, paper::rectangle(0.76, 0.1, 0.92, 0.3));
  paper::Camera camera;
  camera.width = 800;
  camera.samples = 2;
  camera.exposure = 0.9;
  camera.cast.row[2][2] = 0.7;
  SerialExecutor executor;
  const std::string path =
      (std::filesystem::temp_directory_path() / (std::to_string(::getpid()) + "kithue_card.png")).string();
  std::ofstream(path, std::ios::binary) << paper::png_bytes(paper::photograph(face, camera, executor));
  ExtractCommand options;
  options.photos = {path};
  options.white_is = "lab(94 0 1)";
  const Ran ran = run(options, Mode::json);
  const auto found = nlohmann::json::parse(ran.out)["data"]["faces"][0];
  CHECK(found["sheet"]["found"] == true);
  REQUIRE(found["colours"].size() == 1);
  const auto lab = found["colours"][0]["lab"].get<std::vector<double>>();
  CHECK(std::abs(lab[0] - 84.0) < 0.5);
  CHECK(std::abs(lab[1] - 2.0) < 0.5);
  // The cast was put on the camera's channels, and a lamp is undone in the space of Bradford.
  CHECK(std::abs(lab[2] - 22.0) < 1.0);
  CHECK(found["trust"]["reasons"].dump().find("a card was found at") != std::string::npos);
  options.white_is = "lab(50 0 0)";
  CHECK(run(options, Mode::text).err.find("not corrected") != std::string::npos);
  std::filesystem::remove(path);
}

TEST_CASE("extract --chip: a literal or a window that cannot be read is one clear line") {
  const PhotoFile photo("kithue_extract_chip.png");
  ExtractCommand options;
  options.photos = {photo.path()};
  for (const char* wrong : {"lab(50 0 0)", "=1,2,3,4", "lab(50 0 0)=1,2,3"}) {
    CAPTURE(wrong);
    options.chips = {wrong};
    const Ran ran = run(options, Mode::text);
    CHECK(ran.status == ExitStatus::wrong_usage);
    CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
  }
  options.chips = {"lab(90 0 8)=300,230,40,40"};
  CHECK(run(options, Mode::text).status == ExitStatus::bad_input);
}

TEST_CASE("extract: many photos give the same answer with any number of threads, in the order given") {
  const PhotoFile photo("kithue_extract_many.png");
  ExtractCommand options;
  options.photos = {photo.path(), "/nowhere.png", photo.path(), photo.path()};
  std::string first;
  for (const std::size_t threads : {1U, 2U, 8U}) {
    std::ostringstream out;
    std::ostringstream err;
    ThreadExecutor executor(threads);
    Session session{out, err, executor};
    session.mode = Mode::json;
    run_extract(options, session);
    if (first.empty()) first = out.str();
    CHECK(out.str() == first);
  }
}
