#include <fmt/core.h>
#include <fmt/format.h>

#include <array>

#include "base/text.h"
#include "report/names.h"
#include "report/writers.h"
#include "scenario/projection.h"

namespace plan {
namespace {

constexpr std::array<std::string_view, 4> layers{"spans", "branch-points", "stations", "premises"};

std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\')
      out += '\\', out += c;
    else if (static_cast<unsigned char>(c) < 0x20)
      out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
    else
      out += c;
  }
  return out + '"';
}

// Features of one layer, each handed to `emit` as one line of JSON.
class Features {
 public:
  Features(const Plan& plan, const std::function<void(std::string_view)>& emit)
      : plan_(plan),
        emit_(emit),
        projection_({plan.scenario.demand->origin_longitude, plan.scenario.demand->origin_latitude}) {}

  void layer(std::string_view name) {
    if (name == "spans") spans();
    if (name == "branch-points") branch_points();
    if (name == "stations") stations();
    if (name == "premises") premises();
  }

 private:
  std::string position(Point p) const {
    const Demand& demand = *plan_.scenario.demand;
    if (!demand.geographic)
      return fmt::format(
          "[{},{}]", fixed(static_cast<double>(p.x) / 1000 + static_cast<double>(demand.origin_east), 3),
          fixed(static_cast<double>(p.y) / 1000 + static_cast<double>(demand.origin_north), 3));
    const Geographic g = projection_.geographic(p);
    return fmt::format("[{},{}]", fixed(g.longitude, 8), fixed(g.latitude, 8));
  }
  void emit(std::string_view layer, std::string_view geometry, const std::string& coordinates,
            const std::string& properties) {
    emit_(
        fmt::format("{{\"type\":\"Feature\",\"properties\":{{\"layer\":\"{}\"{}}},\"geometry\":{{\"type\":\"{"
                    "}\",\"coordinates\":{}}}}}",
                    layer, properties, geometry, coordinates));
  }
  void spans() {
    const Network& network = *plan_.network;
    for (const SpanId s : network.spans.ids()) {
      if (!plan_.layout().used[s]) continue;
      std::string line = "[";
      for (const Point p : network.shapes[s]) line += (line.size() > 1 ? "," : "") + position(p);
      const Span& span = network.spans[s];
      std::string properties =
          fmt::format(",\"span\":{},\"kind\":\"{}\",\"length_m\":{},\"opened\":{}", s.value, word(span.kind),
                      metres_text(span.length, 3), plan_.takeoff->opened[s] > Length() ? "true" : "false");
      if (span.route.valid())
        properties += ",\"route\":" + quoted(plan_.scenario.demand->routes[span.route].name);
      if (span.surface.valid())
        properties += ",\"surface\":" + quoted(plan_.scenario.demand->surfaces[span.surface]);
      properties += ",\"bundles\":" + bundles(s);
      emit("spans", "LineString", line + "]", properties);
    }
  }
  std::string bundles(SpanId s) const {
    std::string list = "[";
    for (const RunId r : plan_.ducts().runs_in_span[s])
      list += (list.size() > 1 ? "," : "") +
              quoted(plan_.scenario.duct_catalogue->bundles[plan_.ducts().runs[r].bundle].name);
    return list + "]";
  }
  void branch_points() {
    for (const BranchPoint& b : plan_.ducts().branch_points)
      emit("branch-points", "Point", position(plan_.network->at[b.node]),
           fmt::format(
               ",\"node\":{},\"chamber\":{},\"joints\":{}", b.node.value,
               quoted(b.chamber.valid() ? plan_.scenario.duct_catalogue->chambers[b.chamber].name : "buried"),
               b.joints));
  }
  void stations() {
    const StationNames names(plan_);
    for (const StationId s : plan_.layout().stations.ids()) {
      const Station& station = plan_.layout().stations[s];
      emit("stations", "Point", position(plan_.network->at[station.node]),
           fmt::format(",\"station\":{},\"name\":{},\"kind\":\"{}\",\"premises\":{},\"dwellings\":{}",
                       s.value, quoted(names[s]), word(station.kind), station.premises_served,
                       station.dwellings_served));
    }
  }
  void premises() {
    const Demand& demand = *plan_.scenario.demand;
    for (const PremisesId p : demand.premises.ids()) {
      const LinkId link = plan_.layout().drops[p];
      std::string properties =
          fmt::format(",\"premises\":{},\"dwellings\":{},\"connect\":\"{}\"", quoted(demand.premises[p].name),
                      demand.premises[p].dwellings, word(demand.premises[p].connect));
      if (link.valid())
        properties +=
            fmt::format(",\"station\":{},\"link\":{}", plan_.layout().links[link].from.value, link.value);
      emit("premises", "Point", position(demand.premises[p].at), properties);
    }
  }

  const Plan& plan_;
  const std::function<void(std::string_view)>& emit_;
  Projection projection_;
};

}  // namespace

std::span<const std::string_view> map_layers() {
  return layers;
}

void write_map_layer(const Plan& plan, std::string_view layer, const Sink& sink) {
  const std::function<void(std::string_view)> emit = [&](std::string_view feature) {
    sink(feature);
    sink("\n");
  };
  Features(plan, emit).layer(layer);
}

void write_map(const Plan& plan, const Sink& sink) {
  sink("{\"type\":\"FeatureCollection\",");
  if (!plan.scenario.demand->geographic)
    sink("\"coordinates\":\"local metres east and north; no geographic position is known\",");
  sink("\"features\":[\n");
  bool first = true;
  const std::function<void(std::string_view)> emit = [&](std::string_view feature) {
    if (!first) sink(",\n");
    first = false;
    sink(feature);
  };
  Features features(plan, emit);
  for (const std::string_view layer : layers) features.layer(layer);
  sink("\n]}\n");
}

}  // namespace plan
