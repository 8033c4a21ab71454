// SPDX-License-Identifier: MIT
#include "harness/power_loss.h"

#include <fcntl.h>

#include <array>
#include <map>
#include <set>
#include <string>

#include "base/files.h"
#include "harness/scene.h"
#include "swatch/store.h"

namespace kithue::harness {
namespace {

/// One request that changes a disk. Files are numbered as they are made.
struct Request {
  enum class Kind { make, write, sync_file, sync_names, rename, link, unlink };
  Kind kind = Kind::make;
  std::size_t file = 0;
  std::string name;
  std::string to;
  std::string bytes;
};

/// What a disk holds for certain, and what only the system's memory holds.
class Disk {
 public:
  using Names = std::map<std::string, std::size_t, std::less<>>;

  explicit Disk(const Files& files) {
    for (const auto& [name, bytes] : files) {
      names_[name] = contents_.size();
      contents_.push_back({bytes, bytes});
    }
    synced_names_ = names_;
  }

  void take(const Request& request) {
    switch (request.kind) {
      case Request::Kind::make:
        contents_.push_back({});
        change(request);
        break;
      case Request::Kind::write:
        contents_[request.file].now += request.bytes;
        break;
      case Request::Kind::sync_file:
        contents_[request.file].synced = contents_[request.file].now;
        break;
      case Request::Kind::sync_names:
        synced_names_ = names_;
        waiting_.clear();
        break;
      case Request::Kind::rename:
      case Request::Kind::link:
      case Request::Kind::unlink:
        change(request);
        break;
    }
  }
  [[nodiscard]] std::size_t file_called(const std::string& name) const { return names_.at(name); }
  [[nodiscard]] bool has(const std::string& name) const { return names_.count(name) != 0; }

  enum class Data { gone, zeros, cut_512, cut_4096, kept };
  enum class NamesKept { none, all, even, odd };

  /// The disk after the power is back.
  [[nodiscard]] Files after_cut(Data data, NamesKept kept) const {
    Names names = kept == NamesKept::all ? names_ : synced_names_;
    if (kept == NamesKept::even || kept == NamesKept::odd) {
      for (std::size_t i = kept == NamesKept::even ? 0 : 1; i < waiting_.size(); i += 2)
        apply(names, waiting_[i]);
    }
    Files files;
    for (const auto& [name, file] : names) files[name] = left_of(contents_[file], data);
    return files;
  }

 private:
  struct Content {
    std::string synced;
    std::string now;
  };

  static std::string left_of(const Content& content, Data data) {
    std::string bytes = content.synced;
    const std::size_t extra = content.now.size() > bytes.size() ? content.now.size() - bytes.size() : 0;
    switch (data) {
      case Data::gone:
        break;
      case Data::zeros:
        bytes.append(extra, '\0');
        break;
      case Data::cut_512:
      case Data::cut_4096: {
        const std::size_t block = data == Data::cut_512 ? 512 : 4096;
        bytes = content.now.substr(0, std::max(bytes.size(), content.now.size() / 2 / block * block));
        break;
      }
      case Data::kept:
        bytes = content.now;
        break;
    }
    return bytes;
  }
  static void apply(Names& names, const Request& request) {
    switch (request.kind) {
      case Request::Kind::make:
        names[request.name] = request.file;
        break;
      case Request::Kind::link:
      case Request::Kind::rename:
        names[request.to] = request.file;
        if (request.kind == Request::Kind::rename) names.erase(request.name);
        break;
      case Request::Kind::unlink:
        names.erase(request.name);
        break;
      default:
        break;
    }
  }
  void change(const Request& request) {
    waiting_.push_back(request);
    apply(names_, request);
  }

  Names names_;
  Names synced_names_;
  std::vector<Request> waiting_;  ///< changes of names that are not synced
  std::vector<Content> contents_;
};

/// The real calls, with each request to the disk written down.
class RecordingCalls : public SystemCalls {
 public:
  RecordingCalls(std::string folder, const Files& files) : folder_(std::move(folder)), disk_(files) {
    made_ = files.size();
  }
  std::vector<Request> requests;

  int open(const char* path, int flags, mode_t mode) override {
    const bool is_new = (flags & O_CREAT) != 0 && !disk_.has(inside(path));
    const int fd = SystemCalls::open(path, flags, mode);
    if (fd < 0) return fd;
    const std::string name = inside(path);
    if (std::string(path) == folder_) {
      folders_.insert(fd);
    } else if (!name.empty()) {
      if (is_new) note({Request::Kind::make, made_++, name, "", ""});
      open_[fd] = disk_.file_called(name);
    }
    return fd;
  }
  ssize_t write(int fd, const void* from, std::size_t count) override {
    const ssize_t put = SystemCalls::write(fd, from, count);
    const auto at = open_.find(fd);
    if (put > 0 && at != open_.end())
      note({Request::Kind::write,
            at->second,
            "",
            "",
            {static_cast<const char*>(from), static_cast<std::size_t>(put)}});
    return put;
  }
  int fsync(int fd) override {
    const int result = SystemCalls::fsync(fd);
    if (folders_.count(fd) != 0) note({Request::Kind::sync_names, 0, "", "", ""});
    if (const auto at = open_.find(fd); at != open_.end())
      note({Request::Kind::sync_file, at->second, "", "", ""});
    return result;
  }
  int close(int fd) override {
    open_.erase(fd);
    folders_.erase(fd);
    return SystemCalls::close(fd);
  }
  int rename(const char* from, const char* to) override {
    const int result = SystemCalls::rename(from, to);
    if (result == 0)
      note({Request::Kind::rename, disk_.file_called(inside(from)), inside(from), inside(to), ""});
    return result;
  }
  int link(const char* from, const char* to) override {
    const int result = SystemCalls::link(from, to);
    if (result == 0)
      note({Request::Kind::link, disk_.file_called(inside(from)), inside(from), inside(to), ""});
    return result;
  }
  int unlink(const char* path) override {
    const int result = SystemCalls::unlink(path);
    if (result == 0) note({Request::Kind::unlink, 0, inside(path), "", ""});
    return result;
  }

 private:
  [[nodiscard]] std::string inside(const std::string& path) const {
    return path.starts_with(folder_ + "/") ? path.substr(folder_.size() + 1) : std::string();
  }
  void note(Request request) {
    disk_.take(request);
    requests.push_back(std::move(request));
  }
  std::string folder_;
  Disk disk_;
  std::size_t made_ = 0;
  std::map<int, std::size_t> open_;
  std::set<int> folders_;
};

constexpr std::array kData{Disk::Data::gone, Disk::Data::zeros, Disk::Data::cut_512, Disk::Data::cut_4096,
                           Disk::Data::kept};
constexpr std::array kNames{Disk::NamesKept::none, Disk::NamesKept::all, Disk::NamesKept::even,
                            Disk::NamesKept::odd};

void check_disk(Tally& tally, const std::string& where, const WritingCommand& command, const Files& disk,
                const Files& before, const Files& after, bool saved) {
  for (const std::string& name : {std::string("stash.cgats"), command.output}) {
    if (name.empty()) continue;
    const std::string now = text_of(disk, name);
    if (now != text_of(before, name) && now != text_of(after, name))
      tally.fail(where + name + " is neither old nor new");
    if (saved && now != text_of(after, name))
      tally.fail(where + name + ": said saved, but it is the old one");
  }
  const Scene scene(disk);
  if (!load_stash(scene.stash()).has_value()) tally.fail(where + "the stash does not load");
  const Run next =
      scene.run({"stash", "add", "Next", "--kind", "stock", "--lab", "40,1,2", "--white", "D50/2"});
  if (next.status != 0) tally.fail(where + "the next change fails: " + next.err);
}

}  // namespace

Tally cut_power(const std::vector<std::size_t>& sizes) {
  Tally tally{.name = "power loss"};
  for (const std::size_t size : sizes) {
    for (const WritingCommand& command : writing_commands()) {
      const Scene scene(scene_files(size));
      const Files before = scene.files();
      RecordingCalls calls(scene.path(), before);
      {
        const SystemCallsStandIn standing(calls);
        static_cast<void>(scene.run(command.args));
      }
      const Files after = scene.files();
      Disk disk(before);
      std::set<Files> seen;
      for (std::size_t cut = 0; cut <= calls.requests.size(); ++cut) {
        if (cut > 0) disk.take(calls.requests[cut - 1]);
        for (const Disk::Data data : kData) {
          for (const Disk::NamesKept names : kNames) {
            const Files left = disk.after_cut(data, names);
            ++tally.tried;
            if (left != before && left != after) ++tally.fired;
            const bool saved = cut == calls.requests.size();
            if (!seen.insert(left).second && !saved) continue;  // this very disk was looked at already
            check_disk(tally, command.name + ", cut after request " + std::to_string(cut) + ": ", command,
                       left, before, after, saved);
          }
        }
      }
    }
  }
  return tally;
}

}  // namespace kithue::harness
