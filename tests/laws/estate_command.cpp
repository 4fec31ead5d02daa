// `withy estate` as a black box: a small real map becomes a folder that can be planned; what is damaged or
// no map is refused and leaves nothing behind.
#include <doctest/doctest.h>
#include <fmt/core.h>

#include <filesystem>

#include "base/text.h"
#include "files/disk.h"
#include "files/tables.h"
#include "laws/run_program.h"
#include "network/network.h"

using namespace plan;
namespace fs = std::filesystem;

namespace {

const fs::path cut = fs::path(WITHY_SOURCE) / "tests/maps/neubrandenburg-cut-s.osm.pbf";

// Two houses and a lane. Drawn for this test.
const std::string lane = R"(<?xml version="1.0"?>
<osm version="0.6">
 <node id="1" lat="50.0000" lon="9.0000"/><node id="2" lat="50.0000" lon="9.0020"/>
 <node id="3" lat="50.0002" lon="9.0005"><tag k="addr:housenumber" v="1"/><tag k="addr:street" v="Mill Lane"/></node>
 <node id="4" lat="50.0002" lon="9.0015"><tag k="addr:housenumber" v="2"/><tag k="addr:street" v="Mill Lane"/></node>
 <way id="10"><nd ref="1"/><nd ref="2"/><tag k="highway" v="residential"/><tag k="name" v="Mill Lane"/></way>
</osm>
)";

// Refused with the code, a message on standard error, and nothing left in the folder but the source.
void refused(const Scratch& scratch, const std::string& source, int least = 2) {
  CAPTURE(source);
  const std::vector<std::string> before = scratch.names();
  const Ended e = run_program(scratch, {"estate", source, "--out", "estate"});
  CHECK(e.code >= least);
  CHECK(e.code <= 3);
  CHECK(e.error.find(fs::path(source).filename().string()) != std::string::npos);
  CHECK(scratch.names() == before);
}

}  // namespace

TEST_CASE("a cut of a real town becomes an estate, the same bytes twice, and a plan whose checker is clean") {
  const Scratch scratch;
  scratch.write("town.osm.pbf", withy::must_read(cut));
  const Ended e = run_program(scratch, {"estate", "town.osm.pbf", "--out", "a"});
  CHECK(e.code == 0);
  CHECK(e.error == "");
  CHECK(e.output.starts_with("229 premises, "));
  const auto files = scratch.folder("a");
  for (const char* name : {"premises.geojson", "routes.geojson", "scenario.yaml", "estate-report.txt",
                           "estate-walk-out.csv", "estate-remarks.geojson", "LICENCE.txt"})
    CHECK_MESSAGE(files.contains(name), name);
  CHECK(files.at("LICENCE.txt").find("OpenStreetMap contributors") != std::string::npos);
  CHECK(run_program(scratch, {"estate", "town.osm.pbf", "--out", "b/a"}).code == 0);
  CHECK(scratch.folder("b/a") == files);
  const Ended check = run_program(scratch, {"check", "a/scenario.yaml"});
  CHECK(check.code == 0);
  CHECK(check.error == "");
  const Ended planned = run_program(scratch, {"plan", "a/scenario.yaml", "--out", "plan"});
  CHECK(planned.code <= 1);
  CHECK(planned.error == "");
  CHECK(run_program(scratch, {"check", "--plan", "plan"}).code == 0);
}

TEST_CASE("an estate in a GeoPackage is planned like the one in files, heights and all") {
  const Scratch scratch;
  scratch.write("town.osm.pbf", withy::must_read(cut));
  CHECK(run_program(scratch, {"estate", "town.osm.pbf", "--out", "a"}).code == 0);
  CHECK(run_program(scratch, {"estate", "town.osm.pbf", "--geopackage", "--out", "b/a"}).code == 0);
  auto files = scratch.folder("a"), package = scratch.folder("b/a");
  CHECK(package.contains("estate.gpkg"));
  CHECK_FALSE(package.contains("premises.geojson"));
  CHECK(files.at("estate-report.txt") == package.at("estate-report.txt"));
  CHECK(run_program(scratch, {"estate", "town.osm.pbf", "--geopackage", "--out", "c/a"}).code == 0);
  CHECK(scratch.folder("c/a") == package);
  for (const char* from : {"a", "b/a"})
    CHECK(run_program(scratch,
                      {"plan", std::string(from) + "/scenario.yaml", "--out", std::string(from) + "-plan"})
              .code <= 1);
  auto one = scratch.folder("a-plan"), other = scratch.folder("b/a-plan");
  for (auto* plan : {&one, &other})
    for (const char* name : {"scenario.yaml", "sources.csv", "contents.csv"}) plan->erase(name);
  CHECK(one == other);
}

TEST_CASE("the estate's components and its unreached premises are those of the planner's network") {
  const Scratch scratch;
  scratch.write("town.osm.pbf", withy::must_read(cut));
  for (const char* model : {"centre-line", "both-sides"}) {
    CAPTURE(model);
    const Ended e = run_program(scratch, {"estate", "town.osm.pbf", "--street-model", model, "--out", "a"});
    REQUIRE(e.code == 0);
    const auto scenario = read_scenario(withy::disk_files(), (scratch.path() / "a/scenario.yaml").string());
    REQUIRE(scenario.value.has_value());
    const Network network = make_network(*scenario->demand, *scenario->site, Run{1, {}});
    size_t unreached = 0;
    for (const PremisesId p : scenario->demand->premises.ids()) unreached += network.reached[p] ? 0 : 1;
    CAPTURE(e.output);
    CHECK(e.output.find(", " + counted(network.components, "component") + ", ") != std::string::npos);
    CHECK(e.output.find(fmt::format("; {} premises without a headend", unreached)) != std::string::npos);
  }
}

TEST_CASE("both street models, roads only, and crossings that are ruled out") {
  const Scratch scratch;
  scratch.write("town.osm.pbf", withy::must_read(cut));
  const std::vector<std::vector<std::string>> choices{
      {"--street-model", "both-sides"},
      {"--roads-only"},
      {"--crossings", "forbidden", "--own-street-factor", "1.5"},
      {"--dwellings-per-headend", "100"}};
  for (const auto& choice : choices) {
    CAPTURE(choice[0]);
    std::vector<std::string> call{"estate", "town.osm.pbf", "--out", "a"};
    call.insert(call.end(), choice.begin(), choice.end());
    CHECK(run_program(scratch, call).code == 0);
    CHECK(run_program(scratch, {"check", "a/scenario.yaml"}).code == 0);
  }
  // 278 dwellings, at most 100 each.
  CHECK(scratch.read("a/scenario.yaml").find("Headend 3") != std::string::npos);
  CHECK(run_program(scratch, {"estate", "town.osm.pbf", "--out", "a", "--street-model", "middle"}).code == 2);
  CHECK(run_program(scratch, {"estate", "--out", "a"}).code == 2);
}

TEST_CASE("damaged and foreign sources are refused by name and leave nothing behind") {
  const Scratch scratch;
  const std::string good = withy::must_read(cut);
  scratch.write("cut.osm.pbf", good.substr(0, good.size() / 2));
  scratch.write("empty.osm.pbf", "");
  scratch.write("text.osm.pbf", "this is no map");
  scratch.write("open.osm", lane.substr(0, lane.size() / 2));
  scratch.write("empty.osm", "");
  scratch.write("notes.txt", "a list of things to do");
  fs::create_directory(scratch.path() / "folder.osm.pbf");
  for (const char* name : {"cut.osm.pbf", "empty.osm.pbf", "text.osm.pbf", "open.osm", "empty.osm",
                           "notes.txt", "folder.osm.pbf", "absent.osm.pbf"})
    refused(scratch, name);
  for (size_t at = 40; at < good.size(); at += good.size() / 12) {
    std::string flipped = good;
    flipped[at] = static_cast<char>(flipped[at] ^ 0x55);
    scratch.write("flipped.osm.pbf", flipped);
    const Ended e = run_program(scratch, {"estate", "flipped.osm.pbf", "--out", "estate"});
    CHECK((e.code == 0 || e.code == 2 || e.code == 3));  // a flipped bit in a text is another text
    if (e.code == 0) fs::remove_all(scratch.path() / "estate");
    CHECK_FALSE(scratch.has("estate"));
  }
}

TEST_CASE("a map without streets or without premises is no estate") {
  const Scratch scratch;
  scratch.write("lane.osm", lane);
  CHECK(run_program(scratch, {"estate", "lane.osm", "--out", "good"}).code == 0);
  std::string no_street = lane, no_house = lane;
  no_street.replace(no_street.find("highway"), 7, "leisure");
  for (size_t at; (at = no_house.find("addr:housenumber")) != std::string::npos;)
    no_house.replace(at, 16, "note");
  scratch.write("no-street.osm", no_street);
  scratch.write("no-house.osm", no_house);
  for (const char* name : {"no-street.osm", "no-house.osm"}) {
    const Ended e = run_program(scratch, {"estate", name, "--out", "estate"});
    CHECK(e.code == 2);
    CHECK(e.error.find("; nothing was written\n") != std::string::npos);
    CHECK_FALSE(scratch.has("estate"));
  }
}

TEST_CASE("a folder that Withy did not write is left alone") {
  const Scratch scratch;
  scratch.write("lane.osm", lane);
  scratch.write("mine/letter.txt", "dear all");
  const Ended e = run_program(scratch, {"estate", "lane.osm", "--out", "mine"});
  CHECK(e.code == 3);
  CHECK(scratch.read("mine/letter.txt") == "dear all");
  CHECK(scratch.folder("mine").size() == 1);
}
