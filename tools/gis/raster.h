// Heights of a raster file.
#pragma once
#include <cstdint>
#include <string>

#include "gis/gis_table.h"

namespace withy {

struct HeightPlaces {
  const double *x, *y;
  int64_t count;
};

void read_heights(const std::string& path, HeightPlaces places, double* out);
GisRaster read_raster(const std::string& path);

}  // namespace withy
