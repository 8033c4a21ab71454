// SPDX-License-Identifier: MIT
#include "colour/words.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string_view>

#include "colour/difference.h"
#include "colour/srgb.h"

namespace kithue {
namespace {

struct Centroid {
  std::string_view name;
  std::uint32_t srgb;  // 0xrrggbb
};

// The 267 names of the ISCC-NBS system, "grey" spelt the British way, each with the centre of its block.
// Source: Kelly 1958 (words.h) and Kelly & Judd, "Color: Universal Language and Dictionary of Names", NBS
// Special Publication 440 (1976), works of the United States government. The centres are taken as the
// sRGB bytes in which they commonly circulate: rounded, and the most vivid ones brought inside the
// screen's gamut, so that they tell which name is nearest and not where its block ends.
// One differs from the copy used: its deep yellowish pink, e66721, is a reddish orange; e66761 (from memory)
// lies between its neighbours deep pink and dark yellowish pink.
constexpr std::array<Centroid, 267> kCentroids{{
    {"black", 0x222222},
    {"blackish blue", 0x202830},
    {"blackish green", 0x1a2421},
    {"blackish purple", 0x291e29},
    {"blackish red", 0x2e1d21},
    {"bluish black", 0x202428},
    {"bluish grey", 0x81878b},
    {"bluish white", 0xe9e9ed},
    {"brilliant blue", 0x4997d0},
    {"brilliant bluish green", 0x00a693},
    {"brilliant green", 0x3eb489},
    {"brilliant greenish blue", 0x239eba},
    {"brilliant greenish yellow", 0xe9e450},
    {"brilliant orange", 0xfd943f},
    {"brilliant orange yellow", 0xffc14f},
    {"brilliant purple", 0xd399e6},
    {"brilliant purplish blue", 0x6c79b8},
    {"brilliant purplish pink", 0xffc8d6},
    {"brilliant violet", 0x7e73b8},
    {"brilliant yellow", 0xfada5e},
    {"brilliant yellow green", 0xbdda57},
    {"brilliant yellowish green", 0x83d37d},
    {"brownish black", 0x28201c},
    {"brownish grey", 0x5b504f},
    {"brownish orange", 0xae6938},
    {"brownish pink", 0xc2ac99},
    {"dark blue", 0x00304e},
    {"dark bluish grey", 0x51585e},
    {"dark bluish green", 0x004b49},
    {"dark brown", 0x422518},
    {"dark grey", 0x555555},
    {"dark greyish blue", 0x36454f},
    {"dark greyish brown", 0x3e322c},
    {"dark greyish green", 0x3a4b47},
    {"dark greyish olive", 0x363527},
    {"dark greyish olive green", 0x31362b},
    {"dark greyish purple", 0x50404d},
    {"dark greyish red", 0x543d3f},
    {"dark greyish reddish brown", 0x43302e},
    {"dark greyish yellow", 0xa18f60},
    {"dark greyish yellowish brown", 0x483c32},
    {"dark green", 0x1b4d3e},
    {"dark greenish blue", 0x004958},
    {"dark greenish grey", 0x4e5755},
    {"dark greenish yellow", 0x98943e},
    {"dark olive", 0x403d21},
    {"dark olive brown", 0x3b3121},
    {"dark olive green", 0x2b3d26},
    {"dark orange yellow", 0xbe8a3d},
    {"dark pink", 0xc08081},
    {"dark purple", 0x563c5c},
    {"dark purplish blue", 0x252440},
    {"dark purplish grey", 0x5d555b},
    {"dark purplish pink", 0xc17e91},
    {"dark purplish red", 0x673147},
    {"dark red", 0x722f37},
    {"dark reddish brown", 0x3e1d1e},
    {"dark reddish grey", 0x5c504f},
    {"dark reddish orange", 0x9e4732},
    {"dark reddish purple", 0x5d3954},
    {"dark violet", 0x2f2140},
    {"dark yellow", 0xab9144},
    {"dark yellowish brown", 0x4b3621},
    {"dark yellowish green", 0x355e3b},
    {"dark yellowish pink", 0xc48379},
    {"deep blue", 0x00416a},
    {"deep bluish green", 0x00443f},
    {"deep brown", 0x593319},
    {"deep green", 0x00543d},
    {"deep greenish blue", 0x2e8495},
    {"deep greenish yellow", 0x9b9400},
    {"deep olive green", 0x232f00},
    {"deep orange", 0xbe6516},
    {"deep orange yellow", 0xc98500},
    {"deep pink", 0xe4717a},
    {"deep purple", 0x602f6b},
    {"deep purplish blue", 0x272458},
    {"deep purplish pink", 0xde6fa1},
    {"deep purplish red", 0x78184a},
    {"deep red", 0x841b2d},
    {"deep reddish brown", 0x56070c},
    {"deep reddish orange", 0xaa381e},
    {"deep reddish purple", 0x702963},
    {"deep violet", 0x32174d},
    {"deep yellow", 0xaf8d13},
    {"deep yellow green", 0x467129},
    {"deep yellowish brown", 0x654522},
    {"deep yellowish green", 0x00622d},
    {"deep yellowish pink", 0xe66761},
    {"greyish blue", 0x536878},
    {"greyish brown", 0x635147},
    {"greyish green", 0x5e716a},
    {"greyish greenish yellow", 0xb9b57d},
    {"greyish olive", 0x5b5842},
    {"greyish olive green", 0x515744},
    {"greyish pink", 0xc4aead},
    {"greyish purple", 0x796878},
    {"greyish purplish blue", 0x4c516d},
    {"greyish purplish pink", 0xc3a6b1},
    {"greyish purplish red", 0x915f6d},
    {"greyish red", 0x905d5d},
    {"greyish reddish brown", 0x674c47},
    {"greyish reddish orange", 0xb4745e},
    {"greyish reddish purple", 0x836479},
    {"greyish violet", 0x554c69},
    {"greyish yellow", 0xc2b280},
    {"greyish yellow green", 0x8f9779},
    {"greyish yellowish brown", 0x7e6d5a},
    {"greyish yellowish pink", 0xc7ada3},
    {"greenish black", 0x1e2321},
    {"greenish grey", 0x7d8984},
    {"greenish white", 0xdfede8},
    {"light blue", 0x70a3cc},
    {"light bluish grey", 0xb4bcc0},
    {"light bluish green", 0x66ada4},
    {"light brown", 0xa67b5b},
    {"light brownish grey", 0x8e8279},
    {"light grey", 0xb9b8b5},
    {"light greyish brown", 0x958070},
    {"light greyish olive", 0x8c8767},
    {"light greyish purplish red", 0xaf868e},
    {"light greyish red", 0xad8884},
    {"light greyish reddish brown", 0x977f73},
    {"light greyish yellowish brown", 0xae9b82},
    {"light green", 0x6aab8e},
    {"light greenish blue", 0x66aabc},
    {"light greenish grey", 0xb2beb5},
    {"light greenish yellow", 0xeae679},
    {"light olive", 0x867e36},
    {"light olive brown", 0x967117},
    {"light olive grey", 0x8a8776},
    {"light orange", 0xfab57f},
    {"light orange yellow", 0xfbc97f},
    {"light pink", 0xf9ccca},
    {"light purple", 0xb695c0},
    {"light purplish blue", 0x8791bf},
    {"light purplish grey", 0xbfb9bd},
    {"light purplish pink", 0xefbbcc},
    {"light reddish brown", 0xa87c6d},
    {"light reddish purple", 0xb784a7},
    {"light violet", 0x8c82b6},
    {"light yellow", 0xf8de7e},
    {"light yellow green", 0xc9dc89},
    {"light yellowish brown", 0xc19a6b},
    {"light yellowish green", 0x93c592},
    {"light yellowish pink", 0xf4c2c2},
    {"medium grey", 0x848482},
    {"moderate blue", 0x436b95},
    {"moderate bluish green", 0x317873},
    {"moderate brown", 0x6f4e37},
    {"moderate green", 0x3b7861},
    {"moderate greenish blue", 0x367588},
    {"moderate greenish yellow", 0xb9b459},
    {"moderate olive", 0x665d1e},
    {"moderate olive brown", 0x6c541e},
    {"moderate olive green", 0x4a5d23},
    {"moderate orange", 0xd99058},
    {"moderate orange yellow", 0xe3a857},
    {"moderate pink", 0xdea5a4},
    {"moderate purple", 0x86608e},
    {"moderate purplish blue", 0x4e5180},
    {"moderate purplish pink", 0xd597ae},
    {"moderate purplish red", 0xa8516e},
    {"moderate red", 0xab4e52},
    {"moderate reddish brown", 0x79443b},
    {"moderate reddish orange", 0xcb6d51},
    {"moderate reddish purple", 0x915c83},
    {"moderate violet", 0x604e81},
    {"moderate yellow", 0xc9ae5d},
    {"moderate yellow green", 0x8a9a5b},
    {"moderate yellowish brown", 0x826644},
    {"moderate yellowish green", 0x679267},
    {"moderate yellowish pink", 0xd9a6a9},
    {"olive black", 0x25241d},
    {"olive grey", 0x57554c},
    {"pale blue", 0x91a3b0},
    {"pale green", 0x8da399},
    {"pale greenish yellow", 0xebe8a4},
    {"pale orange yellow", 0xfad6a5},
    {"pale pink", 0xead8d7},
    {"pale purple", 0xaa98a9},
    {"pale purplish blue", 0x8c92ac},
    {"pale purplish pink", 0xe8ccd7},
    {"pale reddish purple", 0xaa8a9e},
    {"pale violet", 0x9690ab},
    {"pale yellow", 0xf3e5ab},
    {"pale yellow green", 0xdadfb7},
    {"pale yellowish pink", 0xecd5c5},
    {"pinkish grey", 0xc1b6b3},
    {"pinkish white", 0xeae3e1},
    {"purplish black", 0x242124},
    {"purplish grey", 0x8b8589},
    {"purplish white", 0xe8e3e5},
    {"reddish black", 0x282022},
    {"reddish grey", 0x8f817f},
    {"strong blue", 0x0067a5},
    {"strong bluish green", 0x007a74},
    {"strong brown", 0x80461b},
    {"strong green", 0x007959},
    {"strong greenish blue", 0x007791},
    {"strong greenish yellow", 0xbeb72e},
    {"strong olive green", 0x404f00},
    {"strong orange", 0xed872d},
    {"strong orange yellow", 0xeaa221},
    {"strong pink", 0xea9399},
    {"strong purple", 0x875692},
    {"strong purplish blue", 0x545aa7},
    {"strong purplish pink", 0xe68fac},
    {"strong purplish red", 0xb3446c},
    {"strong red", 0xbc3f4a},
    {"strong reddish brown", 0x882d17},
    {"strong reddish orange", 0xd9603b},
    {"strong reddish purple", 0x9e4f88},
    {"strong violet", 0x604e97},
    {"strong yellow", 0xd4af37},
    {"strong yellow green", 0x7e9f2e},
    {"strong yellowish brown", 0x996515},
    {"strong yellowish green", 0x44944a},
    {"strong yellowish pink", 0xf99379},
    {"very dark bluish green", 0x002a29},
    {"very dark green", 0x1c352d},
    {"very dark greenish blue", 0x002e3b},
    {"very dark purple", 0x301934},
    {"very dark purplish red", 0x38152c},
    {"very dark red", 0x3f1728},
    {"very dark reddish purple", 0x341731},
    {"very dark yellowish green", 0x173620},
    {"very deep purple", 0x401a4c},
    {"very deep purplish red", 0x54133b},
    {"very deep red", 0x5c0923},
    {"very deep reddish purple", 0x54194e},
    {"very deep yellowish green", 0x003118},
    {"very light blue", 0xa1caf1},
    {"very light bluish green", 0x96ded1},
    {"very light green", 0x8ed1b2},
    {"very light greenish blue", 0x9cd1dc},
    {"very light purple", 0xd5badb},
    {"very light purplish blue", 0xb3bce2},
    {"very light violet", 0xdcd0ff},
    {"very light yellowish green", 0xb6e5af},
    {"very pale blue", 0xbcd4e6},
    {"very pale green", 0xc7e6d7},
    {"very pale purple", 0xd6cadd},
    {"very pale purplish blue", 0xc0c8e1},
    {"very pale violet", 0xc4c3dd},
    {"vivid blue", 0x00a1c2},
    {"vivid bluish green", 0x008882},
    {"vivid green", 0x008856},
    {"vivid greenish blue", 0x0085a1},
    {"vivid greenish yellow", 0xdcd300},
    {"vivid orange", 0xf38400},
    {"vivid orange yellow", 0xf6a600},
    {"vivid pink", 0xffb5ba},
    {"vivid purple", 0x9a4eae},
    {"vivid purplish blue", 0x30267a},
    {"vivid purplish red", 0xce4676},
    {"vivid red", 0xbe0032},
    {"vivid reddish orange", 0xe25822},
    {"vivid reddish purple", 0x870074},
    {"vivid violet", 0x9065ca},
    {"vivid yellow", 0xf3c300},
    {"vivid yellow green", 0x8db600},
    {"vivid yellowish green", 0x27a64c},
    {"vivid yellowish pink", 0xffb7a5},
    {"white", 0xf2f3f4},
    {"yellowish grey", 0xbfb8a5},
    {"yellowish white", 0xf0ead6},
}};

using CentroidLabs = std::array<Lab, kCentroids.size()>;

Lab lab_of(std::uint32_t srgb) noexcept {
  const auto light = [srgb](unsigned shift) { return light_from_coded(((srgb >> shift) & 255U) / 255.0); };
  return lab_from_rgb({light(16), light(8), light(0)});
}

const CentroidLabs& centroid_labs() noexcept {
  static const CentroidLabs labs = [] {
    CentroidLabs out;
    for (std::size_t i = 0; i < out.size(); ++i) out[i] = lab_of(kCentroids[i].srgb);
    return out;
  }();
  return labs;
}

// Around the neutral axis the nearest centre alone would call an exact grey "dark greyish olive green": no
// grey centre lies near L* 25. In the system the neutral names cover the axis and the tinted ones ("pinkish
// white", "bluish grey") a ring around it, so close to the axis only those are compared. The two limits are
// ours, in C*ab, set so that every centre still gets its own name.
constexpr double kNeutral = 1.5;
constexpr double kTintedNeutral = 5.0;

bool is_neutral(std::string_view name) noexcept {
  return name == "white" || name == "light grey" || name == "medium grey" || name == "dark grey" ||
         name == "black";
}

bool is_tinted_neutral(std::string_view name) noexcept {
  return name.ends_with("white") || name.ends_with("grey") || name.ends_with("black");
}

bool may_name(std::string_view name, double C) noexcept {
  if (C < kNeutral) return is_neutral(name);
  return C >= kTintedNeutral || is_tinted_neutral(name);
}

}  // namespace

std::string plain_words(const Lab& lab) {
  const CentroidLabs& labs = centroid_labs();
  const double C = chroma(lab);
  std::string_view nearest;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < labs.size(); ++i) {
    if (!may_name(kCentroids[i].name, C)) continue;
    const double difference = ciede2000(lab, labs[i]);
    if (difference < least) {  // never true for NaN
      nearest = kCentroids[i].name;
      least = difference;
    }
  }
  return std::string(nearest);
}

}  // namespace kithue
