#include <fmt/core.h>

#include <algorithm>

#include "base/text.h"
#include "report/facts.h"
#include "report/report.h"

namespace plan {
namespace {

struct Figure {
  std::string_view name, unit;
  std::string (*value)(const Facts&);
};

const Figure figures[] = {
    {"findings", "", [](const Facts& f) { return std::to_string(f.findings); }},
    {"cost", "currency", [](const Facts& f) { return amount(f.total); }},
    {"premises lit", "", [](const Facts& f) { return std::to_string(f.premises_lit); }},
    {"cabinets", "", [](const Facts& f) { return std::to_string(f.cabinets); }},
    {"PONs day one", "", [](const Facts& f) { return std::to_string(f.pons_day_one); }},
    {"PONs ultimate", "", [](const Facts& f) { return std::to_string(f.pons_ultimate); }},
    {"trench", "m", [](const Facts& f) { return metres_text(f.opened, 1); }},
    {"bundles and drops", "m", [](const Facts& f) { return metres_text(f.duct, 1); }},
    {"fibre unit", "m", [](const Facts& f) { return metres_text(f.unit, 1); }},
    {"joints", "", [](const Facts& f) { return std::to_string(f.joints); }},
    {"longest blow", "m", [](const Facts& f) { return metres_text(f.longest_blow, 1); }},
    {"blows refused", "", [](const Facts& f) { return std::to_string(f.blows_refused); }},
    {"worst margin down", "dB",
     [](const Facts& f) { return f.has_light ? fixed(in_decibels(f.worst_margin_down), 2) : ""; }},
    {"worst margin up", "dB",
     [](const Facts& f) { return f.has_light ? fixed(in_decibels(f.worst_margin_up), 2) : ""; }},
    {"crew-days", "", [](const Facts& f) { return std::to_string(f.crew_days); }},
    {"finish", "", [](const Facts& f) { return f.crew_days == 0 ? std::string() : iso(f.finish); }},
};

std::vector<Facts> all_facts(const std::vector<Variant>& variants) {
  std::vector<Facts> facts;
  for (const Variant& v : variants) facts.push_back(facts_of(*v.plan));
  return facts;
}

// Smaller than what the bounds leave open of either opening cost: not proven to be a difference.
bool proven(const Facts& a, const Facts& b) {
  const int64_t difference = std::abs(a.total.cents - b.total.cents);
  const int64_t open =
      std::max(a.trench_cost.cents - a.trench_bound.cents, b.trench_cost.cents - b.trench_bound.cents);
  return difference == 0 || difference > open;
}

std::string proof(const std::vector<Facts>& facts, size_t i) {
  if (i == 0) return "base";
  return proven(facts[0], facts[i]) ? "proven" : "not proven";
}

}  // namespace

std::string comparison_text(const std::vector<Variant>& variants) {
  const std::vector<Facts> facts = all_facts(variants);
  std::string text = fmt::format("{:<22}", "");
  std::vector<size_t> widths;
  for (const Variant& v : variants) widths.push_back(std::max<size_t>(v.name.size(), 12));
  for (size_t i = 0; i < variants.size(); ++i) text += fmt::format("  {:>{}}", variants[i].name, widths[i]);
  text += '\n';
  for (const Figure& figure : figures) {
    text += fmt::format("{:<22}", figure.unit.empty() || figure.unit == "currency"
                                      ? std::string(figure.name)
                                      : fmt::format("{} [{}]", figure.name, figure.unit));
    for (size_t i = 0; i < variants.size(); ++i)
      text += fmt::format("  {:>{}}", figure.value(facts[i]), widths[i]);
    text += '\n';
  }
  text += fmt::format("{:<22}", "cost difference");
  for (size_t i = 0; i < variants.size(); ++i) text += fmt::format("  {:>{}}", proof(facts, i), widths[i]);
  return text + "\na cost difference smaller than what the opening-cost bounds leave open is `not proven`\n";
}

void write_comparison(const std::vector<Variant>& variants, const Sink& sink) {
  const std::vector<Facts> facts = all_facts(variants);
  CsvWriter csv(sink);
  csv.text("variant");
  for (const Figure& figure : figures)
    csv.text(figure.unit.empty() ? std::string(figure.name)
                                 : fmt::format("{} [{}]", figure.name, figure.unit));
  csv.text("cost difference").end_row();
  for (size_t i = 0; i < variants.size(); ++i) {
    csv.text(variants[i].name);
    for (const Figure& figure : figures) csv.raw(figure.value(facts[i]));
    csv.text(proof(facts, i)).end_row();
  }
}

}  // namespace plan
