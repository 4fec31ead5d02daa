// What OsmTake puts in order at the end.
#include <fmt/core.h>

#include <algorithm>
#include <tuple>
#include <utility>

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

MapPlace place_in(const MapStreet& street) {
  return street.line[0];
}
MapPlace place_in(const MapBarrier& barrier) {
  return barrier.line[0];
}
MapPlace place_in(const MapBuilding& building) {
  return building.parts[0].rings[0][0];
}
MapPlace place_in(const MapAddress& address) {
  return address.at;
}

// Gives the remark the place of its feature, if that is in the sorted list.
template <class Feature>
void give_place(MapRemark& remark, const std::vector<Feature>& list) {
  if (remark.at != MapPlace{}) return;
  const auto at = std::lower_bound(list.begin(), list.end(), remark.id, [](const Feature& feature, MapId id) {
    return rank(feature.id) < rank(id);
  });
  if (at != list.end() && at->id == remark.id) remark.at = place_in(*at);
}

}  // namespace

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

void OsmTake::put_buildings_in_order() {
  const auto by_number = [](const MapId& a, const MapId& b) { return a.number < b.number; };
  std::sort(repeats_.begin(), repeats_.end(), by_number);
  std::erase_if(map_.buildings, [&](const MapBuilding& building) {
    return building.id.kind == MapKind::way &&
           std::binary_search(repeats_.begin(), repeats_.end(), building.id, by_number);
  });
  sort_features(map_.buildings);
}

void OsmTake::finish() {
  std::stable_sort(members_.begin(), members_.end(),
                   [](const MemberWay& a, const MemberWay& b) { return a.id < b.id; });
  std::vector<MapId> again = sort_features(map_.buildings);
  way_buildings_ = map_.buildings.size();
  std::stable_sort(areas_.begin(), areas_.end(), [](const Area& a, const Area& b) { return a.id < b.id; });
  for (size_t i = 0; i < areas_.size(); ++i) {
    if (i + 1 < areas_.size() && areas_[i + 1].id == areas_[i].id) {
      remark(RemarkKind::repaired, "relation given more than once", id_of(MapKind::relation, areas_[i].id),
             {});
      continue;
    }
    assemble(areas_[i]);
  }
  put_buildings_in_order();
  for (const std::vector<MapId>& more : {sort_features(map_.streets), sort_features(map_.barriers)})
    again.insert(again.end(), more.begin(), more.end());
  for (const MapId& id : again) remark(RemarkKind::repaired, "way given more than once", id, {});
  sort_features(map_.addresses);
  remark_stacked_nodes();
  for (MapRemark& remark : map_.remarks) {
    give_place(remark, map_.streets);
    give_place(remark, map_.buildings);
    give_place(remark, map_.barriers);
    give_place(remark, map_.addresses);
  }
  std::stable_sort(map_.remarks.begin(), map_.remarks.end(), earlier);
}

}  // namespace withy
