// What passes between the program and its module for map formats, which alone is linked to GDAL: plain
// structs through one table of functions, so that a command without maps never pays for loading it.
// files/gis.h opens the module; nothing else calls this table.
//
// A source is a file, or each readable file of a .zip. Reading one layer:
//
//   GisSource* s = table.open("/data/town.gpkg", &fault);          // null: see fault
//   table.layer(s, 0, &layer, &fault)                              // name, fields, coordinate system
//   table.begin(s, 0, fields, 2, GisPlaces::degrees, &fault)       // these fields, in this order
//   while (table.next(s, &block, &fault)) ...                      // until false; a fault or the end
//   table.close(s)
//
// Pointers handed out are good until the next call for the same source, those of a block until the next but
// one to next(), which may come from another thread. Nothing throws through the table.
#pragma once
#include <cstdint>

namespace withy {

extern "C" {

constexpr int32_t gis_table_version = 1;

enum GisFaultKind : int32_t { gis_no_fault, gis_bad_data, gis_outside };
struct GisFault {
  GisFaultKind kind;
  int64_t feature;  // that it is about; -1 where about none
  char text[600];   // UTF-8, lower-case start, no full stop
};

enum GisSystem : int32_t { gis_no_system, gis_geographic, gis_projected };
struct GisLayer {
  const char* name;
  const char* file;  // inside a .zip; empty otherwise
  const char* system_name;
  GisSystem system;
  int32_t field_count;
  const char* const* fields;
};

// As stored, or transformed to longitude and latitude (WGS 84).
enum GisPlaces : int32_t { gis_as_stored, gis_degrees };
enum GisShape : uint8_t { gis_nothing, gis_point, gis_line, gis_polygon, gis_mixed };

// Some thousand features. Feature f holds the parts part_start[f] up to part_start[f + 1], part p the rings
// ring_start[p] up to ring_start[p + 1], ring r the places place_start[r] up to place_start[r + 1]; a point
// or a line is a part of one ring. Text f * fields + i is that of the i-th field asked for; empty where the
// source says nothing.
struct GisBlock {
  int64_t features;
  const int64_t* ids;
  const GisShape* shapes;
  const int64_t *part_start, *ring_start, *place_start;
  const double *x, *y, *z;  // z is not a number where there is none
  const int64_t* text_start;
  const char* text;
};

struct GisRaster {
  int64_t width, height;
  int64_t voids;
  double lowest, highest;  // of what is no void
};

// Columns of a layer to be written; each text is a value, empty for none.
enum GisColumn : int32_t { gis_text, gis_whole, gis_real };
struct GisWrite {
  const char* name;
  int32_t epsg;    // 0: none
  GisShape shape;  // point or line
  int32_t columns;
  const char* const* column_names;
  const GisColumn* column_kinds;
};

struct GisSource;
struct GisWriter;
struct GisTable {
  int32_t version;
  GisSource* (*open)(const char* path, GisFault*);
  void (*close)(GisSource*);
  int32_t (*layers)(const GisSource*);
  bool (*layer)(GisSource*, int32_t index, GisLayer*, GisFault*);
  bool (*begin)(GisSource*, int32_t index, const int32_t* fields, int32_t count, GisPlaces, GisFault*);
  bool (*next)(GisSource*, GisBlock*, GisFault*);
  // Features of every layer of a file, read through and dropped: what reading costs at least.
  int64_t (*count_features)(const char* path, GisFault*);

  // Heights at places (longitude, latitude): bilinear between four values; not a number where one of them
  // is void or the place is outside.
  bool (*heights)(const char* path, const double* x, const double* y, int64_t count, double* out, GisFault*);
  bool (*raster)(const char* path, GisRaster*, GisFault*);

  // A GeoPackage of layers, dated `date` ("2026-03-01T00:00:00.000Z"). One transaction a layer.
  GisWriter* (*create)(const char* path, const char* date, GisFault*);
  bool (*write_layer)(GisWriter*, const GisWrite*, const GisBlock*, GisFault*);
  bool (*finish)(GisWriter*, GisFault*);  // and close, also after a fault

  // Longitude and latitude into the system of an EPSG number, in place.
  bool (*project)(int32_t epsg, double* x, double* y, int64_t count, GisFault*);
};

// The module's only symbol; null for another version.
const GisTable* withy_gis_table(int32_t version);

}  // extern "C"

}  // namespace withy
