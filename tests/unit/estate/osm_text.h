// Hand-written OpenStreetMap files for the tests: written into a folder that goes away again.
#pragma once
#include <doctest/doctest.h>
#include <stdlib.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <string_view>

#include "estate/osm_map.h"

namespace osm_text {

struct Folder {
  Folder() {
    std::string pattern = (std::filesystem::temp_directory_path() / "withy-osm-XXXXXX").string();
    REQUIRE(mkdtemp(pattern.data()) != nullptr);
    path = pattern;
  }
  ~Folder() { std::filesystem::remove_all(path); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::filesystem::path write(const std::string& name, std::string_view bytes) const {
    std::ofstream(path / name, std::ios::binary) << bytes;
    return path / name;
  }
  std::filesystem::path path;
};

inline std::string bytes_of(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

// Nodes 1 to 9 on a grid: 1 2 3 in the south, 7 8 9 in the north, 0.001 degrees apart (111 m to the
// north, 72 m to the east), from 11 east 50 north.
inline std::string grid() {
  std::string text;
  for (int i = 0; i < 9; ++i)
    text += "<node id='" + std::to_string(i + 1) + "' lat='50.00" + std::to_string(i / 3) + "' lon='11.00" +
            std::to_string(i % 3) + "'/>\n";
  return text;
}

inline std::string tag(std::string_view key, std::string_view value) {
  return "<tag k='" + std::string(key) + "' v='" + std::string(value) + "'/>";
}

// way(7, "1 2 3", tag("highway", "service"))
inline std::string way(int64_t id, const std::string& nodes, const std::string& tags) {
  std::string text = "<way id='" + std::to_string(id) + "'>";
  std::istringstream list(nodes);
  for (std::string node; list >> node;) text += "<nd ref='" + node + "'/>";
  return text + tags + "</way>\n";
}

inline std::string relation(int64_t id, const std::string& ways, const std::string& tags) {
  std::string text = "<relation id='" + std::to_string(id) + "'>";
  std::istringstream list(ways);
  for (std::string member; list >> member;) text += "<member type='way' ref='" + member + "' role='outer'/>";
  return text + tag("type", "multipolygon") + tags + "</relation>\n";
}

inline std::string osm(const std::string& objects) {
  return "<?xml version='1.0' encoding='UTF-8'?>\n<osm version='0.6'>\n" + objects + "</osm>\n";
}

struct Read {
  withy::Map map;
  withy::OsmCounts counts;
};
inline Read read(const std::string& objects) {
  const Folder folder;
  Read r;
  const auto counts = withy::read_osm(folder.write("drawn.osm", osm(objects)), r.map);
  REQUIRE_MESSAGE(bool(counts), (counts ? "" : counts.diagnostics[0].message));
  r.counts = *counts;
  return r;
}

inline std::string fault(const std::filesystem::path& path) {
  withy::Map map;
  const auto counts = withy::read_osm(path, map);
  CHECK(map.sources.empty());
  return counts ? "" : counts.diagnostics.at(0).message;
}

inline size_t count(const withy::Map& map, std::string_view what) {
  return static_cast<size_t>(std::count_if(map.remarks.begin(), map.remarks.end(),
                                           [&](const withy::MapRemark& r) { return r.what == what; }));
}
inline const withy::MapRemark& only(const withy::Map& map, std::string_view what) {
  REQUIRE(count(map, what) == 1);
  return *std::find_if(map.remarks.begin(), map.remarks.end(),
                       [&](const withy::MapRemark& r) { return r.what == what; });
}

}  // namespace osm_text
