// Heights above the datum from elevation rasters: SRTM tiles (.hgt, also in a .zip) and GeoTIFF (.tif,
// .tiff). Between four values bilinear; a place with a void among its four, or outside of every raster, is
// unknown.
//
//   auto metres = withy::read_heights({"N49E011.hgt.zip"}, {{11.27, 49.51}});
#pragma once
#include <cstdint>
#include <filesystem>
#include <vector>

#include "base/result.h"
#include "estate/heights.h"

namespace withy {

struct RasterFacts {
  int64_t width = 0, height = 0, voids = 0;
  double lowest_metres = 0, highest_metres = 0;
};

// By its ending, in any case of letters.
bool is_elevation_name(const std::filesystem::path& path);

// Reads a raster through. A damaged or foreign file is a diagnostic; one that is missing throws OutsideFault.
plan::Result<RasterFacts> read_raster_facts(const std::filesystem::path& path);

// Metres at each place (longitude and latitude), `no_height` where unknown; the first raster that knows
// counts.
plan::Result<std::vector<double>> read_heights(const std::vector<std::filesystem::path>& rasters,
                                               const std::vector<MapPlace>& places);

}  // namespace withy
