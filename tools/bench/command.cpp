// SPDX-License-Identifier: MIT
// The whole command on files: `kithue extract` beside the bare stb_image decode of the same file and, where
// they are there, ImageMagick's `-colors` and OpenCV's k-means at quarter size; then many photos on one and
// on two threads. Usage: bench_command KITHUE FOLDER [runs] [photos]   FOLDER: the JPEGs to use, such as
// `kithue_accuracy --keep FOLDER` writes. Wall times are medians, on a busy machine the least tells more; CPU
// is user and system time of the run with the least. Every program is started anew each time.
#include <fcntl.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <string>
#include <vector>

#define STB_IMAGE_IMPLEMENTATION
#define STB_IMAGE_STATIC
#define STBI_ONLY_JPEG
#define STBI_NO_STDIO
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wunused-function"
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wsign-conversion"
#include <stb/stb_image.h>
#pragma GCC diagnostic pop

extern char** environ;  // NOLINT(readability-redundant-declaration): POSIX asks for it

namespace {

/// What some runs took.
struct Taken {
  double median_ms = 0.0;
  double least_ms = 1e30;
  double cpu_ms = 1e30;
  double peak_mb = 0.0;
};

double cpu_ms(const rusage& used) {
  const auto ms = [](const timeval& t) {
    return 1e3 * static_cast<double>(t.tv_sec) + 1e-3 * static_cast<double>(t.tv_usec);
  };
  return ms(used.ru_utime) + ms(used.ru_stime);
}

/// `work` gives the CPU time and the peak memory (kB) of a run.
Taken measured(int runs, const std::function<void(double& cpu, double& peak)>& work) {
  Taken out;
  std::vector<double> times;
  for (int i = 0; i < runs; ++i) {
    double cpu = 0.0;
    double peak = 0.0;
    const auto begin = std::chrono::steady_clock::now();
    work(cpu, peak);
    times.push_back(
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begin).count());
    out.cpu_ms = std::min(out.cpu_ms, cpu);
    out.peak_mb = std::max(out.peak_mb, peak / 1024.0);
  }
  std::sort(times.begin(), times.end());
  out.median_ms = times[times.size() / 2];
  out.least_ms = times.front();
  return out;
}

/// Starts a program with its outputs thrown away, and ends the bench when it fails: its time would mean
/// nothing.
void run(const std::vector<std::string>& words, double& cpu, double& peak) {
  std::vector<char*> list;
  for (const std::string& word : words) list.push_back(const_cast<char*>(word.c_str()));
  list.push_back(nullptr);
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
  posix_spawn_file_actions_addopen(&actions, 2, "/dev/null", O_WRONLY, 0);
  pid_t child = 0;
  int status = 1;
  rusage used{};
  if (posix_spawnp(&child, list[0], &actions, nullptr, list.data(), environ) == 0) {
    wait4(child, &status, 0, &used);
  }
  posix_spawn_file_actions_destroy(&actions);
  if (status != 0) {
    std::printf("failed: %s\n", words.front().c_str());
    std::exit(1);
  }
  cpu = cpu_ms(used);
  peak = static_cast<double>(used.ru_maxrss);
}

Taken command(int runs, const std::vector<std::string>& words) {
  return measured(runs, [&](double& cpu, double& peak) { run(words, cpu, peak); });
}

/// The first line that a program prints, or nothing when there is no such program.
std::string first_line(const std::string& line) {
  std::string out;
  FILE* const pipe = popen((line + " 2>/dev/null").c_str(), "r");
  if (pipe == nullptr) return out;
  for (int c = std::fgetc(pipe); c != EOF && c != '\n'; c = std::fgetc(pipe)) out += static_cast<char>(c);
  pclose(pipe);
  return out;
}

struct Bare {
  Taken taken;
  double megapixels = 0.0;
};

Bare decoded_here(int runs, const std::string& bytes) {
  Bare out;
  out.taken = measured(runs, [&](double& cpu, double&) {
    rusage before{};
    getrusage(RUSAGE_SELF, &before);
    int width = 0;
    int height = 0;
    int channels = 0;
    stbi_image_free(stbi_load_from_memory(reinterpret_cast<const stbi_uc*>(bytes.data()),
                                          static_cast<int>(bytes.size()), &width, &height, &channels, 3));
    out.megapixels = static_cast<double>(width) * height / 1e6;
    rusage after{};
    getrusage(RUSAGE_SELF, &after);
    cpu = cpu_ms(after) - cpu_ms(before);
  });
  return out;
}

/// The bare decode by stb_image, and how large the picture is. In a process of its own: what this one ever
/// held would count as the peak of every program that it starts.
Bare bare_decode(int runs, const std::string& bytes) {
  Bare out;
  int ends[2];
  if (pipe(ends) != 0) std::exit(1);
  const pid_t child = fork();
  if (child == 0) {
    const Bare mine = decoded_here(runs, bytes);
    _exit(write(ends[1], &mine, sizeof mine) == sizeof mine ? 0 : 1);
  }
  int status = 1;
  const bool told = child > 0 && read(ends[0], &out, sizeof out) == sizeof out;
  if (child > 0) waitpid(child, &status, 0);
  close(ends[0]);
  close(ends[1]);
  if (!told || status != 0) {
    std::printf("failed: the bare decode\n");
    std::exit(1);
  }
  return out;
}

std::vector<std::string> photos_in(const char* folder) {
  std::vector<std::string> photos;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() == ".jpg") photos.push_back(entry.path().string());
  }
  std::sort(photos.begin(), photos.end());
  return photos;
}

/// Other programs that make palettes; the words before the photo and after it.
struct Peer {
  std::string name;
  std::vector<std::string> before;
  std::vector<std::string> after;
};

std::vector<Peer> peers_beside(const std::string& own) {
  std::vector<Peer> peers;
  const std::string magick = first_line("convert -version");
  if (magick.starts_with("Version: ImageMagick")) {
    std::printf("%s\n", magick.c_str());
    peers.push_back({"magick", {"convert"}, {"-resize", "25%", "-colors", "6", "-unique-colors", "txt:-"}});
  } else {
    std::printf("ImageMagick: missing (Debian package imagemagick), left out\n");
  }
  const std::string opencv = (std::filesystem::path(own).parent_path() / "bench_opencv").string();
  const std::string version = first_line("'" + opencv + "' --version");
  if (!version.empty()) {
    std::printf("OpenCV %s\n", version.c_str());
    peers.push_back({"opencv", {opencv}, {}});
  } else {
    std::printf("OpenCV: missing (built with libopencv-imgcodecs-dev and libopencv-imgproc-dev), left out\n");
  }
  return peers;
}

void print_row(const std::string& kithue, const std::string& photo, int runs, double start,
               const std::vector<Peer>& peers) {
  std::ifstream in(photo, std::ios::binary);
  const std::string bytes((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
  const auto [bare, megapixels] = bare_decode(runs, bytes);
  const Taken whole = command(runs, {kithue, "extract", photo});
  std::printf("%-24s %5.1f %7.1f %7.1f %7.1f %6.1f %7.1f %7.1f %7.1f %5.0f %6.2f %6.2f",
              std::filesystem::path(photo).stem().c_str(), megapixels, bare.median_ms, bare.least_ms,
              bare.cpu_ms, start, whole.median_ms, whole.least_ms, whole.cpu_ms, whole.peak_mb,
              whole.median_ms / bare.median_ms, whole.least_ms / bare.least_ms);
  for (const Peer& peer : peers) {
    std::vector<std::string> words = peer.before;
    words.push_back(photo);
    words.insert(words.end(), peer.after.begin(), peer.after.end());
    const Taken other = command(std::min(runs, 3), words);
    std::printf(" %8.1f %6.1f", other.median_ms, other.median_ms / whole.median_ms);
  }
  std::printf("\n");
  std::fflush(stdout);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) {
    std::printf("usage: bench_command KITHUE FOLDER [runs] [photos]\n");
    return 2;
  }
  const std::string kithue = argv[1];
  const int runs = argc > 3 ? std::stoi(argv[3]) : 5;
  const std::size_t many = argc > 4 ? std::stoul(argv[4]) : 48;
  const std::vector<std::string> photos = photos_in(argv[2]);
  if (photos.empty()) {
    std::printf("no .jpg in %s\n", argv[2]);
    return 2;
  }
  const std::vector<Peer> peers = peers_beside(argv[0]);
  std::printf("stb_image %d; %d runs; ms: median, least, CPU; MB at the peak\n", STBI_VERSION, runs);
  std::printf("%-24s %5s %7s %7s %7s %6s %7s %7s %7s %5s %6s %6s", "photo", "MP", "stb", "least", "CPU",
              "start", "kithue", "least", "CPU", "MB", "ratio", "least");
  for (const Peer& peer : peers) std::printf(" %8s %6s", peer.name.c_str(), "x");
  std::printf("\n");
  const double start = command(runs, {kithue, "--version"}).median_ms;
  for (const std::string& photo : photos) print_row(kithue, photo, runs, start, peers);
  if (many == 0) return 0;
  std::vector<std::string> words{kithue, "extract", "--threads", "1"};
  for (std::size_t i = 0; i < many; ++i) words.push_back(photos[i % photos.size()]);
  const Taken one = command(1, words);
  words[3] = "2";
  const Taken two = command(1, words);
  std::printf("%zu photos: one thread %.0f ms (CPU %.0f), two %.0f ms (CPU %.0f, %.0f MB) = %.2f x\n", many,
              one.median_ms, one.cpu_ms, two.median_ms, two.cpu_ms, two.peak_mb,
              one.median_ms / two.median_ms);
}
