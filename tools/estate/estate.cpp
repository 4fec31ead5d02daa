#include "estate/estate.h"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>
#include <utility>

#include "estate/elevation.h"
#include "estate/estate_rows.h"
#include "estate/osm_map.h"

namespace withy {
namespace {

plan::Diagnostics read_source(const std::string& path, const VectorOptions& options, OpeningMap opening,
                              Map& map) {
  if (is_osm_name(path)) return read_osm(path, map).diagnostics;
  if (opening.valid()) return read_vector(path, options, std::move(opening), map).diagnostics;
  return {plan::diagnostic(
      {}, fmt::format("{}: no map that withy reads: .osm.pbf, .osm, .osm.gz, .osm.bz2, .gpkg, .shp, .geojson "
                      "or .geojsonl, these also as .gz or in a .zip",
                      path))};
}

plan::Diagnostics add_heights(const std::vector<std::string>& elevation, const Plane& plane, Draft& draft) {
  if (elevation.empty()) return {};
  if (!plane.geographic())
    return {plan::diagnostic({}, "heights need sources in longitude and latitude, or in a system they name")};
  const std::vector<std::filesystem::path> rasters(elevation.begin(), elevation.end());
  plan::Diagnostics faults;
  lay_heights(draft, plane, [&](const std::vector<MapPlace>& places) {
    auto heights = read_heights(rasters, places);
    faults = std::move(heights.diagnostics);
    return heights ? std::move(*heights) : std::vector<double>(places.size(), no_height);
  });
  return faults;
}

// What every estate needs and this one lacks; empty where nothing.
std::string lacking(const Map& map, const Draft& draft) {
  const char* what = nullptr;
  if (std::none_of(draft.routes.begin(), draft.routes.end(), is_open))
    what = "no street that may be dug";
  else if (draft.premises.empty())
    what = "no building and no address point to connect";
  if (!what) return {};
  std::string where;
  for (const MapSource& source : map.sources) where += (where.empty() ? "" : ", ") + source.path;
  return fmt::format("{}: {}", where, what);
}

}  // namespace

plan::Diagnostics read_sources(const std::vector<std::string>& paths, const VectorOptions& options,
                               Map& map) {
  const auto open = [&](size_t i) {
    const bool vector = i < paths.size() && !is_osm_name(paths[i]) && is_vector_name(paths[i]);
    return vector ? open_vector(paths[i]) : OpeningMap{};
  };
  OpeningMap next = open(0);  // one ahead of the one that is read
  for (size_t i = 0; i < paths.size(); ++i) {
    OpeningMap opening = std::exchange(next, open(i + 1));
    plan::Diagnostics faults = read_source(paths[i], options, std::move(opening), map);
    if (!faults.empty()) return faults;
  }
  return {};
}

plan::Result<DrawnEstate> draw_estate(const Map& map, const EstateRules& rules, const plan::Run& run) {
  const Plane plane = plane_of(map);
  run.tell("streets", 0);
  DrawnEstate estate{make_streets(map, plane, rules.streets), {}};
  Draft& draft = estate.draft;
  if (plan::Diagnostics faults = add_heights(rules.elevation, plane, draft); !faults.empty())
    return {{}, std::move(faults)};
  run.tell("streets", 1);
  run.tell("premises", 0);
  MadePremises made = make_premises(map, plane, draft.routes, rules.premises, run);
  draft.premises = std::move(made.premises);
  draft.remarks.insert(draft.remarks.end(), made.remarks.begin(), made.remarks.end());
  if (std::string what = lacking(map, draft); !what.empty())
    return plan::failed<DrawnEstate>(std::move(what));
  run.tell("premises", 1);
  run.tell("headends", 0);
  estate.components = components_of(draft, run);
  propose_headends(draft, estate.components, rules.headends);
  remark_clamped(draft, plane);
  remark_unreached(draft, estate.components, [&plane](plan::Point p) { return plane.inverse(p); });
  run.tell("headends", 1);
  return plan::good(std::move(estate));
}

}  // namespace withy
