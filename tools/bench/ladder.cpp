#include "bench/ladder.h"

#include <fmt/core.h>

#include <cstdio>
#include <string>

#include "bench/stages.h"
#include "estate/invent.h"
#include "files/tables.h"
#include "report/report.h"

namespace withy {
namespace {

// The files of an invented estate, served from memory.
plan::Files invented_files(const InventedEstate& estate) {
  const std::string scenario = invented_scenario(estate, "ladder");
  const std::string premises = premises_geojson(estate), routes = routes_geojson(estate);
  return {[scenario](const std::string&) { return plan::good(scenario); },
          [premises, routes](const std::string& path, std::string_view, const plan::RowSink& rows) {
            return geojson_table(path, path.find("premises") != std::string::npos ? premises : routes, rows);
          }};
}

}  // namespace

int ladder(const std::vector<int>& sizes, int threads) {
  for (const int premises : sizes) {
    std::fputs(fmt::format("{} premises\n", premises).c_str(), stdout);
    const bool good = in_child([&] {
      plan_in_steps(invented_files(invent(premises, 1)),
                    {"scenario.yaml", fmt::format("ladder-{}", premises), threads});
    });
    if (!good) return 1;
  }
  return 0;
}

}  // namespace withy
