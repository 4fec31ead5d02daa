// The one file that knows libosmium.
#include "estate/osm_map.h"

#include <fmt/core.h>
#include <sys/stat.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <iterator>
#include <limits>
#include <memory>
#include <osmium/io/compression.hpp>
#include <osmium/io/pbf_input.hpp>
#include <osmium/io/reader.hpp>
#include <osmium/io/xml_input.hpp>
#include <osmium/visitor.hpp>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

#include "base/text.h"
#include "estate/osm_bytes.h"
#include "estate/osm_take.h"
#include "files/disk.h"

namespace withy {
namespace {

constexpr std::string_view licence = "(c) OpenStreetMap contributors, ODbL 1.0, openstreetmap.org/copyright";
struct Format {
  std::string_view ending;
  const char* reader;      // libosmium's name; plain text goes through the unpacker of gzip
  std::string_view magic;  // how such a file begins, where that is known
};
constexpr std::string_view gzip_magic = "\x1f\x8b";
constexpr Format formats[] = {{".osm.pbf", "pbf", ""},
                              {".osm.gz", "osm.gz", gzip_magic},
                              {".osm.bz2", "osm.bz2", "BZh"},
                              {".osm", "osm.gz", ""}};

// Null where the ending is none of ours.
const Format* format_of(const std::filesystem::path& path) {
  std::string name = path.filename().string();
  for (char& c : name)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  for (const Format& format : formats)
    if (name.ends_with(format.ending)) return &format;
  return nullptr;
}

class Unpack final : public osmium::io::Decompressor {
 public:
  Unpack(int descriptor, Packing packing) : bytes_(descriptor, packing) {}
  std::string read() override { return bytes_.read(); }
  void close() override {}

 private:
  OsmBytes bytes_;
};

// libosmium asks its registry for the unpacker of a file; ours mends and bounds what it passes on.
void register_unpackers() {
  const auto put = [](osmium::io::file_compression kind, Packing packing) {
    osmium::io::CompressionFactory::instance().register_compression(
        kind, [](int, osmium::io::fsync) { return nullptr; },
        [packing](int descriptor) { return new Unpack(descriptor, packing); },
        [](const char*, size_t) { return nullptr; });
  };
  static const bool once = [&put] {
    put(osmium::io::file_compression::gzip, Packing::plain_or_gzip);
    put(osmium::io::file_compression::bzip2, Packing::bzip2);
    return true;
  }();
  static_cast<void>(once);
}

using TagList = std::vector<std::pair<std::string_view, std::string_view>>;
OsmTags tags_of(const osmium::OSMObject& object, TagList& list) {
  list.clear();
  for (const osmium::Tag& tag : object.tags()) list.push_back({tag.key(), tag.value()});
  return {list};
}

class FirstPass : public osmium::handler::Handler {
 public:
  FirstPass(OsmTake& take, uint64_t most_nodes) : take_(take), left_(most_nodes) {}
  void node(const osmium::Node& node) {
    if (!node.visible()) return;
    if (left_-- == 0) throw std::runtime_error("more nodes than a file of its size can hold");
    const osmium::Location at = node.location();
    take_.node({node.id(), at.x(), at.y()}, at.valid(), tags_of(node, tags_));
  }
  void relation(const osmium::Relation& relation) {
    if (!relation.visible()) return;
    std::vector<int64_t> ways;
    for (const osmium::RelationMember& member : relation.members())
      if (member.type() == osmium::item_type::way) ways.push_back(member.ref());
    take_.relation(relation.id(), tags_of(relation, tags_), std::move(ways));
  }

 private:
  OsmTake& take_;
  uint64_t left_;
  TagList tags_;
};

class SecondPass : public osmium::handler::Handler {
 public:
  explicit SecondPass(OsmTake& take) : take_(take) {}
  void way(const osmium::Way& way) {
    if (!way.visible()) return;
    nodes_.clear();
    for (const osmium::NodeRef& node : way.nodes()) nodes_.push_back(node.ref());
    take_.way(way.id(), tags_of(way, tags_), nodes_);
  }

 private:
  OsmTake& take_;
  TagList tags_;
  std::vector<int64_t> nodes_;
};

template <class Handler>
void read_through(const osmium::io::File& file, osmium::osm_entity_bits::type which, Handler& handler) {
  osmium::io::Reader reader(file, which);
  while (osmium::memory::Buffer buffer = reader.read()) osmium::apply(buffer, handler);
  reader.close();
}

// Packed very regular nodes take 1.6 bytes each (measured on a made grid); a file that claims much more is
// made to fill the memory.
constexpr uint64_t most_nodes_a_byte = 8;

void read_both(const osmium::io::File& file, OsmTake& take) {
  FirstPass first(take, most_nodes_a_byte * std::filesystem::file_size(file.filename()));
  read_through(file, osmium::osm_entity_bits::node | osmium::osm_entity_bits::relation, first);
  take.settle();
  SecondPass second(take);
  read_through(file, osmium::osm_entity_bits::way, second);
  take.finish();
}

// Empty where the file could be read through.
plan::Diagnostics tried(const std::filesystem::path& path, const Format& format, OsmTake& take) {
  plan::Place place{path.string(), 0, 0};
  std::string why;
  try {
    // An absolute path cannot be taken for an address on the network or for standard input.
    read_both(osmium::io::File(std::filesystem::absolute(path).string(), format.reader), take);
    return {};
  } catch (const osmium::xml_error& error) {
    place.line = static_cast<uint32_t>(error.line);
    place.column = static_cast<uint32_t>(error.column);
    why = error.what();
  } catch (const std::bad_alloc&) {
    why = "more memory is needed than there is";
  } catch (const std::exception& error) {
    why = error.what();
  }
  return {
      plan::diagnostic(place, "damaged, cut short or not of the kind its ending says: " + plan::shown(why))};
}

// Its first bytes; throws where it cannot be read.
std::string must_be_readable(const std::filesystem::path& path) {
  const auto refuse = [&path](const std::string& why) { throw OutsideFault(path.string() + ": " + why); };
  struct stat status = {};
  if (path.native().find('\0') != std::string::npos) refuse("file not found");
  if (::stat(path.c_str(), &status) != 0)
    refuse(errno == ENOENT ? "file not found" : fmt::format("cannot be read: {}", std::strerror(errno)));
  if (S_ISDIR(status.st_mode)) refuse("this is a folder, expected a file");
  if (!S_ISREG(status.st_mode)) refuse("not a regular file");
  std::FILE* file = std::fopen(path.c_str(), "rb");
  if (!file) refuse(fmt::format("cannot be read: {}", std::strerror(errno)));
  std::string head(4, '\0');
  head.resize(std::fread(head.data(), 1, head.size(), file));
  std::fclose(file);
  return head;
}

std::string emptiness(const OsmCounts& counts) {
  if (counts.nodes + counts.ways + counts.relations == 0) return "holds no map objects";
  if (counts.nodes == 0) return "holds no nodes: nothing in it has a place";
  if (counts.ways == 0) return fmt::format("holds {} nodes and no ways: it may be cut short", counts.nodes);
  return {};
}

template <class T>
void append(std::vector<T>& list, std::vector<T>& more) {
  list.insert(list.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

void append(Map& map, Map& more) {
  append(map.sources, more.sources);
  append(map.streets, more.streets);
  append(map.buildings, more.buildings);
  append(map.addresses, more.addresses);
  append(map.barriers, more.barriers);
  append(map.remarks, more.remarks);
}

}  // namespace

bool is_osm_name(const std::filesystem::path& path) {
  return format_of(path) != nullptr;
}

plan::Result<OsmCounts> read_osm(const std::filesystem::path& path, Map& map) {
  const auto refuse = [&path](std::string why) {
    return plan::failed<OsmCounts>(plan::diagnostic({path.string(), 0, 0}, std::move(why)));
  };
  const std::string head = must_be_readable(path);
  const Format* format = format_of(path);
  if (!format) return refuse("ending is none of .osm.pbf, .osm, .osm.gz, .osm.bz2");
  if (!map.geographic) return refuse("degrees cannot be mixed with sources in metres");
  if (map.sources.size() >= std::numeric_limits<uint16_t>::max()) return refuse("too many sources");
  if (std::filesystem::file_size(path) == 0) return refuse("file is empty");
  if (!head.starts_with(format->magic) || (format->magic.empty() && head.starts_with(gzip_magic)))
    return refuse(fmt::format("is not packed as its ending {} says", format->ending));
  register_unpackers();

  Map read;
  OsmCounts counts;
  OsmTake take(read, counts, static_cast<uint16_t>(map.sources.size()));
  if (plan::Diagnostics faults = tried(path, *format, take); !faults.empty()) return {{}, std::move(faults)};
  if (std::string why = emptiness(counts); !why.empty()) return refuse(std::move(why));
  MapSource source;
  source.path = path.string();
  source.licence = licence;
  source.shared_vertices = true;
  source.nodes = counts.nodes;
  source.ways = counts.ways;
  source.relations = counts.relations;
  read.sources.push_back(std::move(source));
  append(map, read);
  return plan::good(counts);
}

}  // namespace withy
