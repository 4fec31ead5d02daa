// From the objects of an OpenStreetMap file to the features of a map; knows no file format. Feed nodes
// and relations in any order, settle(), feed ways in any order, finish().
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "estate/osm_map.h"
#include "estate/osm_places.h"
#include "estate/osm_values.h"

namespace withy {

class OsmTake {
 public:
  // Fills `map`, an empty one, as its source number `source`.
  OsmTake(Map& map, OsmCounts& counts, uint16_t source) : map_(map), counts_(counts), source_(source) {}

  // `placed` is false where the node has no place on the earth.
  void node(OsmNode node, bool placed, const OsmTags& tags);
  // `ways` are the member ways in order.
  void relation(int64_t id, const OsmTags& tags, std::vector<int64_t> ways);
  void settle();
  void way(int64_t id, const OsmTags& tags, const std::vector<int64_t>& nodes);
  void finish();

 private:
  // A way as it can be drawn, and what it took.
  struct Drawn {
    OsmLine line;
    bool closed = false;
    uint64_t absent = 0, repeated = 0;
    double jump_metres = 0;
  };
  // A relation that makes an area: its features, told from its tags, wait for their rings. Without any
  // it may still draw the courtyards of a building whose tags stand on the outer way.
  struct Area {
    int64_t id = 0;
    std::vector<int64_t> ways;
    std::string address_street, number;
    std::vector<MapBuilding> building;
    std::vector<MapBarrier> barrier;
    std::vector<MapStreet> street;
  };
  struct MemberWay {
    int64_t id = 0;
    std::vector<OsmLine> pieces;  // unbroken by absent nodes
    bool whole = true;
  };

  MapId id_of(MapKind kind, int64_t number) const { return {source_, kind, number}; }
  void remark(RemarkKind kind, std::string_view what, MapId id, MapPlace at, std::string detail = {});
  std::string text(std::string_view value, MapId id);
  int level(const OsmTags& tags, MapId id);

  MapStreet street(MapId id, const OsmTags& tags, OsmStreet kind);
  MapBuilding building(MapId id, const OsmTags& tags);
  MapBarrier barrier(MapId id, const OsmTags& tags, BarrierKind kind);

  Drawn draw(const std::vector<int64_t>& nodes) const;
  void take_way(MapId id, const OsmTags& tags, const Drawn& way);
  bool take_building(MapId id, const OsmTags& tags, const Drawn& way);
  void tell_repairs(MapId id, const Drawn& way);
  void keep_member(int64_t id, const std::vector<int64_t>& nodes);

  void assemble(Area& area);
  void take_area(Area& area, std::vector<OsmLine> closed, const std::vector<OsmLine>& open);
  void take_parts(MapBuilding building, const Area& area, std::vector<MapPart> parts);
  void give_courtyards(const Area& area, std::vector<MapPart> parts);
  std::vector<size_t> outlines(const Area& area, const std::vector<MapPart>& parts) const;
  void put_buildings_in_order();
  void remark_stacked_nodes();

  Map& map_;
  OsmCounts& counts_;
  uint16_t source_;
  OsmPlaces places_;
  std::vector<Area> areas_;
  std::vector<int64_t> wanted_;     // ways of areas, sorted
  std::vector<MemberWay> members_;  // sorted by finish()
  std::vector<OsmNode> street_nodes_;
  size_t way_buildings_ = 0;    // finish(): so many of the buildings are ways, sorted
  std::vector<MapId> repeats_;  // outlines that repeat their relation
};

}  // namespace withy
