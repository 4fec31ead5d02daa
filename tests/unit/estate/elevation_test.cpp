// Heights: a small SRTM tile made here, 1201 by 1201 big-endian whole metres, rows from the north.
#include "estate/elevation.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <string>

#include "files/disk.h"

using namespace withy;

namespace {

constexpr int side = 1201;

// Height = 100 + column + 2 rows, with one void at row 600, column 600.
std::string tile() {
  std::string bytes;
  for (int row = 0; row < side; ++row)
    for (int column = 0; column < side; ++column) {
      const int metres = row == 600 && column == 600 ? -32768 : 100 + column + 2 * row;
      const auto value = static_cast<uint16_t>(metres);
      bytes += static_cast<char>(value >> 8);
      bytes += static_cast<char>(value & 0xFF);
    }
  return bytes;
}

struct Tile {
  std::filesystem::path folder, path;
  explicit Tile(const std::string& bytes) {
    std::string name = (std::filesystem::temp_directory_path() / "withy-heights-XXXXXX").string();
    folder = mkdtemp(name.data());
    path = folder / "N49E011.hgt";
    std::ofstream(path, std::ios::binary) << bytes;
  }
  ~Tile() { std::filesystem::remove_all(folder); }
  Tile(const Tile&) = delete;
  Tile& operator=(const Tile&) = delete;
};

// Longitude of a column, latitude of a row: values stand on whole steps of 1/1200 degree.
MapPlace at(double column, double row) {
  return {11 + column / 1200, 50 - row / 1200};
}

}  // namespace

TEST_CASE("heights are bilinear, unknown beside a void and outside") {
  const Tile tile_(tile());
  const auto read = read_heights({tile_.path}, {at(0, 0),
                                                at(1200, 1200),
                                                at(10.25, 20.5),
                                                at(1023.5, 1024.5),
                                                at(599.5, 600.5),
                                                at(600, 600),
                                                at(601.5, 600),
                                                {12.01, 49.5},
                                                {0, 0}});
  REQUIRE(read);
  const std::vector<double>& m = *read;
  CHECK(m[0] == doctest::Approx(100));
  CHECK(m[1] == doctest::Approx(100 + 1200 + 2400));
  CHECK(m[2] == doctest::Approx(100 + 10.25 + 41));
  CHECK(m[3] == doctest::Approx(100 + 1023.5 + 2049));
  CHECK(m[4] == no_height);
  CHECK(m[5] == no_height);
  CHECK(m[6] == doctest::Approx(100 + 601.5 + 1200));
  CHECK(m[7] == no_height);
  CHECK(m[8] == no_height);
}

TEST_CASE("facts of a raster") {
  const Tile tile_(tile());
  const auto facts = read_raster_facts(tile_.path);
  REQUIRE(facts);
  CHECK(facts->width == side);
  CHECK(facts->height == side);
  CHECK(facts->voids == 1);
  CHECK(facts->lowest_metres == 100);
  CHECK(facts->highest_metres == 3700);
}

TEST_CASE("a tile cut short is refused, a missing one is the outside's fault") {
  const Tile cut(tile().substr(0, 1'000'000));
  const auto read = read_heights({cut.path}, {at(0, 0)});
  CHECK_FALSE(read);
  REQUIRE(read.diagnostics.size() == 1);
  CHECK(read.diagnostics[0].place.file == cut.path.string());
  CHECK_THROWS_AS(read_heights({cut.folder / "N01E001.hgt"}, {}), OutsideFault);
}
