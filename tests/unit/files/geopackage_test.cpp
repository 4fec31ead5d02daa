// A scenario whose tables are layers of a GeoPackage. The estates are invented.
#include "files/geopackage.h"

#include <doctest/doctest.h>
#include <stdlib.h>

#include <array>
#include <filesystem>
#include <fstream>

#include "base/text.h"
#include "files/disk.h"
#include "files/sources.h"
#include "files/tables.h"
#include "scratch_folder.h"

using namespace plan;
using namespace withy;

namespace {

using Folder = ScratchFolder;

using Row = std::array<std::string, 2>;

void write_estate(const std::string& path, const std::string& surface = "verge") {
  PackageLayer premises("premises", 32633, false, {{"name", gis_text}, {"dwellings", gis_whole}});
  premises.add(Row{"1 Mill Lane", "3"}, std::array{PackagePlace{10, 5}});
  premises.add(Row{"2 Mill Lane", ""}, std::array{PackagePlace{30.25, -5}});
  PackageLayer routes("routes", 32633, true, {{"name", gis_text}, {"surface", gis_text}});
  routes.add(Row{"Mill Lane", surface}, std::array{PackagePlace{0, 0, 310}, PackagePlace{100, 0, 314.5}});
  routes.add(Row{"Ferry Walk", "verge"}, std::array{PackagePlace{100, 0}, PackagePlace{100, 50}});
  write_geopackage(path, "2027-03-01T00:00:00.000Z", std::array{premises, routes});
}

std::string brief(const Folder& folder, const std::string& estate) {
  return folder.write(
      "brief.yaml",
      "scenario: invented\nstart: 2027-03-01\nheadends: [{name: E, at: [0, 0]}]\nestate: " + estate + "\n");
}

// What is wrong, a diagnostic a line, file names without the folder.
std::string told(const Diagnostics& all, const Folder& folder) {
  std::string text;
  for (const Diagnostic& d : all) text += rendered(d) + "\n";
  const std::string prefix = folder.at("");
  for (size_t at = text.find(prefix); at != std::string::npos; at = text.find(prefix))
    text.erase(at, prefix.size());
  return text;
}
std::string refusal(const Folder& folder, const std::string& estate) {
  const auto scenario = read_scenario(disk_files(), brief(folder, estate));
  CHECK_FALSE(scenario);
  return told(scenario.diagnostics, folder);
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a scenario reads premises and routes from one GeoPackage as it reads them inline") {
  const Folder folder;
  write_estate(folder.at("estate.gpkg"));
  Sources sources;
  const auto scenario =
      read_scenario(noting_files(sources), brief(folder, "{premises: estate.gpkg, routes: estate.gpkg}"));
  REQUIRE_MESSAGE(scenario, told(scenario.diagnostics, folder));
  const auto inline_rows = read_scenario(
      disk_files(), brief(folder,
                          "{premises: [{name: 1 Mill Lane, at: [10, 5], dwellings: 3}, "
                          "{name: 2 Mill Lane, at: [30.25, -5]}], "
                          "routes: [{name: Mill Lane, surface: verge, line: [[0, 0, 310], [100, 0, 314.5]]}, "
                          "{name: Ferry Walk, surface: verge, line: [[100, 0], [100, 50]]}]}"));
  REQUIRE_MESSAGE(inline_rows, told(inline_rows.diagnostics, folder));
  CHECK(same_slices(*scenario, *inline_rows));
  const std::string bytes = must_read(folder.at("estate.gpkg"));
  CHECK(sources.files.at(folder.at("estate.gpkg")) == Source{bytes.size(), hash64(bytes)});
}

TEST_CASE("a row's fault stands at file, layer, feature and column") {
  const Folder folder;
  write_estate(folder.at("estate.gpkg"), "vergs");
  const std::string said = refusal(folder, "{premises: estate.gpkg, routes: estate.gpkg}");
  // id, geometry, name, surface
  CHECK_MESSAGE(said.starts_with("estate.gpkg, layer routes:1:4: "), said);
  CHECK_MESSAGE(has(said, "'vergs'"), said);
}

TEST_CASE("what is not there, or no GeoPackage, is told where the scenario names it") {
  const Folder folder;
  const std::string estate = "{premises: estate.gpkg, routes: estate.gpkg}";
  CHECK(has(refusal(folder, estate), "brief.yaml:4:20: cannot read 'estate.gpkg': file not found"));
  folder.write("estate.gpkg", "name,x,y\n");
  CHECK(has(refusal(folder, estate), "brief.yaml:4:20: cannot read 'estate.gpkg': "));
  write_estate(folder.at("estate.gpkg"));
  CHECK(has(refusal(folder, "{premises: estate.gpkg, routes: estate.gpkg, sites: estate.gpkg}"),
            "no layer 'sites', it has 'premises', 'routes'"));
}
