// Where drops leave which street, what they must not run through, and where their public part ends.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "unit/estate/premises_drawn.h"

using namespace withy;
using drawn::at;
using drawn::box;
using drawn::named;
using drawn::Remarks;
using drawn::remarks_on;

TEST_CASE("the entry is the wall facing the street the drop comes from") {
  drawn::Estate e;
  e.route({{0, 0}, {100, 0}});
  e.building(box(10, 12, 20, 22));
  const MadePremises made = e.made();
  const DraftPremises& p = made.premises[0];
  CHECK(p.centre == at(15, 17));
  CHECK(p.at == at(15, 12));
  CHECK(!p.drop_from);
  CHECK(p.indoor == 3000);
  CHECK(p.entry_known == Known::assumed);
  CHECK(p.boundary == 2000);
  CHECK(p.boundary_known == Known::assumed);
}

TEST_CASE("an address point stays where it is") {
  drawn::Estate e;
  e.route({{0, 0}, {100, 0}});
  e.address(30, 3, "Mill Lane", "3");
  const MadePremises made = e.made();
  CHECK(made.premises[0].at == at(30, 3));
  CHECK(made.premises[0].entry_known == Known::mapped);
  CHECK(made.premises[0].boundary == 1500);  // half of a drop shorter than 4 m
}

TEST_CASE("a building of an odd shape: the wall and the street that are nearest to each other") {
  drawn::Estate e;
  e.route({{0, 0}, {100, 0}});
  e.route({{60, 5}, {60, 60}});
  // An L whose centre is nearest to the first street, whose arm reaches to the second.
  e.building(MapPath{{0, 20}, {58, 20}, {58, 24}, {30, 24}, {30, 40}, {0, 40}, {0, 20}});
  const MadePremises made = e.made();
  const DraftPremises& p = made.premises[0];
  CHECK(p.at.y == 20'000);
  CHECK(!p.drop_from);
}

TEST_CASE("drops leave no bridge, no existing duct and nothing forbidden") {
  drawn::Estate e;
  e.route({{0, 5}, {100, 5}}).drops = false;
  e.route({{0, 6}, {100, 6}}).forbidden = "the designer: listed wall";
  const MapDuct duct;
  e.route({{0, 7}, {100, 7}}).duct = &duct;
  e.route({{0, -30}, {100, -30}});
  e.address(50, 10);
  const MadePremises made = e.made();
  CHECK(made.premises[0].boundary == 2000);
  CHECK(made.counts.without_street == 0);
  e.routes.pop_back();
  const MadePremises alone = e.made();
  CHECK(alone.counts.without_street == 1);
  CHECK(remarks_on(alone, 5) == Remarks{"no street to leave"});
  REQUIRE(alone.premises.size() == 1);
  CHECK(alone.premises[0].boundary == 0);
}

TEST_CASE("its own street is preferred up to twice the nearest distance") {
  drawn::Estate e;
  e.route({{0, 0}, {100, 0}}, "Back Lane");
  e.route({{0, 30}, {100, 30}}, "Rua Três");
  e.address(10, 10, "R. TRES", "1");   // 10 m from the one, 20 m from its own
  e.address(20, 9.9, "R. TRES", "2");  // 9.9 and 20.1
  e.address(30, 20, "R. TRES", "3");   // its own is nearest
  e.address(40, 10, "Back Lane", "4");
  e.address(50, 10, "Elsewhere", "5");
  e.address(60, 10, " ", "6");
  const MadePremises made = e.made();
  CHECK(named(made, "R. TRES 1").drop_from == at(10, 30));
  CHECK(!named(made, "R. TRES 2").drop_from);
  CHECK(!named(made, "R. TRES 3").drop_from);
  CHECK(!named(made, "Back Lane 4").drop_from);
  CHECK(!named(made, "Elsewhere 5").drop_from);
  CHECK(made.counts.named == 5);
  CHECK(made.counts.nearest_is_other == 3);
  CHECK(made.counts.moved_to_own_street == 1);
  e.rules.own_street_factor = 1;
  CHECK(e.made().counts.moved_to_own_street == 0);
}

TEST_CASE("an unnamed path between the house and its street") {
  drawn::Estate e;
  e.route({{0, 6}, {100, 6}});
  e.route({{0, 0}, {100, 0}}, "Mill Lane");
  e.building(box(10, 10, 20, 20)).street = "Mill Lane";
  const MadePremises made = e.made();
  CHECK(made.counts.nearest_is_unnamed == 1);
  CHECK(made.counts.moved_to_own_street == 1);
  CHECK(made.premises[0].at == at(15, 10));
  CHECK(made.premises[0].drop_from == at(15, 0));
}

TEST_CASE("of equally near routes the first gets the drop") {
  drawn::Estate e;
  e.route({{0, 20}, {100, 20}}).restricted = true;
  e.route({{0, 0}, {100, 0}});
  e.address(50, 10);
  CHECK(e.made().counts.on_restricted == 1);
  std::swap(e.routes[0], e.routes[1]);
  CHECK(e.made().counts.on_restricted == 0);
}

TEST_CASE("a premises on a restricted way and one far from any street are kept and flagged") {
  drawn::Estate e;
  e.route({{0, 0}, {100, 0}}).restricted = true;  // 1
  e.address(50, 10);                              // 2
  e.address(50, 200);                             // 3: exactly 200 m
  e.address(50, 200.1);                           // 4
  const MadePremises made = e.made();
  CHECK(made.premises.size() == 3);
  CHECK(remarks_on(made, 2) == Remarks{"premises on a restricted way: way 1"});
  CHECK(remarks_on(made, 4)[0] == "far from any street: drop 200.1 m");
  CHECK(made.counts.far == 1);
  CHECK(made.counts.on_restricted == 3);
}

TEST_CASE("a drop goes round another building by another wall of its own") {
  drawn::Estate e;
  e.route({{0, 0}, {100, 0}});
  e.building(box(10, 10, 20, 20));  // in front
  e.building(box(8, 22, 26, 32));   // behind it, reaching past it on both sides
  const MadePremises made = e.made();
  const DraftPremises& p = named(made, "way 3");
  CHECK(p.at == at(8, 22));
  CHECK(!p.drop_from);
  CHECK(made.counts.moved_round == 1);
  CHECK(made.counts.through_building == 0);
}

TEST_CASE("a drop goes round another building to another street within the factor") {
  drawn::Estate e;
  e.route({{0, 0}, {100, 0}});      // 1
  e.building(box(0, 10, 50, 20));   // 2: in front, all along
  e.building(box(20, 22, 30, 32));  // 3
  e.route({{0, 60}, {100, 60}});    // 4: 33 m from the centre, not 27
  const MadePremises made = e.made();
  const DraftPremises& p = named(made, "way 3");
  CHECK(p.at == at(25, 32));
  CHECK(!p.drop_from);  // nearest to that wall
  CHECK(made.counts.moved_round == 1);
}

TEST_CASE("a drop that nothing frees is left as it is and flagged with both") {
  drawn::Estate e;
  e.route({{0, 0}, {100, 0}});      // 1
  e.building(box(0, 10, 50, 20));   // 2
  e.building(box(20, 22, 30, 32));  // 3
  const MadePremises made = e.made();
  CHECK(named(made, "way 3").at == at(25, 22));
  CHECK(remarks_on(made, 3) == Remarks{"drop runs through another building: to way 3, at way 2"});
  CHECK(made.counts.through_building == 1);
  CHECK(made.counts.moved_round == 0);
}

TEST_CASE("a corner cut by up to a metre is no obstacle, a courtyard is crossed free") {
  drawn::Estate e;
  e.route({{0, 0}, {100, 0}});
  e.address(50, 30);
  e.building(std::vector<MapPart>{{{MapPath{{40, 10}, {60, 10}, {60, 11}, {40, 11}, {40, 10}}}}});
  CHECK(e.made().counts.through_building == 0);  // 1 m
  e.map.buildings[0].parts[0].rings[0] = box(40, 10, 60, 11.01);
  CHECK(e.made().counts.through_building == 1);
  // Two walls of half a metre and 8 m of yard.
  e.map.buildings[0].parts[0].rings = {box(40, 10, 60, 19), box(41, 10.5, 59, 18.5)};
  CHECK(e.made().counts.through_building == 0);
}

TEST_CASE("rail, water and motorway in the way are gone round or flagged; tunnels are not in the way") {
  drawn::Estate e;
  e.route({{0, 0}, {100, 0}});  // 1
  e.address(50, 10);            // 2
  e.barrier(BarrierKind::rail, {{0, 5}, {100, 5}});
  MadePremises made = e.made();
  CHECK(remarks_on(made, 2) == Remarks{"drop crosses rail: to node 2, at way 3"});
  e.map.barriers[0].kind = BarrierKind::water;
  CHECK(e.made().counts.across_water == 1);
  e.map.barriers[0].kind = BarrierKind::motorway;
  CHECK(e.made().counts.across_motorway == 1);
  e.route({{0, 29}, {100, 29}});
  made = e.made();
  CHECK(made.counts.across_motorway == 0);
  CHECK(made.premises[0].drop_from == at(50, 29));
  e.routes.pop_back();
  e.map.barriers[0].tunnel = true;
  CHECK(e.made().counts.across_motorway == 0);
}

TEST_CASE("a street that runs along water is no crossing of it") {
  drawn::Estate e;
  e.route({{0, 0}, {100, 0}});
  e.address(50, 10);
  e.barrier(BarrierKind::water, {{0, 0}, {100, 0}});
  CHECK(e.made().counts.across_water == 0);
}

TEST_CASE("with plots the public part ends where the drop comes into its own") {
  drawn::Estate e;
  e.route({{0, 0}, {100, 0}});
  e.plot(box(0, 4.5, 30, 40));
  e.building(box(10, 12, 20, 22));
  MadePremises made = e.made();
  CHECK(made.premises[0].boundary == 4500);
  CHECK(made.premises[0].boundary_known == Known::mapped);
  CHECK(made.counts.boundary_mapped == 1);
  e.map.plots[0].parts[0].rings[0] = box(0, -10, 30, 40);  // the street runs in the plot
  made = e.made();
  CHECK(made.premises[0].boundary == 2000);
  CHECK(made.premises[0].boundary_known == Known::assumed);
}

TEST_CASE("a plot that ends at the wall: the boundary is the wall and not beyond it") {
  drawn::Estate e;
  e.route({{0, 0}, {100, 0}});
  e.plot(box(10, 12, 20, 22));
  e.building(box(10, 12, 20, 22));
  const MadePremises made = e.made();
  CHECK(made.premises[0].boundary == 12'000);
  CHECK(made.premises[0].boundary_known == Known::mapped);
}

TEST_CASE("a drop does not cross another premises' plot, but a plot without premises") {
  drawn::Estate e;
  e.route({{0, 0}, {100, 0}});    // 1
  e.plot(box(0, 5, 60, 20));      // 2
  e.plot(box(0, 20, 60, 40));     // 3
  e.address(30, 30, "", "back");  // 4
  MadePremises made = e.made();
  CHECK(made.counts.through_plot == 0);
  e.address(30, 12, "", "front");  // 5
  made = e.made();
  CHECK(remarks_on(made, 4) == Remarks{"drop runs across another plot: to node 4, at feature 2"});
  CHECK(remarks_on(made, 5).empty());
  e.route({{80, 0}, {80, 100}});  // 50 m, as against 30 m: within the factor
  made = e.made();
  CHECK(made.counts.through_plot == 0);
  CHECK(named(made, "back").drop_from == at(80, 30));
  CHECK(named(made, "back").boundary == 20'000);
}
