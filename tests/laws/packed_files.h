// Files of other formats, made byte by byte: so that a test can spoil them and nothing binary is kept.
#pragma once
#include <string>
#include <string_view>

namespace plan {

std::string gzipped(std::string_view bytes);
// A .zip with one entry that is stored, not squeezed (PKWARE APPNOTE 6.3, sections 4.3.7, 4.3.12, 4.3.16).
std::string zipped(std::string_view name, std::string_view bytes);
// A GeoTIFF of `side` by `side` whole metres, rows from the north, west and north edge in degrees, `step`
// degrees a pixel (TIFF 6.0, section 2; OGC GeoTIFF 1.1: pixel scale, tie point, model geographic, 4326).
std::string geotiff(int side, double west, double north, double step);

}  // namespace plan
