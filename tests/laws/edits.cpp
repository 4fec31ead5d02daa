#include "laws/edits.h"

namespace plan {
namespace {

std::string filled(std::string text, std::string_view blank, std::string_view name) {
  for (size_t at = text.find(blank); at != std::string::npos; at = text.find(blank, at + name.size()))
    text.replace(at, blank.size(), name);
  return text;
}

// A site at the end of every third street, in the language's words.
std::string sites_of(const Demand& demand) {
  std::string rows;
  for (const RouteId r : demand.routes.ids()) {
    if (demand.routes[r].existing_duct || demand.routes[r].forbidden || r.value % 3 != 0) continue;
    const Point p = demand.routes[r].line.front();
    rows += fmt::format("{}{{name: \"corner {}\", at: [{}, {}]}}", rows.empty() ? "" : ", ", r.value,
                        metres_text(whole_millimetres(p.x), 3), metres_text(whole_millimetres(p.y), 3));
  }
  return "  sites: [" + rows + "]\n";
}

}  // namespace

const std::vector<EditKind>& edit_kinds() {
  static const std::vector<EditKind> kinds{
      {"demand", "add premises", "{estate: {add premises: [{name: New Barn, at: [61, 14]}]}}"},
      {"demand", "leave out premises", "{estate: {leave out: {<premises>: {why: sold}}}}"},
      {"demand", "forbid a route", "{estate: {forbid: {routes: {<route>: {why: tree roots}}}}}"},
      {"demand", "forbid a site", "{estate: {forbid: {sites: {<site>: {why: line of sight}}}}}"},
      {"demand", "another name", "{scenario: Another Name}"},
      {"duct_catalogue", "microduct rated lower",
       "{catalogue: {microducts: {7/3.5 mm microduct: {rated: 8 bar}}}}"},
      {"duct_catalogue", "bundle left out", "{catalogue: {bundles: {12 x 7/3.5 mm bundle: {offered: no}}}}"},
      {"duct_catalogue", "shorter bundle drums",
       "{catalogue: {bundles: {24 x 7/3.5 mm bundle: {drum: 300 m}}}}"},
      {"duct_catalogue", "smaller cabinet",
       "{catalogue: {cabinets: {\"street cabinet, 96 entries\": {microduct entries: 48}}}}"},
      {"fibre_catalogue", "shorter unit drums", "{catalogue: {cables: {2-fibre unit: {drum: 3000 m}}}}"},
      {"fibre_catalogue", "stiffer unit", "{catalogue: {cables: {2-fibre unit: {stiffness: 0.00012 N m2}}}}"},
      {"fibre_catalogue", "poorer splitters",
       "{catalogue: {splitters: {\"1:8 splitter, bare\": {largest loss: 10.8 dB}, \"1:32 splitter, bare\": "
       "{largest loss: 17.6 dB}}}}"},
      {"layout_rules", "split at the cabinet", "{split: [{at: cabinet, ratio: 1:16}]}"},
      {"layout_rules", "split in two stages",
       "{split: [{at: headend, ratio: 1:4}, {at: branch point, ratio: 1:16}]}"},
      {"layout_rules", "smaller branch points", "{layout: {branch point premises: 4}}"},
      {"layout_rules", "cabinet fill", "{layout: {cabinet fill: 70 %}}"},
      {"layout_rules", "shorter drops", "{layout: {longest drop duct: 400 m}}"},
      {"layout_rules", "at sites only", "{layout: {cabinets at sites only: yes}}"},
      {"layout_rules", "another chamber", "{layout: {chamber: small chamber}}"},
      {"duct_rules", "more spare microducts", "{ducts: {spare share: 40 %}}"},
      {"duct_rules", "longer tails", "{ducts: {tail at premises: 3 m}}"},
      {"duct_rules", "wider microduct",
       "{ducts: {drop microduct: 7/4 mm microduct, distribution microduct: 7/4 mm microduct}}"},
      {"duct_rules", "colder laying", "{ducts: {laying temperature: 5 C}}"},
      {"fibre_rules", "take-up", "{fibre: {take-up: 60 %}}"},
      {"fibre_rules", "more fibres", "{fibre: {fibres per dwelling: 2}}"},
      {"fibre_rules", "more slack", "{fibre: {slack share: 5 %}}"},
      {"blow_rules", "more friction", "{blowing: {unit friction: 0.22}}"},
      {"blow_rules", "much more friction", "{blowing: {unit friction: 0.6}}"},
      {"blow_rules", "less pressure", "{blowing: {supply pressure: 7 bar}}"},
      {"optic_rules", "class", "{class: GPON C+}"},
      {"optic_rules", "margin", "{optics: {margin: 2 dB}}"},
      {"prices", "price of a splice", "{prices: {splice: {price: 20 EUR each}}}"},
      {"prices", "price of a surface", "{prices: {open verge: {price: 50 EUR/m}}}"},
      {"design_prices", "design price of a splice", "{design prices: {splice: {price: 20 EUR each}}}"},
      {"design_prices", "design price of a surface", "{design prices: {open verge: {price: 500 EUR/m}}}"},
      {"stock", "longer lead", "{stock: {lead: 60 days}}"},
      {"stock", "lead of one item", "{stock: {items: {outlet: {lead: 70 days}}}}"},
      {"crews", "one crew",
       "{crews: [{name: All, skills: [dig, lay, chamber, cabinet, couple, prove, blow, splice, test, "
       "reinstate, connect], people: 4}]}"},
      {"crews", "shorter shift", "{calendar: {shift: 7 h}}"},
      {"crews", "faster blowing", "{rates: {blow: {each: 5 min}}}"},
      {"site", "a route blocked", "{site: {blocked routes: {<route>: {why: flood}}}}"},
  };
  return kinds;
}

FolderTexts with_edits(FolderTexts texts) {
  std::string& yaml = texts["scenario.yaml"];
  const Scenario plain = scenario_in(texts);
  const Demand& demand = *plain.demand;
  const size_t headends = yaml.find("headends:");
  yaml.insert(headends, sites_of(demand));
  yaml = yaml.substr(0, yaml.find("edits:")) + "\nedits:\n";
  for (const EditKind& kind : edit_kinds()) {
    std::string change = filled(std::string(kind.change), "<premises>", demand.premises[PremisesId(0u)].name);
    change = filled(change, "<route>", demand.routes[RouteId(0u)].name);
    change = filled(change, "<site>", "corner 0");
    yaml += fmt::format("  - name: {}\n    change: {}\n", kind.name, change);
  }
  return texts;
}

Scenario edit_of(const FolderTexts& texts, const Scenario& base, const Edit& edit) {
  Result<Scenario> changed = edited(files_in(texts), base, edit);
  REQUIRE_MESSAGE(changed.value.has_value(), told(changed.diagnostics));
  return std::move(*changed);
}

Scenario edit_named(const FolderTexts& texts, const Scenario& base, std::string_view name) {
  const auto edit =
      std::find_if(base.edits.begin(), base.edits.end(), [&](const Edit& e) { return e.name == name; });
  REQUIRE_MESSAGE(edit != base.edits.end(), std::string(name));
  return edit_of(texts, base, *edit);
}

Plan planned_on(const Plan& base, const Scenario& edit, Hold hold) {
  return make_plan(edit, &base, hold, {.threads = 1});
}

}  // namespace plan
