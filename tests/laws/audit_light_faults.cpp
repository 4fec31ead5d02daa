// Planted faults in what is blown and lit.
#include "laws/planted.h"

namespace plan {
namespace {

const std::vector<Plant> of_splitters = {
    {"splitter-type-differs", "splitters.csv", [](TableText& t) { t.at(0, "ports") = "8"; }},
    {"splitter-type-differs", "splitters.csv", [](TableText& t) { t.at(0, "type") = "1:5 splitter"; }},
    {"stage-skipped", "splitters.csv", [](TableText& t) { t.at(2, "stage") = "1"; }},
    {"stage-skipped", "splitters.csv", [](TableText& t) { t.at(2, "upstream").clear(); }},
    {"splitter-port-missing", "splitters.csv", [](TableText& t) { t.at(2, "upstream port").clear(); }},
    {"splitter-cycle", "splitters.csv", [](TableText& t) { t.at(2, "upstream") = "3"; }},
    {"splitter-cycle", "splitters.csv", [](TableText& t) { t.at(2, "upstream") = "2"; }},
    {"splitter-not-upstream", "splitters.csv", [](TableText& t) { t.at(2, "upstream") = "1"; }},
    {"splitter-unfed", "splitters.csv", [](TableText& t) { t.at(2, "feed fibre").clear(); }},
    {"pon-differs", "splitters.csv", [](TableText& t) { t.at(2, "pon") = "1"; }},
    {"pon-differs", "dwellings.csv", [](TableText& t) { t.at(0, "pon") = "0"; }},
    {"port-used-twice", "dwellings.csv", [](TableText& t) { t.at(t.row("port", "2"), "port") = "1"; }},
    {"port-used-twice", "splitters.csv",
     [](TableText& t) { t.at(5, "upstream port") = t.at(4, "upstream port"); }},
    {"port-out-of-range", "dwellings.csv", [](TableText& t) { t.at(0, "port") = "9"; }},
    {"splitter-not-upstream", "dwellings.csv", [](TableText& t) { t.at(0, "splitter") = "2"; }},
    {"pon-fed-twice", "splitters.csv", [](TableText& t) { t.at(1, "pon") = "0"; }},
    {"pon-unused", "splitters.csv", [](TableText& t) { t.at(1, "pon") = "0"; }},
    {"pon-headend-differs", "pons.csv", [](TableText& t) { t.at(0, "headend") = "Mill"; }},
    {"pon-count-differs", "pons.csv", [](TableText& t) { raise(t.at(0, "dwellings ultimate"), 1); }},
    {"pon-count-differs", "pons.csv", [](TableText& t) { t.at(1, "dwellings day one") = "17"; }},
    {"olt-port-out-of-range", "pons.csv", [](TableText& t) { t.at(0, "port") = "0"; }},
};

const std::vector<Plant> of_fibres = {
    {"fibre-used-twice", "dwellings.csv", [](TableText& t) { t.at(t.row("fibre", "2"), "fibre") = "1"; }},
    {"fibre-out-of-range", "dwellings.csv", [](TableText& t) { t.at(0, "fibre") = "3"; }},
    {"fibre-missing", "dwellings.csv", [](TableText& t) { t.at(0, "fibre").clear(); }},
    {"colour-differs", "dwellings.csv", [](TableText& t) { t.at(0, "fibre colour") = "green"; }},
    {"station-count-differs", "stations.csv", [](TableText& t) { raise(t.at(2, "premises served"), 1); }},
    {"station-count-differs", "stations.csv", [](TableText& t) { raise(t.at(2, "splices"), 1); }},
    {"station-count-differs", "stations.csv", [](TableText& t) { raise(t.at(2, "feed fibres"), 1); }},
    {"station-count-differs", "stations.csv", [](TableText& t) { raise(t.at(2, "trays"), 1); }},
    {"station-limit-exceeded", "stations.csv", [](TableText& t) { t.at(2, "splitter slots limit") = "0"; }},
};

const std::vector<Plant> of_losses = {
    {"glass-differs", "dwellings.csv", [](TableText& t) { raise(t.at(0, "glass"), 1); }},
    {"loss-differs", "dwellings.csv", [](TableText& t) { raise(t.at(0, "down most"), 2); }},
    {"loss-differs", "dwellings.csv", [](TableText& t) { raise(t.at(0, "down least"), 2); }},
    {"loss-differs", "dwellings.csv", [](TableText& t) { raise(t.at(0, "up most"), -2); }},
    {"loss-differs", "dwellings.csv", [](TableText& t) { raise(t.at(0, "up least"), 2); }},
    {"margin-differs", "dwellings.csv", [](TableText& t) { raise(t.at(0, "margin down"), 2); }},
    {"margin-differs", "dwellings.csv", [](TableText& t) { raise(t.at(0, "overload margin"), 2); }},
    {"test-limit-differs", "dwellings.csv", [](TableText& t) { t.at(0, "test limit") = "28.100"; }},
    {"test-limit-differs", "dwellings.csv", [](TableText& t) { t.at(0, "test limit") = "17.000"; }},
    {"differential-differs", "pons.csv", [](TableText& t) { raise(t.at(0, "differential"), 2); }},
    {"light-path-broken", "splitters.csv", [](TableText& t) { t.at(2, "upstream") = "1"; }},
};

const std::vector<Plant> of_blows = {
    {"blow-refused", "blows.csv", [](TableText& t) { t.at(0, "result") = "refused"; }},
    {"push-not-available", "blows.csv", [](TableText& t) { t.at(4, "push needed") = "0.551"; }},
    {"push-not-available", "blows.csv", [](TableText& t) { t.at(4, "supply needed") = "10.5"; }},
    {"supply-above-rating", "blows.csv", [](TableText& t) { t.at(4, "supply") = "16.0"; }},
    {"blow-length-differs", "blows.csv", [](TableText& t) { raise(t.at(4, "length")); }},
    {"blow-length-differs", "blows.csv", [](TableText& t) { t.at(4, "limiting") = "500.0"; }},
    {"blow-bore-differs", "blows.csv", [](TableText& t) { t.at(4, "bore") = t.at(0, "bore"); }},
    {"blow-cable-differs", "blows.csv", [](TableText& t) { t.at(4, "cable") = "12-fibre unit"; }},
    {"blow-time-differs", "blows.csv", [](TableText& t) { raise(t.at(4, "running"), 1); }},
    {"blow-impossible", "blows.csv", [](TableText& t) { t.at(4, "length") = "9000.000"; }},
    {"blow-missing", "blows.csv", [](TableText& t) { t.drop(t.rows() - 1); }},
};

TEST_CASE("planted faults of splitters and fibres are named") {
  expect_all_told(sound_hamlet(), of_splitters);
  expect_all_told(sound_hamlet(), of_fibres);
}

TEST_CASE("planted faults of losses and blows are named") {
  expect_all_told(sound_hamlet(), of_losses);
  expect_all_told(sound_hamlet(), of_blows);
}

TEST_CASE("planted faults of cabinets are named") {
  expect_all_told(
      sound_village(),
      {
          {"feed-fibre-twice", "splitters.csv",
           [](TableText& t) { t.at(t.row("feed fibre", "2"), "feed fibre") = "1"; }},
          {"fibre-out-of-range", "splitters.csv",
           [](TableText& t) { t.at(t.row("feed fibre", "2"), "feed fibre") = "9"; }},
          {"olt-port-twice", "pons.csv", [](TableText& t) { t.at(1, "port") = "1"; }},
          {"station-limit-exceeded", "stations.csv",
           [](TableText& t) { t.at(1, "microduct entries limit") = "12"; }},
          {"station-limit-exceeded", "stations.csv",
           [](TableText& t) { t.at(1, "drop fibres limit") = "12"; }},
          {"station-limit-exceeded", "stations.csv", [](TableText& t) { t.at(1, "trays limit") = "1"; }},
          {"station-limit-exceeded", "stations.csv",
           [](TableText& t) { t.at(0, "microduct entries limit") = "1"; }},
      });
}

// The rules stand in scenario.yaml alone: a plan that does not meet them has to say so.
TEST_CASE("a plan that breaks its rules without a finding is told") {
  // The value of the first `key` after the line of `section`.
  const auto with = [](const std::string& section, const std::string& key, const std::string& value) {
    FolderTexts folder = sound_hamlet();
    std::string& text = folder["scenario.yaml"];
    const size_t at = text.find(key, text.find(section));
    REQUIRE(at != std::string::npos);
    text.replace(at, text.find('\n', at) - at, key + value);
    return audited(folder);
  };
  CHECK(tells(with("    GPON B+:\n", "least loss: ", "16 dB"), "class-not-met"));
  CHECK(tells(with("    GPON B+:\n", "largest loss: ", "18 dB"), "class-not-met"));
  CHECK(tells(with("    4 x 7/3.5 mm bundle:\n", "drum: ", "100 m"), "run-longer-than-drum"));
  CHECK(tells(with("\nducts:\n", "bundles per span: ", "1"), "span-overfull"));
  CHECK(tells(with("\nblowing:\n", "supply pressure: ", "6 bar"), "supply-above-rating"));
  CHECK(tells(with("", "scenario: ", "\nscenery: Hamlet"), "scenario-unreadable"));
}

}  // namespace
}  // namespace plan
