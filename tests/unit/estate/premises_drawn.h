// Small maps in metres for tests of premises: x east, y north.
#pragma once
#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "estate/premises.h"

namespace withy::drawn {

inline plan::Point at(double x, double y) {
  return {std::llround(x * 1000), std::llround(y * 1000)};
}

inline MapPath box(double west, double south, double east, double north) {
  return {{west, south}, {east, south}, {east, north}, {west, north}, {west, south}};
}

struct Estate {
  Map map;
  std::vector<DraftRoute> routes;
  PremisesRules rules;
  int64_t next = 1;

  Estate() { map.geographic = false; }

  // Ids count up from 1 in the order drawn, whatever is drawn.
  MapId id(MapKind kind) { return {0, kind, next++}; }
  MapBuilding& building(MapPath outline) { return building({{{std::move(outline)}}}); }
  MapBuilding& building(std::vector<MapPart> parts) {
    MapBuilding b;
    b.id = id(MapKind::way);
    b.parts = std::move(parts);
    b.kind = "yes";
    map.buildings.push_back(b);
    return map.buildings.back();
  }
  MapAddress& address(double x, double y, std::string street = {}, std::string number = {}) {
    MapAddress a;
    a.id = id(MapKind::node);
    a.at = {x, y};
    a.street = std::move(street), a.number = std::move(number);
    map.addresses.push_back(a);
    return map.addresses.back();
  }
  DraftRoute& route(const MapPath& line, std::string street = {}) {
    DraftRoute r;
    r.id = id(MapKind::way);
    for (const MapPlace& p : line) r.line.push_back(at(p.x, p.y));
    r.street = std::move(street);
    routes.push_back(r);
    return routes.back();
  }
  void plot(MapPath outline) { map.plots.push_back({id(MapKind::feature), {{{std::move(outline)}}}}); }
  void barrier(BarrierKind kind, MapPath line) {
    MapBarrier b;
    b.id = id(MapKind::way);
    b.kind = kind;
    b.line = std::move(line);
    map.barriers.push_back(b);
  }

  MadePremises made() const { return make_premises(map, plane(), routes, rules); }
  Plane plane() const { return plane_of(map); }
};

// "what: detail" of every remark about `id`'s number, in order.
inline std::vector<std::string> remarks_on(const MadePremises& made, int64_t number) {
  std::vector<std::string> out;
  for (const MapRemark& r : made.remarks)
    if (r.id.number == number) out.push_back(std::string(r.what) + (r.detail.empty() ? "" : ": " + r.detail));
  return out;
}
using Remarks = std::vector<std::string>;

inline const DraftPremises& named(const MadePremises& made, std::string_view name) {
  for (const DraftPremises& p : made.premises)
    if (p.name == name) return p;
  FAIL("no premises ", name);
  return made.premises.front();
}

}  // namespace withy::drawn
