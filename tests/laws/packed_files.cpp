#include "laws/packed_files.h"

#include <zlib.h>

#include <cstdint>
#include <cstring>
#include <vector>

namespace plan {
namespace {

template <class T>
std::string little(T value) {
  std::string bytes(sizeof value, '\0');
  std::memcpy(bytes.data(), &value, sizeof value);
  return bytes;
}

// Method, time and date, checksum, sizes, lengths: what both heads of an entry say.
std::string entry_facts(std::string_view name, std::string_view bytes) {
  const auto crc = static_cast<uint32_t>(
      crc32(0, reinterpret_cast<const Bytef*>(bytes.data()), static_cast<uInt>(bytes.size())));
  const auto size = static_cast<uint32_t>(bytes.size());
  return little<uint16_t>(0) + little<uint16_t>(0) + little<uint16_t>(0x21) + little(crc) + little(size) +
         little(size) + little(static_cast<uint16_t>(name.size())) + little<uint16_t>(0);
}

struct Tag {
  uint16_t number, kind;
  uint32_t count;
  std::string value;  // at most 4 bytes stand in the tag itself
};

}  // namespace

std::string gzipped(std::string_view bytes) {
  z_stream z{};
  deflateInit2(&z, 6, Z_DEFLATED, 15 + 16, 8, Z_DEFAULT_STRATEGY);
  std::string out(deflateBound(&z, bytes.size()) + 32, '\0');
  z.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
  z.avail_in = static_cast<uInt>(bytes.size());
  z.next_out = reinterpret_cast<Bytef*>(out.data());
  z.avail_out = static_cast<uInt>(out.size());
  deflate(&z, Z_FINISH);
  out.resize(z.total_out);
  deflateEnd(&z);
  return out;
}

std::string zipped(std::string_view name, std::string_view bytes) {
  const std::string facts = entry_facts(name, bytes);
  const std::string local = little<uint32_t>(0x04034b50) + little<uint16_t>(20) + little<uint16_t>(0) +
                            facts + std::string(name) + std::string(bytes);
  const std::string central = little<uint32_t>(0x02014b50) + little<uint16_t>(20) + little<uint16_t>(20) +
                              little<uint16_t>(0) + facts + std::string(14, '\0') + std::string(name);
  return local + central + little<uint32_t>(0x06054b50) + little<uint32_t>(0) + little<uint16_t>(1) +
         little<uint16_t>(1) + little(static_cast<uint32_t>(central.size())) +
         little(static_cast<uint32_t>(local.size())) + little<uint16_t>(0);
}

std::string geotiff(int side, double west, double north, double step) {
  constexpr uint16_t word = 3, whole = 4, real = 12;
  std::string pixels;
  for (int i = 0; i < side * side; ++i) pixels += little(static_cast<int16_t>(200 + i % side));
  const auto length = static_cast<uint32_t>(side);
  const auto one = [](uint16_t v) { return little(v) + std::string(2, '\0'); };
  const std::vector<Tag> tags{
      {256, whole, 1, little(length)},
      {257, whole, 1, little(length)},
      {258, word, 1, one(16)},
      {259, word, 1, one(1)},
      {262, word, 1, one(1)},
      {273, whole, 1, little<uint32_t>(8)},
      {277, word, 1, one(1)},
      {278, whole, 1, little(length)},
      {279, whole, 1, little(static_cast<uint32_t>(pixels.size()))},
      {339, word, 1, one(2)},
      {33550, real, 3, little(step) + little(step) + little(0.0)},
      {33922, real, 6, little(0.0) + little(0.0) + little(0.0) + little(west) + little(north) + little(0.0)},
      {34735, word, 16,
       little<uint16_t>(1) + little<uint16_t>(1) + little<uint16_t>(1) + little<uint16_t>(3) +
           little<uint16_t>(1024) + little<uint16_t>(0) + little<uint16_t>(1) + little<uint16_t>(2) +
           little<uint16_t>(1025) + little<uint16_t>(0) + little<uint16_t>(1) + little<uint16_t>(1) +
           little<uint16_t>(2048) + little<uint16_t>(0) + little<uint16_t>(1) + little<uint16_t>(4326)}};
  const auto directory = static_cast<uint32_t>(8 + pixels.size());
  auto beyond = directory + 2 + 12 * static_cast<uint32_t>(tags.size()) + 4;
  std::string head, tail;
  for (const Tag& tag : tags) {
    head += little(tag.number) + little(tag.kind) + little(tag.count);
    head += tag.value.size() <= 4 ? tag.value : little(beyond + static_cast<uint32_t>(tail.size()));
    if (tag.value.size() > 4) tail += tag.value;
  }
  return "II" + little<uint16_t>(42) + little(directory) + pixels +
         little(static_cast<uint16_t>(tags.size())) + head + little<uint32_t>(0) + tail;
}

}  // namespace plan
