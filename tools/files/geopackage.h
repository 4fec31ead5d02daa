// Estate tables in GeoPackage layers: the same words as columns as a CSV or GeoJSON table has keys, a point
// as `at`, a line as `line` (with a third number where it has heights). Whole layers are written in one
// transaction, dated, so that the same rows give the same bytes.
//
//   PackageLayer premises{"premises", 32632, false, {{"name", gis_text}, {"dwellings", gis_whole}}};
//   premises.add({"12 Alder Lane", "4"}, {{664325.0, 5486628.8}});
//   write_geopackage("estate.gpkg", "2026-03-01T00:00:00.000Z", std::array{premises});
#pragma once
#include <filesystem>
#include <functional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "gis/gis_table.h"
#include "scenario/scenario.h"

namespace withy {

struct PackagePlace {
  double x = 0, y = 0;
  double z = no_z;  // metres above the datum
  static constexpr double no_z = -1e300;
};

class PackageLayer {
 public:
  // EPSG 0: of no coordinate system.
  PackageLayer(std::string name, int32_t epsg, bool lines,
               std::vector<std::pair<std::string, GisColumn>> columns);
  // Values in the order of the columns, empty for none; one place where the layer holds points.
  void add(std::span<const std::string> values, std::span<const PackagePlace> places);

  const std::string& name() const { return name_; }
  // Calls `use` with the layer as the module takes it.
  void with(const std::function<void(const GisWrite&, const GisBlock&)>& use) const;

 private:
  std::string name_;
  int32_t epsg_;
  bool lines_;
  std::vector<std::pair<std::string, GisColumn>> columns_;
  std::vector<int64_t> ids_, start_{0}, place_start_{0}, text_start_{0};
  std::vector<GisShape> shapes_;
  std::vector<double> x_, y_, z_;
  std::string text_;
};

// Replaces what is there. Throws OutsideFault where it cannot be written.
void write_geopackage(const std::filesystem::path& path, const std::string& date,
                      std::span<const PackageLayer> layers);

// Hands over the rows of one layer, some thousand at a time: a list of mappings in the scenario's own
// words. A place names file and layer ("estate.gpkg, layer premises"), its line is the feature's id, its
// column that of the table as a GIS shows it: id, geometry, then the fields. Positions are as stored; the
// height of a point is passed over. Once a row has a fault no further block is handed over.
plan::Diagnostics geopackage_table(const std::string& path, std::string_view layer,
                                   const plan::RowSink& rows);

}  // namespace withy
