// Real extracts of OpenStreetMap, read in place: counts made with two other readers on the same files.
#include "estate/osm_map.h"

#include <doctest/doctest.h>
#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "estate/osm_bytes.h"

using namespace withy;

namespace {

struct Known {
  const char* file;
  uint64_t nodes, ways, relations;
  uint64_t highways, buildings, numbered_nodes;
};

void check_objects(const OsmCounts& counts, const Known& known) {
  CHECK(counts.nodes == known.nodes);
  CHECK(counts.ways == known.ways);
  CHECK(counts.relations == known.relations);
}

size_t remarks(const Map& map, MapKind kind, std::string_view what) {
  return static_cast<size_t>(std::count_if(map.remarks.begin(), map.remarks.end(), [&](const MapRemark& r) {
    return r.id.kind == kind && r.what == what;
  }));
}

bool read_map(const std::string& file, Map& map, OsmCounts& counts) {
  const std::string path = std::string(WITHY_REFERENCE_DATA) + "/maps/" + file;
  if (!std::filesystem::exists(path)) {
    MESSAGE("left out: " << file << " is not there");
    return false;
  }
  const auto read = read_osm(path, map);
  REQUIRE_MESSAGE(read, path);
  counts = *read;
  return true;
}

size_t of_ways(const std::vector<MapBuilding>& buildings) {
  return static_cast<size_t>(std::count_if(buildings.begin(), buildings.end(),
                                           [](const MapBuilding& b) { return b.id.kind == MapKind::way; }));
}
size_t numbered(const std::vector<MapBuilding>& buildings) {
  return static_cast<size_t>(std::count_if(buildings.begin(), buildings.end(),
                                           [](const MapBuilding& b) { return !b.number.empty(); }));
}

std::string unpacked(const std::string& file) {
  OsmBytes bytes(::open((std::string(WITHY_REFERENCE_DATA) + "/maps/" + file).c_str(), O_RDONLY),
                 Packing::plain_or_gzip);
  std::string text;
  for (std::string more; more = bytes.read(), !more.empty();) text += more;
  return text;
}

// The street graph of a map by the plainest rule: split where a place is used twice and at ends.
struct Graph {
  size_t nodes = 0, edges = 0, components = 0, loops = 0;
};
using Spot = std::pair<double, double>;

bool soft(StreetClass street_class) {
  return street_class >= StreetClass::footway;
}

Graph graph_of(const Map& map, bool roads_only) {
  std::map<Spot, size_t> uses;
  const auto counts = [&](const MapStreet& s) { return !s.area && !(roads_only && soft(s.street_class)); };
  for (const MapStreet& s : map.streets) {
    if (!counts(s)) continue;
    for (const MapPlace& p : s.line) ++uses[{p.x, p.y}];
    for (const MapPlace& p : {s.line.front(), s.line.back()}) uses[{p.x, p.y}] += 2;
  }
  Graph graph;
  std::map<Spot, Spot> above;  // union-find over the nodes
  const auto top = [&above](Spot s) {
    while (above.at(s) != s) s = above.at(s) = above.at(above.at(s));
    return s;
  };
  for (const auto& [spot, n] : uses)
    if (n > 1) above[spot] = spot;
  graph.nodes = graph.components = above.size();
  for (const MapStreet& s : map.streets) {
    if (!counts(s)) continue;
    Spot from{s.line[0].x, s.line[0].y};
    for (size_t i = 1; i < s.line.size(); ++i) {
      const Spot to{s.line[i].x, s.line[i].y};
      if (uses.at(to) < 2) continue;
      ++graph.edges;
      if (from == to) ++graph.loops;
      const Spot a = top(from), b = top(to);
      if (a != b) --graph.components;
      above[a] = b;
      from = to;
    }
  }
  return graph;
}

// The objects of an XML text by kind, then number.
std::string sorted_text(const std::string& text) {
  const std::string openings[] = {"<node id=\"", "<way id=\"", "<relation id=\""};
  std::map<size_t, std::pair<size_t, int64_t>> starts;  // where: kind and number
  size_t backwards = 0;
  for (size_t kind = 0; kind < 3; ++kind) {
    const std::string& opening = openings[kind];
    int64_t last = 0;
    for (size_t at = text.find(opening); at != std::string::npos; at = text.find(opening, at + 1)) {
      const int64_t id = std::stoll(text.substr(at + opening.size(), 20));
      backwards += id < last ? 1 : 0;
      last = id;
      starts[at] = {kind, id};
    }
  }
  CHECK(backwards == 220 + 88 + 23);  // derived: how often the ids run backwards
  const size_t last_end = text.find("</osm>");
  std::vector<std::tuple<size_t, int64_t, std::string>> objects;
  for (auto start = starts.begin(); start != starts.end(); ++start) {
    const size_t end = std::next(start) == starts.end() ? last_end : std::next(start)->first;
    objects.push_back(
        {start->second.first, start->second.second, text.substr(start->first, end - start->first)});
  }
  std::sort(objects.begin(), objects.end());
  std::string sorted = text.substr(0, starts.begin()->first);
  for (const auto& object : objects) sorted += std::get<2>(object);
  return sorted + "</osm>\n";
}

}  // namespace

TEST_CASE("extracts of OpenStreetMap hold what other readers find in them") {
  const Known all[] = {// derived: counted with two other readers
                       {"lauf-200115.osm.pbf", 72206, 11802, 406, 2931, 6526, 4778},
                       {"lauf-cut-m.osm.pbf", 14023, 2165, 130, 554, 1276, 1169},
                       {"faurndau.osm.gz", 9219, 1888, 51, 185, 1675, 9},
                       {"neubrandenburg.osm.bz2", 152087, 25897, 295, 7930, 15331, 7554}};
  for (const Known& known : all) {
    CAPTURE(std::string(known.file));
    Map map;
    OsmCounts counts;
    if (!read_map(known.file, map, counts)) continue;
    check_objects(counts, known);
    CHECK(counts.highway_ways == known.highways);
    CHECK(counts.building_ways == known.buildings);
    CHECK(counts.house_number_nodes == known.numbered_nodes);
    CHECK(map.addresses.size() == known.numbered_nodes);
  }
}

TEST_CASE("nodes, ways and relations of the cuts") {
  const Known all[] = {{"neubrandenburg-cut-s.osm.pbf", 1375, 290, 5, 0, 0, 0},  // derived, as above
                       {"neubrandenburg-cut-m.osm.pbf", 8248, 1485, 22, 0, 0, 0},
                       {"neubrandenburg-cut-l.osm.pbf", 68773, 12579, 159, 0, 0, 0}};
  for (const Known& known : all) {
    CAPTURE(std::string(known.file));
    Map map;
    OsmCounts counts;
    if (!read_map(known.file, map, counts)) continue;
    check_objects(counts, known);
  }
}

TEST_CASE("Lauf is clipped: what is lost at its edge is counted") {
  Map map;
  OsmCounts counts;
  if (!read_map("lauf-200115.osm.pbf", map, counts)) return;
  CHECK(counts.absent_from_highways == 758);  // derived: another reader on ways with `highway`
  CHECK(counts.interpolation_ways == 29);
  // derived: 38 outlines cannot be closed; one more way says building=no.
  CHECK(counts.building_ways - of_ways(map.buildings) == 38 + 1);
  CHECK(map.buildings.size() - of_ways(map.buildings) == 5);
  CHECK(counts.longest_jump_metres > 0);
  CHECK(remarks(map, MapKind::way, "absent nodes dropped from a way") > 0);
  int64_t highest = 0;
  for (const MapAddress& a : map.addresses) highest = std::max(highest, a.id.number);
  CHECK(highest > int64_t{1} << 32);  // ids exceed 32 bits
  CHECK(highest <= 7'130'313'737);    // derived: its highest node
}

TEST_CASE("Neubrandenburg is whole; some of its buildings are drawn twice") {
  Map map;
  OsmCounts counts;
  if (!read_map("neubrandenburg.osm.bz2", map, counts)) return;
  CHECK(counts.absent_references == 0);
  CHECK(counts.longest_jump_metres == 0);
  CHECK(counts.interpolation_ways == 25);
  CHECK(map.buildings.size() - of_ways(map.buildings) == 9);  // derived: its building multipolygons
  CHECK(numbered(map.buildings) == 2694);
  // derived, by hand in the file: relations 2138781, 3758853 and 3758854 and their four outer ways are
  // buildings.
  CHECK(remarks(map, MapKind::way, "building way repeats its relation") == 4);
  CHECK(counts.building_ways - of_ways(map.buildings) == 4 + 1);  // one way says building=no
  size_t several = 0;
  for (const MapBuilding& b : map.buildings) several += b.parts.size() > 1 ? 1 : 0;
  CHECK(several == 2);  // derived: with two outsides
}

TEST_CASE("Faurndau as it is, ids running backwards, and sorted give one map") {
  Map map, sorted;
  OsmCounts counts;
  if (!read_map("faurndau.osm.gz", map, counts)) return;
  CHECK(counts.absent_references == 0);
  CHECK(numbered(map.buildings) == 995);
  const std::filesystem::path path =
      std::filesystem::temp_directory_path() / ("withy-sorted-" + std::to_string(getpid()) + ".osm");
  std::ofstream(path, std::ios::binary) << sorted_text(unpacked("faurndau.osm.gz"));
  const auto read = read_osm(path, sorted);
  std::filesystem::remove(path);
  REQUIRE(read);
  CHECK(read->nodes == counts.nodes);
  CHECK(read->references == counts.references);
  REQUIRE(map.streets.size() == sorted.streets.size());
  for (size_t i = 0; i < map.streets.size(); ++i) {
    CHECK(map.streets[i].id == sorted.streets[i].id);
    CHECK(map.streets[i].line == sorted.streets[i].line);
    CHECK(map.streets[i].name == sorted.streets[i].name);
  }
  REQUIRE(map.buildings.size() == sorted.buildings.size());
  for (size_t i = 0; i < map.buildings.size(); ++i) {
    CHECK(map.buildings[i].id == sorted.buildings[i].id);
    CHECK(map.buildings[i].parts[0].rings == sorted.buildings[i].parts[0].rings);
  }
  CHECK(map.remarks.size() == sorted.remarks.size());
}

TEST_CASE("the streets of the extracts make the graph that another converter made of them") {
  struct Case {
    const char* file;
    bool roads_only;
    Graph graph;
  };
  const Case all[] = {// derived: nodes, edges, components, self-loops of a converter in another language
                      {"faurndau.osm.gz", false, {266, 335, 2, 0}},
                      {"faurndau.osm.gz", true, {184, 215, 5, 0}},
                      {"lauf-cut-m.osm.pbf", false, {736, 881, 4, 2}},
                      {"lauf-200115.osm.pbf", false, {3795, 4717, 9, 8}},
                      {"lauf-200115.osm.pbf", true, {2251, 2621, 6, 4}},
                      {"neubrandenburg-cut-s.osm.pbf", false, {83, 107, 2, 1}},
                      {"neubrandenburg-cut-m.osm.pbf", false, {374, 491, 2, 3}},
                      {"neubrandenburg-cut-l.osm.pbf", false, {7670, 9957, 20, 34}},
                      {"neubrandenburg.osm.bz2", false, {12542, 16360, 29, 76}},
                      {"neubrandenburg.osm.bz2", true, {6088, 7350, 33, 83}}};
  for (const Case& known : all) {
    CAPTURE(std::string(known.file));
    CAPTURE(known.roads_only);
    Map map;
    OsmCounts counts;
    if (!read_map(known.file, map, counts)) continue;
    const Graph graph = graph_of(map, known.roads_only);
    CHECK(graph.nodes == known.graph.nodes);
    CHECK(graph.edges == known.graph.edges);
    CHECK(graph.components == known.graph.components);
    CHECK(graph.loops == known.graph.loops);
  }
}
