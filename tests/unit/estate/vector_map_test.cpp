// Vector sources: made here as text, or as GeoPackage by our own writer.
#include "estate/vector_map.h"

#include <doctest/doctest.h>

#include <array>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <string>

#include "files/disk.h"
#include "files/geopackage.h"
#include "files/gis.h"
#include "files/sources.h"
#include "files/tables.h"
#include "scratch_folder.h"

using namespace withy;

namespace {

using Folder = ScratchFolder;

std::string feature(const std::string& geometry, const std::string& coordinates,
                    const std::string& properties) {
  return R"({"type":"Feature","geometry":{"type":")" + geometry + R"(","coordinates":)" + coordinates +
         R"(},"properties":{)" + properties + "}}\n";
}
std::string point(const std::string& coordinates, const std::string& properties = "") {
  return feature("Point", coordinates, properties);
}

// The message of the only diagnostic; the map must have been left alone.
std::string refusal(const std::string& path, const VectorOptions& options = {}) {
  Map map;
  const auto read = read_vector(path, options, map);
  CHECK_FALSE(read);
  CHECK(map.sources.empty());
  CHECK(map.addresses.empty());
  return read.diagnostics.size() == 1 ? read.diagnostics[0].message : "";
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("without a mapping file lines are streets, points addresses and polygons buildings") {
  const Folder folder;
  const std::string path = folder.write(
      "town.geojsonl",
      feature("MultiLineString", "[[[1,2],[1,3]],[[1,4],[1,5],[1,6]]]", R"("via_name":"Rua do Teste")") +
          point("[1.5,2.5]", R"("address":"Rua A, lote 3, 10A")") +
          point("[1.5,2.6]", R"("house_number":"0")") +
          feature("Polygon", "[[[1,2],[1,3],[2,3],[1,2]],[[1.1,2.5],[1.2,2.6],[1.3,2.6],[1.1,2.5]]]",
                  R"("street":"Rua B","number":7)"));
  Map map;
  const auto counts = read_vector(path, {}, map);
  REQUIRE(counts);
  CHECK(counts->features == 4);
  REQUIRE(map.streets.size() == 2);
  CHECK(map.streets[0].id == map.streets[1].id);
  CHECK(map.streets[1].line.size() == 3);
  CHECK(map.streets[0].name == "Rua do Teste");
  REQUIRE(map.addresses.size() == 2);
  CHECK(map.addresses[0].street == "Rua A, lote 3");
  CHECK(map.addresses[0].number == "10A");
  CHECK(map.addresses[0].at == MapPlace{1.5, 2.5});
  CHECK(map.addresses[1].street.empty());
  CHECK(map.addresses[1].number == "0");
  REQUIRE(map.buildings.size() == 1);
  CHECK(map.buildings[0].parts[0].rings.size() == 2);
  CHECK(map.buildings[0].number == "7");
  CHECK(map.geographic);
  CHECK(map.sources[0].features == 4);
}

TEST_CASE("a mapping file names foreign fields, tables of values and constants") {
  const Folder folder;
  const std::string path = folder.write(
      "vias.geojsonl", feature("LineString", "[[1,2],[1,3]]", R"("NM":"A","TIPO":"arterial","PONTE":"1")") +
                           feature("LineString", "[[1,2],[1,3]]", R"("NM":"B","TIPO":"beco")"));
  const std::string mapping = folder.write("fields.yaml",
                                           "layers:\n"
                                           "  - layer: vias\n"
                                           "    holds: streets\n"
                                           "    name: nm\n"
                                           "    class: {field: TIPO, values: {arterial: primary}}\n"
                                           "    surface: {always: asphalt}\n"
                                           "    bridge: PONTE\n");
  Map map;
  REQUIRE(read_vector(path, {mapping, false}, map));
  REQUIRE(map.streets.size() == 2);
  CHECK(map.streets[0].name == "A");
  CHECK(map.streets[0].street_class == StreetClass::primary);
  CHECK(map.streets[0].surface == "asphalt");
  CHECK(map.streets[0].bridge);
  CHECK(map.streets[0].level == 1);
  CHECK(map.streets[1].street_class == StreetClass::unstated);
  REQUIRE(map.remarks.size() == 1);
  CHECK(map.remarks[0].what == "street class not known");
}

TEST_CASE("existing ducts and barriers by mapping; states and kinds that are none are refused") {
  const Folder folder;
  const std::string path = folder.write(
      "d.geojsonl", feature("LineString", "[[1,2],[1,3]]", R"("b":90,"s":"ok","p":"1.20 EUR/m")"));
  const auto mapping = [&](const std::string& values) {
    return folder.write(
        "m.yaml",
        "layers:\n  - {layer: d, holds: existing ducts, bore: b, hire price: p, state: " + values + "}\n");
  };
  Map map;
  REQUIRE(read_vector(path, {mapping("{field: s, values: {ok: proven}}"), false}, map));
  REQUIRE(map.ducts.size() == 1);
  CHECK(map.ducts[0].bore_millimetres == 90);
  CHECK(map.ducts[0].state == DuctState::proven);
  CHECK(map.ducts[0].hire_price == "1.20 EUR/m");
  CHECK(refusal(path, {mapping("s"), false}) ==
        "feature 0: state 'ok', expected proven, unproven or blocked");
  const std::string rail =
      folder.write("r.yaml", "layers:\n  - {layer: d, holds: barriers, kind: {always: rail}}\n");
  REQUIRE(read_vector(path, {rail, false}, map));
  CHECK(map.barriers.size() == 1);
  CHECK(map.sources.size() == 2);
  CHECK(map.barriers[0].id.source == 1);
}

TEST_CASE("what is wrong with a mapping file is told with its place") {
  const Folder folder;
  const std::string path = folder.write("d.geojsonl", point("[1,2]", R"("address":"A, 1")"));
  const auto told = [&](const std::string& text) {
    Map map;
    const auto read = read_vector(path, {folder.write("m.yaml", text), false}, map);
    REQUIRE(read.diagnostics.size() == 1);
    const plan::Diagnostic& d = read.diagnostics[0];
    return std::to_string(d.place.line) + ":" + std::to_string(d.place.column) + ": " + d.message;
  };
  CHECK(told("layers:\n  - {layer: d, holds: adresses}\n") ==
        "2:23: 'adresses' is nothing a layer holds, did you mean 'addresses'");
  CHECK(told("layers:\n  - {layer: d, holds: addresses, strret: A}\n") ==
        "2:34: unknown key 'strret', did you mean 'street'");
  CHECK(told("layers:\n  - {layer: d, holds: addresses, street: adress}\n") ==
        "2:42: layer 'd' has no field 'adress', did you mean 'address'");
  CHECK(told("layers:\n  - {layer: d}\n") == "2:5: 'holds' is missing");
}

TEST_CASE("messages name the file, not what it is unpacked to") {
  const Folder folder;
  // "no database", packed
  const std::string packed(
      "\037\213\010\000\000\000\000\000\002\003\313\313\127\110\111\054\111\114\112\054\116\005\000\313\010"
      "\111\147\013\000\000\000",
      31);
  const std::string said = refusal(folder.write("a.gpkg.gz", packed));
  CHECK_FALSE(said.empty());
  CHECK_FALSE(has(said, "/vsi"));
}

TEST_CASE("a coordinate system that is named by an address is not fetched") {
  const Folder folder;
  const std::string link = R"({"type":"FeatureCollection","crs":{"type":"link","properties":{"href":)"
                           R"("http://127.0.0.1:9/x","type":"proj4"}},"features":[)" +
                           point("[1,2]") + "]}";
  CHECK(has(refusal(folder.write("a.geojson", link)), "nothing is fetched from a net"));
}

TEST_CASE("geometry of another kind is refused with file and feature") {
  const Folder folder;
  const std::string path =
      folder.write("d.geojsonl", point("[1,2]") + feature("Polygon", "[[[1,2],[1,3],[2,3],[1,2]]]", ""));
  const std::string mapping = folder.write("m.yaml", "layers:\n  - {layer: d, holds: addresses}\n");
  CHECK(refusal(path, {mapping, false}) == "feature 1: polygon where a point is due (addresses)");
}

TEST_CASE("places that are none on earth are refused; metres only where they are said to be") {
  const Folder folder;
  CHECK(has(refusal(folder.write("a.geojsonl", point("[1,2]") + point("[1e308,2]"))),
            "feature 1: place 1e+308, 2"));
  CHECK(has(refusal(folder.write("b.geojsonl", point("[1e400,2]"))), "place inf, 2 is no place"));
  const std::string metres = folder.write("c.geojsonl", point("[664325,5486628.5]"));
  CHECK(has(refusal(metres), "say that these are metres"));
  Map map;
  REQUIRE(read_vector(metres, {"", true}, map));
  CHECK_FALSE(map.geographic);
  CHECK(map.addresses[0].at == MapPlace{664325, 5486628.5});
  const auto mixed = read_vector(folder.write("d.geojsonl", point("[1,2]")), {}, map);
  REQUIRE(mixed.diagnostics.size() == 1);
  CHECK(has(mixed.diagnostics[0].message, "cannot be mixed"));
}

TEST_CASE("a layer that lies far off but near once swapped is asked about its axes") {
  const Folder folder;
  Map map;
  REQUIRE(read_vector(folder.write("a.geojsonl", point("[-44.1,-19.9]")), {}, map));
  const auto swapped = read_vector(folder.write("b.geojsonl", point("[-19.85,-44.05]")), {}, map);
  REQUIRE(swapped.diagnostics.size() == 1);
  CHECK(has(swapped.diagnostics[0].message, "km with its axes swapped"));
  CHECK(map.addresses.size() == 1);
  CHECK(read_vector(folder.write("c.geojsonl", point("[-44.05,-19.85]")), {}, map));
}

TEST_CASE("features without a place are left out with a remark") {
  const Folder folder;
  Map map;
  const auto read = read_vector(
      folder.write("a.geojsonl",
                   point("[1,2]") + "{\"type\":\"Feature\",\"properties\":{},\"geometry\":null}\n"),
      {}, map);
  REQUIRE(read);
  CHECK(read->without_place == 1);
  REQUIRE(map.remarks.size() == 1);
  CHECK(map.remarks[0].what == "feature without a place");
  CHECK(map.remarks[0].id.number == 1);
}

TEST_CASE("damaged and foreign files are refused, missing ones are the outside's fault") {
  const Folder folder;
  const std::string good = point("[1,2]") + point("[1,3]");
  CHECK(refusal(folder.write("a.geojsonl", "")) == "file says nothing");
  CHECK(refusal(folder.write("b.geojsonl", good.substr(0, good.size() - 20))) ==
        "the file ends inside its last line");
  CHECK(has(refusal(folder.write("c.geojsonl", "hello}\n" + good)), "damaged"));
  CHECK(
      has(refusal(folder.write("d.geojson", R"({"type":"FeatureCollection","features":[)" + point("[1,2]"))),
          "damaged"));
  for (const char* name : {"e.gpkg", "e.shp", "e.geojson", "e.zip", "e.geojsonl.gz", "e.gpkg.gz"})
    CHECK_FALSE(refusal(folder.write(name, "PK\x03\x04 no such thing")).empty());
  CHECK(has(refusal(folder.write("f.vrt", "<OGRVRTDataSource/>")), "not a format that is read"));
  const std::string other = "<OGRVRTDataSource><OGRVRTLayer name='a'><SrcDataSource>" +
                            folder.write("g.geojsonl", good) +
                            "</SrcDataSource></OGRVRTLayer></OGRVRTDataSource>";
  for (const char* name : {"g.geojson", "g.gpkg", "g.shp"})
    CHECK_FALSE(refusal(folder.write(name, other)).empty());
  CHECK(has(refusal("/vsigzip/" + folder.at("a.gz")), "is no path of a file"));
  CHECK(has(refusal("GPKG:" + folder.at("a.gpkg")), "is no path of a file"));
  Map map;
  CHECK_THROWS_AS(read_vector(folder.at("none.gpkg"), {}, map), OutsideFault);
}

namespace {

template <class T>
std::string little(T value) {
  std::string bytes(sizeof value, '\0');
  std::memcpy(bytes.data(), &value, sizeof value);
  return bytes;
}
std::string big(int32_t value) {
  const std::string bytes = little(value);
  return {bytes.rbegin(), bytes.rend()};
}
std::string shape_head(size_t bytes) {
  std::string head = big(9994);
  for (int i = 0; i < 5; ++i) head += big(0);
  head += big(static_cast<int32_t>(bytes / 2)) + little<int32_t>(1000) + little<int32_t>(1);
  for (int i = 0; i < 8; ++i) head += little(0.0);
  return head;
}
// A Shapefile of one point with one text: main file, index and table by the vendor's description of 1998.
void write_shapefile(const Folder& folder, double x, double y, const std::string& street) {
  folder.write("p.shp", shape_head(128) + big(1) + big(10) + little<int32_t>(1) + little(x) + little(y));
  folder.write("p.shx", shape_head(108) + big(50) + big(10));
  std::string table{3, 126, 1, 1};
  table += little<int32_t>(1) + little<int16_t>(65) + little<int16_t>(21) + std::string(20, '\0');
  table += "STREET" + std::string(5, '\0') + "C" + std::string(4, '\0') + '\x14' + std::string(15, '\0');
  folder.write("p.dbf", table + "\r " + street + std::string(20 - street.size(), ' ') + '\x1a');
  folder.write("p.prj", R"(PROJCS["WGS 84 / UTM zone 32N",GEOGCS["WGS 84",DATUM["WGS_1984",)"
                        R"(SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0],)"
                        R"(UNIT["degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],)"
                        R"(PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",9],)"
                        R"(PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",500000],)"
                        R"(PARAMETER["false_northing",0],UNIT["metre",1]])");
}

}  // namespace

TEST_CASE("a Shapefile in its own coordinate system; texts of no named encoding") {
  const Folder folder;
  write_shapefile(folder, 664325.014, 5486628.815,
                  "Stra\xdf"
                  "e");
  Map map;
  REQUIRE(read_vector(folder.at("p.shp"), {}, map));
  REQUIRE(map.addresses.size() == 1);
  CHECK(map.addresses[0].at.x == doctest::Approx(11.27).epsilon(1e-9));
  CHECK(map.addresses[0].street ==
        "Stra\xc3\x9f"
        "e");
  REQUIRE(map.remarks.size() == 1);
  CHECK(map.remarks[0].kind == RemarkKind::repaired);
  write_shapefile(folder, 664325.014, 1e308, "A");
  CHECK(has(refusal(folder.at("p.shp")), "feature 0: place inf, inf"));
  write_shapefile(folder, 664325.014, 6e7, "A");
  CHECK_FALSE(refusal(folder.at("p.shp")).empty());
  std::filesystem::remove(folder.at("p.prj"));
  CHECK(has(refusal(folder.at("p.shp")), "names no coordinate system"));
  std::filesystem::remove(folder.at("p.shx"));
  CHECK(has(refusal(folder.at("p.shp")), "p.shx"));
  folder.write("p.shx", shape_head(108) + big(50) + big(10));
  folder.write("p.shp", must_read(folder.at("p.shp")).substr(0, 115));
  CHECK_FALSE(refusal(folder.at("p.shp")).empty());
}

namespace {

std::array<PackageLayer, 2> small_estate() {
  PackageLayer premises("premises", 32632, false, {{"name", gis_text}, {"dwellings", gis_whole}});
  premises.add(std::array<std::string, 2>{"12 Alder Lane", "4"},
               std::array{PackagePlace{664325.014, 5486628.815}});
  premises.add(std::array<std::string, 2>{"", "1"}, std::array{PackagePlace{664326, 5486629}});
  PackageLayer routes("routes", 32632, true, {{"name", gis_text}});
  routes.add(std::array<std::string, 1>{"r1"},
             std::array{PackagePlace{664300, 5486600, 311.5}, PackagePlace{664400, 5486600, 312}});
  return {premises, routes};
}
constexpr const char* date = "2026-03-01T00:00:00.000Z";

}  // namespace

TEST_CASE("a GeoPackage is transformed to longitude and latitude") {
  const Folder folder;
  write_geopackage(folder.at("e.gpkg"), date, small_estate());
  Map map;
  const auto read = read_vector(folder.at("e.gpkg"), {}, map);
  REQUIRE(read);
  CHECK(map.sources.size() == 2);
  REQUIRE(map.addresses.size() == 2);
  // PROJ 9.1.1: 11.27 E 49.51 N is 664,325.014, 5,486,628.815 in EPSG 32632
  CHECK(map.addresses[0].at.x == doctest::Approx(11.27).epsilon(1e-9));
  CHECK(map.addresses[0].at.y == doctest::Approx(49.51).epsilon(1e-9));
  CHECK(map.streets.size() == 1);
  CHECK(has(refusal(folder.at("e.gpkg"), {"", true}), "has a coordinate system"));
}

TEST_CASE("the same rows give the same bytes") {
  const Folder folder;
  write_geopackage(folder.at("a.gpkg"), date, small_estate());
  write_geopackage(folder.at("b.gpkg"), date, small_estate());
  CHECK(must_read(folder.at("a.gpkg")) == must_read(folder.at("b.gpkg")));
}

TEST_CASE("a GeoPackage cut short or with a bit turned is refused or read as it says, never worse") {
  const Folder folder;
  write_geopackage(folder.at("a.gpkg"), date, small_estate());
  const std::string whole = must_read(folder.at("a.gpkg"));
  CHECK_FALSE(refusal(folder.write("cut.gpkg", whole.substr(0, whole.size() / 2))).empty());
  for (size_t at = 0; at < whole.size(); at += whole.size() / 40) {
    std::string turned = whole;
    turned[at] = static_cast<char>(turned[at] ^ 0x24);
    Map map;
    const auto read = read_vector(folder.write("turned.gpkg", turned), {}, map);
    CHECK(read.diagnostics.empty() == static_cast<bool>(read));
  }
}

TEST_CASE("a layer of a GeoPackage is a table of the scenario") {
  const Folder folder;
  const std::string path = folder.at("e.gpkg");
  write_geopackage(path, date, small_estate());
  std::string said;
  const auto rows = [&](const plan::Tree& t, plan::NodeRef list) {
    for (plan::NodeRef row = t.first_child(list); row.valid(); row = t.next(row)) {
      for (plan::NodeRef pair = t.first_child(row); pair.valid(); pair = t.next(pair)) {
        said += std::string(t.text(pair)) + '=' + std::string(t.text(t.value(pair)));
        for (plan::NodeRef n = t.first_child(t.value(pair)); n.valid(); n = t.next(n)) {
          said += std::string(t.text(n)) + ' ';
          for (plan::NodeRef m = t.first_child(n); m.valid(); m = t.next(m))
            said += std::string(t.text(m)) + ' ';
        }
        said += ';';
      }
      said += '\n';
    }
  };
  CHECK(geopackage_table(path, "premises", rows).empty());
  CHECK(said ==
        "name=12 Alder Lane;dwellings=4;at=664325.014 5486628.815 ;\ndwellings=1;at=664326 5486629 ;\n");
  said.clear();
  CHECK(geopackage_table(path, "routes", rows).empty());
  CHECK(said == "name=r1;line= 664300 5486600 311.5  664400 5486600 312 ;\n");
  const auto none = geopackage_table(path, "sites", rows);
  REQUIRE(none.size() == 1);
  CHECK(none[0].message == "no layer 'sites', it has 'premises', 'routes'");
}

TEST_CASE("a scenario whose tables are layers of a GeoPackage is the one with the rows inline") {
  const Folder folder;
  PackageLayer premises("premises", 0, false, {{"name", gis_text}, {"dwellings", gis_whole}});
  premises.add(std::array<std::string, 2>{"A", "3"}, std::array{PackagePlace{0, 5}});
  premises.add(std::array<std::string, 2>{"B", ""}, std::array{PackagePlace{20, 5}});
  PackageLayer routes("routes", 0, true, {{"name", gis_text}, {"surface", gis_text}});
  routes.add(std::array<std::string, 2>{"lane", "verge"},
             std::array{PackagePlace{0, 0}, PackagePlace{20, 0}});
  write_geopackage(folder.at("estate.gpkg"), date, std::array{premises, routes});
  const auto scenario = [&](const std::string& p, const std::string& r) {
    return folder.write("scenario.yaml", "scenario: Two Doors\nstart: 2027-03-01\nestate:\n  premises: " + p +
                                             "\n  routes: " + r +
                                             "\nheadends: [{name: Exchange, at: [0, -5]}]\n");
  };
  const auto inlined = plan::read_scenario(
      disk_files(), scenario("[{name: A, at: [0, 5], dwellings: 3}, {name: B, at: [20, 5]}]",
                             "[{name: lane, line: [[0, 0], [20, 0]], surface: verge}]"));
  const auto layered = plan::read_scenario(disk_files(), scenario("estate.gpkg", "estate.gpkg"));
  REQUIRE(inlined);
  REQUIRE(layered);
  CHECK(plan::same_slices(*inlined, *layered));
  Sources sources;
  REQUIRE(plan::read_scenario(noting_files(sources), folder.at("scenario.yaml")));
  CHECK(sources.files.at(folder.at("estate.gpkg")).bytes ==
        std::filesystem::file_size(folder.at("estate.gpkg")));
  const auto missing =
      plan::read_scenario(disk_files(), scenario("estate.gpkg", "estate.gpkg\n  sites: estate.gpkg"));
  REQUIRE(missing.diagnostics.size() == 1);
  CHECK(has(missing.diagnostics[0].message, "no layer 'sites'"));
}
