// First-fit decreasing and the bounds on the bin packing sets of Falkenauer (Journal of Heuristics 2, 1996),
// as held by OR-Library and BPPLIB.
#include <doctest/doctest.h>

#include <cstdio>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "solve/cutting.h"

using namespace plan;

namespace {

const std::string folder = std::string(WITHY_REFERENCE_DATA) + "/bpp/";

struct Sums {
  int64_t first_fit = 0, bound = 0, optimum = 0;
  int files = 0;
};

// By class: "u120", "t60" …
std::map<std::string, Sums> sums_by_class() {
  std::map<std::string, Sums> out;
  std::ifstream list(folder + "known_optima.tsv");
  std::string row;
  std::getline(list, row);
  while (std::getline(list, row)) {
    std::istringstream fields(row);
    std::string file;
    int64_t items = 0, capacity = 0, material = 0, optimum = 0;
    if (!(fields >> file >> items >> capacity >> material >> optimum)) continue;
    std::ifstream in(folder + file);
    if (!in || !(in >> items >> capacity)) continue;
    std::vector<int64_t> sizes(static_cast<size_t>(items));
    for (int64_t& s : sizes) in >> s;
    const size_t name = file.find("Falkenauer_") + 11;
    Sums& sums = out[file.substr(name, file.rfind('_') - name)];
    const int64_t bound = martello_toth_bound(sizes, capacity);
    CHECK(material_bound(sizes, capacity) == material);
    CHECK(bound >= material);
    CHECK(bound <= optimum);
    sums.first_fit += static_cast<int64_t>(first_fit_decreasing(sizes, capacity).used.size());
    sums.bound += bound;
    sums.optimum += optimum;
    ++sums.files;
  }
  return out;
}

}  // namespace

TEST_CASE("first-fit decreasing on Falkenauer's sets") {
  const std::map<std::string, Sums> sums = sums_by_class();
  if (sums.empty()) {
    MESSAGE("left out: " << folder << " is not there");
    return;
  }
  // Totals of first-fit decreasing and of the known optima over files _00 to _09: derived on the same files
  // by an independent program.
  const std::map<std::string, std::pair<int64_t, int64_t>> expected{
      {"u120", {491, 483}}, {"u250", {1029, 1014}}, {"u500", {2053, 2026}}, {"u1000", {4067, 4018}},
      {"t60", {231, 200}},  {"t120", {455, 400}},   {"t249", {949, 830}},   {"t501", {1902, 1670}}};
  CHECK(sums.size() == expected.size());
  for (const auto& row : expected) {
    const auto& totals = row.second;
    CAPTURE(row.first);
    const auto at = sums.find(row.first);
    REQUIRE(at != sums.end());
    CHECK(at->second.files == 10);
    CHECK(at->second.first_fit == totals.first);
    CHECK(at->second.optimum == totals.second);
  }
}
