// GeoPackage files out.
#pragma once
#include <gdal_priv.h>

#include <memory>
#include <string>

#include "gis/gis_table.h"

struct withy::GisWriter {
  GDALDatasetUniquePtr file;
  std::string date;
};

namespace withy {

std::unique_ptr<GisWriter> create_writer(const std::string& path, const std::string& date);
void write_rows(GisWriter& writer, const GisWrite& what, const GisBlock& rows);
void finish_writer(std::unique_ptr<GisWriter> writer);

}  // namespace withy
