#include "gis/writer.h"

#include <cpl_conv.h>
#include <gdal_priv.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "gis/source.h"

namespace withy {
namespace {

// The date GDAL writes into the file; the clock's otherwise.
class Dated {
 public:
  explicit Dated(const std::string& date) { CPLSetThreadLocalConfigOption("OGR_CURRENT_DATE", date.c_str()); }
  ~Dated() { CPLSetThreadLocalConfigOption("OGR_CURRENT_DATE", nullptr); }
  Dated(const Dated&) = delete;
  Dated& operator=(const Dated&) = delete;
};

// A layer with heights says so, or other programs would take its geometries for damaged.
OGRwkbGeometryType stored_type(const GisWrite& what, const GisBlock& rows) {
  if (what.shape == gis_point) return wkbPoint;
  const int64_t places = rows.place_start[rows.ring_start[rows.part_start[rows.features]]];
  const bool heights = std::any_of(rows.z, rows.z + places, [](double z) { return !std::isnan(z); });
  return heights ? wkbLineString25D : wkbLineString;
}

OGRLayer* create_layer(GDALDataset& file, const GisWrite& what, const GisBlock& rows) {
  OGRSpatialReference system;
  if (what.epsg != 0 && system.importFromEPSG(what.epsg) != OGRERR_NONE)
    bad("no coordinate system EPSG " + std::to_string(what.epsg));
  system.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
  OGRLayer* layer = file.CreateLayer(what.name, what.epsg ? &system : nullptr, stored_type(what, rows));
  if (!layer) return nullptr;
  for (int32_t i = 0; i < what.columns; ++i) {
    const OGRFieldType type = what.column_kinds[i] == gis_whole  ? OFTInteger64
                              : what.column_kinds[i] == gis_real ? OFTReal
                                                                 : OFTString;
    OGRFieldDefn field(what.column_names[i], type);
    if (layer->CreateField(&field) != OGRERR_NONE) return nullptr;
  }
  return layer;
}

void set_column(OGRFeature& feature, int column, GisColumn kind, const std::string& text) {
  if (text.empty()) return;
  if (kind == gis_text) return feature.SetField(column, text.c_str());
  double real = 0;
  GIntBig whole = 0;
  const char* end = text.data() + text.size();
  const auto read =
      kind == gis_whole ? std::from_chars(text.data(), end, whole) : std::from_chars(text.data(), end, real);
  if (read.ec != std::errc{} || read.ptr != end) bad("'" + text + "' is no number");
  kind == gis_whole ? feature.SetField(column, whole) : feature.SetField(column, real);
}

std::unique_ptr<OGRGeometry> geometry_of(const GisWrite& what, const GisBlock& rows, int64_t f) {
  const int64_t ring = rows.ring_start[rows.part_start[f]];
  const int64_t first = rows.place_start[ring], last = rows.place_start[ring + 1];
  if (what.shape == gis_point) return std::make_unique<OGRPoint>(rows.x[first], rows.y[first]);
  auto line = std::make_unique<OGRLineString>();
  for (int64_t p = first; p < last; ++p)
    std::isnan(rows.z[p]) ? line->addPoint(rows.x[p], rows.y[p])
                          : line->addPoint(rows.x[p], rows.y[p], rows.z[p]);
  return line;
}

}  // namespace

std::unique_ptr<GisWriter> create_writer(const std::string& path, const std::string& date) {
  const Dated dated(date);
  Heard heard;
  auto writer = std::make_unique<GisWriter>();
  writer->date = date;
  GDALDriver* driver = GetGDALDriverManager()->GetDriverByName("GPKG");
  if (!driver) outside("the GeoPackage driver is missing");
  writer->file.reset(driver->Create(path.c_str(), 0, 0, 0, GDT_Unknown, nullptr));
  if (!writer->file || heard.failed()) outside("cannot be written: " + heard.first());
  return writer;
}

void write_rows(GisWriter& writer, const GisWrite& what, const GisBlock& rows) {
  const Dated dated(writer.date);
  Heard heard;
  OGRLayer* layer = create_layer(*writer.file, what, rows);
  if (!layer || heard.failed()) outside("cannot be written: " + heard.first());
  if (writer.file->StartTransaction() != OGRERR_NONE) outside("cannot be written: " + heard.first());
  for (int64_t f = 0; f < rows.features; ++f) {
    OGRFeature feature(layer->GetLayerDefn());
    for (int32_t i = 0; i < what.columns; ++i) {
      const int64_t* start = rows.text_start + f * what.columns + i;
      set_column(feature, i, what.column_kinds[i], std::string(rows.text + start[0], rows.text + start[1]));
    }
    feature.SetGeometryDirectly(geometry_of(what, rows, f).release());
    if (layer->CreateFeature(&feature) != OGRERR_NONE) outside("cannot be written: " + heard.first());
  }
  if (writer.file->CommitTransaction() != OGRERR_NONE || heard.failed())
    outside("cannot be written: " + heard.first());
}

void finish_writer(std::unique_ptr<GisWriter> writer) {
  const Dated dated(writer->date);
  Heard heard;
  writer->file.reset();
  if (heard.failed()) outside("cannot be written: " + heard.first());
}

}  // namespace withy
