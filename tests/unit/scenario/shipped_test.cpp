// The shipped catalogue, rules, prices and crews.
#include <cmath>

#include "scenario/layers.h"
#include "village.h"

using namespace plan;

namespace {

const OpticalClass& optical_class(const Scenario& s, const std::string& name) {
  for (const OpticalClass& c : s.fibre_catalogue->classes)
    if (c.name == name) return c;
  FAIL("no class " << name);
  return s.fibre_catalogue->classes.front();
}

double carried(const Direction& d) {
  return in_decibels(d.transmitter.min - d.receiver.sensitivity) - in_decibels(d.penalty);
}

}  // namespace

TEST_CASE("shipped data read without a diagnostic, every section once") {
  const Result<Tree> shipped = read_shipped();
  REQUIRE_MESSAGE(shipped.value.has_value(), all_rendered(shipped.diagnostics));
  for (const char* key : {"catalogue", "currency", "class", "split", "layout", "ducts", "fibre", "blowing",
                          "optics", "surfaces", "prices", "stock", "crews", "calendar", "rates"})
    CHECK_MESSAGE(shipped->find(shipped->root(), key).valid(), key);
}

TEST_CASE("twelve lines are a scenario") {
  const Scenario s = scenario_from(little_withy);
  CHECK(s.warnings.empty());
  CHECK(s.demand->name == "Little Withy");
  CHECK(s.demand->premises.size() == 2);
  CHECK(s.crews->crews.size() == 2);
  CHECK(s.crews->calendar.start == date_of(2027, 3, 1));
  CHECK(optical_class(s, "GPON B+").name ==
        s.fibre_catalogue->classes[static_cast<size_t>(s.optic_rules->optical_class)].name);
  CHECK(s.duct_catalogue->microducts[s.duct_rules->drop_microduct].name == "7/3.5 mm microduct");
  CHECK(s.duct_rules->spare_share == doctest::Approx(0.15));
  CHECK(in_bar_gauge(s.blow_rules->supply) == doctest::Approx(10));
  CHECK(s.prices->find("open verge")->price == UnitPrice{650000});
  CHECK(s.prices->find("open verge")->per == PriceUnit::metre);
  CHECK(s.prices->find("no such thing") == nullptr);
  CHECK(s.design_prices->list == s.prices->list);
}

TEST_CASE("everything that is needed to build has a price") {
  const Scenario s = scenario_from(little_withy);
  const auto priced = [&](const std::string& item) { CHECK_MESSAGE(s.prices->find(item) != nullptr, item); };
  for (const Microduct& m : s.duct_catalogue->microducts) priced(m.name);
  for (const Bundle& b : s.duct_catalogue->bundles) priced(b.name);
  for (const Fitting& f : s.duct_catalogue->fittings) priced(f.name);
  for (const ChamberType& c : s.duct_catalogue->chambers) priced(c.name);
  for (const CabinetType& c : s.duct_catalogue->cabinets) priced(c.name);
  for (const Cable& c : s.fibre_catalogue->cables) priced(c.name);
  for (const SplitterType& t : s.fibre_catalogue->splitters) priced(t.name);
  for (const std::string& surface : s.demand->surfaces) priced(opening_item(surface));
}

TEST_CASE("powers of every class close on its largest loss") {
  // Of the class tables: largest loss = least launch - sensitivity - penalty, exact in all 49 directions
  // whose powers are given there. The three GPON classes at 1.2 Gbit/s and the b variants of XG-PON repeat
  // five ways up.
  const Scenario s = scenario_from(little_withy);
  int directions = 0;
  for (const OpticalClass& c : s.fibre_catalogue->classes)
    for (const Direction* d : {&c.down, &c.up}) {
      if (!d->powers_known) continue;
      ++directions;
      CHECK_MESSAGE(std::abs(carried(*d) - in_decibels(d->max_loss)) < 1e-9, c.name);
      CHECK_MESSAGE(in_decibels(d->transmitter.max - d->receiver.overload) <= in_decibels(d->min_loss) + 1e-9,
                    c.name);
    }
  CHECK(directions == 49 + 5);
}

TEST_CASE("limits of the classes") {
  const Scenario s = scenario_from(little_withy);
  struct Row {
    const char* name;
    double least, down, up;
  };
  // A, B, B+, C: ITU-T G.984.2 second-hand; N1, N2, E1: G.9807.1 second-hand; PX20, PR30: IEEE 802.3
  // second-hand with the way down of PX20 from memory.
  for (const Row& row : {Row{"GPON A", 5, 20, 20},
                         {"GPON B", 10, 25, 25},
                         {"GPON B+", 13, 28, 28},
                         {"GPON C", 15, 30, 30},
                         {"GPON C+", 17, 32, 32},
                         {"XGS-PON N1", 14, 29, 29},
                         {"XGS-PON N2", 16, 31, 31},
                         {"XGS-PON E1", 18, 33, 33},
                         {"XGS-PON E2", 20, 35, 35},
                         {"NG-PON2 N1", 14, 29, 29},
                         {"EPON PX20", 10, 23.5, 24},
                         {"10G-EPON PR30", 15, 29, 29}}) {
    const OpticalClass& c = optical_class(s, row.name);
    CHECK_MESSAGE(in_decibels(c.down.min_loss) == row.least, row.name);
    CHECK_MESSAGE(in_decibels(c.down.max_loss) == row.down, row.name);
    CHECK_MESSAGE(in_decibels(c.up.max_loss) == row.up, row.name);
  }
  CHECK_FALSE(optical_class(s, "NG-PON2 N1").down.powers_known);
}

TEST_CASE("splitters lose more with more ports, and more than an ideal one") {
  // Of the shipped data: the default column strictly rises and stays above 10 log10 N.
  const Scenario s = scenario_from(little_withy);
  double before = 0;
  for (const SplitterType& t : s.fibre_catalogue->splitters) {
    CHECK_MESSAGE(in_decibels(t.max_loss) > 10 * std::log10(t.ports), t.name);
    if (!t.connectorised) continue;
    CHECK_MESSAGE(in_decibels(t.max_loss) > before, t.name);
    before = in_decibels(t.max_loss);
  }
}

TEST_CASE("fibre limits") {
  // ITU-T G.652 and G.657, second-hand: 1310 0.40, 1550 0.30, 1625 0.40 dB/km; radii 30,
  // 10, 7.5, 5 mm.
  const Scenario s = scenario_from(little_withy);
  const auto& fibres = s.fibre_catalogue->fibres;
  REQUIRE(fibres.size() == 4);
  CHECK(fibres[0].bend_radius == millimetres(30));
  CHECK(fibres[1].bend_radius == millimetres(10));
  CHECK(fibres[2].bend_radius == millimetres(7.5));
  CHECK(fibres[3].bend_radius == millimetres(5));
  for (const FibreType& f : fibres)
    for (const AttenuationRow& row : f.attenuation) {
      if (row.at == Wavelength{1310} || row.at == Wavelength{1625})
        CHECK(in_decibels_per_kilometre(row.max) == 0.40);
      if (row.at == Wavelength{1550}) CHECK(in_decibels_per_kilometre(row.max) == 0.30);
      CHECK(row.plan <= row.max);
    }
}

TEST_CASE("colour codes") {
  const Scenario s = scenario_from(little_withy);
  const auto& codes = s.fibre_catalogue->colour_codes;
  // ANSI/TIA-598-D, second-hand.
  CHECK(colour_of(codes, "TIA-598-D", 1) == "blue");
  CHECK(colour_of(codes, "TIA-598-D", 12) == "aqua");
  CHECK(colour_of(codes, "TIA-598-D", 13) == "blue, black tracer");
  CHECK(colour_of(codes, "TIA-598-D", 20) == "black, yellow tracer");
  // IEC 60304 colour set in the order of DIN VDE 0888, order from memory.
  CHECK(colour_of(codes, "IEC 60304", 1) == "red");
  CHECK(colour_of(codes, "IEC 60304", 9) == "turquoise");
  CHECK(colour_of(codes, "IEC 60304", 12) == "pink");
  CHECK(colour_of(codes, "IEC 60304", 22) == "transparent, black ring");
  CHECK(colour_of(codes, "IEC 60304", 25) == "see the product's data");
  CHECK(colour_of(codes, "another code", 1) == "see the product's data");
}

TEST_CASE("bundle diameters") {
  // 24 x 3 mm round a 6 mm centre is 18.0 mm before the sheath (derived); a maker's 7 x 7 with
  // a sheath of 1.2 mm prints 23.4 mm (practice).
  const Scenario s = scenario_from(little_withy);
  for (const Bundle& b : s.duct_catalogue->bundles) {
    if (b.name == "24 x 3/2.1 mm bundle") CHECK(b.od == millimetres(18.0 + 2.4));
    if (b.name == "7 x 7/3.5 mm bundle") CHECK(b.od == millimetres(23.4));
    const Microduct& m = s.duct_catalogue->microducts[b.microduct];
    CHECK_MESSAGE((!b.direct_buried || m.direct_buried), b.name);
  }
}

TEST_CASE("tasks are named by the words of the language") {
  CHECK(task_name(TaskKind::dig) == "dig");
  CHECK(task_name(TaskKind::connect) == "connect");
  CHECK(opening_item("paved footway") == "open paved footway");
}
