// The second half of OsmTake: areas of relations, and what is put in order at the end.
#include <fmt/core.h>

#include <algorithm>
#include <iterator>
#include <tuple>
#include <utility>

#include "estate/osm_rings.h"
#include "estate/osm_take.h"

namespace withy {
namespace {

auto rank(MapId id) {
  return std::tuple{id.kind, id.number};
}

bool earlier(const MapRemark& a, const MapRemark& b) {
  return std::tuple(rank(a.id), a.kind, a.what, std::string_view(a.detail)) <
         std::tuple(rank(b.id), b.kind, b.what, std::string_view(b.detail));
}

// Sorts features by kind and number. Those of one number come from one object given more than once: the
// last stays. A relation gives several features at once, never twice.
template <class Feature>
std::vector<MapId> sort_features(std::vector<Feature>& list) {
  std::stable_sort(list.begin(), list.end(),
                   [](const Feature& a, const Feature& b) { return rank(a.id) < rank(b.id); });
  std::vector<MapId> repeated;
  size_t kept = 0;
  for (size_t i = 0; i < list.size(); ++i) {
    const bool again =
        i + 1 < list.size() && list[i + 1].id == list[i].id && list[i].id.kind != MapKind::relation;
    if (again) {
      repeated.push_back(list[i].id);
      continue;
    }
    if (kept != i) list[kept] = std::move(list[i]);
    ++kept;
  }
  list.resize(kept);
  repeated.erase(std::unique(repeated.begin(), repeated.end()), repeated.end());
  return repeated;
}

MapPart part_of(const OsmPart& part) {
  MapPart out;
  for (const OsmLine& ring : part.rings) out.rings.push_back(path_of(ring));
  return out;
}

}  // namespace

void OsmTake::relation(int64_t number, const OsmTags& tags, std::vector<int64_t> ways) {
  ++counts_.relations;
  if (tags["type"] != "multipolygon") return;
  const MapId id = id_of(MapKind::relation, number);
  Area area;
  area.id = number;
  if (tags.says("building")) area.building.push_back(building(id, tags));
  if (const auto kind = barrier_of(tags); kind && kind->area)
    area.barrier.push_back(barrier(id, tags, kind->kind));
  if (const auto kind = street_of(tags["highway"])) area.street.push_back(street(id, tags, *kind));
  if (area.building.empty() && area.barrier.empty() && area.street.empty()) return;
  wanted_.insert(wanted_.end(), ways.begin(), ways.end());
  area.ways = std::move(ways);
  areas_.push_back(std::move(area));
}

void OsmTake::keep_member(int64_t id, const std::vector<int64_t>& nodes) {
  MemberWay way;
  way.id = id;
  bool gap = true;
  for (const int64_t number : nodes) {
    const OsmNode* node = places_.find(number);
    if (!node) {
      gap = true;
      way.whole = false;
      continue;
    }
    if (gap) way.pieces.emplace_back();
    way.pieces.back().push_back(*node);
    gap = false;
  }
  members_.push_back(std::move(way));
}

void OsmTake::assemble(Area& area) {
  std::vector<OsmLine> pieces;
  size_t absent = 0, broken = 0;
  std::sort(area.ways.begin(), area.ways.end());
  area.ways.erase(std::unique(area.ways.begin(), area.ways.end()), area.ways.end());
  for (const int64_t number : area.ways) {
    const auto after = std::upper_bound(members_.begin(), members_.end(), number,
                                        [](int64_t n, const MemberWay& way) { return n < way.id; });
    if (after == members_.begin() || std::prev(after)->id != number) {
      ++absent;
      continue;
    }
    const MemberWay& way = *std::prev(after);
    if (!way.whole) ++broken;
    pieces.insert(pieces.end(), way.pieces.begin(), way.pieces.end());
  }
  OsmRings rings = joined(std::move(pieces));
  const bool closes = absent == 0 && broken == 0 && rings.open.empty() && !rings.closed.empty();
  if (!closes) {
    MapPlace at;
    if (!rings.open.empty()) at = place_of(rings.open[0][0]);
    if (!rings.closed.empty()) at = place_of(rings.closed[0][0]);
    const bool water = !area.barrier.empty();
    remark(
        water ? RemarkKind::doubtful : RemarkKind::left_out,
        water ? "area of a relation does not close: its shores are taken as lines"
              : "area of a relation does not close",
        id_of(MapKind::relation, area.id), at,
        fmt::format("{} ways absent, {} ways lack nodes, {} open chains", absent, broken, rings.open.size()));
    area.building.clear();
    area.street.clear();
    std::move(rings.closed.begin(), rings.closed.end(), std::back_inserter(rings.open));
    rings.closed.clear();
  }
  take_area(area, std::move(rings.closed), std::move(rings.open));
}

void OsmTake::take_area(Area& area, std::vector<OsmLine> closed, std::vector<OsmLine> open) {
  const bool some = !closed.empty();
  const MapPlace at = some ? place_of(closed[0][0]) : MapPlace{};
  const std::vector<OsmPart> parts = nested(std::move(closed));
  if (some && parts.empty())
    remark(RemarkKind::left_out, "area of a relation has too many rings", id_of(MapKind::relation, area.id),
           at);
  for (MapBuilding& building : area.building) {
    for (const OsmPart& part : parts) building.parts.push_back(part_of(part));
    if (!building.parts.empty()) map_.buildings.push_back(std::move(building));
  }
  for (const MapStreet& street : area.street)
    for (const OsmPart& part : parts) {
      map_.streets.push_back(street);
      map_.streets.back().line = path_of(part.rings[0]);
      map_.streets.back().area = true;
    }
  for (const MapBarrier& barrier : area.barrier) {
    for (const OsmPart& part : parts) {
      MapBarrier water = barrier;
      water.area = true;
      water.line = path_of(part.rings[0]);
      for (size_t i = 1; i < part.rings.size(); ++i) water.islands.push_back(path_of(part.rings[i]));
      map_.barriers.push_back(std::move(water));
    }
    for (const OsmLine& shore : open) {
      map_.barriers.push_back(barrier);
      map_.barriers.back().line = path_of(shore);
    }
  }
}

// Different nodes at one place are one vertex of the map: a mapper's slip that joins streets.
void OsmTake::remark_stacked_nodes() {
  const auto by_place = [](const OsmNode& a, const OsmNode& b) {
    return std::tuple(a.x, a.y, a.id) < std::tuple(b.x, b.y, b.id);
  };
  std::sort(street_nodes_.begin(), street_nodes_.end(), by_place);
  street_nodes_.erase(std::unique(street_nodes_.begin(), street_nodes_.end()), street_nodes_.end());
  for (size_t i = 1; i < street_nodes_.size(); ++i)
    if (same_place(street_nodes_[i - 1], street_nodes_[i]))
      remark(RemarkKind::doubtful, "two street nodes at one place", id_of(MapKind::node, street_nodes_[i].id),
             place_of(street_nodes_[i]), fmt::format("the other is node {}", street_nodes_[i - 1].id));
}

void OsmTake::finish() {
  std::stable_sort(members_.begin(), members_.end(),
                   [](const MemberWay& a, const MemberWay& b) { return a.id < b.id; });
  std::stable_sort(areas_.begin(), areas_.end(), [](const Area& a, const Area& b) { return a.id < b.id; });
  for (size_t i = 0; i < areas_.size(); ++i) {
    if (i + 1 < areas_.size() && areas_[i + 1].id == areas_[i].id) {
      remark(RemarkKind::repaired, "relation given more than once", id_of(MapKind::relation, areas_[i].id),
             {});
      continue;
    }
    assemble(areas_[i]);
  }
  std::vector<MapId> again = sort_features(map_.streets);
  for (const std::vector<MapId>& more : {sort_features(map_.buildings), sort_features(map_.barriers)})
    again.insert(again.end(), more.begin(), more.end());
  for (const MapId& id : again) remark(RemarkKind::repaired, "way given more than once", id, {});
  sort_features(map_.addresses);
  remark_stacked_nodes();
  std::stable_sort(map_.remarks.begin(), map_.remarks.end(), earlier);
}

}  // namespace withy
