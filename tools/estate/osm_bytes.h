// The unpacked bytes of an XML file of OpenStreetMap, made safe for the parser behind: plain, gzip (of any
// number of members) or bzip2 (of any number of streams).
//
// Mended on the way: a latitude or longitude that is no plain number, or beyond 200 degrees, becomes 200,
// which is no place on the earth; libosmium would refuse the whole file for "NaN" and read "1e308" as 0.
// Bounded on the way: a tag of at most 1 MiB and an object of at most 64 MiB, so that a few packed bytes
// cannot fill the memory. OpenStreetMap itself allows 255 characters a value, 2,000 nodes a way and 32,000
// members a relation (wiki.openstreetmap.org, API v0.6).
#pragma once
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

namespace withy {

class XmlMender {
 public:
  // What of the text so far can be passed on. Throws std::runtime_error at a bound.
  std::string mended(std::string_view more);
  // The rest, an unfinished tag.
  std::string rest() { return std::move(carry_); }

 private:
  void pass(std::string_view token, std::string& out);
  std::string carry_;
  uint64_t object_bytes_ = 0;
};

enum class Packing : uint8_t { plain_or_gzip, bzip2 };

class OsmBytes {
 public:
  // Owns the open file from here on.
  OsmBytes(int descriptor, Packing packing);
  ~OsmBytes();
  OsmBytes(const OsmBytes&) = delete;
  OsmBytes& operator=(const OsmBytes&) = delete;

  // Some bytes; none at the end. Throws std::runtime_error where the packed data are damaged or cut short.
  std::string read();
  struct Unpacker;

 private:
  std::unique_ptr<Unpacker> unpacker_;
  XmlMender mender_;
  bool ended_ = false;
};

}  // namespace withy
