#include <fmt/core.h>

#include "base/text.h"
#include "estate/invent.h"

namespace withy {
namespace {

std::string position(plan::Point p) {
  return fmt::format("[{},{}]", plan::metres_text(plan::whole_millimetres(p.x), 3),
                     plan::metres_text(plan::whole_millimetres(p.y), 3));
}

std::string collection(const std::string& features) {
  return "{\"type\":\"FeatureCollection\",\"note\":\"invented, no real place\",\"features\":[\n" + features +
         "\n]}\n";
}

void add(std::string& features, const std::string& properties, std::string_view kind,
         const std::string& coordinates) {
  if (!features.empty()) features += ",\n";
  features += fmt::format(
      "{{\"type\":\"Feature\",\"properties\":{{{}}},\"geometry\":{{\"type\":\"{}\",\"coordinates\":{}}}}}",
      properties, kind, coordinates);
}

}  // namespace

std::string premises_geojson(const InventedEstate& estate) {
  std::string features;
  for (const InventedPremises& p : estate.premises) {
    std::string properties = fmt::format("\"name\":\"{}\",\"street\":\"{}\"", p.name, p.street);
    if (p.dwellings != 1) properties += fmt::format(",\"dwellings\":{}", p.dwellings);
    if (p.connect != "at build")
      properties +=
          fmt::format(",\"connect\":\"{}\",\"drop laid\":\"to boundary\",\"boundary\":\"2 m\"", p.connect);
    add(features, properties, "Point", position(p.at));
  }
  return collection(features);
}

std::string routes_geojson(const InventedEstate& estate) {
  std::string features;
  for (const InventedRoute& r : estate.routes) {
    std::string line;
    for (const plan::Point p : r.line) line += (line.empty() ? "" : ",") + position(p);
    std::string properties = fmt::format("\"name\":\"{}\",", r.name);
    properties += r.existing_duct ? "\"kind\":\"existing duct\",\"bore\":\"100 mm\",\"free share\":\"60 %\""
                                  : fmt::format("\"surface\":\"{}\"", r.surface);
    add(features, properties, "LineString", "[" + line + "]");
  }
  return collection(features);
}

std::string invented_scenario(const InventedEstate& estate, const std::string& name) {
  std::string text =
      fmt::format("# Invented: no real place, people or prices.\nscenario: {}\nstart: 2027-03-01\n", name);
  text +=
      "estate:\n  coordinates: metres\n  premises: premises.geojson\n  routes: routes.geojson\nheadends:\n";
  for (const InventedHeadend& h : estate.headends)
    text += fmt::format("  - {{name: {}, at: {}}}\n", h.name, position(h.at));
  text += "class: GPON B+\nsplit:\n  - {at: cabinet, ratio: 1:32}\n";
  return text;
}

}  // namespace withy
