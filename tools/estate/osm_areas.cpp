// Areas of relations, for OsmTake.
#include <fmt/core.h>

#include <algorithm>
#include <iterator>
#include <utility>

#include "estate/osm_rings.h"
#include "estate/osm_take.h"

namespace withy {
namespace {

std::vector<MapPart> drawn(const std::vector<OsmPart>& parts) {
  std::vector<MapPart> out(parts.size());
  for (size_t i = 0; i < parts.size(); ++i)
    for (const OsmLine& ring : parts[i].rings) out[i].rings.push_back(path_of(ring));
  return out;
}

// Says nothing of its own but an address: what its area is stands on its outer ways.
bool bare(const OsmTags& tags) {
  for (const auto& [key, value] : tags.list)
    if (key != "type" && key != "source" && key != "note" && key != "created_by" && !key.starts_with("addr:"))
      return false;
  return true;
}

// What the relation leaves unsaid its outline may say.
void adopt(MapBuilding& building, const MapBuilding& outline) {
  if (building.kind == "yes") building.kind = outline.kind;
  if (building.number.empty()) {
    building.number = outline.number;
    building.street = outline.street;
  }
  if (building.levels.empty()) building.levels = outline.levels;
  if (building.flats.empty()) building.flats = outline.flats;
  if (building.use.empty()) building.use = outline.use;
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
  if (area.building.empty() && area.barrier.empty() && area.street.empty() && !bare(tags)) return;
  area.address_street = text(address_street(tags), id);
  area.number = text(tags["addr:housenumber"], id);
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
  const bool says_something = !area.building.empty() || !area.barrier.empty() || !area.street.empty();
  if (!closes && !says_something) return;
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
  take_area(area, std::move(rings.closed), rings.open);
}

void OsmTake::take_area(Area& area, std::vector<OsmLine> closed, const std::vector<OsmLine>& open) {
  const bool some = !closed.empty();
  const MapPlace at = some ? place_of(closed[0][0]) : MapPlace{};
  const std::vector<OsmPart> parts = nested(std::move(closed));
  if (some && parts.empty())
    remark(RemarkKind::left_out, "area of a relation has too many rings", id_of(MapKind::relation, area.id),
           at);
  if (area.building.empty()) give_courtyards(area, drawn(parts));
  for (MapBuilding& building : area.building) take_parts(std::move(building), area, drawn(parts));
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

// The buildings of member ways that are the outside of a part, by their index.
std::vector<size_t> OsmTake::outlines(const Area& area, const std::vector<MapPart>& parts) const {
  std::vector<size_t> found;
  const auto end = map_.buildings.begin() + static_cast<std::ptrdiff_t>(way_buildings_);
  for (const int64_t way : area.ways) {
    const auto at =
        std::lower_bound(map_.buildings.begin(), end, way,
                         [](const MapBuilding& building, int64_t n) { return building.id.number < n; });
    if (at == end || at->id.number != way) continue;
    for (const MapPart& part : parts)
      if (part.rings[0] == at->parts[0].rings[0]) {
        found.push_back(static_cast<size_t>(at - map_.buildings.begin()));
        break;
      }
  }
  return found;
}

// One building, though its outer ways may say so again. Where these have different addresses they are
// the buildings and the relation only groups them.
void OsmTake::take_parts(MapBuilding building, const Area& area, std::vector<MapPart> parts) {
  if (parts.empty()) return;
  const std::vector<size_t> ways = outlines(area, parts);
  std::vector<std::pair<std::string_view, std::string_view>> addresses;
  for (const size_t i : ways)
    if (const MapBuilding& way = map_.buildings[i]; !way.number.empty())
      addresses.push_back({way.street, way.number});
  std::sort(addresses.begin(), addresses.end());
  addresses.erase(std::unique(addresses.begin(), addresses.end()), addresses.end());
  if (addresses.size() > 1) {
    remark(RemarkKind::left_out, "building relation groups addressed buildings", building.id,
           parts[0].rings[0][0]);
    return;
  }
  for (const size_t i : ways) {
    const MapBuilding& way = map_.buildings[i];
    adopt(building, way);
    repeats_.push_back(way.id);
    remark(RemarkKind::left_out, "building way repeats its relation", way.id, way.parts[0].rings[0][0],
           fmt::format("relation {}", building.id.number));
  }
  building.parts = std::move(parts);
  map_.buildings.push_back(std::move(building));
}

void OsmTake::give_courtyards(const Area& area, std::vector<MapPart> parts) {
  const std::vector<size_t> ways = outlines(area, parts);
  for (const size_t i : ways) {
    MapBuilding& way = map_.buildings[i];
    if (ways.size() == 1 && way.number.empty()) {
      way.number = area.number;
      if (!area.address_street.empty()) way.street = area.address_street;
    }
    for (MapPart& part : parts)
      if (part.rings.size() > 1 && part.rings[0] == way.parts[0].rings[0]) {
        remark(RemarkKind::repaired, "courtyard taken from an untagged relation", way.id, part.rings[0][0],
               fmt::format("relation {}", area.id));
        way.parts[0] = std::move(part);
        break;
      }
  }
}

}  // namespace withy
