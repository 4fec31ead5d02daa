#include <fmt/core.h>

#include <array>

#include "base/text.h"
#include "orders/orders.h"
#include "report/facts.h"
#include "report/names.h"
#include "report/writers.h"

namespace plan {
namespace {

constexpr size_t findings_shown = 20;

std::string gap_text(Money cost, Money bound, Money forced) {
  const double gap = gap_percent(cost, bound, forced);
  if (gap < 0) return "no certified bound";
  return fmt::format("certified bound {}, gap {} % of what can be decided", amount(bound), fixed(gap, 3));
}

std::string first_line(const Facts& f) {
  const auto notes = static_cast<uint64_t>(f.notes);
  if (f.findings == 0) return fmt::format("no findings ({})\n", counted(notes, "note"));
  return fmt::format("{} ({}): the plan does not meet every rule\n",
                     counted(static_cast<uint64_t>(f.findings), "finding"), counted(notes, "note"));
}

void add_findings(const Plan& plan, std::string& text) {
  const StationNames names(plan);
  const Findings all = all_findings(plan);
  size_t shown = 0, left = 0;
  for (const bool notes : {false, true})
    for (const Finding& f : all) {
      if (rule_text(f.rule).note != notes) continue;
      if (shown == findings_shown) {
        ++left;
        continue;
      }
      ++shown;
      text +=
          fmt::format("  {}{}: {}", notes ? "note: " : "", subject_name(plan, names, f.at), finding_text(f));
      if (f.mend != Mend::none) text += fmt::format("; would mend it: {}", mend_text(f.mend));
      text += '\n';
    }
  if (left > 0) text += fmt::format("  and {} more in findings.csv\n", left);
}

void add_line(std::string& text, std::string_view name, const std::string& value) {
  text += fmt::format("  {:<34} {}\n", name, value);
}

void add_figures(const Plan& plan, const Facts& f, std::string& text) {
  const std::string& currency = plan.scenario.prices->currency;
  add_line(text, "premises",
           fmt::format("{} lit, {} reserved, {} unserved, of {}", f.premises_lit, f.premises_reserved,
                       f.premises_unserved, f.premises));
  add_line(text, "dwellings", fmt::format("{} lit, {} reserved", f.dwellings_lit, f.dwellings_reserved));
  add_line(text, "trench", metres_text(f.opened, 1) + " m");
  add_line(text, "resting on assumptions",
           fmt::format("{} m of the trench, {} entries; street by street in walk-out.csv",
                       metres_text(f.assumed, 1), f.entries_assumed));
  add_line(text, "bundles and drops laid", metres_text(f.duct, 1) + " m");
  add_line(text, "microduct in them", metres_text(f.microduct, 1) + " m");
  add_line(text, "fibre unit to premises", metres_text(f.unit, 1) + " m");
  add_line(text, "cable to cabinets and splitters", metres_text(f.feeder_cable, 1) + " m");
  add_line(text, "cabinets",
           fmt::format("{}, and {} splitters at branch points", f.cabinets, f.branch_splitters));
  add_line(text, "PONs", fmt::format("{} day one, {} ultimate", f.pons_day_one, f.pons_ultimate));
  add_line(
      text, "blows",
      fmt::format("{}, of which {} refused; longest {} m, least push reserve {} N", f.blows, f.blows_refused,
                  metres_text(f.longest_blow, 1), fixed(in_newtons(f.least_push_reserve), 3)));
  if (f.has_light)
    add_line(text, "worst margins",
             fmt::format("{} dB down, {} dB up, {} dB above the class minimum",
                         fixed(in_decibels(f.worst_margin_down), 2), fixed(in_decibels(f.worst_margin_up), 2),
                         fixed(in_decibels(f.worst_overload_margin), 2)));
  add_line(text, "cost",
           fmt::format("{} {} (civil {}, material {}, labour {})", amount(f.total), currency, amount(f.civil),
                       amount(f.material), amount(f.labour)));
  add_line(
      text, "opening cost at design prices",
      fmt::format("{}; {}", amount(f.trench_cost), gap_text(f.trench_cost, f.trench_bound, f.forced_cost)));
  add_line(text, "finish",
           f.crew_days == 0
               ? "no work"
               : fmt::format("{} after {} crew-days; {} working minutes, certified bound {}", iso(f.finish),
                             f.crew_days, f.programme.minutes(), f.programme_bound.minutes()));
}

void add_plausibility(const Facts& f, std::string& text) {
  text += "\nagainst usual ranges (a warning, never a failure):\n";
  for (const Plausible& p : plausibility(f)) {
    if (!p.known) continue;
    const std::string value = fmt::format("{} {}", fixed(p.value, p.decimals), p.unit);
    text +=
        fmt::format("  {:<34} {:<12} {:<8} {} to {} ({})\n", p.name, value, p.inside() ? "inside" : "outside",
                    fixed(p.low, p.decimals), fixed(p.high, p.decimals), p.source);
  }
}

}  // namespace

std::string summary_text(const Plan& plan) {
  const Facts f = facts_of(plan);
  std::string text = first_line(f);
  add_findings(plan, text);
  text += fmt::format("\n{}\n", plan.scenario.demand->name);
  add_figures(plan, f, text);
  add_plausibility(f, text);
  text += fmt::format("\n{}\n", caution_footer());
  return text;
}

void write_summary_json(const Plan& plan, const Sink& sink) {
  const Facts f = facts_of(plan);
  std::string out = "{\n";
  const auto number = [&](std::string_view key, const std::string& value) {
    out += fmt::format("  \"{}\": {},\n", key, value);
  };
  const auto count = [&](std::string_view key, int64_t value) { number(key, std::to_string(value)); };
  count("findings", static_cast<int64_t>(f.findings));
  count("notes", static_cast<int64_t>(f.notes));
  count("premises", f.premises);
  count("premises_lit", f.premises_lit);
  count("premises_reserved", f.premises_reserved);
  count("premises_unserved", f.premises_unserved);
  count("dwellings_lit", f.dwellings_lit);
  count("dwellings_reserved", f.dwellings_reserved);
  number("trench_m", metres_text(f.opened, 3));
  number("assumed_m", metres_text(f.assumed, 3));
  number("duct_m", metres_text(f.duct, 3));
  number("microduct_m", metres_text(f.microduct, 3));
  number("unit_m", metres_text(f.unit, 3));
  number("feeder_cable_m", metres_text(f.feeder_cable, 3));
  count("cabinets", f.cabinets);
  count("pons_day_one", f.pons_day_one);
  count("pons_ultimate", f.pons_ultimate);
  count("blows", f.blows);
  count("blows_refused", f.blows_refused);
  number("longest_blow_m", metres_text(f.longest_blow, 3));
  number("worst_margin_down_db", f.has_light ? fixed(in_decibels(f.worst_margin_down), 3) : "null");
  number("worst_margin_up_db", f.has_light ? fixed(in_decibels(f.worst_margin_up), 3) : "null");
  number("worst_overload_margin_db", f.has_light ? fixed(in_decibels(f.worst_overload_margin), 3) : "null");
  number("cost", amount(f.total));
  number("cost_civil", amount(f.civil));
  number("cost_material", amount(f.material));
  number("cost_labour", amount(f.labour));
  number("opening_cost", amount(f.trench_cost));
  number("opening_bound", amount(f.trench_bound));
  count("crew_days", f.crew_days);
  count("programme_minutes", f.programme.minutes());
  count("programme_bound_minutes", f.programme_bound.minutes());
  number("finish", f.crew_days == 0 ? "null" : "\"" + iso(f.finish) + "\"");
  out += "  \"plausibility\": [\n";
  const auto rows = plausibility(f);
  for (size_t i = 0; i < rows.size(); ++i) {
    const Plausible& p = rows[i];
    out += fmt::format(
        "    {{\"name\": \"{}\", \"unit\": \"{}\", \"value\": {}, \"low\": {}, \"high\": {}, \"inside\": "
        "{}}}{}\n",
        p.name, p.unit, p.known ? fixed(p.value, p.decimals) : "null", fixed(p.low, p.decimals),
        fixed(p.high, p.decimals), p.known ? (p.inside() ? "true" : "false") : "null",
        i + 1 < rows.size() ? "," : "");
  }
  out += "  ]\n}\n";
  sink(out);
}

}  // namespace plan
