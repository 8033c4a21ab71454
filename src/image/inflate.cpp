// SPDX-License-Identifier: MIT
#include "image/inflate.h"

#include <zlib.h>

#include <algorithm>
#include <limits>

namespace kithue {

struct Inflater::Stream {
  z_stream z{};
  bool open = false;
  bool ended = false;
};

Inflater::Inflater() : stream_(std::make_unique<Stream>()) {
  stream_->open = inflateInit(&stream_->z) == Z_OK;  // NOLINT: zlib's macro casts
}

Inflater::~Inflater() {
  if (stream_->open) inflateEnd(&stream_->z);
}

void Inflater::feed(std::string_view bytes) {
  stream_->z.next_in =
      const_cast<Bytef*>(reinterpret_cast<const Bytef*>(bytes.data()));  // NOLINT: zlib reads only
  stream_->z.avail_in = static_cast<uInt>(bytes.size());
}

Inflater::State Inflater::pull(unsigned char* out, std::size_t size, std::size_t& made) {
  if (!stream_->open) return State::damaged;
  if (stream_->ended) return State::ended;
  z_stream& z = stream_->z;
  const auto room = static_cast<uInt>(size - made);
  z.next_out = out + made;
  z.avail_out = room;
  const int code = inflate(&z, Z_NO_FLUSH);
  made += room - z.avail_out;
  if (code == Z_STREAM_END) {
    stream_->ended = true;
    return State::ended;
  }
  if (code != Z_OK && code != Z_BUF_ERROR) return State::damaged;
  return z.avail_out == 0 ? State::full : State::more_input;
}

std::optional<std::string> inflate_all(std::string_view bytes, std::size_t most) {
  Inflater inflater;
  inflater.feed(bytes);
  std::string out;
  std::size_t made = 0;
  for (;;) {
    out.resize(std::min(most + 1, std::max<std::size_t>(out.size() * 2, 4096)));
    const auto state = inflater.pull(reinterpret_cast<unsigned char*>(out.data()), out.size(), made);
    if (state == Inflater::State::ended && made <= most) break;
    if (state != Inflater::State::full || made > most) return {};
  }
  out.resize(made);
  return out;
}

}  // namespace kithue
