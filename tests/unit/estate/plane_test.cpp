#include "estate/plane.h"

#include <doctest/doctest.h>

using namespace withy;

TEST_CASE("UTM coordinates of a place") {
  // EPSG 4326 to 32632 at 11.27 E, 49.51 N: 664,325.014 m, 5,486,628.815 m (measured with PROJ 9.1.1).
  const plan::Point p = Plane(32, false).forward({11.27, 49.51});
  CHECK(p.x == 664325014);
  CHECK(p.y == 5486628815);
  CHECK(Plane(32, false).name() == "EPSG:32632");
}

TEST_CASE("the way back") {
  const Plane north(32, false), south(23, true);
  for (const MapPlace at : {MapPlace{11.27, 49.51}, MapPlace{9.0, 48.7}, MapPlace{6.1, 50.2}}) {
    const MapPlace back = north.inverse(north.forward(at));
    CHECK(back.x == doctest::Approx(at.x).epsilon(1e-9));
    CHECK(back.y == doctest::Approx(at.y).epsilon(1e-9));
  }
  const MapPlace back = south.inverse(south.forward({-43.95, -19.9}));
  CHECK(back.x == doctest::Approx(-43.95).epsilon(1e-9));
  CHECK(back.y == doctest::Approx(-19.9).epsilon(1e-9));
}

TEST_CASE("grid length over true length") {  // measured with PROJ 9.1.1
  CHECK(Plane(32, false).scale({11.27, 49.51}) == doctest::Approx(0.99993).epsilon(1e-5));
  CHECK(Plane(23, true).scale({-47.30, -23.27}) == doctest::Approx(1.00028).epsilon(1e-5));
  CHECK(Plane().scale({1, 2}) == 1);
}

TEST_CASE("the zone is that of the median place") {
  Map map;
  map.addresses.resize(3);
  map.addresses[0].at = {-43.95, -19.9};
  map.addresses[1].at = {-44.0, -19.8};
  map.addresses[2].at = {100, 70};  // a stray
  CHECK(plane_of(map).name() == "EPSG:32723");
  map.geographic = false;
  CHECK(plane_of(map).name() == "");
  CHECK(plane_of(map).forward({12.5, 40}) == plan::Point{12500, 40000});
}
