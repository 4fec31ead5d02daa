// Vector sources as map sources: GeoPackage (.gpkg), Shapefile (.shp), GeoJSON (.geojson, .json) and one
// feature a line (.geojsonl, .geojsons, .ndjson), each also as .gz or in a .zip. Every layer becomes a source
// of the map. Any coordinate system that the source names is transformed to longitude and latitude.
//
// Texts that are not UTF-8 are read as ISO 8859-1, with a remark.
//
// Without a mapping file the geometry decides (lines are streets, points addresses, polygons buildings)
// and the fields name, via_name, street, number, house_number and address ("STREET, NUMBER" in one, split
// at the last comma) are taken. A mapping file (vector_mapping.h) says it for foreign names.
//
//   withy::Map map;
//   auto counts = withy::read_vector("town.gpkg", {"town-fields.yaml", false}, map);
//   if (!counts) print(counts.diagnostics);
#pragma once
#include <cstdint>
#include <filesystem>
#include <future>
#include <memory>
#include <string>

#include "base/result.h"
#include "estate/map.h"
#include "files/gis.h"

namespace withy {

struct VectorOptions {
  std::string mapping;  // path of the mapping file; empty for none
  bool metres = false;  // places are metres of some plane, for sources that name no system
};

struct VectorCounts {
  uint64_t features = 0;
  uint64_t without_place = 0;  // left out, each with a remark
};

// By its ending, in any case of letters; a .zip that by its name holds heights is none.
bool is_vector_name(const std::filesystem::path& path);

// Appends the file to `map`; leaves `map` untouched where it gives diagnostics: a damaged file, a path
// that is none, a feature of another kind than is due (by id, up to 200), places outside of the earth, a
// layer that lies far from the others but near once its axes are swapped. Throws OutsideFault where the
// file is missing or cannot be read.
plan::Result<VectorCounts> read_vector(const std::filesystem::path& path, const VectorOptions& options,
                                       Map& map);

// The same in two steps: a file of lines is read through once to be opened, which another thread may do
// while the source before it is still taken. Throws nothing before it is read.
using OpeningMap = std::future<std::unique_ptr<GisReader>>;
OpeningMap open_vector(const std::filesystem::path& path);
plan::Result<VectorCounts> read_vector(const std::filesystem::path& path, const VectorOptions& options,
                                       OpeningMap opening, Map& map);

}  // namespace withy
