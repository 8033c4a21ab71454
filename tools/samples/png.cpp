// SPDX-License-Identifier: MIT
#include <zlib.h>

#include <algorithm>
#include <array>

#include "samples/kinds.h"

namespace kithue::samples {
namespace {

struct Chunk {
  std::string type;
  std::string body;
  bool sound = true;  ///< its checksum fits
};

std::string big32(std::uint32_t value) {
  std::string bytes;
  for (unsigned i = 0; i < 4; ++i) bytes += static_cast<char>(value >> (24 - 8 * i) & 0xffU);
  return bytes;
}

constexpr const char* kSignature = "\x89PNG\r\n\x1a\n";

std::string bytes_of(const Chunk& chunk) {
  const std::string checked = chunk.type + chunk.body;
  const auto sum = static_cast<std::uint32_t>(
      crc32(0, reinterpret_cast<const Bytef*>(checked.data()), static_cast<uInt>(checked.size())));
  return big32(static_cast<std::uint32_t>(chunk.body.size())) + checked + big32(chunk.sound ? sum : ~sum);
}

std::string bytes_of(const std::vector<Chunk>& chunks) {
  std::string bytes = kSignature;
  for (const Chunk& chunk : chunks) bytes += bytes_of(chunk);
  return bytes;
}

std::string deflated(const std::string& bytes) {
  uLongf size = compressBound(static_cast<uLong>(bytes.size()));
  std::string out(size, '\0');
  compress2(reinterpret_cast<Bytef*>(out.data()), &size, reinterpret_cast<const Bytef*>(bytes.data()),
            static_cast<uLong>(bytes.size()), 9);
  out.resize(size);
  return out;
}

struct Plan {
  std::uint32_t width = 0, height = 0;
  int type = 2;
  int depth = 8;
  bool interlaced = false;
  int colours = 0;  ///< of the palette
  [[nodiscard]] int samples() const { return type == 2 ? 3 : type == 4 ? 2 : type == 6 ? 4 : 1; }
};

Plan random_plan(Dice& dice) {
  constexpr std::array<std::array<int, 2>, 15> kKinds{{{0, 1},
                                                       {0, 2},
                                                       {0, 4},
                                                       {0, 8},
                                                       {0, 16},
                                                       {2, 8},
                                                       {2, 16},
                                                       {3, 1},
                                                       {3, 2},
                                                       {3, 4},
                                                       {3, 8},
                                                       {4, 8},
                                                       {4, 16},
                                                       {6, 8},
                                                       {6, 16}}};
  const auto& kind = kKinds[dice.below(kKinds.size())];
  Plan plan{static_cast<std::uint32_t>(dice.between(1, 24)),
            static_cast<std::uint32_t>(dice.between(1, 24)),
            kind[0],
            kind[1],
            dice.chance(3),
            0};
  if (plan.type == 3) plan.colours = dice.between(1, 1 << plan.depth);
  return plan;
}

/// One row of samples behind its filter byte. A filtered row of random bytes is a row like any other, but the
/// indices of a palette must stay inside it, so those are not filtered.
std::string random_row(const Plan& plan, std::size_t pixels, Dice& dice) {
  std::string row(1, plan.type == 3 ? '\0' : static_cast<char>(dice.below(5)));
  const std::size_t bits = pixels * static_cast<std::size_t>(plan.samples() * plan.depth);
  row.resize(1 + (bits + 7) / 8);
  for (std::size_t i = 1; i < row.size(); ++i) row[i] = static_cast<char>(dice.byte());
  if (plan.type != 3) return row;
  std::fill(row.begin() + 1, row.end(), '\0');
  for (std::size_t i = 0; i < pixels; ++i) {
    const std::size_t at = i * static_cast<std::size_t>(plan.depth);
    const std::size_t index = dice.below(static_cast<std::size_t>(plan.colours));
    row[1 + at / 8] = static_cast<char>(static_cast<unsigned char>(row[1 + at / 8]) |
                                        index << (8 - static_cast<std::size_t>(plan.depth) - at % 8));
  }
  return row;
}

/// All rows, in the seven passes of PNG third edition, 8.1, where interlaced.
std::string rows_of(const Plan& plan, Dice& dice) {
  constexpr std::array<std::array<std::uint32_t, 4>, 7> kPasses{
      {{0, 0, 8, 8}, {4, 0, 8, 8}, {0, 4, 4, 8}, {2, 0, 4, 4}, {0, 2, 2, 4}, {1, 0, 2, 2}, {0, 1, 1, 2}}};
  std::string rows;
  const auto add = [&](std::uint32_t width, std::uint32_t height) {
    for (std::uint32_t y = 0; width > 0 && y < height; ++y) rows += random_row(plan, width, dice);
  };
  if (!plan.interlaced) {
    add(plan.width, plan.height);
    return rows;
  }
  for (const auto& pass : kPasses) {
    add((plan.width + pass[2] - 1 - pass[0]) / pass[2], (plan.height + pass[3] - 1 - pass[1]) / pass[3]);
  }
  return rows;
}

Chunk header_of(const Plan& plan) {
  std::string body = big32(plan.width) + big32(plan.height);
  for (const int value : {plan.depth, plan.type, 0, 0, plan.interlaced ? 1 : 0})
    body += static_cast<char>(value);
  return {"IHDR", body};
}

Chunk palette_of(const Plan& plan, Dice& dice) {
  Chunk palette{"PLTE", ""};
  for (int i = 0; i < 3 * plan.colours; ++i) palette.body += static_cast<char>(dice.byte());
  return palette;
}

std::vector<Chunk> random_chunks(const Plan& plan, Dice& dice) {
  std::vector<Chunk> chunks{header_of(plan)};
  if (plan.type == 3) chunks.push_back(palette_of(plan, dice));
  const std::string data = deflated(rows_of(plan, dice));
  const std::size_t cut = dice.chance(3) ? dice.below(data.size()) : 0;
  if (cut > 0) chunks.push_back({"IDAT", data.substr(0, cut)});
  chunks.push_back({"IDAT", data.substr(cut)});
  chunks.push_back({"IEND", ""});
  return chunks;
}

struct Spoiling {
  Dice& dice;
  Plan plan;
  std::vector<Chunk> chunks;  ///< IHDR, PLTE of an indexed picture, IDAT, IEND

  [[nodiscard]] std::size_t data() const { return chunks.size() - 2; }
  std::string with_header(std::size_t at, char value) {
    chunks[0].body[at] = value;
    return bytes_of(chunks);
  }
  std::string with_size(std::uint32_t width, std::uint32_t height) {
    plan.width = width;
    plan.height = height;
    chunks[0] = header_of(plan);
    return bytes_of(chunks);
  }
  std::string with_data(const std::string& rows) {
    chunks[data()].body = deflated(rows);
    return bytes_of(chunks);
  }
  std::string with_chunk(std::size_t at, Chunk chunk) {
    chunks.insert(chunks.begin() + static_cast<std::ptrdiff_t>(at), std::move(chunk));
    return bytes_of(chunks);
  }
  [[nodiscard]] std::string bytes() const { return bytes_of(chunks); }
};

struct Fault {
  const char* what;
  std::string (*spoil)(Spoiling&);
};

constexpr Fault kFaults[] = {
    {"a wrong checksum",
     [](Spoiling& s) {
       s.chunks[s.dice.below(s.chunks.size())].sound = false;
       return s.bytes();
     }},
    {"cut between parts",
     [](Spoiling& s) {
       s.chunks.resize(s.dice.below(s.chunks.size()));
       return s.bytes();
     }},
    {"cut short",
     [](Spoiling& s) {
       const std::string bytes = s.bytes();
       return bytes.substr(0, 8 + s.dice.below(bytes.size() - 8));
     }},
    {"no pixels", [](Spoiling& s) { return s.dice.chance(2) ? s.with_size(0, 5) : s.with_size(5, 0); }},
    {"more pixels than anyone has",
     [](Spoiling& s) {
       constexpr std::uint32_t kSides[] = {65'501, 0x7fffffff, 0xffffffff, 0x80000000};
       const std::uint32_t side = s.dice.one_of(kSides);
       return s.dice.chance(2) ? s.with_size(side, 1) : s.with_size(side, side);
     }},
    {"more pixels than data", [](Spoiling& s) { return s.with_size(9'000, 9'000); }},
    {"a bomb: 50 MB for a few pixels",
     [](Spoiling& s) { return s.with_data(std::string(std::size_t{50} << 20U, '\0')); }},
    {"a colour type that does not exist",
     [](Spoiling& s) {
       return s.with_header(9, s.dice.one_of({'\1', '\5', '\7', '\xFF'}));
     }},
    {"a depth that does not exist",
     [](Spoiling& s) {
       return s.with_header(8, s.dice.one_of({'\0', '\3', '\x20', '\xFF'}));
     }},
    {"a method that does not exist",
     [](Spoiling& s) {
       return s.with_header(10 + s.dice.below(3), static_cast<char>(s.dice.between(2, 255)));
     }},
    {"two headers",
     [](Spoiling& s) { return s.with_chunk(s.dice.between(1, 2) == 1 ? 1 : s.data(), s.chunks[0]); }},
    {"the header not first",
     [](Spoiling& s) {
       return s.with_chunk(0, {"gAMA", big32(45455)});
     }},
    {"a header of the wrong length",
     [](Spoiling& s) {
       s.chunks[0].body.resize(s.dice.chance(2) ? s.dice.below(13) : 14);
       return s.bytes();
     }},
    {"no palette",
     [](Spoiling& s) {
       s.plan.type = 3;
       s.plan.depth = 8;
       s.chunks = {header_of(s.plan), s.chunks[s.data()], s.chunks.back()};
       return s.bytes();
     }},
    {"a palette of the wrong length",
     [](Spoiling& s) {
       constexpr std::size_t kSizes[] = {0, 1, 2, 4, 769, 771};
       return s.with_chunk(1, {"PLTE", std::string(s.dice.one_of(kSizes), 'x')});
     }},
    {"a pixel outside the palette",
     [](Spoiling& s) {
       Plan plan{8, 8, 3, 8, false, 4};
       s.chunks = random_chunks(plan, s.dice);
       std::erase_if(s.chunks, [](const Chunk& chunk) { return chunk.type == "IDAT"; });
       std::string rows(9 * 8, '\0');
       rows[1 + 9 * s.dice.below(8) + s.dice.below(8)] = static_cast<char>(s.dice.between(4, 255));
       return s.with_chunk(2, {"IDAT", deflated(rows)});
     }},
    {"a palette out of place",
     [](Spoiling& s) {
       return s.with_chunk(s.chunks.size() - 1, {"PLTE", "abc"});
     }},
    {"another part amid the data",
     [](Spoiling& s) {
       const Chunk data = s.chunks[s.data()];
       s.chunks[s.data()].body.resize(data.body.size() / 2);
       s.with_chunk(s.chunks.size() - 1, {"tEXt", std::string("a\0b", 3)});
       return s.with_chunk(s.chunks.size() - 1, {"IDAT", data.body.substr(data.body.size() / 2)});
     }},
    {"no data",
     [](Spoiling& s) {
       std::erase_if(s.chunks, [](const Chunk& chunk) { return chunk.type == "IDAT"; });
       return s.bytes();
     }},
    {"data that is not packed",
     [](Spoiling& s) {
       s.chunks[s.data()].body = std::string(40, static_cast<char>(s.dice.one_of({0, 0x7f, 0xff})));
       return s.bytes();
     }},
    {"data whose checksum does not fit",
     [](Spoiling& s) {
       s.chunks[s.data()].body.back() = static_cast<char>(~s.chunks[s.data()].body.back());
       return s.bytes();
     }},
    {"fewer rows than stated",
     [](Spoiling& s) {
       const std::string rows = rows_of(s.plan, s.dice);
       return s.with_data(rows.substr(0, s.dice.below(rows.size())));
     }},
    {"a filter that does not exist",
     [](Spoiling& s) {
       std::string rows = rows_of(s.plan, s.dice);
       rows[0] = static_cast<char>(s.dice.between(5, 255));
       return s.with_data(rows);
     }},
    {"a part that is not known but needed",
     [](Spoiling& s) {
       return s.with_chunk(1, {s.dice.one_of({"ABCD", "FDAT", "JDAT"}), "x"});
     }},
    {"a name that is no name",
     [](Spoiling& s) {
       return s.with_chunk(1, {s.dice.one_of({"a b ", "1234", "\xFF\xFF\xFF\xFF", "gAM\n"}), ""});
     }},
    {"a length past the end",
     [](Spoiling& s) {
       std::string bytes = s.bytes();
       constexpr std::uint32_t kLengths[] = {0xffffffff, 0x7fffffff, 0x80000000, 100'000};
       return bytes.replace(8 + bytes_of(s.chunks[0]).size(), 4, big32(s.dice.one_of(kLengths)));
     }},
    {"no end",
     [](Spoiling& s) {
       s.chunks.pop_back();
       return s.bytes();
     }},
    {"first bytes changed as in a text",
     [](Spoiling& s) {
       const std::string body = s.bytes().substr(8);
       return std::string(s.dice.one_of(
                  {"\x89PNG\n\x1a\n", "\x09PNG\r\n\x1a\n", "\x89PNG\r\r\n\x1a\r\n", "PNG\r\n\x1a\n"})) +
              body;
     }},
};

/// Parts that cost nothing unless a reader unpacks them without a limit, and others that are merely there.
void add_extras(std::vector<Chunk>& chunks, const Plan& plan, std::string& what, Dice& dice) {
  const auto before_data = [&](Chunk chunk) { chunks.insert(chunks.begin() + 1, std::move(chunk)); };
  if (dice.chance(4)) before_data({"gAMA", big32(45455)});
  if (dice.chance(4)) before_data({"sRGB", std::string(1, '\0')});
  if (dice.chance(5) && plan.type != 0 && plan.type != 4) {
    what += ", a profile";
    before_data({"iCCP", std::string("x\0\0", 3) + deflated(sound_profile(dice).bytes)});
  }
  if (dice.chance(5)) before_data({"eXIf", sound_exif(dice).bytes});
  if (dice.chance(8)) {
    what += ", text that would unpack to 20 MB";
    before_data({"zTXt", std::string("Comment\0\0", 9) + deflated(std::string(std::size_t{20} << 20U, 'x'))});
  }
  if (dice.chance(4)) chunks.insert(chunks.end() - 1, {"tEXt", std::string("Title\0Harbour Morning", 21)});
}

}  // namespace

Sample sound_png(Dice& dice) {
  const Plan plan = random_plan(dice);
  Sample sample{"",
                "type " + std::to_string(plan.type) + ", " + std::to_string(plan.depth) + " bits" +
                    (plan.interlaced ? ", interlaced" : ""),
                0, 0};
  std::vector<Chunk> chunks = random_chunks(plan, dice);
  add_extras(chunks, plan, sample.what, dice);
  sample.bytes = bytes_of(chunks);
  return sample;
}

Sample spoilt_png(std::size_t turn, Dice& dice) {
  const Fault& fault = kFaults[turn % std::size(kFaults)];
  Plan plan{static_cast<std::uint32_t>(dice.between(2, 20)),
            static_cast<std::uint32_t>(dice.between(2, 20)),
            dice.chance(2) ? 2 : 6,
            8,
            dice.chance(4),
            0};
  Spoiling spoiling{dice, plan, {header_of(plan), {"IDAT", deflated(rows_of(plan, dice))}, {"IEND", ""}}};
  return {fault.spoil(spoiling), fault.what, 0, 0};
}

}  // namespace kithue::samples
