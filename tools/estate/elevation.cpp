#include "estate/elevation.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "files/gis.h"

namespace withy {
namespace {

template <class T>
plan::Result<T> told(const std::filesystem::path& path, const GisFault& fault, T value) {
  try {
    pass_on(fault, path);
  } catch (const BadMap& bad) {
    return plan::failed<T>(plan::diagnostic({path.string(), 0, 0}, bad.what()));
  }
  return plan::good(std::move(value));
}

}  // namespace

bool is_elevation_name(const std::filesystem::path& path) {
  std::string name = path.filename().string();
  for (char& c : name)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  constexpr std::array<std::string_view, 7> endings{".hgt",    ".hgt.zip", ".hgt.gz", ".tif",
                                                    ".tif.gz", ".tif.zip", ".tiff"};
  return std::any_of(endings.begin(), endings.end(), [&](std::string_view e) { return name.ends_with(e); });
}

plan::Result<RasterFacts> read_raster_facts(const std::filesystem::path& path) {
  if (plan::Diagnostics refused = refuse_map_path(path); !refused.empty()) return {{}, refused};
  GisFault fault{};
  GisRaster facts{};
  gis().raster(std::filesystem::absolute(path).c_str(), &facts, &fault);
  return told(path, fault, RasterFacts{facts.width, facts.height, facts.voids, facts.lowest, facts.highest});
}

plan::Result<std::vector<double>> read_heights(const std::vector<std::filesystem::path>& rasters,
                                               const std::vector<MapPlace>& places) {
  std::vector<double> x, y, read(places.size()), metres(places.size(), no_height);
  for (const MapPlace& place : places) x.push_back(place.x), y.push_back(place.y);
  for (const std::filesystem::path& path : rasters) {
    if (plan::Diagnostics refused = refuse_map_path(path); !refused.empty()) return {{}, refused};
    GisFault fault{};
    gis().heights(std::filesystem::absolute(path).c_str(), x.data(), y.data(), static_cast<int64_t>(x.size()),
                  read.data(), &fault);
    if (const auto good = told(path, fault, true); !good) return {{}, good.diagnostics};
    for (size_t i = 0; i < read.size(); ++i)
      if (metres[i] == no_height && !std::isnan(read[i])) metres[i] = read[i];
  }
  return plan::good(std::move(metres));
}

}  // namespace withy
