// Invented estates: the number asked for, the same bytes for the same seed, names of their own.
#include <doctest/doctest.h>

#include <set>
#include <string>

#include "estate/invent.h"

using namespace withy;

TEST_CASE("an invented estate has as many premises as asked for, each with a name and place of its own") {
  for (const int wanted : {50, 400, 3000}) {
    const InventedEstate estate = invent(wanted, 3);
    CHECK(estate.premises.size() == static_cast<size_t>(wanted));
    std::set<std::string> names;
    for (const InventedPremises& p : estate.premises) CHECK(names.insert(p.name).second);
    std::set<std::string> routes;
    for (const InventedRoute& r : estate.routes) CHECK_MESSAGE(routes.insert(r.name).second, r.name);
    CHECK_FALSE(estate.headends.empty());
  }
}

TEST_CASE("same seed, same bytes; another seed, another estate") {
  CHECK(premises_geojson(invent(200, 5)) == premises_geojson(invent(200, 5)));
  CHECK(routes_geojson(invent(200, 5)) == routes_geojson(invent(200, 5)));
  CHECK(premises_geojson(invent(200, 5)) != premises_geojson(invent(200, 6)));
}

TEST_CASE("some buildings hold several dwellings, some premises wait for an order, some ducts exist") {
  const InventedEstate estate = invent(2000, 1);
  size_t several = 0, waiting = 0, ducts = 0;
  for (const InventedPremises& p : estate.premises)
    several += p.dwellings > 1 ? 1 : 0, waiting += p.connect == "on order" ? 1 : 0;
  for (const InventedRoute& r : estate.routes) ducts += r.existing_duct ? 1 : 0;
  CHECK(several > 50);
  CHECK(waiting > 20);
  CHECK(ducts > 5);
}
