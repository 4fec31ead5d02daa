#include "estate/estate_package.h"

#include <array>
#include <charconv>
#include <span>
#include <utility>
#include <vector>

#include "estate/estate_rows.h"
#include "files/geopackage.h"

namespace withy {
namespace {

int32_t epsg_of(std::string_view plane) {
  int32_t number = 0;
  if (plane.starts_with("EPSG:")) std::from_chars(plane.data() + 5, plane.data() + plane.size(), number);
  return number;
}

PackageLayer layer(const Draft& draft, std::string name, bool lines,
                   std::span<const EstateTable::Column> columns) {
  std::vector<std::pair<std::string, GisColumn>> kinds;
  for (const EstateTable::Column& c : columns)
    kinds.emplace_back(std::string(c.key), c.number ? gis_whole : gis_text);
  return {std::move(name), epsg_of(draft.plane), lines, std::move(kinds)};
}

template <class Values>
Values cleaned(Values values) {
  for (std::string& v : values) v = clean_text(v);
  return values;
}

PackagePlace place(plan::Point p) {
  return {static_cast<double>(p.x) / 1000, static_cast<double>(p.y) / 1000};
}

}  // namespace

void write_estate_package(const Draft& draft, const std::string& date, const std::filesystem::path& path) {
  PackageLayer premises = layer(draft, "premises", false, premises_columns());
  for (const DraftPremises& p : draft.premises) premises.add(cleaned(values_of(p)), std::array{place(p.at)});
  PackageLayer routes = layer(draft, "routes", true, route_columns());
  for (const DraftRoute& r : draft.routes) {
    std::vector<PackagePlace> line;
    for (size_t i = 0; i < r.line.size(); ++i) {
      line.push_back(place(r.line[i]));
      if (!r.heights.empty()) line.back().z = r.heights[i] / 1000.0;
    }
    routes.add(cleaned(values_of(r)), line);
  }
  write_geopackage(path, date, std::array{std::move(premises), std::move(routes)});
}

}  // namespace withy
