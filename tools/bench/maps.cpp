#include "bench/maps.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <utility>

#include "base/text.h"
#include "bench/stages.h"
#include "estate/folder.h"
#include "files/disk.h"
#include "files/gis.h"
#include "files/tables.h"
#include "network/network.h"

namespace withy {
namespace {

Map read(const MapSources& sources) {
  Map map;
  const plan::Diagnostics faults = read_sources(sources.paths, {sources.mapping, false}, map);
  if (!faults.empty()) throw OutsideFault(plan::rendered(faults[0]));
  return map;
}

DrawnEstate drawn(const Map& map, const MapSources& sources, const plan::Run& run) {
  EstateRules rules;
  rules.elevation = sources.elevation;
  plan::Result<DrawnEstate> estate = draw_estate(map, rules, run);
  if (!estate) throw OutsideFault(plan::rendered(estate.diagnostics[0]));
  return std::move(*estate);
}

constexpr const char* estate_folder = "map-estate";

void written(const Map& map, const DrawnEstate& estate) {
  OutputFolder folder(estate_folder);
  write_estate({map, estate.draft, estate.components}, {.name = "map", .headends = {}}, folder);
  folder.publish();
}

void estate_in_steps(const MapSources& sources, int threads) {
  const Stopwatch all;
  Stopwatch watch;
  const Map map = read(sources);
  print_step("read sources", watch.seconds());
  const DrawnEstate estate = drawn(map, sources, printing_run(threads));
  watch.again();
  written(map, estate);
  print_step("write folder", watch.seconds());
  print_step("estate in all", all.seconds());
  print_fact(fmt::format("{} premises, {}, {}, {}", estate.draft.premises.size(),
                         plan::counted(estate.draft.routes.size(), "route"),
                         plan::counted(estate.components.all.size(), "component"),
                         plan::counted(estate.draft.headends.size(), "headend")));
}

// The whole way: sources, estate, folder, and the network that the planner makes of it.
size_t sources_to_network(const MapSources& sources) {
  const Map map = read(sources);
  written(map, drawn(map, sources, {2, {}}));
  const auto scenario = plan::read_scenario(disk_files(), std::string(estate_folder) + "/scenario.yaml");
  if (!scenario) throw OutsideFault(plan::rendered(scenario.diagnostics[0]));
  return plan::make_network(*scenario->demand, *scenario->site, {2, {}}).premises_nodes.size();
}

double bare_loop(const MapSources& sources) {
  const Stopwatch watch;
  for (const std::string& path : sources.paths) {
    GisFault fault{};
    gis().count_features(std::filesystem::absolute(path).c_str(), &fault);
    pass_on(fault, path);
  }
  return watch.seconds();
}

std::string json_text(std::string_view text) {
  return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}
std::string place_text(MapPlace p) {
  return fmt::format("[{:.8f},{:.8f}]", p.x, p.y);
}

// Streets and address points of a map west of a line, a feature a line.
void write_strip(const Map& map, double east, const std::string& path) {
  std::ofstream out(path);
  for (const MapStreet& s : map.streets) {
    if (std::none_of(s.line.begin(), s.line.end(), [&](MapPlace p) { return p.x <= east; })) continue;
    std::string places;
    for (const MapPlace p : s.line) places += (places.empty() ? "" : ",") + place_text(p);
    out << fmt::format(
        R"({{"type":"Feature","properties":{{"name":{}}},"geometry":{{"type":"LineString","coordinates":[{}]}}}})"
        "\n",
        json_text(s.name), places);
  }
  for (const MapAddress& a : map.addresses)
    if (a.at.x <= east)
      out << fmt::format(
          R"({{"type":"Feature","properties":{{"street":{},"number":{}}},"geometry":{{"type":"Point","coordinates":{}}}}})"
          "\n",
          json_text(a.street), json_text(a.number), place_text(a.at));
  if (!out.flush()) throw OutsideFault(path + ": cannot be written");
}

// West of how far so many address points lie.
double east_of(const Map& map, size_t count) {
  std::vector<double> x;
  for (const MapAddress& a : map.addresses) x.push_back(a.at.x);
  if (count >= x.size()) return INFINITY;
  std::nth_element(x.begin(), x.begin() + static_cast<std::ptrdiff_t>(count), x.end());
  return x[count];
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

int guarded(const std::function<void()>& work) {
  return in_child(work) ? 0 : 1;
}

}  // namespace

int map_stages(const MapSources& sources, int threads) {
  const bool good =
      in_child([&] { estate_in_steps(sources, threads); }) && in_child([&] {
        plan_in_steps(disk_files(), {std::string(estate_folder) + "/scenario.yaml", "map-plan", threads});
      });
  return good ? 0 : 1;
}

int map_against_bare_loop(const MapSources& sources, int rounds) {
  return guarded([&] {
    std::vector<double> bare, ours;
    for (int round = 0; round < rounds; ++round) {
      bare.push_back(bare_loop(sources));
      print_step("bare loop", bare.back());
      const Stopwatch watch;
      const Map map = read(sources);
      const double reading = watch.seconds();
      const Plane plane = plane_of(map);
      const Draft draft = make_streets(map, plane, {});
      const MadePremises made = make_premises(map, plane, draft.routes, {}, {2, {}});
      ours.push_back(watch.seconds());
      print_step(fmt::format("network, {:.3f} s of it reading", reading), ours.back());
    }
    print_fact(fmt::format("medians {:.3f} s and {:.3f} s, ratio {:.3f}", median(bare), median(ours),
                           median(ours) / median(bare)));
  });
}

int map_growth(const MapSources& sources, const std::vector<int>& rungs) {
  return guarded([&] {
    const std::string strip = "map-strip.geojsonl";
    std::vector<std::pair<double, double>> points;
    for (const int rung : rungs) {
      {
        const Map map = read(sources);
        write_strip(map, east_of(map, static_cast<size_t>(rung)), strip);
      }
      const Stopwatch watch;
      const size_t premises = sources_to_network({{strip}, "", {}});
      points.emplace_back(static_cast<double>(premises), watch.seconds());
      print_step(fmt::format("{} premises", premises), points.back().second);
    }
    print_fact(fmt::format("exponent {:.3f}", exponent(points)));
  });
}

double exponent(const std::vector<std::pair<double, double>>& points) {
  double x = 0, y = 0, xx = 0, xy = 0;
  const auto n = static_cast<double>(points.size());
  for (const auto& [size, seconds] : points) {
    const double lx = std::log(size), ly = std::log(seconds);
    x += lx, y += ly, xx += lx * lx, xy += lx * ly;
  }
  return (n * xy - x * y) / (n * xx - x * x);
}

}  // namespace withy
