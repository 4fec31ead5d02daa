#include "estate/osm_take.h"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

#include "base/text.h"

namespace withy {

void OsmTake::remark(RemarkKind kind, std::string_view what, MapId id, MapPlace at, std::string detail) {
  map_.remarks.push_back({kind, what, id, at, std::move(detail)});
}

std::string OsmTake::text(std::string_view value, MapId id) {
  bool mended = false;
  std::string good = utf8_text(value, mended);
  if (mended) remark(RemarkKind::repaired, "text is not UTF-8", id, {}, plan::shown(good));
  return good;
}

int OsmTake::level(const OsmTags& tags, MapId id) {
  const std::optional<int> level = level_of(tags);
  if (!level)
    remark(RemarkKind::doubtful, "layer is no number", id, {}, text(plan::shown(tags["layer"]), id));
  return level.value_or(0);
}

void OsmTake::node(OsmNode node, bool placed, const OsmTags& tags) {
  ++counts_.nodes;
  const MapId id = id_of(MapKind::node, node.id);
  const std::string_view number = tags["addr:housenumber"];
  if (!number.empty()) ++counts_.house_number_nodes;
  if (!placed) {
    ++counts_.unplaced_nodes;
    remark(RemarkKind::left_out, "node without a place", id, {});
    return;
  }
  places_.add(node);
  if (number.empty()) return;
  MapAddress address;
  address.id = id;
  address.at = place_of(node);
  address.street = text(address_street(tags), id);
  address.number = text(number, id);
  address.unit = text(tags["addr:unit"], id);
  address.dwellings = text(tags["building:flats"], id);
  if (address.street.empty())
    remark(RemarkKind::doubtful, "address without a street", id, address.at, plan::shown(address.number));
  map_.addresses.push_back(std::move(address));
}

void OsmTake::settle() {
  for (const OsmNode& node : places_.settle())
    remark(RemarkKind::repaired, "node given more than once", id_of(MapKind::node, node.id), place_of(node));
  std::sort(wanted_.begin(), wanted_.end());
  wanted_.erase(std::unique(wanted_.begin(), wanted_.end()), wanted_.end());
}

OsmTake::Drawn OsmTake::draw(const std::vector<int64_t>& nodes) const {
  Drawn way;
  way.closed = nodes.size() >= 4 && nodes.front() == nodes.back();
  bool gap = false;
  for (const int64_t id : nodes) {
    const OsmNode* node = places_.find(id);
    if (!node) {
      ++way.absent;
      gap = true;
      continue;
    }
    if (!way.line.empty() && same_place(way.line.back(), *node)) {
      ++way.repeated;
    } else {
      if (gap && !way.line.empty())
        way.jump_metres = std::max(way.jump_metres, metres_between(way.line.back(), *node));
      way.line.push_back(*node);
    }
    gap = false;
  }
  return way;
}

void OsmTake::way(int64_t number, const OsmTags& tags, const std::vector<int64_t>& nodes) {
  ++counts_.ways;
  counts_.references += nodes.size();
  const MapId id = id_of(MapKind::way, number);
  const Drawn drawn = draw(nodes);
  counts_.absent_references += drawn.absent;
  if (!tags["highway"].empty()) {
    ++counts_.highway_ways;
    counts_.absent_from_highways += drawn.absent;
  }
  if (!tags["building"].empty()) {
    ++counts_.building_ways;
    counts_.absent_from_buildings += drawn.absent;
  }
  if (std::binary_search(wanted_.begin(), wanted_.end(), number)) keep_member(number, nodes);
  take_way(id, tags, drawn);
}

void OsmTake::take_way(MapId id, const OsmTags& tags, const Drawn& way) {
  const std::string_view highway = tags["highway"];
  const std::optional<OsmStreet> street_kind = street_of(highway);
  const std::optional<OsmBarrier> barrier_kind = barrier_of(tags);
  const bool is_building = tags.says("building");
  const MapPlace at = way.line.empty() ? MapPlace{} : place_of(way.line.front());
  if (!tags["addr:interpolation"].empty()) {
    ++counts_.interpolation_ways;
    remark(RemarkKind::left_out, "address interpolation", id, at);
  }
  const bool motorway = barrier_kind && barrier_kind->kind == BarrierKind::motorway;
  if (!highway.empty() && !street_kind && !motorway)
    remark(RemarkKind::left_out, "highway that is no street", id, at, text(plan::shown(highway), id));
  if (!is_building && !tags["addr:housenumber"].empty())
    remark(RemarkKind::left_out, "address on a way that is no building", id, at);
  if (!street_kind && !barrier_kind && !is_building) return;
  if (way.line.size() < 2) {
    remark(RemarkKind::left_out, "way with fewer than two places", id, at,
           fmt::format("{} nodes absent", way.absent));
    return;
  }
  bool taken = is_building && take_building(id, tags, way);
  if (street_kind) {
    map_.streets.push_back(street(id, tags, *street_kind));
    map_.streets.back().line = path_of(way.line);
    street_nodes_.insert(street_nodes_.end(), way.line.begin(), way.line.end());
    taken = true;
  }
  if (barrier_kind) {
    map_.barriers.push_back(barrier(id, tags, barrier_kind->kind));
    map_.barriers.back().line = path_of(way.line);
    map_.barriers.back().area = barrier_kind->area && way.closed && way.absent == 0;
    taken = true;
  }
  if (taken) tell_repairs(id, way);
}

bool OsmTake::take_building(MapId id, const OsmTags& tags, const Drawn& way) {
  if (!way.closed || way.absent > 0 || way.line.size() < 4) {
    remark(RemarkKind::left_out, "building outline does not close", id, place_of(way.line.front()),
           fmt::format("{} nodes absent", way.absent));
    return false;
  }
  map_.buildings.push_back(building(id, tags));
  map_.buildings.back().parts.push_back({{path_of(way.line)}});
  return true;
}

void OsmTake::tell_repairs(MapId id, const Drawn& way) {
  const MapPlace at = place_of(way.line.front());
  if (way.repeated > 0)
    remark(RemarkKind::repaired, "node repeated within a way", id, at, fmt::format("{} times", way.repeated));
  if (way.absent > 0)
    remark(RemarkKind::repaired, "absent nodes dropped from a way", id, at,
           fmt::format("{} absent, longest straight line across them {} m", way.absent,
                       plan::fixed(way.jump_metres, 1)));
  if (way.jump_metres > counts_.longest_jump_metres ||
      (way.jump_metres == counts_.longest_jump_metres && way.jump_metres > 0 &&
       id.number < counts_.longest_jump.number)) {
    counts_.longest_jump_metres = way.jump_metres;
    counts_.longest_jump = id;
  }
}

MapStreet OsmTake::street(MapId id, const OsmTags& tags, OsmStreet kind) {
  MapStreet street;
  street.id = id;
  street.street_class = kind.street_class;
  street.link = kind.link;
  street.name = text(tags["name"], id);
  street.surface = text(tags["surface"], id);
  street.access = text(tags["access"], id);
  street.level = level(tags, id);
  street.bridge = is_bridge(tags);
  street.tunnel = is_tunnel(tags);
  street.area = is_area(tags);
  return street;
}

MapBuilding OsmTake::building(MapId id, const OsmTags& tags) {
  MapBuilding building;
  building.id = id;
  building.kind = text(tags["building"], id);
  building.street = text(address_street(tags), id);
  building.number = text(tags["addr:housenumber"], id);
  building.levels = text(tags["building:levels"], id);
  building.flats = text(tags["building:flats"], id);
  building.use = text(building_use(tags), id);
  return building;
}

MapBarrier OsmTake::barrier(MapId id, const OsmTags& tags, BarrierKind kind) {
  MapBarrier barrier;
  barrier.id = id;
  barrier.kind = kind;
  barrier.bridge = is_bridge(tags);
  barrier.tunnel = is_tunnel(tags);
  barrier.level = level(tags, id);
  return barrier;
}

}  // namespace withy
