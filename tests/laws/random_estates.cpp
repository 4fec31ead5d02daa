// Invented towns under every kind of rule: whatever the estate and the brief, a plan comes out that the
// plan checker accepts, lights every premises at build or says why not, and whose sums add up.
#include <nlohmann/json.hpp>
#include <vector>

#include "base/csv.h"
#include "laws/planned.h"
#include "record/record.h"

using namespace plan;

namespace {

struct Brief {
  int premises;
  uint64_t seed;
  std::string_view what, text;
};
constexpr std::string_view all_crew =
    "skills: [dig, lay, chamber, cabinet, couple, prove, blow, splice, test, reinstate, connect]";

const Brief briefs[] = {
    {60, 1, "split at the headend", "split: [{at: headend, ratio: 1:32}]"},
    {90, 2, "split at the cabinet, take-up, patched",
     "split: [{at: cabinet, ratio: 1:16}]\nfibre: {take-up: 45 %, patched cabinet: yes, reserve all ports: "
     "no}"},
    {130, 3, "headend and branch points",
     "split: [{at: headend, ratio: 1:4}, {at: branch point, ratio: 1:8}]"},
    {160, 4, "headend and buildings", "split: [{at: headend, ratio: 1:8}, {at: building, ratio: 1:4}]"},
    {200, 5, "cabinet and branch points",
     "split: [{at: cabinet, ratio: 1:4}, {at: branch point, ratio: 1:8}]\nlayout: {branch point premises: "
     "5}"},
    {240, 6, "cabinet and buildings",
     "split: [{at: cabinet, ratio: 1:8}, {at: building, ratio: 1:4}]\nfibre: {fibres per dwelling: 2}"},
    {280, 7, "three stages",
     "split: [{at: headend, ratio: 1:2}, {at: cabinet, ratio: 1:4}, {at: branch point, ratio: 1:4}]"},
    {320, 8, "branch points alone",
     "split: [{at: branch point, ratio: 1:16}]\nlayout: {branch point premises: 12}"},
    {360, 9, "chamber closures, short drops",
     "split: [{at: cabinet, ratio: 1:8}]\nlayout: {cabinet: \"chamber closure, 24 entries\", longest drop "
     "duct: 120 m}"},
    {400, 10, "much spare, one bundle a span",
     "split: [{at: cabinet, ratio: 1:32}]\nducts: {spare share: 100 %, bundles per span: 1}\n"
     "fibre: {feeder spare share: 100 %, spare fibres per unit: 3}"},
    {440, 11, "no spare, wider microducts",
     "split: [{at: cabinet, ratio: 1:64}]\nclass: GPON C+\n"
     "ducts: {spare share: 0 %, drop microduct: 8/5 mm microduct, distribution microduct: 8/5 mm microduct}\n"
     "fibre: {spare fibres per unit: 0, feeder spare share: 0 %, port fill: 75 %}"},
    {480, 12, "so much friction that blows are refused",
     "split: [{at: cabinet, ratio: 1:32}]\nblowing: {unit friction: 0.6, length share: 60 %}"},
    {520, 13, "loss beyond the class", "split: [{at: cabinet, ratio: 1:64}]\noptics: {margin: 8 dB}"},
    {560, 14, "sites only",
     "split: [{at: cabinet, ratio: 1:32}]\nlayout: {cabinets at sites only: yes, cabinet fill: 60 %}"},
    {600, 15, "several headends", "split: [{at: cabinet, ratio: 1:32}]\nclass: XGS-PON N1"},
    {75, 16, "wall boxes", "split: [{at: cabinet, ratio: 1:4}]\nlayout: {cabinet: \"wall box, 12 entries\"}"},
    {110, 17, "no bundle, no price, no rate",
     "split: [{at: cabinet, ratio: 1:32}]\ncurrency: SEK\ncrews: [{name: Dig, skills: [dig, lay], people: "
     "3}]"},
    {140, 18, "cold, one slow crew, holidays",
     "split: [{at: cabinet, ratio: 1:32}]\nducts: {laying temperature: -5 C}"},
};

// More headends, sites and crews where the brief speaks of them.
std::string more_of(const Brief& brief) {
  if (brief.what == "sites only")
    return "estate: {sites: [{name: a, at: [100, 100]}, {name: b, at: [300, 320]}, {name: c, at: [500, "
           "90]}]}\n";
  if (brief.what == "cold, one slow crew, holidays")
    return fmt::format(
        "crews: [{{name: All, {}}}]\ncalendar: {{shift: 6 h, holidays: [2027-03-02, 2027-03-03]}}\n",
        all_crew);
  return "";
}

FolderTexts town(const Brief& brief) {
  FolderTexts texts = invented(brief.premises, brief.seed);
  std::string& yaml = texts["scenario.yaml"];
  yaml = yaml.substr(0, yaml.find("class:"));
  if (brief.what == "several headends")
    yaml +=
        "  - {name: Second, at: [10, 20]}\n  - {name: Third, at: [400, 350], microduct entries: 30, OLT "
        "ports: 3}\n";
  const std::string more = more_of(brief);
  const std::string sites = more.starts_with("estate: {") ? more.substr(9, more.size() - 11) : "";
  if (!sites.empty()) yaml.insert(yaml.find("headends:"), "  " + sites + "\n");
  yaml += std::string(brief.text) + "\n" + (sites.empty() ? more : "");
  return texts;
}

bool explained(const Findings& all, PremisesId p) {
  return std::any_of(all.begin(), all.end(), [&](const Finding& f) { return f.at == subject(p); });
}

void check_lit(const Plan& plan) {
  const Demand& demand = *plan.scenario.demand;
  const Findings all = all_findings(plan);
  Table<PremisesId, int> lit(demand.premises.size()), reserved(demand.premises.size());
  for (const Dwelling& d : plan.fibre().dwellings) {
    if (d.state == LightState::unlit) continue;
    ++(d.state == LightState::lit ? lit : reserved)[d.premises];
    CHECK(d.link.valid());
    CHECK(d.pon.valid());
  }
  for (const PremisesId p : demand.premises.ids()) {
    const Premises& premises = demand.premises[p];
    CAPTURE(premises.name);
    const int wanted = premises.dwellings;
    const bool served = premises.connect == Connect::at_build   ? lit[p] == wanted && reserved[p] == 0
                        : premises.connect == Connect::on_order ? reserved[p] == wanted && lit[p] == 0
                                                                : lit[p] + reserved[p] == 0;
    const bool answered = served || (lit[p] + reserved[p] == 0 && explained(all, p));
    CHECK(answered);
  }
}

void check_sums(const FolderTexts& folder) {
  CsvReader csv(folder.at("reconciliation.csv"));
  std::vector<CsvField> row;
  const size_t column = table_schema("reconciliation.csv").column("difference");
  REQUIRE(csv.next(row));
  size_t rows = 0;
  for (; csv.next(row); ++rows) CHECK_MESSAGE(row[column].text == "0", "line " << row[column].line);
  CHECK(rows > 0);
}

bool word_at(std::string_view text, size_t at, size_t length) {
  const auto letter = [&](size_t i) {
    return i < text.size() && std::isalpha(static_cast<unsigned char>(text[i])) != 0;
  };
  return !letter(at + length) && (at == 0 || !letter(at - 1));
}
bool says(std::string_view text, std::string_view word) {
  for (size_t at = text.find(word); at != std::string_view::npos; at = text.find(word, at + 1))
    if (word_at(text, at, word.size())) return true;
  return false;
}

void check_texts(const FolderTexts& folder) {
  for (const TableSchema& schema : table_schemas()) {
    CAPTURE(schema.file);
    const auto text = folder.find(std::string(schema.file));
    REQUIRE(text != folder.end());
    CsvReader csv(text->second);
    std::vector<CsvField> row;
    bool header = true;
    while (csv.next(row)) {
      REQUIRE(row.size() == schema.columns.size());
      for (size_t k = 0; header && k < row.size(); ++k) CHECK(row[k].text == schema.columns[k].name);
      header = false;
    }
    CHECK(csv.fault() == "");
    CHECK(text->second.ends_with("\r\n"));
  }
  for (const auto& [file, text] : folder) {
    const std::string& name = file;
    CAPTURE(name);
    for (const char* word : {"nan", "NaN", "inf", "Inf", "NAN", "INF"}) CHECK_FALSE(says(text, word));
    if (name.ends_with("json")) CHECK(nlohmann::json::accept(text));
  }
}

}  // namespace

TEST_CASE("whatever the estate and the brief, the plan holds and its sums add up") {
  for (const Brief& brief : briefs) {
    CAPTURE(brief.what);
    const Plan plan = planned(town(brief));
    const FolderTexts folder = written(plan);
    CHECK(told(audited(folder)) == "");
    check_lit(plan);
    check_sums(folder);
    check_texts(folder);
    CHECK(folder.at("summary.txt").starts_with("no findings") != fails(all_findings(plan)));
  }
}

TEST_CASE("the briefs meet what they are there for") {
  const auto finds = [](std::string_view what, Rule rule) {
    const auto brief =
        std::find_if(std::begin(briefs), std::end(briefs), [&](const Brief& b) { return b.what == what; });
    REQUIRE(brief != std::end(briefs));
    const Findings all = all_findings(planned(town(*brief)));
    return std::any_of(all.begin(), all.end(), [&](const Finding& f) { return f.rule == rule; });
  };
  CHECK(finds("loss beyond the class", Rule::loss_over_class));
  CHECK(finds("cold, one slow crew, holidays", Rule::cold_laying));
  CHECK(finds("no bundle, no price, no rate", Rule::price_missing));
  CHECK(finds("no bundle, no price, no rate", Rule::no_crew_for_task));
}
