// What a bad scenario is told: exact words, all at once, each at its place.
#include <fmt/core.h>

#include "village.h"

using namespace plan;

TEST_CASE("an unknown key is told with the nearest one, its line and a caret") {
  CHECK(faults_of(instead("surface: verge", "surfce: verge")) ==
        "scenario.yaml:6:12: route 'Mill Lane' needs 'surface'\n"
        "      routes: [{name: Mill Lane, line: [[0, 0], [100, 0]], surfce: verge}]\n"
        "               ^\n"
        "scenario.yaml:6:56: unknown key 'surfce', did you mean 'surface'\n"
        "      routes: [{name: Mill Lane, line: [[0, 0], [100, 0]], surfce: verge}]\n"
        "                                                           ^~~~~~\n");
}

TEST_CASE("amounts") {
  CHECK(first_fault(with("ducts: {tail at cabinet: 12}\n")) ==
        "scenario.yaml:13:26: 'tail at cabinet' is '12', expected a length with its unit, such as 12.5 m");
  CHECK(first_fault(with("ducts: {tail at cabinet: -3 m}\n")) ==
        "scenario.yaml:13:26: 'tail at cabinet' is -3 m, expected 0 m to 100 m");
  CHECK(first_fault(with("blowing: {supply pressure: 400 bar}\n")) ==
        "scenario.yaml:13:28: 'supply pressure' is 400 bar, expected 1 bar to 20 bar");
  CHECK(first_fault(with("blowing: {supply pressure: .nan bar}\n")) ==
        "scenario.yaml:13:28: 'supply pressure' is '.nan bar', expected a gauge pressure with its unit, such "
        "as 10 bar");
  CHECK(first_fault(with("blowing: {unit friction: 1e999}\n")) ==
        "scenario.yaml:13:26: 'unit friction' is '1e999', expected a number");
  CHECK(first_fault(with("blowing: {unit friction: \"0.2\"}\n")) ==
        "scenario.yaml:13:26: 'unit friction' is '0.2', expected a number");
  CHECK(first_fault(instead("dwellings: 4", "dwellings: 0")) ==
        "scenario.yaml:5:93: 'dwellings' is 0, expected 1 to 2000");
  CHECK(first_fault(instead("ratio: 1:32", "ratio: 32")) ==
        "scenario.yaml:9:30: 'ratio' is '32', expected a split ratio, such as 1:32");
  CHECK(first_fault(instead("ratio: 1:32", "ratio: 1:31")) ==
        "scenario.yaml:9:9: the catalogue has no splitter 1:31");
  CHECK(first_fault(instead("2027-03-01", "2027-02-30")) ==
        "scenario.yaml:2:8: 'start' is '2027-02-30', expected a date, such as 2027-03-01");
}

TEST_CASE("words and references") {
  CHECK(first_fault(instead("dwellings: 4", "connect: at_build")) ==
        "scenario.yaml:5:91: 'connect' is 'at_build', expected at build, on order or never, did you mean 'at "
        "build'");
  CHECK(first_fault(instead("GPON B+", "GPON B-")).substr(0, 40) ==
        "scenario.yaml:8:8: unknown class 'GPON B");
  CHECK(first_fault(with("ducts: {drop microduct: 7/35 mm microduct}\n")) ==
        "scenario.yaml:13:25: unknown microduct '7/35 mm microduct', did you mean '7/3.5 mm microduct'");
  CHECK(first_fault(with("prices: {open verg: {price: 60 EUR/m}}\n")) ==
        "scenario.yaml:13:10: unknown item 'open verg', did you mean 'open verge'");
  CHECK(first_fault(with("prices: {open verge: {price: 60 EUR}}\n")) ==
        "scenario.yaml:13:30: 'price' is '60 EUR', expected a price with its currency and unit, such as "
        "0.155 EUR/m, "
        "800 EUR each or 45 EUR/h");
  CHECK(first_fault(with("prices: {open verge: {price: 60 EUR each}}\n")) ==
        "scenario.yaml:13:10: price of 'open verge' is by a piece, expected by a metre");
  CHECK(first_fault(with("prices: {open verge: {price: 60 SEK/m}}\n")) ==
        "scenario.yaml:13:10: price of 'open verge' is in SEK, the scenario's currency is EUR, amounts are "
        "never "
        "converted");
  CHECK(first_fault(with("rates: {digg verge: {per crew day: 3 m}}\n")) ==
        "scenario.yaml:13:9: unknown task 'digg', did you mean 'dig'");
  CHECK(first_fault(with("rates: {splice: {per crew day: 30 pieces, each: 5 min}}\n")) ==
        "scenario.yaml:13:9: rate 'splice' has both, expected one of 'per crew day' and 'each'");
  CHECK(first_fault(with("optics: {fibre: [G.652.D]}\n")) ==
        "scenario.yaml:13:17: 'fibre' is a list, expected the name of a fibre");
}

TEST_CASE("crews") {
  CHECK(first_fault(instead("name: Fibre", "name: Dig")) == "scenario.yaml:12:5: two crews are called 'Dig'");
  CHECK(first_fault(instead("people: 5}", "people: 5, number: 2}\n  - {name: Dig 2, skills: [dig]}")) ==
        "scenario.yaml:12:5: two crews are called 'Dig 2'");
  CHECK(first_fault(instead("skills: [couple, prove, blow, splice, test, connect]", "skills: []")) ==
        "scenario.yaml:12:5: crew 'Fibre' has no skill");
}

TEST_CASE("currency") {
  CHECK(first_fault(with("currency: euro\n")) ==
        "scenario.yaml:13:11: 'currency' is 'euro', expected three letters, such as EUR");
}

TEST_CASE("missing, empty and doubled things") {
  CHECK(first_fault(instead("start: 2027-03-01\n", "")) == "scenario.yaml:1:1: the scenario needs 'start'");
  CHECK(first_fault(instead("start: 2027-03-01", "start:")) == "scenario.yaml:2:1: 'start' has no value");
  CHECK(first_fault(instead("name: 2 Mill Lane", "name: 1 Mill Lane")) ==
        "scenario.yaml:5:48: two premises are called '1 Mill Lane', the first in scenario.yaml:5");
  CHECK(first_fault(instead("name: 2 Mill Lane", "name: \"\"")) == "scenario.yaml:5:55: 'name' is empty");
  CHECK(first_fault(instead("[{name: Exchange, at: [0, 0]}]", "[]")) ==
        "scenario.yaml:7:1: the estate has no headend");
  CHECK(first_fault("just a text\n") ==
        "scenario.yaml:1:1: the file is 'just a text', expected keys with values");
}

TEST_CASE("the estate") {
  CHECK(first_fault(instead("surface: verge", "surface: verge, kind: aerial")) ==
        "scenario.yaml:6:12: route 'Mill Lane' is aerial: aerial plant is not planned");
  CHECK(first_fault(instead("surface: verge", "kind: existing duct")) ==
        "scenario.yaml:6:12: existing duct 'Mill Lane' needs 'bore'");
  CHECK(first_fault(instead("[100, 0]", "[0, 0]")) == "scenario.yaml:6:12: route 'Mill Lane' has no length");
  CHECK(first_fault(instead("[100, 0]", "[100, 0, 1]")) ==
        "scenario.yaml:6:36: 'line' has heights at 1 of its 2 positions, expected all or none");
  CHECK(first_fault(instead("[100, 0]", "[100, 0, 1, 2]")) ==
        "scenario.yaml:6:45: 'line' has 4 numbers in a position, expected 2 or 3");
  CHECK(first_fault(instead("[100, 0]", "[100, 0, 9100]")) ==
        "scenario.yaml:6:45: 'line' has the height '9100', expected metres from -1000 to 9000");
  CHECK(first_fault(instead("surface: verge", "surface: verge, crossing: river")) ==
        "scenario.yaml:6:82: unknown crossing 'river'");
  CHECK(first_fault(instead("surface: verge", "surface: verge, state: proven, owner: a utility")) ==
        "scenario.yaml:6:12: route 'Mill Lane' has 'owner', but its kind is trench");
  CHECK(first_fault(instead("at: [10, 5]", "at: [10, .inf]")).find("'at' is no position") !=
        std::string::npos);
  CHECK(first_fault(instead("at: [10, 5]", "at: [1e7, 5]")) ==
        "scenario.yaml:5:14: '1 Mill Lane' lies 10000 km from the middle of the estate, at most 500 are "
        "planned");
  CHECK(first_fault(with("site: {blocked routes: {Mil Lane: {why: flood}}}\n")) ==
        "scenario.yaml:13:25: no route is called 'Mil Lane', did you mean 'Mill Lane'");
}

TEST_CASE("all faults at once, in the order of the file") {
  const Result<Scenario> s = read_scenario(
      text_file(with("layout: {cabinet fill: 15}\nfibre: {take-up: 140 %}\nbolwing: {}\n")), "scenario.yaml");
  REQUIRE(s.diagnostics.size() == 3);
  CHECK(s.diagnostics[0].place.line == 13);
  CHECK(s.diagnostics[1].place.line == 14);
  CHECK(s.diagnostics[2].message == "unknown key 'bolwing', did you mean 'blowing'");
}

TEST_CASE("a thousand faults are told, the rest counted") {
  std::string rows;
  for (int i = 0; i < 3000; ++i) rows += fmt::format("{{name: p{}, at: [1, 1], dwellings: -1}},\n    ", i);
  const Result<Scenario> s =
      read_scenario(text_file(instead("{name: 1 Mill Lane, at: [10, 5]},", rows)), "scenario.yaml");
  REQUIRE(s.diagnostics.size() == 1001);
  CHECK(s.diagnostics.back().message == "2000 more faults of the kinds above");
}

TEST_CASE("figures that contradict each other") {
  CHECK(first_fault(with("catalogue: {microducts: {7/4 mm microduct: {bore: 8 mm}}}\n")) ==
        "scenario.yaml:13:45: bore 8 mm is not below the outside diameter 7 mm");
  CHECK(first_fault(with("ducts: {unit fill: {warn: 50 %}}\n")) ==
        "scenario.yaml:13:21: warn at 0.50 exceeds fail at 0.40");
  CHECK(first_fault(with("catalogue: {classes: {GPON B+: {down: {least loss: 30 dB}}}}\n")) ==
        "scenario.yaml:13:40: least loss 30 dB exceeds largest loss 28 dB");
  CHECK(first_fault(instead("[{at: cabinet, ratio: 1:32}]",
                            "[{at: cabinet, ratio: 1:8}, {at: headend, ratio: 1:4}]")) ==
        "scenario.yaml:9:36: stage at headend stands after one at cabinet, stages run from the headend "
        "outwards");
}
