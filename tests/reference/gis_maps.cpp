// Real maps and an elevation tile through the module for map formats, against counts made with other
// programs; and what the program links.
#include <doctest/doctest.h>
#include <fmt/core.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <string>

#include "estate/elevation.h"
#include "estate/vector_map.h"
#include "files/gis.h"

using namespace withy;

namespace {

const std::filesystem::path maps = std::filesystem::path(WITHY_REFERENCE_DATA) / "maps";

bool there(const char* name) {
  if (std::filesystem::exists(maps / name)) return true;
  fmt::print("left out: {} is not there\n", name);
  return false;
}

std::string output_of(const std::string& command) {
  std::string text;
  std::FILE* pipe = popen(command.c_str(), "r");
  REQUIRE(pipe);
  for (int c = std::fgetc(pipe); c != EOF; c = std::fgetc(pipe)) text += static_cast<char>(c);
  REQUIRE(pclose(pipe) == 0);
  return text;
}

}  // namespace

// Lines of the files, counted with `zcat | wc -l`.
TEST_CASE("streets and addresses of two towns") {
  struct Town {
    const char *streets, *addresses;
    size_t street_count, address_count;
  };
  for (const Town& town :
       {Town{"contagem_via.geojsonl.gz", "contagem_geoaddress.geojsonl.gz", 16'020, 94'572},
        Town{"belohorizonte_via.geojsonl.gz", "belohorizonte_geoaddress.geojsonl.gz", 16'075, 690'656}}) {
    if (!there(town.streets) || !there(town.addresses)) continue;
    Map map;
    const auto streets = read_vector(maps / town.streets, {}, map);
    REQUIRE(streets);
    CHECK(streets->features == town.street_count);
    CHECK(map.streets.size() >= town.street_count);
    const auto addresses = read_vector(maps / town.addresses, {}, map);
    REQUIRE(addresses);
    CHECK(addresses->features == town.address_count);
    CHECK(map.addresses.size() == town.address_count);
    CHECK(map.remarks.empty());
    GisFault fault{};
    CHECK(gis().count_features((maps / town.streets).c_str(), &fault) ==
          static_cast<int64_t>(town.street_count));
  }
}

// Counted from the bytes of the tile.
TEST_CASE("an elevation tile") {
  if (!there("N49E011.hgt.zip")) return;
  const auto facts = read_raster_facts(maps / "N49E011.hgt.zip");
  REQUIRE(facts);
  CHECK(2 * facts->width * facts->height == 2'884'802);
  CHECK(facts->voids == 20);
  CHECK(facts->lowest_metres == 234);
  CHECK(facts->highest_metres == 920);
}

// PROJ 9.1.1.
TEST_CASE("longitude and latitude into zone 32") {
  std::array<double, 1> x{11.27}, y{49.51};
  GisFault fault{};
  REQUIRE(gis().project(32632, x.data(), y.data(), 1, &fault));
  CHECK(std::abs(x[0] - 664'325.014) < 0.001);
  CHECK(std::abs(y[0] - 5'486'628.815) < 0.001);
}

TEST_CASE("the program does not link the library of map formats, the module does") {
  CHECK(output_of(std::string("readelf -d ") + WITHY_BINARY).find("gdal") == std::string::npos);
  const std::filesystem::path module =
      std::filesystem::path(WITHY_BINARY).parent_path().parent_path() / "lib" / "withy_gis.so";
  CHECK(output_of("readelf -d " + module.string()).find("gdal") != std::string::npos);
}
