// Streets drawn in metres, for tests.
#pragma once
#include <algorithm>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "estate/streets.h"

namespace withy {

struct Drawing {
  Map map;
  explicit Drawing(bool shared_vertices) {
    map.geographic = false;
    map.sources.push_back({"drawn", "", shared_vertices});
  }
  MapStreet& street(MapPath line, StreetClass c = StreetClass::residential, std::string name = "") {
    MapStreet s;
    s.id = {0, MapKind::way, static_cast<int64_t>(map.streets.size()) + 1};
    s.line = std::move(line);
    s.street_class = c;
    s.name = std::move(name);
    return map.streets.emplace_back(std::move(s));
  }
  Draft draft(const StreetRules& rules = {}) const { return make_streets(map, Plane(), rules); }
  StreetCounts counts() const { return street_counts(draft().routes); }
};

inline uint64_t told(const Draft& d, std::string_view what) {
  return static_cast<uint64_t>(
      std::count_if(d.remarks.begin(), d.remarks.end(), [&](const MapRemark& r) { return r.what == what; }));
}
inline const DraftRoute* named(const Draft& d, std::string_view name) {
  for (const DraftRoute& r : d.routes)
    if (r.name == name) return &r;
  return nullptr;
}
// The lines alone, sorted: what may not hang on the order of a map.
inline std::vector<std::vector<plan::Point>> lines_of(const Draft& made) {
  std::vector<std::vector<plan::Point>> all;
  for (const DraftRoute& r : made.routes) all.push_back(r.line);
  std::sort(all.begin(), all.end());
  return all;
}

}  // namespace withy
