// `withy estate` as a black box against every format it takes: a good file gives the same estate whatever it
// is packed in; one that is empty, cut short or has a bit turned gives an estate or a message that names it,
// never a crash, a hang or half a folder. The map is drawn for this test.
#include <doctest/doctest.h>
#include <fmt/core.h>

#include <array>
#include <filesystem>

#include "files/disk.h"
#include "files/geopackage.h"
#include "laws/packed_files.h"
#include "laws/run_program.h"

using namespace plan;
namespace fs = std::filesystem;

namespace {

std::string feature(std::string_view kind, std::string_view places, std::string_view properties = "") {
  return fmt::format(
      R"({{"type":"Feature","properties":{{{}}},"geometry":{{"type":"{}","coordinates":{}}}}})", properties,
      kind, places);
}
std::string collection(std::string_view features) {
  return fmt::format(R"({{"type":"FeatureCollection","features":[{}]}})", features);
}

const std::string lane =
    feature("LineString", "[[9.0,50.01],[9.002,50.01],[9.004,50.0102]]", R"("name":"Mill Lane")");
std::string house(int number) {
  return feature("Point", fmt::format("[{:.4f},50.0102]", 9 + number * 0.0002),
                 fmt::format(R"("street":"Mill Lane","number":"{}")", number));
}
std::string houses(std::string_view between) {
  std::string all = lane;
  for (int n = 1; n <= 12; ++n) all += std::string(between) + house(n);
  return all;
}

std::string geopackage(const Scratch& scratch) {
  withy::PackageLayer streets{"streets", 4326, true, {{"name", withy::gis_text}}};
  streets.add(std::array<std::string, 1>{"Mill Lane"},
              std::array<withy::PackagePlace, 3>{{{9.0, 50.01}, {9.002, 50.01}, {9.004, 50.0102}}});
  withy::PackageLayer doors{"doors", 4326, false, {{"street", withy::gis_text}, {"number", withy::gis_text}}};
  for (int n = 1; n <= 12; ++n)
    doors.add(std::array<std::string, 2>{"Mill Lane", std::to_string(n)},
              std::array<withy::PackagePlace, 1>{{{9 + n * 0.0002, 50.0102}}});
  const fs::path path = scratch.path() / "made.gpkg";
  withy::write_geopackage(path, "2026-03-01T00:00:00.000Z", std::array{streets, doors});
  const std::string bytes = withy::must_read(path);
  fs::remove(path);
  return bytes;
}

std::string tile() {
  std::string bytes;
  for (int i = 0; i < 1201 * 1201; ++i) bytes += {'\0', static_cast<char>(100 + i % 7)};
  return bytes;
}

// What a designer reads: premises, routes, the brief; the report names its sources and differs.
std::map<std::string, std::string> estate_of(const Scratch& scratch, std::vector<std::string> call) {
  call.insert(call.begin(), "estate");
  call.insert(call.end(), {"--out", "estate"});
  const Ended e = run_program(scratch, call);
  CHECK_MESSAGE(e.code == 0, e.error);
  auto files = scratch.folder("estate");
  fs::remove_all(scratch.path() / "estate");
  for (const char* name : {"estate-report.txt", "contents.csv", "scenario.yaml", "estate-remarks.geojson"})
    files.erase(name);
  return files;
}

// Ended well, or refused with a message that names the file; nothing is left but the sources.
void harmless(const Scratch& scratch, const std::vector<std::string>& call, const std::string& name) {
  const std::vector<std::string> before = scratch.names();
  std::vector<std::string> whole{"estate"};
  whole.insert(whole.end(), call.begin(), call.end());
  whole.insert(whole.end(), {"--out", "estate"});
  const Ended e = run_program(scratch, whole);
  CAPTURE(e.error);
  CHECK((e.code == 0 || e.code == 2 || e.code == 3));
  if (e.code == 0) fs::remove_all(scratch.path() / "estate");
  if (e.code != 0) CHECK(e.error.find(name) != std::string::npos);
  CHECK(scratch.names() == before);
}

struct Format {
  std::string name, bytes;
  bool heights = false;
};
std::vector<Format> formats(const Scratch& scratch) {
  const std::string lines = houses("\n") + "\n", whole = collection(houses(",")),
                    package = geopackage(scratch);
  const std::string raster = geotiff(64, 8.998, 50.014, 0.0002);
  return {{"town.geojson", whole},
          {"town.geojsonl", lines},
          {"town.geojson.gz", gzipped(whole)},
          {"town.geojsonl.gz", gzipped(lines)},
          {"town.gpkg", package},
          {"town.gpkg.gz", gzipped(package)},
          {"town.zip", zipped("town.geojson", whole)},
          {"heights.tif", raster, true},
          {"heights.tif.zip", zipped("heights.tif", raster), true},
          {"N50E009.hgt", tile(), true},
          {"N50E009.hgt.zip", zipped("N50E009.hgt", tile()), true}};
}

std::vector<std::string> call_with(const Format& f) {
  if (f.heights) return {"plain.geojsonl", "--elevation", f.name};
  return {f.name};
}

}  // namespace

TEST_CASE("a map is the same estate in every dress; heights are the same packed or not") {
  const Scratch scratch;
  scratch.write("plain.geojsonl", houses("\n") + "\n");
  const auto plain = estate_of(scratch, {"plain.geojsonl"});
  CHECK(plain.at("premises.geojson").find("Mill Lane 12") != std::string::npos);
  std::map<std::string, std::map<std::string, std::string>> by_kind;
  for (const Format& f : formats(scratch)) {
    CAPTURE(f.name);
    scratch.write(f.name, f.bytes);
    const auto estate = estate_of(scratch, call_with(f));
    if (!f.heights) CHECK(estate == plain);
    if (f.heights) CHECK(estate != plain);
    if (f.heights) CHECK(by_kind.try_emplace(f.name.substr(0, 7), estate).first->second == estate);
  }
}

TEST_CASE("every format empty, cut short, and with bits turned") {
  const Scratch scratch;
  scratch.write("plain.geojsonl", houses("\n") + "\n");
  uint64_t seed = 20261125;
  const auto next = [&seed](size_t below) {  // Knuth's MMIX generator
    seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<size_t>(seed >> 33) % below;
  };
  for (const Format& f : formats(scratch)) {
    CAPTURE(f.name);
    scratch.write(f.name, "");
    harmless(scratch, call_with(f), f.name);
    for (int cut = 0; cut < 3; ++cut) {
      scratch.write(f.name, f.bytes.substr(0, 1 + next(f.bytes.size() - 1)));
      harmless(scratch, call_with(f), f.name);
    }
    for (int flip = 0; flip < 8; ++flip) {
      std::string bytes = f.bytes;
      // Heads are where a turned bit does most.
      const size_t at = next(flip % 2 == 0 ? std::min<size_t>(bytes.size(), 200) : bytes.size());
      bytes[at] = static_cast<char>(bytes[at] ^ (1 << next(8)));
      scratch.write(f.name, bytes);
      harmless(scratch, call_with(f), f.name);
    }
  }
}

TEST_CASE("places that are none, swapped axes, and shapes of another kind name file and feature") {
  const Scratch scratch;
  scratch.write("street.geojsonl", lane + "\n");
  const auto refused = [&](const std::string& features, const std::vector<std::string>& says) {
    scratch.write("doors.geojsonl", features + "\n");
    const Ended e = run_program(scratch, {"estate", "street.geojsonl", "doors.geojsonl", "--out", "estate"});
    CAPTURE(features);
    CAPTURE(e.error);
    CHECK(e.code == 2);
    CHECK(e.error.find("doors.geojsonl") != std::string::npos);
    for (const std::string& part : says) CHECK_MESSAGE(e.error.find(part) != std::string::npos, part);
    CHECK_FALSE(scratch.has("estate"));
    fs::remove_all(scratch.path() / "estate");
  };
  const std::string good = house(1) + "\n";
  for (const char* place : {"[1e308,50]", "[9.001,1e308]", "[9.001,-1e308]", "[1e400,50]", "[200,50]"})
    refused(good + feature("Point", place), {"feature 1"});
  for (const char* place : {"[NaN,50]", "[9.001,Infinity]", "[9.001,\"x\"]"})
    refused(good + feature("Point", place), {});
  // What has no place at all is left out and told.
  scratch.write("doors.geojsonl", good + feature("Point", "[]") + "\n" + feature("Point", "[9.001]") + "\n");
  CHECK(run_program(scratch, {"estate", "street.geojsonl", "doors.geojsonl", "--out", "estate"}).code == 0);
  CHECK(scratch.read("estate/estate-report.txt").find("2  feature without a place") != std::string::npos);
  fs::remove_all(scratch.path() / "estate");
  scratch.write("doors.yaml",
                "layers:\n  - {layer: street, holds: streets}\n  - {layer: doors, holds: addresses}\n");
  scratch.write("doors.geojsonl",
                good + feature("Polygon", "[[[9,50.01],[9.001,50.01],[9.001,50.011],[9,50.01]]]") + "\n");
  const Ended shape = run_program(
      scratch, {"estate", "street.geojsonl", "doors.geojsonl", "--mapping", "doors.yaml", "--out", "estate"});
  CHECK(shape.code == 2);
  CHECK(shape.error.find("doors.geojsonl: feature 1: polygon where a point is due") != std::string::npos);
  CHECK_FALSE(scratch.has("estate"));
  // One layer in latitude and longitude: 4,554 km away, near once its axes are swapped.
  refused(feature("Point", "[50.0002,9.001]") + "\n" + feature("Point", "[50.0002,9.002]"), {" km", "axes"});
}

TEST_CASE("a hundred thousand points on one spot are one premises, told with their number") {
  const Scratch scratch;
  std::string points = lane + "\n";
  for (int i = 0; i < 100'000; ++i) points += house(1) + "\n";
  scratch.write("town.geojsonl", points);
  const Ended e = run_program(scratch, {"estate", "town.geojsonl", "--out", "estate"});
  CHECK(e.code == 0);
  CHECK(e.output.starts_with("1 premises, 1 route, "));
  CHECK(scratch.read("estate/estate-remarks.geojson").find("100000 points") != std::string::npos);
}
