// What a map source holds, as `withy estate` takes it: features with their place in the source, before
// any judgement about what is a street, a premises or a mistake. Readers (OpenStreetMap files, vector
// sources, elevation) only translate into these structs; streets.h, premises.h and the report judge.
//
// Places are longitude and latitude in degrees (WGS 84), or metres where `geographic` is false; a reader
// transforms other systems. Nothing is projected, merged or left out here but what cannot be expressed:
// that is a remark. A million features fit: no node objects, no per-tag maps.
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace withy {

struct MapPlace {
  double x = 0, y = 0;  // longitude and latitude, or metres east and north
  friend bool operator==(const MapPlace&, const MapPlace&) = default;
};
using MapPath = std::vector<MapPlace>;

// A feature in its source: "way 4031" of an OpenStreetMap file, "feature 17" of a vector layer.
enum class MapKind : uint8_t { node, way, relation, feature };
struct MapId {
  uint16_t source = 0;  // index into Map::sources
  MapKind kind = MapKind::feature;
  int64_t number = 0;  // ids of OpenStreetMap exceed 32 bits
  friend bool operator==(const MapId&, const MapId&) = default;
};

// Classes follow the values of OpenStreetMap's key `highway`; a foreign source maps its own onto them.
// `unstated` is a line of a source that knows no classes.
enum class StreetClass : uint8_t {
  trunk,
  primary,
  secondary,
  tertiary,
  unclassified,
  residential,
  living_street,
  pedestrian,
  service,
  road,
  footway,
  path,
  cycleway,
  track,
  bridleway,
  steps,
  unstated
};

struct MapStreet {
  MapId id;
  MapPath line;  // at least one place; the judge refuses what is too short
  StreetClass street_class = StreetClass::unstated;
  bool link = false;  // a ramp (trunk_link …)
  std::string name;   // as written, untrimmed; empty where none
  std::string surface;
  std::string access;  // "private", "no", "customers" …; empty where none
  int level = 0;       // stacked carriageways: a bridge above, a tunnel below
  bool bridge = false, tunnel = false;
  bool area = false;  // a square drawn by its outline
};

// A ring is closed: its last place equals its first. The first ring of a part is its outside.
struct MapPart {
  std::vector<MapPath> rings;
};
struct MapBuilding {
  MapId id;
  std::vector<MapPart> parts;
  std::string kind;  // value of `building`, "yes" where unsaid
  std::string street, number;
  std::string levels, flats, use;  // as written
};
struct MapAddress {
  MapId id;
  MapPlace at;
  std::string street, number, unit;
  std::string dwellings;  // as written; empty where the source says nothing
};
struct MapPlot {
  MapId id;
  std::vector<MapPart> parts;
};

enum class BarrierKind : uint8_t { rail, tram, water, motorway };
struct MapBarrier {
  MapId id;
  BarrierKind kind = BarrierKind::rail;
  MapPath line;                  // a closed one where `area`
  std::vector<MapPath> islands;  // of an area: closed lines of dry land inside it
  bool area = false, bridge = false, tunnel = false;
  int level = 0;
};

enum class DuctState : uint8_t { unproven, proven, blocked };
struct MapDuct {
  MapId id;
  MapPath line;
  std::string name, content, owner, hire_price;  // as written
  double bore_millimetres = 0;
  DuctState state = DuctState::unproven;
};

// What a reader or a judge repaired, left out or doubts. `what` is one of a fixed list of short phrases
// and counts as the kind of the remark; `detail` gives numbers.
enum class RemarkKind : uint8_t { repaired, left_out, doubtful };
struct MapRemark {
  RemarkKind kind = RemarkKind::doubtful;
  std::string_view what;  // a literal
  MapId id;
  MapPlace at;
  std::string detail;
};

struct MapSource {
  std::string path;
  std::string licence;           // as the source states it; empty where it does not
  bool shared_vertices = false;  // streets meet only where they share a vertex (OpenStreetMap)
  uint64_t nodes = 0, ways = 0, relations = 0, features = 0;  // read in all
};

struct Map {
  bool geographic = true;
  std::vector<MapSource> sources;
  std::vector<MapStreet> streets;
  std::vector<MapBuilding> buildings;
  std::vector<MapAddress> addresses;
  std::vector<MapPlot> plots;
  std::vector<MapBarrier> barriers;
  std::vector<MapDuct> ducts;
  std::vector<MapRemark> remarks;
};

}  // namespace withy
