// Layers, edits, and the scenario printed back.
#include <fmt/core.h>

#include "village.h"

using namespace plan;

namespace {

const Files nothing = text_files({});

std::string with_edit(std::string_view change) {
  return with(fmt::format("edits:\n  - name: variant\n    change: {}\n", change));
}
Scenario variant(const Scenario& base) {
  REQUIRE(base.edits.size() == 1);
  Result<Scenario> e = edited(nothing, base, base.edits[0]);
  REQUIRE_MESSAGE(e.value.has_value(), all_rendered(e.diagnostics));
  return std::move(*e);
}
// Whether two slices are the very same one.
template <class T>
bool shared(const Slice<T>& a, const Slice<T>& b) {
  return &*a == &*b;
}
int slices_kept(const Scenario& a, const Scenario& b) {
  return shared(a.demand, b.demand) + shared(a.duct_catalogue, b.duct_catalogue) +
         shared(a.fibre_catalogue, b.fibre_catalogue) + shared(a.layout_rules, b.layout_rules) +
         shared(a.duct_rules, b.duct_rules) + shared(a.fibre_rules, b.fibre_rules) +
         shared(a.blow_rules, b.blow_rules) + shared(a.optic_rules, b.optic_rules) +
         shared(a.design_prices, b.design_prices) + shared(a.prices, b.prices) + shared(a.stock, b.stock) +
         shared(a.crews, b.crews) + shared(a.site, b.site);
}

}  // namespace

TEST_CASE("an edit changes its own slice and keeps the others") {
  struct Row {
    const char* change;
    int kept;
  };
  for (const Row& row :
       {Row{"{split: [{at: cabinet, ratio: 1:16}]}", 12},
        {"{prices: {splice: {price: 20 EUR each}}}", 12},  // what the layout weighs stays
        {"{prices: {splice: {price: 20 EUR each}}, design prices: {splice: {price: 20 EUR each}}}", 11},
        {"{design prices: {open verge: {price: 80 EUR/m}}}", 12},
        {"{blowing: {supply pressure: 12 bar}}", 12},
        {"{optics: {margin: 3 dB}}", 12},
        {"{class: XGS-PON N1}", 12},
        {"{fibre: {take-up: 60 %}}", 12},
        {"{ducts: {drop microduct: 7/4 mm microduct}}", 12},
        {"{calendar: {shift: 7 h}}", 12},
        {"{stock: {lead: 30 days}}", 12},
        {"{site: {blocked routes: {Mill Lane: {why: flood}}}}", 12},
        {"{catalogue: {cables: {2-fibre unit: {drum: 3000 m}}}}", 12},
        {"{catalogue: {microducts: {7/3.5 mm microduct: {rated: 12 bar}}}}", 12},
        {"{estate: {leave out: {1 Mill Lane: {why: sold}}}}", 12},
        {"{layout: {cabinet fill: 85 %}}", 13}}) {
    const Scenario base = scenario_from(with_edit(row.change));
    CHECK_MESSAGE(slices_kept(variant(base), base) == row.kept, row.change);
  }
}

TEST_CASE("an edit means what the edited text means") {
  const Scenario base =
      scenario_from(with_edit("{split: [{at: cabinet, ratio: 1:16}], ducts: {spare share: 30 %}}"));
  const std::string text = instead("ratio: 1:32", "ratio: 1:16") + "ducts: {spare share: 30 %}\n";
  CHECK(same_slices(variant(base), scenario_from(text)));
  CHECK_FALSE(same_slices(variant(base), base));
  CHECK(base.duct_rules->tail_at_cabinet == variant(base).duct_rules->tail_at_cabinet);
}

TEST_CASE("an edit that cannot be read is a fault of the scenario") {
  CHECK(first_fault(with_edit("{split: [{at: cabinet, ratio: 1:31}]}")) ==
        "scenario.yaml:15:22: the catalogue has no splitter 1:31");
  CHECK(first_fault(with_edit("{splt: 3}")) ==
        "scenario.yaml:15:14: unknown key 'splt', did you mean 'split'");
  CHECK(first_fault(with_edit("{edits: []}")) == "scenario.yaml:15:14: 'edits' cannot be changed by an edit");
  CHECK(first_fault(with_edit("{estate: {leave out: {3 Mill Lane: {why: gone}}}}")) ==
        "scenario.yaml:15:35: no premises is called '3 Mill Lane', did you mean '1 Mill Lane'");
}

TEST_CASE("an edit of prices changes the bill, one of design prices the layout") {
  const auto of = [](const Slice<Prices>& prices, std::string_view item) {
    return prices->find(item)->price.ten_thousandths;
  };
  const std::string own = "design prices: {splice: {price: 9 EUR each}}\n";
  const std::string edit =
      "edits: [{name: dear, change: {prices: {splice: {price: 20 EUR each}, blow: {price: 3 EUR/m}}}}]\n";
  const Scenario base = scenario_from(with(own + edit)), dear = variant(base);
  CHECK(of(dear.prices, "splice") == 200000);
  CHECK(of(dear.prices, "blow") == 30000);
  CHECK(of(dear.design_prices, "splice") == 90000);
  CHECK(of(dear.design_prices, "blow") == of(base.prices, "blow"));
  CHECK(of(base.design_prices, "splice") == 90000);
  CHECK(dear.design_prices.identical(base.design_prices));
  CHECK(same_slices(scenario_from(effective(dear)), dear));
}

TEST_CASE("an edit cannot hold what it changes") {
  const auto most = [](std::string_view change) {
    const Scenario base = scenario_from(with_edit(change));
    return most_held(base, variant(base));
  };
  CHECK(most("{estate: {leave out: {1 Mill Lane: {why: sold}}}}") == Hold::nothing);
  CHECK(most("{split: [{at: headend, ratio: 1:32}]}") == Hold::nothing);
  CHECK(most("{split: [{at: cabinet, ratio: 1:16}]}") == Hold::quantities);
  CHECK(most("{site: {blocked routes: {Mill Lane: {why: flood}}}}") == Hold::nothing);
  CHECK(most("{catalogue: {bundles: {12 x 7/3.5 mm bundle: {offered: no}}}}") == Hold::layout);
  CHECK(most("{catalogue: {cables: {4-fibre unit: {offered: no}}}}") == Hold::ducts);
  CHECK(most("{catalogue: {cables: {4-fibre unit: {drum: 1000 m}}}}") == Hold::quantities);
  CHECK(most("{scenario: Another Name}") == Hold::quantities);
  CHECK(first_fault(
            with("edits:\n  - name: less\n    hold: ducts\n    change: {catalogue: {bundles: {12 x 7/3.5 mm "
                 "bundle: {offered: no}}}}\n")) ==
        "scenario.yaml:16:14: edit 'less' cannot hold the ducts, it changes what ducts are made of");
}

TEST_CASE("edits of the estate") {
  const Scenario base = scenario_from(with_edit(
      "{estate: {leave out: {1 Mill Lane: {why: sold}}, add premises: [{name: 9 Mill Lane, at: [90, 5]}],\n"
      "      forbid: {routes: {Mill Lane: {why: 'tree roots, town council'}}}}}"));
  const Scenario v = variant(base);
  REQUIRE(v.demand->premises.size() == 2);
  CHECK(v.premises_places.size() == 2);
  CHECK(v.demand->routes[RouteId(0u)].forbidden);
  CHECK(v.demand->routes[RouteId(0u)].forbidden_why == "tree roots, town council");
  CHECK_FALSE(base.demand->routes[RouteId(0u)].forbidden);
}

TEST_CASE("two edits of one base do not see each other") {
  const Scenario base =
      scenario_from(with("edits:\n  - {name: a, change: {ducts: {spare share: 30 %}}}\n  - {name: b, hold: "
                         "layout, change: {ducts: "
                         "{bundles per span: 2}}}\n"));
  REQUIRE(base.edits.size() == 2);
  CHECK(base.edits[1].hold == Hold::layout);
  const Result<Scenario> a = edited(nothing, base, base.edits[0]), b = edited(nothing, base, base.edits[1]);
  CHECK(a->duct_rules->spare_share == doctest::Approx(0.30));
  CHECK(b->duct_rules->spare_share == doctest::Approx(0.15));
  CHECK(b->duct_rules->bundles_per_span == 2);
  CHECK(a->duct_rules->bundles_per_span == base.duct_rules->bundles_per_span);
  CHECK(scenario_from(little_withy).duct_rules == base.duct_rules);
}

TEST_CASE("the effective scenario reads back to the same slices") {
  const Scenario s =
      scenario_from(with("note: \"colons: and # marks\"\nducts: {spare share: 20 %}\nprices: {\"1:32 "
                         "splitter\": {price: 33 EUR each}}\n"
                         "edits:\n  - {name: a, change: {ducts: {spare share: 30 %}}}\n"));
  const std::string text = effective(s);
  CHECK(same_slices(scenario_from(text), s));
  CHECK(same_slices(scenario_from(effective(scenario_from(text))), s));
  CHECK(text.find("spare share: 20 %  # scenario.yaml:14\n") != std::string::npos);
  CHECK(text.find("taper below: 50 %  # shipped/rules.yaml:") != std::string::npos);
}

TEST_CASE("files used by a scenario lie below it") {
  const auto read = [](std::map<std::string, std::string> texts) {
    return read_scenario(text_files(std::move(texts)), "estates/a.yaml");
  };
  const std::string uses = with("use: [../shared/prices.yaml, rules.yaml]\nducts: {bundles per span: 3}\n");
  const std::string prices = "prices: {splice: {price: 11 EUR each}}\n";
  const Result<Scenario> s =
      read({{"estates/a.yaml", uses},
            {"estates/../shared/prices.yaml", prices},
            {"estates/rules.yaml", "ducts: {bundles per span: 2, spare share: 40 %}\n"}});
  REQUIRE_MESSAGE(s.value.has_value(), all_rendered(s.diagnostics));
  CHECK(s->prices->find("splice")->price == UnitPrice{110000});
  CHECK(s->duct_rules->bundles_per_span == 3);
  CHECK(s->duct_rules->spare_share == doctest::Approx(0.40));

  const auto fault = [&](std::map<std::string, std::string> texts) {
    return read(texts).diagnostics.at(0).message;
  };
  CHECK(fault({{"estates/a.yaml", uses}, {"estates/rules.yaml", "note: x\n"}}) ==
        "cannot read 'estates/../shared/prices.yaml': no such file");
  CHECK(fault({{"estates/a.yaml", with("use: [b.yaml]\n")},
               {"estates/b.yaml", "use: [c.yaml]\n"},
               {"estates/c.yaml", "use: [b.yaml]\n"}}) ==
        "'estates/b.yaml' uses itself by way of 'estates/c.yaml'");
  CHECK(fault({{"estates/a.yaml", with("use: [a.yaml]\n")}}) == "'estates/a.yaml' uses itself");
  CHECK(fault({{"estates/a.yaml", with("use: [b.yaml, b.yaml]\n")}, {"estates/b.yaml", "note: x\n"}}) ==
        "'estates/b.yaml' is used twice");
  CHECK(fault({{"estates/a.yaml", with("use: [b.yaml]\n")}, {"estates/b.yaml", "estate: {}\n"}}) ==
        "'estate' belongs in the scenario's own file");
  CHECK(read({}).diagnostics.at(0).message == "no such file");
}

TEST_CASE("catalogue entries are overridden by single values, added, and left out") {
  const Scenario s =
      scenario_from(with("catalogue: {microducts: {7/3.5 mm microduct: {rated: 12 bar}}, chambers: {huge "
                         "chamber: {joints: 500}}, "
                         "cabinets: {\"wall box, 12 entries\": {offered: no}}}\n"
                         "prices: {huge chamber: {price: 2000 EUR each}}\n"));
  CHECK(in_bar_gauge(s.duct_catalogue->microducts[s.duct_rules->drop_microduct].rated) ==
        doctest::Approx(12));
  CHECK(s.duct_catalogue->chambers.size() == 4);
  CHECK(s.duct_catalogue->cabinets.size() == 4);
  CHECK(s.prices->find("huge chamber")->price == UnitPrice{20000000});
}

TEST_CASE("shipped prices are not converted") {
  const Scenario s = scenario_from(with("currency: SEK\nprices: {open verge: {price: 350 SEK/m}}\n"));
  CHECK(s.prices->list.size() == 1);
  REQUIRE(s.warnings.size() == 1);
  CHECK(s.warnings[0].message.find("shipped prices are not in SEK and are left out") != std::string::npos);
}

TEST_CASE("a scenario in another currency prints without the shipped prices, and reads back") {
  const Scenario none = scenario_from(with("currency: SEK\n"));
  CHECK(effective(none).find(" EUR") == std::string::npos);
  CHECK(same_slices(scenario_from(effective(none)), none));
  const std::string own = "currency: SEK\nprices: {open verge: {price: 350 SEK/m}}\n";
  const std::string edit =
      "edits: [{name: dear, change: {prices: {open verge: {price: 400 SEK/m}, splice: {price: 90 SEK "
      "each}}}}]\n";
  const Scenario dear = variant(scenario_from(with(own + edit)));
  CHECK(dear.prices->list.size() == 2);
  CHECK(dear.design_prices->find("open verge")->price == UnitPrice{3500000});
  CHECK(same_slices(scenario_from(effective(dear)), dear));
}

TEST_CASE("crews of a number are numbered") {
  const Scenario s = scenario_from(instead("people: 5}", "people: 5, number: 3}"));
  REQUIRE(s.crews->crews.size() == 4);
  CHECK(s.crews->crews[CrewId(0u)].name == "Dig 1");
  CHECK(s.crews->crews[CrewId(2u)].name == "Dig 3");
  CHECK(s.crews->crews[CrewId(3u)].name == "Fibre");
}

TEST_CASE("a rate said in another way displaces the one of the layer below") {
  const auto splice_rate = [](std::string_view rates) {
    const Scenario s = scenario_from(with(rates));
    for (const Rate& r : s.crews->rates)
      if (r.task == TaskKind::splice) return r;
    return Rate{};
  };
  CHECK_FALSE(splice_rate("").gross);
  const Rate gross = splice_rate("rates: {splice: {per crew day: 30 pieces}}\n");
  CHECK(gross.gross);
  CHECK(gross.per_day == 30);
}
