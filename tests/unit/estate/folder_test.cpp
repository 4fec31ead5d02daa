// The files of an estate folder: both kinds of table say the same, the report counts, remarks are JSON.
#include "estate/folder.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <map>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "estate/estate_rows.h"
#include "estate/plane.h"
#include "files/tables.h"

using namespace withy;
using plan::NodeRef;
using plan::Point;
using plan::Tree;
using plan::TreeKind;

namespace {

struct Town {
  Map map;
  Draft draft;
  MapDuct old_duct;

  Town() {
    map.sources = {{"maps/town.osm.pbf", "(c) OpenStreetMap contributors, ODbL 1.0", true, 10, 4, 1, 0}};
    old_duct.state = DuctState::unproven, old_duct.bore_millimetres = 100,
    old_duct.owner = "The Town, \"Works\"";
    draft.plane = "EPSG:32632";
    route("Mill Lane 1", {{0, 0}, {100'000, 0}});
    draft.routes.back().heights = {312'500, 313'250};
    draft.routes.back().surface_known = Known::mapped;
    route("Mill Lane, bridge", {{100'000, 0}, {150'000, 0}});
    draft.routes.back().drops = false, draft.routes.back().level = 1, draft.routes.back().crossing = "rail";
    route("=Far Lane", {{0, 90'000}, {80'000, 90'000}});
    draft.routes.back().restricted = true, draft.routes.back().street = "Far\tLane";
    route("Old duct", {{0, 0}, {100'000, 0}});
    draft.routes.back().duct = &old_duct;
    premises("1 Mill Lane", {10'000, 12'500}, 60, "addresses counted");
    draft.premises.back().drop_from = Point{-9'000, 4};
    premises("2 \"Mill\" Lane, rear", {20'000, -8'040}, 1, "one, as nothing is said");
    draft.premises.back().boundary = 2'500;
    premises("1 Far Lane", {40'000, 95'000}, 2, "addresses counted");
    premises("Hermitage", {40'000, 9'950'000}, 1, "one, as nothing is said");
    draft.remarks.push_back({RemarkKind::repaired,
                             "end joined to a street near it",
                             {0, MapKind::way, 7'130'313'737},
                             {11.27, 49.51},
                             "0.4 m \"away\""});
    draft.remarks.push_back(
        {RemarkKind::left_out, "less than two places", {0, MapKind::way, 4}, {11.28, 49.5}, ""});
    draft.remarks.push_back(
        {RemarkKind::left_out, "less than two places", {0, MapKind::way, 5}, {11.28, 49.5}, ""});
  }
  void route(const char* name, std::vector<Point> line) {
    DraftRoute r;
    r.name = name, r.line = std::move(line), r.street = "Mill Lane", r.surface = "verge";
    r.street_class = StreetClass::residential;
    draft.routes.push_back(r);
  }
  void premises(const char* name, Point at, int dwellings, const char* rule) {
    DraftPremises p;
    p.name = name, p.at = at, p.street = "Mill Lane", p.dwellings = dwellings, p.dwellings_rule = rule;
    draft.premises.push_back(p);
  }
};

std::string text_of(const auto& write) {
  std::string text;
  write(plan::Sink([&text](std::string_view block) { text += block; }));
  return text;
}

std::string flat(const Tree& t, NodeRef n) {
  if (t.kind(n) == TreeKind::scalar) return std::string(t.text(n));
  std::string all;
  for (NodeRef c = t.first_child(n); c.valid(); c = t.next(c)) all += flat(t, c) + ' ';
  return all;
}

using Rows = std::vector<std::map<std::string, std::string>>;

// What the reader of tables makes of it, without its kind.
Rows rows_of(const std::string& name, const std::string& text) {
  Rows rows;
  const plan::Diagnostics faults = read_table(name, text, [&](const Tree& t, NodeRef list) {
    for (NodeRef row = t.first_child(list); row.valid(); row = t.next(row)) {
      auto& values = rows.emplace_back();
      for (NodeRef pair = t.first_child(row); pair.valid(); pair = t.next(pair))
        values[std::string(t.text(pair))] = flat(t, t.value(pair));
    }
  });
  for (const plan::Diagnostic& d : faults) FAIL_CHECK(plan::rendered(d));
  return rows;
}

struct Drafted {
  Town town;
  Components components = components_of(town.draft);
  EstateBrief brief{"town"};
  DraftedEstate estate{town.map, town.draft, components};
  Drafted() { propose_headends(town.draft, components, {}); }
};

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("GeoJSON and CSV hold the same rows") {
  Drafted d;
  const auto both = [&](const auto& write) {
    const Rows geojson =
        rows_of("t.geojson", text_of([&](const plan::Sink& s) { write(TableKind::geojson, s); }));
    const Rows csv = rows_of("t.csv", text_of([&](const plan::Sink& s) { write(TableKind::csv, s); }));
    REQUIRE(geojson.size() == csv.size());
    for (size_t i = 0; i < csv.size(); ++i) {
      Rows::value_type guarded = csv[i];
      for (auto& [key, value] : guarded)
        if (value.starts_with("'=")) value.erase(0, 1);  // guarded against spreadsheets
      CHECK(geojson[i] == guarded);
    }
    return geojson;
  };
  const Rows premises = both([&](TableKind k, const plan::Sink& s) { write_premises(d.town.draft, k, s); });
  REQUIRE(premises.size() == 4);
  CHECK(premises[0].at("at") == "10 12.5 ");
  CHECK(premises[0].at("drop from") == "-9 0.004");
  CHECK(premises[1].at("name") == "2 \"Mill\" Lane, rear");
  CHECK(premises[1].at("boundary") == "2.5 m");
  CHECK(premises[1].at("at") == "20 -8.04 ");
  const Rows routes = both([&](TableKind k, const plan::Sink& s) { write_routes(d.town.draft, k, s); });
  REQUIRE(routes.size() == 4);
  CHECK(routes[0].at("line") == "0 0 312.5  100 0 313.25  ");
  CHECK(routes[1].at("drops") == "no");
  CHECK(routes[1].at("level") == "1");
  CHECK(routes[2].at("name") == "=Far Lane");
  CHECK(routes[2].at("street") == "Far Lane");
  CHECK(routes[3].at("kind") == "existing duct");
  CHECK(routes[3].at("bore") == "100 mm");
  CHECK(routes[3].at("owner") == "The Town, \"Works\"");
  CHECK_FALSE(routes[3].contains("surface"));
}

TEST_CASE("metres are written with the digits they need") {
  CHECK(metres_of(0) == "0");
  CHECK(metres_of(-1) == "-0.001");
  CHECK(metres_of(12'500) == "12.5");
  CHECK(metres_of(-32'010'000) == "-32010");
  CHECK(metres_of(5'512'345'678) == "5512345.678");
  CHECK(metres_of(1'040) == "1.04");
}

TEST_CASE("texts are cut at whole characters and hold no control character") {
  CHECK(clean_text("  a\x01"
                   "b\n ") == "a b");
  std::string long_text;
  for (int i = 0; i < 150; ++i) long_text += "\xC3\xBC";
  CHECK(clean_text(long_text).size() == 200);
  CHECK(plan::valid_utf8(clean_text("x" + long_text)));
  CHECK(clean_text("x" + long_text).size() == 199);
}

TEST_CASE("the report counts by phrase and names the first ids") {
  Drafted d;
  const std::string text = report_text(d.estate, d.brief);
  CAPTURE(text);
  CHECK(holds(text, "4 premises, 4 routes, 1 headend proposed, in metres of EPSG:32632"));
  CHECK(holds(text, "10 nodes, 4 ways, 1 relations"));
  CHECK(holds(text, "1  end joined to a street near it: way 7130313737"));
  CHECK(holds(text, "2  less than two places: way 4, way 5"));
  CHECK(holds(text, "in all 0.230 km, 56.5 % of them (0.130 km)"));
  CHECK(holds(text, "2 premises,       62 dwellings: addresses counted"));
  CHECK(holds(text, "on private or restricted ways: 1 premises,"));
  CHECK(holds(text, "without a street within 200 m: 1 premises"));
  CHECK(holds(text, "in components without a headend: 1 premises (2 dwellings)"));
  CHECK(holds(text, "joined by 90.0 m straight"));
  CHECK(holds(text, "1 of rail, 0.050 km"));
  CHECK(holds(text, "1 unproven, 0.100 km"));
}

TEST_CASE("remarks are points with id, kind, phrase and detail") {
  Drafted d;
  const auto json = nlohmann::json::parse(text_of([&](const plan::Sink& s) { write_remarks(d.estate, s); }));
  REQUIRE(json["features"].size() == 3);
  const auto& first = json["features"][0];
  CHECK(first["properties"]["id"] == "way 7130313737");
  CHECK(first["properties"]["kind"] == "repaired");
  CHECK(first["properties"]["detail"] == "0.4 m \"away\"");
  CHECK(first["geometry"]["coordinates"][1] == doctest::Approx(49.51));
}

TEST_CASE("the brief names its files, headends and where to look") {
  Drafted d;
  const std::string text = brief_text(d.estate, d.brief);
  CHECK(holds(text, "premises: premises.geojson"));
  CHECK(holds(text, "reference system: \"EPSG:32632\""));
  CHECK(holds(text, "- {name: Headend 1, at: ["));
  CHECK(holds(text, "LICENCE.txt"));
  CHECK(holds(licence_text(d.town.map), "openstreetmap.org/copyright"));
  CHECK(holds(licence_text(d.town.map), "odbl"));
  CHECK(licence_text({}).empty());
}

TEST_CASE("the walk-out begins where most is assumed") {
  Drafted d;
  d.town.draft.routes[2].street = "Far Lane";
  const std::string text = text_of([&](const plan::Sink& s) { write_walk_out(d.estate, s); });
  const auto lines = plan::split(text, '\n');
  REQUIRE(lines.size() >= 3);
  CHECK(lines[1].starts_with("Mill Lane,150,50,0,1,"));
  CHECK(lines[2].starts_with("Far Lane,80,80,80,0,1,"));
}

TEST_CASE("what the scenario does not take is written as the nearest that it takes, and told") {
  Draft draft;
  MapDuct duct;
  duct.bore_millimetres = 900;
  draft.premises.resize(2);
  draft.premises[0].dwellings = 2500;
  draft.premises[1].dwellings = 2000;
  draft.routes.resize(1);
  draft.routes[0].line = {{0, 0}, {1000, 0}};
  draft.routes[0].duct = &duct;
  CHECK(values_of(draft.premises[0])[2] == "2000");
  CHECK(values_of(draft.routes[0])[11] == "500 mm");
  Map map;
  map.geographic = false;
  remark_clamped(draft, plane_of(map));
  REQUIRE(draft.remarks.size() == 2);
  CHECK(draft.remarks[0].detail == "2500 dwellings, written as 2000");
  CHECK(draft.remarks[1].detail == "900 mm, written as 500 mm");
}
