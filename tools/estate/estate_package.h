// The estate's tables as layers of one GeoPackage, which the scenario reads as it reads the files.
#pragma once
#include <filesystem>
#include <string>

#include "estate/draft.h"

namespace withy {

// Layers premises and routes, dated. All rows stand in memory until they are written. Throws OutsideFault
// where the file cannot be written.
void write_estate_package(const Draft& draft, const std::string& date, const std::filesystem::path& path);

}  // namespace withy
