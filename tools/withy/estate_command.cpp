#include <fmt/core.h>

#include <filesystem>
#include <memory>

#include "base/text.h"
#include "estate/estate.h"
#include "estate/folder.h"
#include "withy/commands.h"
#include "withy/common.h"

namespace withy {
namespace {

struct Options {
  std::vector<std::string> sources, elevation;
  std::string out, mapping, street_model = "centre-line", crossings = "priced";
  bool roads_only = false, metres = false, geopackage = false;
  double own_street_factor = 2.0;
  HeadendRules headends;
};

EstateRules rules_of(const Options& options) {
  EstateRules rules;
  rules.elevation = options.elevation;
  rules.streets.model =
      options.street_model == "both-sides" ? StreetModel::both_sides : StreetModel::centre_line;
  rules.streets.roads_only = options.roads_only;
  rules.streets.crossings_forbidden = options.crossings == "forbidden";
  rules.premises.own_street_factor = options.own_street_factor;
  rules.headends = options.headends;
  return rules;
}

EstateBrief brief_of(const Options& options) {
  EstateBrief brief;
  brief.name = std::filesystem::absolute(options.out).lexically_normal().filename().string();
  if (brief.name.empty()) brief.name = "estate";
  brief.headends = options.headends;
  brief.geopackage = options.geopackage;
  return brief;
}

void tell_made(const DrawnEstate& estate, const std::string& out) {
  using plan::counted;
  int64_t outside = 0;
  for (const DraftComponent& c : estate.components.all) outside += c.headend ? 0 : c.premises;
  print_out(
      fmt::format("{} premises, {}, {}, {} proposed; {} premises without a headend or street;\n"
                  "written to {}: look at estate-report.txt before you plan scenario.yaml\n",
                  estate.draft.premises.size(), counted(estate.draft.routes.size(), "route"),
                  counted(estate.components.all.size(), "component"),
                  counted(estate.draft.headends.size(), "headend"), outside, out));
}

int make_estate(const Options& options) {
  OutputFolder folder(options.out);
  const plan::Run run = run_with_progress(2);
  run.tell("reading", 0);
  Map map;
  const plan::Diagnostics faults = read_sources(options.sources, {options.mapping, options.metres}, map);
  if (!faults.empty()) return refuse(faults);
  const plan::Result<DrawnEstate> estate = draw_estate(map, rules_of(options), run);
  if (!estate) return refuse(estate.diagnostics);
  run.tell("writing", 0);
  write_estate({map, estate->draft, estate->components}, brief_of(options), folder);
  folder.publish();
  run.tell("writing", 1);
  tell_made(*estate, options.out);
  return exit_good;
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
  command->add_flag("--geopackage", o->geopackage, "premises and routes as layers of estate.gpkg");
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
