// The door of the module.
#include "gis/gis_table.h"

#include "gis/guard.h"
#include "gis/raster.h"
#include "gis/source.h"
#include "gis/writer.h"

namespace withy {
namespace {

GisSource* open(const char* path, GisFault* fault) {
  return guarded(fault, [&]() -> GisSource* { return open_source(path).release(); });
}
void close(GisSource* source) {
  const Heard quiet;
  delete source;
}
int32_t layers(const GisSource* source) {
  return static_cast<int32_t>(source->layers.size());
}
bool layer(GisSource* source, int32_t index, GisLayer* out, GisFault* fault) {
  return guarded(fault, [&] {
    const OpenLayer& l = source->layers.at(static_cast<size_t>(index));
    *out = {l.name.c_str(),
            l.file.c_str(),
            l.system_name.c_str(),
            l.system,
            static_cast<int32_t>(l.fields.size()),
            l.field_pointers.data()};
    return true;
  });
}
bool begin(GisSource* source, int32_t index, const int32_t* fields, int32_t count, GisPlaces places,
           GisFault* fault) {
  return guarded(fault, [&] {
    begin_layer(*source, static_cast<size_t>(index), {fields, fields + count}, places);
    return true;
  });
}
bool next(GisSource* source, GisBlock* out, GisFault* fault) {
  return guarded(fault, [&] {
    const bool more = next_block(*source);
    *out = source->block().block();
    return more;
  });
}
int64_t count_features(const char* path, GisFault* fault) {
  return guarded(fault, [&]() -> int64_t { return count_features_of(path); });
}
bool heights(const char* path, const double* x, const double* y, int64_t count, double* out,
             GisFault* fault) {
  return guarded(fault, [&] { return read_heights(path, {x, y, count}, out), true; });
}
bool raster(const char* path, GisRaster* out, GisFault* fault) {
  return guarded(fault, [&] { return *out = read_raster(path), true; });
}
GisWriter* create(const char* path, const char* date, GisFault* fault) {
  return guarded(fault, [&]() -> GisWriter* { return create_writer(path, date).release(); });
}
bool write_layer(GisWriter* writer, const GisWrite* what, const GisBlock* rows, GisFault* fault) {
  return guarded(fault, [&] { return write_rows(*writer, *what, *rows), true; });
}
bool finish(GisWriter* writer, GisFault* fault) {
  return guarded(fault, [&] { return finish_writer(std::unique_ptr<GisWriter>(writer)), true; });
}
bool project(int32_t epsg, double* x, double* y, int64_t count, GisFault* fault) {
  return guarded(fault, [&] {
    OGRSpatialReference from = longitude_latitude(), to;
    Heard heard;
    if (to.importFromEPSG(epsg) != OGRERR_NONE) bad("no coordinate system EPSG " + std::to_string(epsg));
    to.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    const Transform transform(OGRCreateCoordinateTransformation(&from, &to));
    if (!transform || !transform->Transform(static_cast<int>(count), x, y))
      bad("a place outside of the system");
    return true;
  });
}

constexpr GisTable functions{gis_table_version, open,    close,  layers, layer,       begin,  next,
                             count_features,    heights, raster, create, write_layer, finish, project};

}  // namespace
}  // namespace withy

extern "C" __attribute__((visibility("default"))) const withy::GisTable* withy::withy_gis_table(
    int32_t version) {
  return version == gis_table_version ? &functions : nullptr;
}
