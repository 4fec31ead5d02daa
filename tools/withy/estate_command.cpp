#include <fmt/core.h>

#include <filesystem>
#include <memory>

#include "estate/components.h"
#include "estate/elevation.h"
#include "estate/folder.h"
#include "estate/headends.h"
#include "estate/osm_map.h"
#include "estate/plane.h"
#include "estate/premises.h"
#include "estate/streets.h"
#include "estate/vector_map.h"
#include "withy/commands.h"
#include "withy/common.h"

namespace withy {
namespace {

struct Options {
  std::vector<std::string> sources, elevation;
  std::string out, mapping, street_model = "centre-line", crossings = "priced";
  bool roads_only = false, metres = false;
  double own_street_factor = 2.0;
  HeadendRules headends;
};

StreetRules street_rules(const Options& options) {
  StreetRules rules;
  rules.model = options.street_model == "both-sides" ? StreetModel::both_sides : StreetModel::centre_line;
  rules.roads_only = options.roads_only;
  rules.crossings_forbidden = options.crossings == "forbidden";
  return rules;
}

PremisesRules premises_rules(const Options& options) {
  PremisesRules rules;
  rules.own_street_factor = options.own_street_factor;
  return rules;
}

bool refuse(const std::string& why) {
  print_error(fmt::format("{}; nothing was written\n", why));
  return false;
}

// False where a source is malformed; then every fault has been printed.
bool read_source(const Options& options, const std::string& path, Map& map) {
  if (is_osm_name(path)) {
    const auto counts = read_osm(path, map);
    print(counts.diagnostics);
    return counts.value.has_value();
  }
  if (is_vector_name(path)) {
    const auto counts = read_vector(path, {options.mapping, options.metres}, map);
    print(counts.diagnostics);
    return counts.value.has_value();
  }
  return refuse(
      fmt::format("{}: no map that withy reads: .osm.pbf, .osm, .osm.gz, .osm.bz2, .gpkg, .shp, .geojson or "
                  ".geojsonl, these also as .gz or in a .zip",
                  path));
}

// False where a raster is malformed; then every fault has been printed.
bool add_heights(const Options& options, const Plane& plane, Draft& draft) {
  if (options.elevation.empty()) return true;
  if (!plane.geographic())
    return refuse("heights need sources in longitude and latitude, or in a system they name");
  const std::vector<std::filesystem::path> rasters(options.elevation.begin(), options.elevation.end());
  bool good = true;
  lay_heights(draft, plane, [&](const std::vector<MapPlace>& places) {
    auto heights = read_heights(rasters, places);
    print(heights.diagnostics);
    good = heights.value.has_value();
    return good ? std::move(*heights) : std::vector<double>(places.size(), no_height);
  });
  return good;
}

// An estate without streets or premises is no estate: said before anything is written.
bool is_estate(const Draft& draft) {
  bool open = false;
  for (const DraftRoute& r : draft.routes) open = open || is_open(r);
  if (!open) return refuse("the sources hold no street that may be dug");
  if (draft.premises.empty()) return refuse("the sources hold no building and no address point to connect");
  return true;
}

int write_folder(const Options& options, const Map& map, const plan::Run& run, OutputFolder& folder) {
  const Plane plane = plane_of(map);
  run.on_stage("streets", 0);
  const StreetRules rules = street_rules(options);
  Draft draft = make_streets(map, plane, rules);
  if (!add_heights(options, plane, draft)) return exit_bad_scenario;
  run.on_stage("premises", 0.4);
  MadePremises made = make_premises(map, plane, draft.routes, premises_rules(options));
  draft.premises = std::move(made.premises);
  draft.remarks.insert(draft.remarks.end(), made.remarks.begin(), made.remarks.end());
  if (!is_estate(draft)) return exit_bad_scenario;
  run.on_stage("headends", 0.8);
  Components components = components_of(draft);
  propose_headends(draft, components, options.headends);
  run.on_stage("writing", 0.9);
  EstateBrief brief;
  brief.name = std::filesystem::absolute(options.out).lexically_normal().filename().string();
  if (brief.name.empty()) brief.name = "estate";
  brief.headends = options.headends;
  const auto place = [&plane](plan::Point p) { return plane.inverse(p); };
  remark_unreached(draft, components, place);
  write_estate({map, draft, components}, brief, folder);
  folder.publish();
  run.on_stage("writing", 1);
  int64_t outside = 0;
  for (const DraftComponent& c : components.all) outside += c.headend ? 0 : c.premises;
  print_out(
      fmt::format("{} premises, {} routes, {} components, {} headends proposed; {} premises without a "
                  "headend or street;\n"
                  "written to {}: look at estate-report.txt before you plan scenario.yaml\n",
                  draft.premises.size(), draft.routes.size(), components.all.size(), draft.headends.size(),
                  outside, options.out));
  return exit_good;
}

int make_estate(const Options& options) {
  OutputFolder folder(options.out);
  const plan::Run run = run_with_progress(1);
  Map map;
  for (const std::string& source : options.sources) {
    run.on_stage("reading", 0);
    if (!read_source(options, source, map)) return exit_bad_scenario;
  }
  return write_folder(options, map, run, folder);
}

}  // namespace

void add_estate(CLI::App& app, int& code) {
  auto o = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("estate", "make an estate folder from maps and GIS files");
  command
      ->add_option("source", o->sources,
                   "map files: .osm.pbf, .osm, .osm.gz, .osm.bz2, .gpkg, .shp, .geojson, .geojsonl")
      ->required();
  command->add_option("--out", o->out, "folder to write")->required();
  command->add_option("--mapping", o->mapping, "YAML file that says which field of a vector source is what");
  command->add_option("--elevation", o->elevation, "rasters of heights: .hgt, .hgt.zip, .tif");
  command->add_flag("--metres", o->metres, "sources that name no system are in metres of some plane");
  command->add_option("--street-model", o->street_model, "where trenches run")
      ->check(CLI::IsMember({"centre-line", "both-sides"}))
      ->capture_default_str();
  command->add_flag("--roads-only", o->roads_only, "leave out footways, paths, tracks and steps");
  command->add_option("--crossings", o->crossings, "rail, water and motorways: priced or forbidden")
      ->check(CLI::IsMember({"priced", "forbidden"}))
      ->capture_default_str();
  command
      ->add_option("--own-street-factor", o->own_street_factor,
                   "a drop takes its own street up to so many times the way to the nearest")
      ->check(CLI::Range(1.0, 10.0))
      ->capture_default_str();
  command
      ->add_option("--dwellings-per-headend", o->headends.most_dwellings, "a headend is proposed for so many")
      ->check(CLI::Range(100, 1'000'000))
      ->capture_default_str();
  command
      ->add_option("--least-dwellings", o->headends.least_dwellings,
                   "a component with fewer gets no headend of its own")
      ->check(CLI::Range(1, 1'000'000))
      ->capture_default_str();
  command->callback([o, &code] { code = make_estate(*o); });
}

}  // namespace withy
