// SPDX-License-Identifier: MIT
#include <array>
#include <memory>

#include "paper/camera.h"
#include "samples/kinds.h"

#ifdef KITHUE_PAPER_TURBO
#include <turbojpeg.h>
#endif

namespace kithue::samples {
namespace {

struct Segment {
  unsigned marker = 0;
  std::string body;   ///< after the length
  std::string coded;  ///< of a scan: the picture data behind it
};

std::string length_of(std::size_t body) {
  const std::size_t length = body + 2;
  return {static_cast<char>(length >> 8U & 0xffU), static_cast<char>(length & 0xffU)};
}

std::string bytes_of(const Segment& segment) {
  std::string bytes{'\xFF', static_cast<char>(segment.marker)};
  return bytes + length_of(segment.body.size()) + segment.body + segment.coded;
}

std::string bytes_of(const std::vector<Segment>& segments) {
  std::string bytes = "\xFF\xD8";
  for (const Segment& segment : segments) bytes += bytes_of(segment);
  return bytes + "\xFF\xD9";
}

/// A JPEG of a valid encoder taken apart.
std::vector<Segment> segments_of(const std::string& bytes) {
  std::vector<Segment> segments;
  const auto byte = [&](std::size_t at) { return static_cast<unsigned char>(bytes[at]); };
  for (std::size_t at = 2; byte(at + 1) != 0xd9;) {
    const std::size_t length = static_cast<std::size_t>(byte(at + 2)) << 8U | byte(at + 3);
    Segment segment{byte(at + 1), bytes.substr(at + 4, length - 2), ""};
    at += 2 + length;
    if (segment.marker == 0xda) {
      const std::size_t start = at;
      while (byte(at) != 0xff || byte(at + 1) == 0 || (byte(at + 1) >= 0xd0 && byte(at + 1) <= 0xd7)) ++at;
      segment.coded = bytes.substr(start, at - start);
    }
    segments.push_back(std::move(segment));
  }
  return segments;
}

paper::Shot random_shot(Dice& dice) {
  paper::Shot shot;
  shot.width = dice.between(9, 48);
  shot.height = dice.between(9, 48);
  const std::array<unsigned, 3> ground{dice.byte(), dice.byte(), dice.byte()};
  for (int y = 0; y < shot.height; ++y) {
    for (int x = 0; x < shot.width; ++x) {
      for (std::size_t k = 0; k < 3; ++k)
        shot.rgb.push_back(static_cast<unsigned char>(
            (ground[k] + static_cast<unsigned>(x * 3 + y) + dice.below(9)) & 0xffU));
    }
  }
  return shot;
}

enum class Form { baseline, progressive, grey };

std::string encoded(Dice& dice, Form form) {
  const paper::Shot shot = random_shot(dice);
#ifdef KITHUE_PAPER_TURBO
  constexpr int kSampling[] = {TJSAMP_444, TJSAMP_422, TJSAMP_420, TJSAMP_440, TJSAMP_411};
  struct Destroy {
    void operator()(void* handle) const { tjDestroy(handle); }
  };
  const std::unique_ptr<void, Destroy> encoder(tjInitCompress());
  unsigned char* made = nullptr;
  unsigned long size = 0;
  const int sampling = form == Form::grey ? static_cast<int>(TJSAMP_GRAY) : dice.one_of(kSampling);
  if (tjCompress2(encoder.get(), shot.rgb.data(), shot.width, 0, shot.height, TJPF_RGB, &made, &size,
                  sampling, dice.between(40, 95), form == Form::progressive ? TJFLAG_PROGRESSIVE : 0) != 0)
    return {};
  std::string bytes(reinterpret_cast<const char*>(made), size);
  tjFree(made);
  return bytes;
#else
  static_cast<void>(form);
  return paper::jpeg_bytes(shot, dice.between(40, 95));
#endif
}

struct Spoiling {
  Dice& dice;
  std::vector<Segment> segments;

  [[nodiscard]] std::size_t find(unsigned marker) const {
    std::size_t i = 0;
    while (segments[i].marker != marker) ++i;
    return i;
  }
  Segment& frame() { return segments[find(0xc0)]; }
  Segment& scan() { return segments[find(0xda)]; }
  void drop(unsigned marker) {
    std::erase_if(segments, [marker](const Segment& segment) { return segment.marker == marker; });
  }
  [[nodiscard]] std::string bytes() const { return bytes_of(segments); }
  /// The bytes up to the start of a segment.
  [[nodiscard]] std::size_t start_of(std::size_t segment) const {
    std::size_t at = 2;
    for (std::size_t i = 0; i < segment; ++i) at += bytes_of(segments[i]).size();
    return at;
  }
};

void set_size(Spoiling& s, unsigned width, unsigned height) {
  std::string& body = s.frame().body;
  body[1] = static_cast<char>(height >> 8U);
  body[2] = static_cast<char>(height & 0xffU);
  body[3] = static_cast<char>(width >> 8U);
  body[4] = static_cast<char>(width & 0xffU);
}

struct Fault {
  const char* what;
  std::string (*spoil)(Spoiling&);
};

constexpr Fault kFaults[] = {
    {"cut at a marker",
     [](Spoiling& s) { return s.bytes().substr(0, s.start_of(s.dice.below(s.segments.size() + 1))); }},
    {"cut short",
     [](Spoiling& s) {
       const std::string bytes = s.bytes();
       return bytes.substr(0, 3 + s.dice.below(bytes.size() - 4));
     }},
    {"65,535 pixels a side",
     [](Spoiling& s) {
       const bool both = s.dice.chance(2);
       set_size(s, 65535, both ? 65535 : 16);
       return s.bytes();
     }},
    {"no pixels",
     [](Spoiling& s) {
       const bool wide = s.dice.chance(2);
       set_size(s, wide ? 16 : 0, wide ? 0 : 16);
       return s.bytes();
     }},
    {"more pixels than data",
     [](Spoiling& s) {
       set_size(s, 60'000, 3'000);
       return s.bytes();
     }},
    {"four channels",
     [](Spoiling& s) {
       s.frame().body[5] = 4;
       s.frame().body += std::string("\x04\x11\x00", 3);
       return s.bytes();
     }},
    {"a number of channels that is not known",
     [](Spoiling& s) {
       constexpr int kCounts[] = {0, 2, 5, 200};
       s.frame().body[5] = static_cast<char>(s.dice.one_of(kCounts));
       return s.bytes();
     }},
    {"a number of bits that is not known",
     [](Spoiling& s) {
       constexpr int kBits[] = {12, 0, 16, 1, 255};
       s.frame().body[0] = static_cast<char>(s.dice.one_of(kBits));
       return s.bytes();
     }},
    {"a coding that is not known",
     [](Spoiling& s) {
       constexpr unsigned kMarkers[] = {0xc3, 0xc5, 0xc6, 0xc7, 0xc9, 0xca, 0xcb, 0xcd, 0xcf};
       s.frame().marker = s.dice.one_of(kMarkers);
       return s.bytes();
     }},
    {"1,000 scans",
     [](Spoiling& s) {
       const Segment scan = s.scan();
       s.segments.insert(s.segments.end(), 1000, scan);
       return s.bytes();
     }},
    {"a scan of a channel that is not there",
     [](Spoiling& s) {
       s.scan().body[1] = static_cast<char>(s.dice.between(100, 255));
       return s.bytes();
     }},
    {"sampling that is impossible",
     [](Spoiling& s) {
       constexpr int kFactors[] = {0x00, 0x01, 0x10, 0x51, 0x15, 0xff};
       s.frame().body[7] = static_cast<char>(s.dice.one_of(kFactors));
       return s.bytes();
     }},
    {"a segment of no length",
     [](Spoiling& s) {
       std::string bytes = s.bytes();
       const std::size_t at = s.start_of(s.dice.below(s.segments.size()));
       bytes[at + 2] = 0;
       bytes[at + 3] = static_cast<char>(s.dice.below(2));
       return bytes;
     }},
    {"a segment longer than the file",
     [](Spoiling& s) {
       std::string bytes = s.bytes();
       const std::size_t at = s.start_of(s.dice.below(s.segments.size()));
       bytes[at + 2] = '\xFF';
       bytes[at + 3] = '\xF0';
       return bytes;
     }},
    {"two frames",
     [](Spoiling& s) {
       const Segment frame = s.frame();
       s.segments.insert(s.segments.begin() + static_cast<std::ptrdiff_t>(s.find(0xc0)), frame);
       return s.bytes();
     }},
    {"a scan before the frame",
     [](Spoiling& s) {
       std::swap(s.frame(), s.scan());
       return s.bytes();
     }},
    {"no quantisation tables",
     [](Spoiling& s) {
       s.drop(0xdb);
       return s.bytes();
     }},
    {"a Huffman table that is impossible",
     [](Spoiling& s) {
       std::string& body = s.segments[s.find(0xc4)].body;
       for (std::size_t i = 1; i <= 16; ++i) body[i] = '\xFF';
       return s.bytes();
     }},
    {"a quantisation table that is impossible",
     [](Spoiling& s) {
       s.segments[s.find(0xdb)].body[0] = static_cast<char>(s.dice.between(4, 15));
       return s.bytes();
     }},
    {"no picture data",
     [](Spoiling& s) {
       s.scan().coded.clear();
       return s.bytes();
     }},
    {"no scan",
     [](Spoiling& s) {
       s.drop(0xda);
       return s.bytes();
     }},
    {"a picture inside the picture",
     [](Spoiling& s) {
       std::string bytes = s.bytes();
       return bytes.insert(s.start_of(s.dice.below(s.segments.size())), "\xFF\xD8");
     }},
    {"a frame header of the wrong length",
     [](Spoiling& s) {
       if (s.dice.chance(2)) {
         s.frame().body += "xyz";
       } else {
         s.frame().body.resize(s.dice.below(15));
       }
       return s.bytes();
     }},
    {"a scan header of the wrong length",
     [](Spoiling& s) {
       s.scan().body.resize(s.dice.below(s.scan().body.size()));
       return s.bytes();
     }},
    {"a restart interval of the wrong length",
     [](Spoiling& s) {
       s.segments.insert(s.segments.begin(), Segment{0xdd, std::string(s.dice.chance(2) ? 1 : 3, '\1'), ""});
       return s.bytes();
     }},
    {"restart markers that are missing",
     [](Spoiling& s) {
       set_size(s, 64, 64);
       s.segments.insert(s.segments.begin(), Segment{0xdd, std::string("\0\1", 2), ""});
       return s.bytes();
     }},
    {"another kind of file",
     [](Spoiling& s) {
       using namespace std::string_literals;  // NOLINT(google-build-using-namespace)
       const std::string others[] = {
           "\0\0\0\x18"
           "ftypheic\0\0\0\0mif1heic"s,
           "\0\0\0\x18"
           "ftypavif\0\0\0\0"s,
           "GIF89a\x10\0\x10\0"s,
           "RIFF\x10\0\0\0WEBPVP8 "s,
           "II*\0\x08\0\0\0"s,
           "%PDF-1.7\n"s,
           "PK\3\4xx"s,
           ""s,
           "\xFF"s,
           "name,kind\n"s};
       return s.dice.one_of(others);
     }},
};

}  // namespace

Sample sound_jpeg(Dice& dice) {
  const Form form = dice.chance(3) ? Form::progressive : dice.chance(4) ? Form::grey : Form::baseline;
  Sample sample{"",
                form == Form::progressive ? "progressive"
                : form == Form::grey      ? "grey"
                                          : "baseline",
                0, 0};
  std::vector<Segment> segments = segments_of(encoded(dice, form));
  if (dice.chance(3)) {
    sample.what += ", EXIF";
    segments.insert(segments.begin(), Segment{0xe1, std::string("Exif\0\0", 6) + sound_exif(dice).bytes, ""});
  }
  if (dice.chance(3)) {
    sample.what += ", a profile in pieces";
    const std::string icc = sound_profile(dice).bytes;
    const std::string pieces[] = {icc.substr(0, icc.size() / 2), icc.substr(icc.size() / 2)};
    for (int i : {1, 0}) {
      segments.insert(
          segments.begin(),
          Segment{0xe2, std::string("ICC_PROFILE\0", 12) + static_cast<char>(i + 1) + '\2' + pieces[i], ""});
    }
    if (form == Form::grey) segments.erase(segments.begin(), segments.begin() + 2);
  }
  if (dice.chance(4)) segments.insert(segments.begin(), Segment{0xfe, "Harbour Morning", ""});
  sample.bytes = bytes_of(segments);
  if (dice.chance(5)) sample.bytes += std::string(dice.below(500), '\0');
  return sample;
}

Sample spoilt_jpeg(std::size_t turn, Dice& dice) {
  const Fault& fault = kFaults[turn % std::size(kFaults)];
  Spoiling spoiling{dice, segments_of(encoded(dice, Form::baseline))};
  return {fault.spoil(spoiling), fault.what, 0, 0};
}

}  // namespace kithue::samples
