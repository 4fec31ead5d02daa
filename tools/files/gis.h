// The module for map formats, opened when it is first needed: its folder is the program's own, or `lib`
// beside the program's folder.
//
//   GisReader reader("town.gpkg");
//   for (int32_t i = 0; i < reader.layers(); ++i) use(reader.layer(i));
#pragma once
#include <filesystem>
#include <span>
#include <stdexcept>
#include <string>
#include <vector>

#include "base/result.h"
#include "gis/gis_table.h"

namespace withy {

// Throws OutsideFault where the module is not there or cannot be loaded.
const GisTable& gis();

// Empty where `path` is a plain path of a regular file. A path that GDAL would take for something else
// ("/vsi…", "NAME:…") is a diagnostic; a file that is missing or cannot be read throws OutsideFault.
plan::Diagnostics refuse_map_path(const std::filesystem::path& path);

// What the module says is wrong, thrown by GisReader and caught by those who know where it was read from.
class BadMap : public std::runtime_error {
 public:
  BadMap(const std::string& text, int64_t feature_) : std::runtime_error(text), feature(feature_) {}
  int64_t feature;  // -1 where about none
};
// Nothing where there is no fault; otherwise BadMap or, with the path before its text, OutsideFault.
void pass_on(const GisFault& fault, const std::filesystem::path& path);

// One file, layer by layer. Throws BadMap for what is wrong with it.
class GisReader {
 public:
  explicit GisReader(const std::filesystem::path& path);
  ~GisReader();
  GisReader(const GisReader&) = delete;
  GisReader& operator=(const GisReader&) = delete;

  int32_t layers() const { return gis().layers(source_); }
  GisLayer layer(int32_t index);
  void begin(int32_t index, std::span<const int32_t> fields, GisPlaces places);
  // False at the end of the layer. The block is good until the next call but one, so that a thread may read
  // ahead while another looks at what came before.
  bool next(GisBlock& block);

 private:
  std::filesystem::path path_;
  GisSource* source_ = nullptr;
};

}  // namespace withy
