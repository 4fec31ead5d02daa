#include "files/disk.h"
#include "files/geopackage.h"
#include "files/tables.h"

namespace withy {
namespace {

constexpr uint64_t largest_text = uint64_t{64} << 20;
constexpr uint64_t largest_table = uint64_t{2} << 30;

std::string kind(const std::string& path) {
  return std::filesystem::path(path).extension().string();
}

}  // namespace

plan::Result<std::string> read_scenario_text(const std::string& path) {
  return read_file(path, largest_text);
}

plan::Result<std::string> read_table_text(const std::string& path) {
  if (kind(path) == ".csv" || kind(path) == ".geojson" || kind(path) == ".gpkg")
    return read_file(path, largest_table);
  plan::Result<std::string> refused;
  refused.diagnostics.push_back({{path, 0, 0}, "a table is a .csv, .geojson or .gpkg file", "", 1});
  return refused;
}

plan::Diagnostics read_table(const std::string& path, std::string_view text, const plan::RowSink& rows) {
  return kind(path) == ".csv" ? csv_table(path, text, rows) : geojson_table(path, text, rows);
}

plan::Diagnostics read_table_file(const TableFile& file, const plan::RowSink& rows,
                                  const std::function<void(std::string_view)>& seen) {
  const bool package = kind(file.path) == ".gpkg";
  {
    const auto text = read_table_text(file.path);
    if (!text) return text.diagnostics;
    seen(*text);
    if (!package) return read_table(file.path, *text, rows);
  }
  return geopackage_table(file.path, file.layer, rows);
}

plan::Files disk_files() {
  return {read_scenario_text, [](const std::string& path, std::string_view layer, const plan::RowSink& rows) {
            return read_table_file({path, layer}, rows, [](std::string_view) {});
          }};
}

}  // namespace withy
