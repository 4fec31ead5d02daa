// The estate: order, projection, tables.
#include <fmt/core.h>

#include <cmath>

#include "scenario/projection.h"
#include "village.h"

using namespace plan;

namespace {

// Rows of a file as the outside hands them over: one mapping a row, places are rows and fields.
Files with_table(const std::string& yaml,
                 std::vector<std::vector<std::pair<std::string, std::string>>> premises) {
  Files files = text_file(yaml);
  files.table = [=](const std::string& path, std::string_view, const RowSink& rows) -> Diagnostics {
    if (path != "premises.csv") return failed<NodeRef>("no such file").diagnostics;
    Tree tree;
    tree.select_file(tree.add_file(path, ""));
    const NodeRef list = tree.add(TreeKind::list, "", 1, 1);
    uint32_t line = 1;
    for (const auto& row : premises) {
      const NodeRef mapping = tree.add(TreeKind::mapping, "", ++line, 1);
      uint32_t column = 0;
      for (const auto& [key, value] : row)
        tree.add_entry(mapping, key, tree.add(TreeKind::scalar, value, line, ++column));
      tree.append(list, mapping);
    }
    rows(tree, list);
    return {};
  };
  return files;
}

std::string from_table() {
  return instead("[{name: 1 Mill Lane, at: [10, 5]}, {name: 2 Mill Lane, at: [30, -5], dwellings: 4}]",
                 "premises.csv");
}

}  // namespace

TEST_CASE("the order of premises and routes in the file changes nothing") {
  std::vector<std::string> premises, routes;
  for (int i = 0; i < 40; ++i) {
    premises.push_back(fmt::format("{{name: p{}, at: [{}, {}]}}", i, (i * 37) % 100, (i * 53) % 70));
    routes.push_back(
        fmt::format("{{name: r{}, line: [[{}, 0], [{}, 70]], surface: verge}}", i, i * 3, i * 3));
  }
  const auto text = [&] {
    std::string p, r;
    for (int i = 0; i < 40; ++i) {
      p += (i ? ", " : "") + premises[static_cast<size_t>(i)];
      r += (i ? ", " : "") + routes[static_cast<size_t>(i)];
    }
    return fmt::format(
        "scenario: x\nstart: 2027-03-01\nheadends: [{{name: E, at: [0, 0]}}]\nestate:\n"
        "  premises: [{}]\n  routes: [{}]\n",
        p, r);
  };
  const Scenario a = scenario_from(text());
  std::reverse(premises.begin(), premises.end());
  std::rotate(routes.begin(), routes.begin() + 13, routes.end());
  const Scenario b = scenario_from(text());
  CHECK(same_slices(a, b));
  for (const PremisesId p : b.demand->premises.ids()) CHECK(b.premises_places[p].line == 5);
}

TEST_CASE("places follow the canonical order") {
  const Scenario s = scenario_from(
      "scenario: x\nstart: 2027-03-01\nheadends: [{name: E, at: [0, 0]}]\nestate:\n  premises:\n"
      "    - {name: far, at: [5000, 4000]}\n    - {name: near, at: [1, 1]}\n"
      "  routes: [{name: r, line: [[0, 0], [9, 0]], surface: verge}]\n");
  for (const PremisesId p : s.demand->premises.ids())
    CHECK(s.premises_places[p].line == (s.demand->premises[p].name == "far" ? 6u : 7u));
}

TEST_CASE("rows of a table are read by the same words, faults name row and field") {
  const Result<Scenario> s = read_scenario(
      with_table(from_table(),
                 {{{"name", "A"}, {"at", "10 5"}, {"boundary", "6 m"}, {"street", ""}},
                  {{"name", "B"}, {"at", "30.5 -5"}, {"dwellings", "12"}, {"connect", "on order"}}}),
      "scenario.yaml");
  REQUIRE_MESSAGE(s.value.has_value(), all_rendered(s.diagnostics));
  const Premises& b =
      s->demand->premises[PremisesId(s->demand->premises[PremisesId(0u)].name == "B" ? 0u : 1u)];
  CHECK(b.at == Point{30500, -5000});
  CHECK(b.dwellings == 12);
  CHECK(b.connect == Connect::on_order);
  CHECK(s->row_files[s->premises_places[PremisesId(0u)].file] == "premises.csv");

  const Result<Scenario> bad = read_scenario(
      with_table(from_table(), {{{"name", "A"}, {"at", "10"}},
                                {{"name", "A"}, {"at", "1 1"}, {"dwellings", "two"}},
                                {{"name", "C"}, {"at", "1 1"}, {"storeys", "2"}, {"boundary", "6"}}}),
      "scenario.yaml");
  CHECK(all_rendered(bad.diagnostics) ==
        "premises.csv:2:2: 'at' is no position of two numbers, such as [12.5, 40], in metres east and north\n"
        "premises.csv:3:1: two premises are called 'A', the first in premises.csv:2\n"
        "premises.csv:3:3: 'dwellings' is 'two', expected a whole number\n"
        "premises.csv:4:3: unknown key 'storeys'\n"
        "premises.csv:4:4: 'boundary' is '6', expected a length with its unit, such as 12.5 m\n");
}

TEST_CASE("a table that cannot be read is told where it is named") {
  CHECK(first_fault(from_table()) == "scenario.yaml:5:13: cannot read 'premises.csv': no such table");
}

TEST_CASE("longitude and latitude are projected") {
  // EPSG 4326 to 32632 at 11.27 E, 49.51 N: 664,325.014 m, 5,486,628.815 m (measured with PROJ 9.1.1).
  // The projection here has its own meridian and scale 1, so it is compared with the same meridian and scale
  // undone.
  const Projection p({9, 0});
  const Point at = p.plane({11.27, 49.51});
  CHECK(std::abs(static_cast<double>(at.x) / 1000 * 0.9996 + 500000 - 664325.014) < 0.002);
  CHECK(std::abs(static_cast<double>(at.y) / 1000 * 0.9996 - 5486628.815) < 0.002);
  const Geographic back = p.geographic(at);
  CHECK(std::abs(back.longitude - 11.27) < 1e-8);
  CHECK(std::abs(back.latitude - 49.51) < 1e-8);
}

TEST_CASE("a geographic estate has its origin near its middle") {
  const Scenario s = scenario_from(
      "scenario: x\nstart: 2027-03-01\nheadends: [{name: E, at: [11.271, 49.511]}]\nestate:\n"
      "  coordinates: longitude latitude\n  premises: [{name: A, at: [11.27, 49.51]}]\n"
      "  routes: [{name: r, line: [[11.27, 49.51], [11.271, 49.511]], surface: verge}]\n");
  CHECK(s.demand->geographic);
  CHECK(s.demand->origin_longitude == doctest::Approx(11.3));
  CHECK(s.demand->origin_latitude == doctest::Approx(49.5));
  // A minute of latitude is 1,853 m here: a thousandth of a degree 111.2 m; of longitude 72.4 m.
  const Length leg = polyline_length(s.demand->routes[RouteId(0u)].line);
  CHECK(in_metres(leg) == doctest::Approx(std::hypot(111.2, 72.4)).epsilon(0.001));
  CHECK(first_fault("scenario: x\nstart: 2027-03-01\nheadends: [{name: E, at: [11.2, 149]}]\nestate:\n"
                    "  coordinates: longitude latitude\n  premises: [{name: A, at: [11.27, 49.51]}]\n"
                    "  routes: [{name: r, line: [[11.27, 49.51], [11.271, 49.511]], surface: verge}]\n") ==
        "scenario.yaml:3:26: 'at': latitude is 149, expected -90 to 90");
}

TEST_CASE("coordinates of a national grid are moved to an origin of whole kilometres") {
  const Scenario s = scenario_from(
      "scenario: x\nstart: 2027-03-01\nheadends: [{name: E, at: [664000, 5486000]}]\nestate:\n"
      "  reference system: EPSG:25832\n  premises: [{name: A, at: [664325.5, 5486628]}]\n"
      "  routes: [{name: r, line: [[664000, 5486000], [664100, 5486000]], surface: verge}]\n");
  CHECK(s.demand->origin_east == 660000);
  CHECK(s.demand->origin_north == 5490000);
  CHECK(s.demand->premises[PremisesId(0u)].at == Point{4325500, -3372000});
  CHECK(s.demand->reference_system == "EPSG:25832");
}

TEST_CASE("routes") {
  const Scenario s = scenario_from(instead("surface: verge}]",
                                           "surface: verge, forbidden: 'bats, county'}, {name: old duct, "
                                           "kind: existing duct, bore: 100 mm, free share: "
                                           "40 %, line: [[0, 0], [0, 0], [100, 1]]}]"));
  REQUIRE(s.demand->routes.size() == 2);
  for (const Route& r : s.demand->routes) {
    CHECK(r.existing_duct == (r.name == "old duct"));
    CHECK(r.forbidden == (r.name == "Mill Lane"));
    CHECK(s.demand->surfaces[r.surface] == (r.existing_duct ? "existing duct" : "verge"));
    CHECK(r.line.size() == 2);
    if (r.existing_duct) CHECK(r.free_share == doctest::Approx(0.4));
    CHECK(r.cover_rule.empty());
  }
  CHECK(s.demand->usual_methods.size() == s.demand->surfaces.size());
}
