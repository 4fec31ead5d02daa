#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <optional>

#include "audit/checks.h"
#include "base/date.h"
#include "base/finding.h"
#include "base/text.h"

namespace plan {
namespace {

// The text of a figure in summary.json: a number, a quoted text or null, as it stands.
std::optional<std::string_view> figure(std::string_view json, std::string_view key) {
  const std::string quoted = fmt::format("\"{}\":", key);
  const size_t at = json.find(quoted);
  if (at == std::string_view::npos) return {};
  std::string_view rest = json.substr(at + quoted.size());
  rest = rest.substr(0, rest.find_first_of(",\n}"));
  return trimmed(rest);
}

struct Least {
  int64_t value = no_cell;
  void take(int64_t cell) {
    if (cell != no_cell && (value == no_cell || cell < value)) value = cell;
  }
};

class SummaryChecker {
 public:
  explicit SummaryChecker(const AuditView& view) : v_(view) {}

  void check() {
    check_findings();
    check_premises();
    check_lengths();
    check_light();
    check_blows();
    check_cost();
    check_programme();
  }

 private:
  void same(std::string_view key, const std::string& expected) const {
    const auto written = figure(v_.plan.summary, key);
    if (written == std::string_view(expected)) return;
    v_.log.add(
        "summary-differs", "summary.json", 0,
        fmt::format("{} is {}, the tables say {}", key, written.value_or("missing").substr(0, 40), expected));
  }
  void count(std::string_view key, int64_t expected) const { same(key, std::to_string(expected)); }
  void metres(std::string_view key, int64_t mm) const { same(key, metres_of_cell(mm)); }
  void money(std::string_view key, int64_t cents) const { same(key, amount({cents})); }
  static int64_t rows_with(const WrittenTable& table, std::string_view column, int64_t word) {
    int64_t n = 0;
    for (size_t row = 0; row < table.rows(); ++row) n += table[column][row] == word ? 1 : 0;
    return n;
  }
  static int64_t sum(const WrittenTable& table, std::string_view column) {
    int64_t total = 0;
    for (size_t row = 0; row < table.rows(); ++row) total += or_zero(table[column][row]);
    return total;
  }

  // Every rule is one that is known, and told as what it is.
  void check_findings() const {
    const WrittenTable& t = v_.plan["findings.csv"];
    std::map<std::string_view, bool> known;  // by name, whether it is a note
    for (size_t r = 0; r < static_cast<size_t>(Rule::count_); ++r)
      known[rule_text(static_cast<Rule>(r)).name] = rule_text(static_cast<Rule>(r)).note;
    for (size_t row = 0; row < t.rows(); ++row) {
      const auto at = known.find(v_.plan.words[t["rule"][row]]);
      if (at == known.end() || v_.plan.words[t["kind"][row]] != (at->second ? "note" : "finding"))
        v_.log.add("finding-unknown", t, row,
                   fmt::format("no rule '{}' is a {}", v_.plan.words[t["rule"][row]],
                               v_.plan.words[t["kind"][row]]));
    }
    count("findings", rows_with(t, "kind", v_.word("finding")));
    count("notes", rows_with(t, "kind", v_.word("note")));
  }

  void check_premises() const {
    count("premises", static_cast<int64_t>(v_.premises.rows()));
    count("premises_lit", rows_with(v_.premises, "state", v_.word("lit")));
    count("premises_reserved", rows_with(v_.premises, "state", v_.word("reserved")));
    count("premises_unserved", rows_with(v_.premises, "state", v_.word("unserved")));
    count("dwellings_lit", rows_with(v_.dwellings, "state", v_.word("lit")));
    count("dwellings_reserved", rows_with(v_.dwellings, "state", v_.word("reserved")));
    count("cabinets", rows_with(v_.stations, "kind", v_.word("cabinet")));
  }

  void check_lengths() const {
    int64_t opened = 0, unit = 0, feeder = 0;
    for (size_t row = 0; row < v_.spans.rows(); ++row) opened += v_.opened[row];
    for (size_t l = 0; l < v_.links.rows(); ++l)
      (v_.links["premises"][l] != no_cell ? unit : feeder) += or_zero(v_.links["cable length"][l]);
    metres("trench_m", opened);
    metres("duct_m", sum(v_.runs, "length"));
    metres("microduct_m", sum(v_.sections, "length"));
    metres("unit_m", unit);
    metres("feeder_cable_m", feeder);
    money("opening_cost", sum(v_.spans, "opening cost"));
  }

  void check_light() const {
    int64_t day_one = 0;
    for (size_t p = 0; p < v_.pons.rows(); ++p) day_one += v_.pons["dwellings day one"][p] > 0 ? 1 : 0;
    count("pons_day_one", day_one);
    count("pons_ultimate", static_cast<int64_t>(v_.pons.rows()));
    const auto worst = [&](std::string_view key, std::string_view column) {
      Least least;
      for (size_t d = 0; d < v_.dwellings.rows(); ++d) least.take(v_.dwellings[column][d]);
      same(key, least.value == no_cell ? "null" : fixed(static_cast<double>(least.value) / 1000, 3));
    };
    worst("worst_margin_down_db", "margin down");
    worst("worst_margin_up_db", "margin up");
    worst("worst_overload_margin_db", "overload margin");
  }

  void check_blows() const {
    const int64_t refused = v_.word("refused");
    int64_t longest = 0;
    for (size_t b = 0; b < v_.blows.rows(); ++b)
      if (v_.blows["result"][b] != refused) longest = std::max(longest, v_.blows["length"][b]);
    count("blows", static_cast<int64_t>(v_.blows.rows()));
    count("blows_refused", rows_with(v_.blows, "result", refused));
    metres("longest_blow_m", longest);
  }

  void check_cost() const {
    const WrittenTable& t = v_.plan["bill-of-materials.csv"];
    std::map<std::string_view, int64_t> cost;
    for (size_t row = 0; row < t.rows(); ++row)
      cost[v_.plan.words[t["group"][row]]] += or_zero(t["amount"][row]);
    money("cost_civil", cost["civil"]);
    money("cost_material", cost["material"]);
    money("cost_labour", cost["labour"]);
    money("cost", cost["civil"] + cost["material"] + cost["labour"]);
  }

  void check_programme() const {
    int64_t last = 0;
    for (size_t t = 0; t < v_.programme.rows(); ++t) last = std::max(last, v_.programme["finish"][t]);
    count("programme_minutes", last);
  }

  const AuditView& v_;
};

}  // namespace

void check_summary(const AuditView& view) {
  SummaryChecker(view).check();
}

}  // namespace plan
