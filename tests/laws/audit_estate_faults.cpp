// Planted faults in the tables of the estate and of what is laid in it.
#include "laws/planted.h"

namespace plan {
namespace {

const std::vector<Plant> of_tables = {
    {"table-malformed", "spans.csv", [](TableText& t) { t.whole(3).pop_back(); }},
    {"header-differs", "runs.csv", [](TableText& t) { t.header()[1] = "sheath"; }},
    {"field-malformed", "sections.csv", [](TableText& t) { t.at(4, "length") = "12 m"; }},
    {"field-malformed", "links.csv", [](TableText& t) { t.at(4, "sections") = "1 x"; }},
    {"field-missing", "runs.csv", [](TableText& t) { t.at(2, "length").clear(); }},
    {"id-out-of-order", "sections.csv", [](TableText& t) { t.swap(1, 2, "section"); }},
    {"id-out-of-order", "spans.csv", [](TableText& t) { t.repeat(2); }},
    {"id-out-of-range", "dwellings.csv", [](TableText& t) { t.at(0, "splitter") = "4711"; }},
    {"id-out-of-range", "runs.csv", [](TableText& t) { t.at(0, "spans") = "4711"; }},
    {"word-unknown", "sections.csv", [](TableText& t) { t.at(0, "state") = "glowing"; }},
};

const std::vector<Plant> of_premises = {
    {"premises-missing", "premises.csv", [](TableText& t) { t.drop(t.row("state", "lit")); }},
    {"premises-twice", "premises.csv", [](TableText& t) { t.repeat(t.row("state", "lit")); }},
    {"premises-differ", "premises.csv",
     [](TableText& t) { t.at(t.row("premises", "3 Reed Row"), "dwellings") = "3"; }},
    {"premises-unlit", "premises.csv",
     [](TableText& t) {
       const size_t row = t.row("state", "lit");
       t.at(row, "state") = "unserved";
       t.at(row, "link").clear();
     }},
    {"premises-unlit", "findings.csv", [](TableText& t) { t.drop(t.row("rule", "premises-unreached")); }},
    {"premises-unlinked", "premises.csv", [](TableText& t) { t.at(t.row("state", "lit"), "link").clear(); }},
    {"premises-state-differs", "premises.csv",
     [](TableText& t) { t.at(t.row("connect", "on order"), "state") = "lit"; }},
    {"never-planned", "premises.csv", [](TableText& t) { t.at(t.row("connect", "never"), "state") = "lit"; }},
    {"reserved-not-ready", "premises.csv",
     [](TableText& t) { t.at(t.row("connect", "on order"), "duct path").clear(); }},
    {"premises-link-differs", "premises.csv",
     [](TableText& t) { raise(t.at(t.row("state", "lit"), "unit length")); }},
    {"premises-linked-twice", "links.csv", [](TableText& t) { t.at(5, "premises") = t.at(6, "premises"); }},
    {"dwelling-twice", "dwellings.csv", [](TableText& t) { t.at(t.row("number", "2"), "number") = "1"; }},
    {"dwelling-out-of-range", "dwellings.csv", [](TableText& t) { t.at(0, "number") = "2"; }},
    {"dwelling-count-differs", "dwellings.csv", [](TableText& t) { t.drop(t.rows() - 1); }},
    {"dwelling-state-differs", "dwellings.csv", [](TableText& t) { t.at(0, "state") = "unlit"; }},
    {"dwelling-dark", "dwellings.csv", [](TableText& t) { t.at(0, "pon").clear(); }},
    {"dwelling-link-differs", "dwellings.csv", [](TableText& t) { t.at(0, "link") = t.at(1, "link"); }},
};

const std::vector<Plant> of_runs = {
    {"run-chain-broken", "runs.csv",
     [](TableText& t) { drop_id(t.at(t.row("spans", long_list), "spans"), 1); }},
    {"run-chain-broken", "runs.csv", [](TableText& t) { t.at(1, "to node") = "1"; }},
    {"run-length-differs", "runs.csv", [](TableText& t) { raise(t.at(3, "length")); }},
    {"run-length-differs", "spans.csv", [](TableText& t) { raise(t.at(3, "length")); }},
    {"span-runs-differ", "spans.csv",
     [](TableText& t) { drop_id(t.at(t.row("runs", longer_list), "runs"), 0); }},
    {"span-not-used", "spans.csv", [](TableText& t) { t.at(0, "used") = "0"; }},
    {"opened-differs", "spans.csv",
     [](TableText& t) { t.at(t.row("kind", "existing duct"), "opened") = "1"; }},
    {"opened-differs", "spans.csv", [](TableText& t) { t.at(0, "opened") = "0"; }},
    {"ways-differ", "runs.csv", [](TableText& t) { t.at(0, "ways") = "12"; }},
    {"bundle-unknown", "runs.csv", [](TableText& t) { t.at(0, "bundle") = "99 x 7/3.5 mm bundle"; }},
};

const std::vector<Plant> of_sections = {
    {"position-out-of-range", "sections.csv", [](TableText& t) { t.at(0, "position") = "5"; }},
    {"colour-differs", "sections.csv", [](TableText& t) { t.at(0, "colour") = "pink"; }},
    {"section-off-run", "sections.csv", [](TableText& t) { t.at(2, "to node") = "40"; }},
    {"section-off-run", "sections.csv",
     [](TableText& t) { std::swap(t.at(2, "from node"), t.at(2, "to node")); }},
    {"section-length-differs", "sections.csv", [](TableText& t) { raise(t.at(2, "length")); }},
    {"section-overlap", "sections.csv", [](TableText& t) { t.at(t.row("position", "2"), "position") = "1"; }},
    {"run-not-filled", "sections.csv", [](TableText& t) { t.at(t.row("position", "2"), "position") = "1"; }},
    {"section-state-differs", "sections.csv",
     [](TableText& t) { t.at(t.row("state", "used"), "state") = "spare"; }},
    {"section-state-differs", "sections.csv",
     [](TableText& t) { t.at(t.row("state", "reserved"), "state") = "used"; }},
    {"section-state-differs", "sections.csv",
     [](TableText& t) { t.at(t.row("state", "dead"), "state") = "spare"; }},
    {"path-wrong-link", "sections.csv", [](TableText& t) { t.at(t.row("link", filled), "link") = "21"; }},
    {"section-not-in-path", "sections.csv",
     [](TableText& t) { t.at(t.row("state", "spare"), "link") = "3"; }},
};

const std::vector<Plant> of_links = {
    {"path-broken", "links.csv",
     [](TableText& t) { drop_id(t.at(t.row("sections", long_list), "sections"), 1); }},
    {"path-broken", "links.csv",
     [](TableText& t) { drop_id(t.at(t.row("sections", longer_list), "sections"), 0); }},
    {"section-twice", "links.csv", [](TableText& t) { t.at(4, "sections") = t.at(5, "sections"); }},
    {"path-length-differs", "links.csv", [](TableText& t) { raise(t.at(4, "duct length")); }},
    {"cable-length-differs", "links.csv", [](TableText& t) { raise(t.at(4, "cable length")); }},
    {"cable-unknown", "links.csv", [](TableText& t) { t.at(4, "cable") = "3-fibre unit"; }},
    {"cable-missing", "links.csv", [](TableText& t) { t.at(4, "cable").clear(); }},
    {"cable-too-small", "links.csv", [](TableText& t) { t.at(4, "fibres used") = "3"; }},
    {"cable-too-wide", "links.csv",
     [](TableText& t) {
       t.at(4, "cable") = "288-fibre microcable";
       t.at(4, "fibres") = "288";
     }},
    {"link-fibres-differ", "links.csv", [](TableText& t) { t.at(4, "fibres used") = "2"; }},
    {"link-end-differs", "links.csv", [](TableText& t) { t.at(4, "from node") = "41"; }},
    {"station-fed-twice", "links.csv", [](TableText& t) { t.at(2, "to station") = t.at(1, "to station"); }},
    {"station-unfed", "links.csv", [](TableText& t) { t.at(2, "to station") = t.at(1, "to station"); }},
    {"station-upstream-differs", "stations.csv", [](TableText& t) { t.at(2, "upstream") = "1"; }},
};

const std::vector<Plant> of_joints = {
    {"joint-missing", "joints.csv", [](TableText& t) { t.drop(t.row("kind", "straight")); }},
    {"end-open", "joints.csv", [](TableText& t) { t.drop(t.row("kind", "end stop")); }},
    {"end-fitted-twice", "joints.csv", [](TableText& t) { t.repeat(t.row("kind", "end stop")); }},
    {"joint-off-section", "joints.csv", [](TableText& t) { t.at(t.row("kind", "straight"), "node") = "48"; }},
    {"id-out-of-range", "joints.csv",
     [](TableText& t) { t.at(t.row("kind", "straight"), "section a") = "999"; }},
    {"joint-kind-differs", "joints.csv",
     [](TableText& t) { t.at(t.row("kind", "straight"), "kind") = "reducing"; }},
    {"joint-kind-differs", "joints.csv",
     [](TableText& t) { t.at(t.row("kind", "straight"), "kind") = "end stop"; }},
    {"joint-of-strangers", "joints.csv",
     [](TableText& t) {
       const size_t row = t.row("kind", "straight", t.row("node", "26"));
       t.swap(row, row + 1, "section b");
     }},
    {"end-fitting-differs", "joints.csv",
     [](TableText& t) { t.at(t.row("kind", "block connector"), "kind") = "end stop"; }},
    {"branch-joints-differ", "branch-points.csv", [](TableText& t) { raise(t.at(0, "joints"), 1); }},
    {"branch-point-missing", "branch-points.csv", [](TableText& t) { t.drop(0); }},
    {"chamber-differs", "branch-points.csv", [](TableText& t) { t.at(0, "chamber") = "medium chamber"; }},
};

TEST_CASE("the plan checker is silent on sound plans") {
  CHECK(told(audited(sound_hamlet())) == "");
  CHECK(told(audited(sound_village())) == "");
}

TEST_CASE("planted faults of tables and the estate are named") {
  expect_all_told(sound_hamlet(), of_tables);
  expect_all_told(sound_hamlet(), of_premises);
}

TEST_CASE("planted faults of ducts are named") {
  expect_all_told(sound_hamlet(), of_runs);
  expect_all_told(sound_hamlet(), of_sections);
  expect_all_told(sound_hamlet(), of_links);
  expect_all_told(sound_hamlet(), of_joints);
}

TEST_CASE("a fault is given with file, line and rule") {
  FolderTexts folder = sound_hamlet();
  TableText t("sections.csv", folder["sections.csv"]);
  t.at(2, "colour") = "pink";
  folder["sections.csv"] = t.text();
  const AuditFaults faults = audited(folder);
  REQUIRE(faults.size() == 1);
  CHECK(rendered(faults[0]) == "sections.csv:4: colour-differs: position 1 is not pink");
}

TEST_CASE("what is broken everywhere is counted, and buries nothing else") {
  FolderTexts folder = sound_village();
  TableText t("sections.csv", folder["sections.csv"]);
  for (size_t row = 0; row < t.rows(); ++row) t.at(row, "colour") = "pink";
  t.at(0, "position") = "999";
  folder["sections.csv"] = t.text();
  const AuditFaults faults = audited(folder);
  CHECK(tells(faults, "position-out-of-range"));
  CHECK(std::count_if(faults.begin(), faults.end(),
                      [](const AuditFault& f) { return f.rule == "colour-differs"; }) == 101);
  CHECK(told(faults).find("more of this rule") == std::string::npos);  // the closing line comes last
  CHECK(rendered(faults.back()).find("more of this rule") != std::string::npos);
}

}  // namespace
}  // namespace plan
