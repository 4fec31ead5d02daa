#include <fmt/core.h>

#include <array>

#include "estate/invent.h"

namespace withy {
namespace {

const std::string note = "invented, no real place";

class Premises {
 public:
  Premises(plan::Sink sink, TableKind kind)
      : table_(std::move(sink), kind,
               {{"name"}, {"street"}, {"dwellings", true}, {"connect"}, {"drop laid"}, {"boundary"}},
               {"", note, false}) {}
  void add(const InventedPremises& p) {
    const bool usual = p.connect == "at build";
    table_.point(
        std::array<std::string, 6>{p.name, p.street, p.dwellings == 1 ? "" : std::to_string(p.dwellings),
                                   usual ? "" : p.connect, usual ? "" : "to boundary", usual ? "" : "2 m"},
        p.at);
  }
  void end() { table_.end(); }

 private:
  EstateTable table_;
};

class Routes {
 public:
  Routes(plan::Sink sink, TableKind kind)
      : table_(std::move(sink), kind, {{"name"}, {"kind"}, {"bore"}, {"free share"}, {"surface"}},
               {"", note, true}) {}
  void add(const InventedRoute& r) {
    const bool duct = r.existing_duct;
    table_.line(std::array<std::string, 5>{r.name, duct ? "existing duct" : "", duct ? "100 mm" : "",
                                           duct ? "60 %" : "", duct ? "" : r.surface},
                r.line);
  }
  void end() { table_.end(); }

 private:
  EstateTable table_;
};

std::string brief_head(const std::string& name, TableKind kind) {
  return fmt::format(
      "# Invented: no real place, people or prices.\nscenario: {}\nstart: 2027-03-01\nestate:\n"
      "  coordinates: metres\n  premises: premises{}\n  routes: routes{}\nheadends:\n",
      name, ending(kind), ending(kind));
}

std::string brief_headend(const InventedHeadend& h) {
  return fmt::format("  - {{name: {}, at: [{}, {}]}}\n", h.name, metres_of(h.at.x), metres_of(h.at.y));
}

constexpr std::string_view brief_tail = "class: GPON B+\nsplit:\n  - {at: cabinet, ratio: 1:32}\n";

plan::Sink into(std::string& text) {
  return [&text](std::string_view block) { text += block; };
}

}  // namespace

std::string premises_geojson(const InventedEstate& estate) {
  std::string text;
  Premises table(into(text), TableKind::geojson);
  for (const InventedPremises& p : estate.premises) table.add(p);
  table.end();
  return text;
}

std::string routes_geojson(const InventedEstate& estate) {
  std::string text;
  Routes table(into(text), TableKind::geojson);
  for (const InventedRoute& r : estate.routes) table.add(r);
  table.end();
  return text;
}

std::string invented_scenario(const InventedEstate& estate, const std::string& name) {
  std::string text = brief_head(name, TableKind::geojson);
  for (const InventedHeadend& h : estate.headends) text += brief_headend(h);
  return text += brief_tail;
}

InventedCounts write_invented(int premises, uint64_t seed, const std::string& name, TableKind kind,
                              const InventedSinks& sinks) {
  InventedCounts counts;
  Premises premises_table(sinks.premises, kind);
  Routes routes_table(sinks.routes, kind);
  std::string brief = brief_head(name, kind);
  invent(premises, seed,
         {[&](const InventedPremises& p) { premises_table.add(p), ++counts.premises; },
          [&](const InventedRoute& r) { routes_table.add(r), ++counts.routes; },
          [&](const InventedHeadend& h) { brief += brief_headend(h), ++counts.headends; }});
  premises_table.end();
  routes_table.end();
  sinks.scenario(brief += brief_tail);
  return counts;
}

}  // namespace withy
