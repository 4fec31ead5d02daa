// A vector file opened for reading, layer by layer.
#pragma once
#include <gdal_priv.h>
#include <ogrsf_frmts.h>

#include <memory>
#include <string>
#include <vector>

#include "gis/block.h"
#include "gis/guard.h"

namespace withy {

struct TransformDelete {
  void operator()(OGRCoordinateTransformation* t) const { OGRCoordinateTransformation::DestroyCT(t); }
};
using Transform = std::unique_ptr<OGRCoordinateTransformation, TransformDelete>;
// Longitude first, whatever the system's own order says.
OGRSpatialReference longitude_latitude();

struct OpenLayer {
  OGRLayer* layer = nullptr;
  std::string name, file, system_name;
  GisSystem system = gis_no_system;
  std::vector<std::string> fields;
  std::vector<const char*> field_pointers;
};

}  // namespace withy

struct withy::GisSource {
  std::string path;
  std::vector<std::string> in_memory;  // unpacked copies, unlinked at the end
  std::vector<GDALDatasetUniquePtr> files;
  std::vector<OpenLayer> layers;

  OpenLayer* reading = nullptr;
  std::vector<int32_t> fields;
  std::vector<uint8_t> yes_no;  // of those: a truth value
  Transform transform;
  BlockMaker blocks[2];  // in turns: one may still be looked at while the next is filled
  int current = 0;
  BlockMaker& block() { return blocks[current]; }

  ~GisSource();
};

namespace withy {

// `whole`: a file of lines is first held to end in one, which the library does not check.
std::unique_ptr<GisSource> open_source(const std::string& path, bool whole = true);
void begin_layer(GisSource& source, size_t index, std::vector<int32_t> fields, GisPlaces places);
// False at the end.
bool next_block(GisSource& source);
int64_t count_features_of(const std::string& path);

// What GDAL opens for a file as named by the user: itself, or each entry of a .zip whose ending is one of
// `endings` (lower case, with the dot), or what a .gz unpacks to.
struct Inner {
  std::string path;  // for GDAL
  std::string name;  // in the archive, empty outside one
};
std::vector<Inner> inner_files(const std::string& path, const std::vector<std::string>& endings);
std::string lower(std::string text);

}  // namespace withy
