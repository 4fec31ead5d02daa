#include "reference/real_maps.h"

#include <doctest/doctest.h>
#include <zlib.h>

#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "estate/osm_map.h"

namespace withy::reference {
namespace {

const std::string folder = std::string(WITHY_REFERENCE_DATA) + "/maps/";

bool there(const std::string& file) {
  const bool found = std::filesystem::exists(folder + file);
  if (!found) MESSAGE("left out: " << folder << file << " is not there");
  return found;
}

template <class F>
void each_row(const std::string& file, F f) {
  gzFile in = gzopen((folder + file).c_str(), "rb");
  std::string row;
  char block[65536];
  int64_t number = 0;
  while (gzgets(in, block, sizeof block) != nullptr) {
    row += block;
    if (row.empty() || row.back() != '\n') continue;
    f(nlohmann::json::parse(row), ++number);
    row.clear();
  }
  if (!row.empty()) f(nlohmann::json::parse(row), ++number);
  gzclose(in);
}

MapPlace place(const nlohmann::json& c) {
  return {c[0].get<double>(), c[1].get<double>()};
}
bool inside(const LonLatBox& b, MapPlace p) {
  return p.x >= b.west && p.x <= b.east && p.y >= b.south && p.y <= b.north;
}
std::string word(const nlohmann::json& feature, const char* key) {
  const auto& properties = feature["properties"];
  const auto i = properties.find(key);
  if (i == properties.end() || i->is_null()) return {};
  return i->is_string() ? i->get<std::string>() : i->dump();
}

void add_line(const nlohmann::json& coordinates, const std::string& name, int64_t number,
              const LonLatBox& box, Map& map) {
  MapStreet street;
  street.id = {0, MapKind::feature, number};
  street.name = name;
  bool in = false;
  for (const auto& c : coordinates) {
    street.line.push_back(place(c));
    in |= inside(box, street.line.back());
  }
  if (in) map.streets.push_back(street);
}

bool is_soft(StreetClass c) {
  return c >= StreetClass::footway && c <= StreetClass::steps;
}

}  // namespace

bool read_map(const std::string& file, Map& map) {
  if (!there(file)) return false;
  REQUIRE(read_osm(folder + file, map).value);
  return true;
}

bool read_rows(const std::string& lines, const std::string& points, LonLatBox box, Map& map) {
  if (!there(lines) || !there(points)) return false;
  map.sources.resize(2);
  each_row(lines, [&](const nlohmann::json& feature, int64_t number) {
    const auto& geometry = feature["geometry"];
    const std::string name = word(feature, "via_name");
    if (geometry["type"] == "MultiLineString")
      for (const auto& part : geometry["coordinates"]) add_line(part, name, number, box, map);
    else
      add_line(geometry["coordinates"], name, number, box, map);
  });
  each_row(points, [&](const nlohmann::json& feature, int64_t number) {
    MapAddress a;
    a.id = {1, MapKind::feature, number};
    a.at = place(feature["geometry"]["coordinates"]);
    if (!inside(box, a.at)) return;
    const std::string address = word(feature, "address");
    const size_t comma = address.rfind(',');
    a.street = address.substr(0, comma);
    a.number = comma == std::string::npos ? word(feature, "house_number") : address.substr(comma + 1);
    map.addresses.push_back(a);
  });
  return true;
}

std::vector<DraftRoute> plain_routes(const Map& map, const Plane& plane, bool soft) {
  std::vector<DraftRoute> routes;
  for (const MapStreet& s : map.streets) {
    if (s.area || (!soft && is_soft(s.street_class))) continue;
    DraftRoute r;
    r.id = s.id;
    r.street = s.name;
    r.street_class = s.street_class;
    r.drops = s.street_class != StreetClass::trunk && s.street_class != StreetClass::steps && !s.bridge &&
              !s.tunnel;
    for (const std::string access : {"private", "no", "customers", "delivery", "military"})
      r.restricted |= s.access == access;
    for (const MapPlace& p : s.line) r.line.push_back(plane.forward(p));
    if (r.line.size() > 1) routes.push_back(r);
  }
  return routes;
}

}  // namespace withy::reference
