#include "gis/raster.h"

#include <gdal_priv.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include "gis/source.h"

namespace withy {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
// No ground lies beyond: from the deepest trench to the highest peak are -11 to 9 km.
constexpr double deepest = -12'000, highest_ground = 10'000;

struct Raster {
  GDALDatasetUniquePtr file;
  GDALRasterBand* band = nullptr;
  std::array<double, 6> to_cell{};  // from the raster's own coordinates
  int width = 0, height = 0;
  double scale = 1, offset = 0, nodata = unknown;
  Transform transform;  // from longitude and latitude; none where they are its own

  bool is_void(double value) const {
    return std::isnan(value) || value == nodata || value < deepest || value > highest_ground;
  }
};

Raster open_raster(const std::string& path) {
  const std::vector<Inner> inner = inner_files(path, {".hgt", ".tif", ".tiff"});
  if (inner.size() != 1) bad("several rasters in one archive, expected one");
  Heard heard;
  Raster raster;
  const char* const drivers[] = {"SRTMHGT", "GTiff", nullptr};
  raster.file.reset(GDALDataset::Open(inner[0].path.c_str(),
                                      GDAL_OF_RASTER | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR, drivers));
  if (!raster.file || heard.failed())
    bad("no raster of heights (.hgt, .tif), or a damaged one" +
        (heard.failed() ? " (" + heard.first() + ")" : ""));
  std::array<double, 6> to_place{};
  if (raster.file->GetRasterCount() < 1) bad("a raster without values");
  if (raster.file->GetGeoTransform(to_place.data()) != CE_None)
    bad("a raster that does not say where it lies");
  if (!GDALInvGeoTransform(to_place.data(), raster.to_cell.data())) bad("a raster whose cells have no size");
  raster.band = raster.file->GetRasterBand(1);
  raster.width = raster.file->GetRasterXSize(), raster.height = raster.file->GetRasterYSize();
  if (raster.width < 2 || raster.height < 2) bad("a raster of less than two by two values");
  int given = 0;
  if (const double value = raster.band->GetNoDataValue(&given); given) raster.nodata = value;
  if (const double value = raster.band->GetScale(&given); given) raster.scale = value;
  if (const double value = raster.band->GetOffset(&given); given) raster.offset = value;
  if (const OGRSpatialReference* own = raster.file->GetSpatialRef()) {
    OGRSpatialReference to = *own, from = longitude_latitude();
    to.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    if (!to.IsSame(&from)) {
      raster.transform.reset(OGRCreateCoordinateTransformation(&from, &to));
      if (!raster.transform) bad("no way from longitude and latitude to its coordinate system");
    }
  }
  return raster;
}

struct Window {
  int x, y, width, height;
};
void read_window(const Raster& raster, Window w, std::vector<double>& values) {
  values.resize(static_cast<size_t>(w.width) * static_cast<size_t>(w.height));
  Heard heard;
  const CPLErr result = raster.band->RasterIO(GF_Read, w.x, w.y, w.width, w.height, values.data(), w.width,
                                              w.height, GDT_Float64, 0, 0, nullptr);
  if (result != CE_None || heard.failed()) bad("its values cannot be read: " + heard.first());
}

constexpr int tile = 1024;

// A place in cells, counted from the middle of the first one.
struct Sample {
  int64_t tile = 0;
  int64_t index = 0;
  int column = 0, row = 0;     // of the upper left of its four values
  double right = 0, down = 0;  // 0 to 1
};

// False where outside. A hair beyond the outermost values still counts: borders of tiles are rounded.
bool along(double at, int count, int& cell, double& share) {
  constexpr double hair = 1e-6;
  if (!(at >= -hair && at <= count - 1 + hair)) return false;
  cell = std::clamp(static_cast<int>(std::floor(at)), 0, count - 2);
  share = std::clamp(at - cell, 0.0, 1.0);
  return true;
}

std::vector<Sample> samples_of(const Raster& raster, HeightPlaces places) {
  std::vector<double> x(places.x, places.x + places.count), y(places.y, places.y + places.count);
  std::vector<int> good(x.size(), 1);
  Heard heard;
  if (raster.transform && !x.empty())
    raster.transform->Transform(static_cast<int>(x.size()), x.data(), y.data(), nullptr, good.data());
  std::vector<Sample> samples;
  const int64_t across = (raster.width + tile - 1) / tile;
  for (size_t i = 0; i < x.size(); ++i) {
    const auto& m = raster.to_cell;
    const double column = m[0] + m[1] * x[i] + m[2] * y[i] - 0.5,
                 row = m[3] + m[4] * x[i] + m[5] * y[i] - 0.5;
    Sample s;
    s.index = static_cast<int64_t>(i);
    if (!good[i] || !along(column, raster.width, s.column, s.right) ||
        !along(row, raster.height, s.row, s.down))
      continue;
    s.tile = s.row / tile * across + s.column / tile;
    samples.push_back(s);
  }
  std::sort(samples.begin(), samples.end(), [](const Sample& a, const Sample& b) {
    return a.tile != b.tile ? a.tile < b.tile : a.index < b.index;
  });
  return samples;
}

double bilinear(const Raster& raster, const std::vector<double>& values, Window w, const Sample& s) {
  const size_t first =
      static_cast<size_t>(s.row - w.y) * static_cast<size_t>(w.width) + static_cast<size_t>(s.column - w.x);
  const size_t second = first + static_cast<size_t>(w.width);
  const std::array<double, 4> four{values[first], values[first + 1], values[second], values[second + 1]};
  if (std::any_of(four.begin(), four.end(), [&](double v) { return raster.is_void(v); })) return unknown;
  const double above = four[0] + (four[1] - four[0]) * s.right,
               below = four[2] + (four[3] - four[2]) * s.right;
  return raster.offset + raster.scale * (above + (below - above) * s.down);
}

Window window_of(const Raster& raster, const Sample& s) {
  const int x = s.column / tile * tile, y = s.row / tile * tile;
  return {x, y, std::min(tile + 1, raster.width - x), std::min(tile + 1, raster.height - y)};
}

}  // namespace

void read_heights(const std::string& path, HeightPlaces places, double* out) {
  std::fill(out, out + places.count, unknown);
  const Raster raster = open_raster(path);
  std::vector<double> values;
  int64_t at = -1;
  for (const Sample& sample : samples_of(raster, places)) {
    const Window w = window_of(raster, sample);
    if (sample.tile != at) read_window(raster, w, values);
    at = sample.tile;
    out[sample.index] = bilinear(raster, values, w, sample);
  }
}

GisRaster read_raster(const std::string& path) {
  const Raster raster = open_raster(path);
  constexpr int64_t most = 2'000'000'000;
  if (int64_t{raster.width} * raster.height > most) bad("more than 2,000,000,000 values");
  GisRaster facts{raster.width, raster.height, 0, std::numeric_limits<double>::max(),
                  std::numeric_limits<double>::lowest()};
  std::vector<double> values;
  for (int row = 0; row < raster.height; ++row) {
    read_window(raster, {0, row, raster.width, 1}, values);
    for (const double value : values) {
      if (raster.is_void(value)) {
        ++facts.voids;
        continue;
      }
      const double metres = raster.offset + raster.scale * value;
      facts.lowest = std::min(facts.lowest, metres), facts.highest = std::max(facts.highest, metres);
    }
  }
  return facts;
}

}  // namespace withy
