// Private to audit: the written plan and what several rules look up in it. Every look-up is total: what a
// damaged table leaves open is no_cell.
#pragma once
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "audit/log.h"
#include "record/written_plan.h"

namespace plan {

// Rules that the plan itself says it cannot meet; they explain what would else be a fault.
class FoundRules {
 public:
  void read(const WrittenPlan& plan);
  bool anywhere(std::string_view rule) const;
  bool at(std::string_view rule, std::string_view subject) const;
  bool any_at(std::string_view subject) const;  // whatever the rule

 private:
  const Words* words_ = nullptr;
  std::vector<std::pair<int64_t, int64_t>> by_rule_;     // (rule, subject), sorted
  std::vector<std::pair<int64_t, int64_t>> by_subject_;  // (subject, rule), sorted
};

struct AuditView {
  AuditView(const WrittenPlan& written, AuditLog& faults);

  const WrittenPlan& plan;
  AuditLog& log;
  const WrittenTable &premises, &dwellings, &stations, &spans, &runs, &sections, &links, &joints, &splitters,
      &pons, &blows, &programme;
  FoundRules found;
  NumberMap premises_by_name, span_rows, station_by_name, node_premises;
  NumberMap bundles, microducts, cables, splitter_types, crews;  // word of the name -> place in the catalogue
  Cells feeds;                                                   // by station: the link that feeds it
  Cells opened;  // by row of spans.csv: millimetres of ground opened

  // The number of a word that tables use; equal to no cell where none does.
  int64_t word(std::string_view text) const { return plan.words.find(text); }
  std::string text(int64_t w) const { return std::string(plan.words[w]); }
  const Bundle* bundle(int64_t name) const;  // null where the catalogue has none
  const Microduct* microduct_of_run(int64_t run) const;
  const Cable* cable(int64_t name) const;
  const SplitterType* splitter_type(int64_t name) const;
  std::string premises_name(int64_t row) const;  // "premises 12 Mill Lane", as findings say it
  std::string station_name(int64_t station) const;
  std::string link_name(int64_t link) const;  // "link 5 to premises 12 Mill Lane"
  std::string span_name(int64_t row) const;
  // On order: how much is laid at build, in the words of the scenario; "to door" for all others.
  std::string_view laid_now(int64_t premises_row) const;

 private:
  void read_names();
  void read_catalogue();
  void read_opened();
};

// Rows in the order of a column, no_cell left out; equal keys in the order of rows.
std::vector<uint32_t> rows_by(const Cells& column);
// Calls use(key, rows) for each run of equal keys.
template <class F>
void each_group(const Cells& column, F&& use) {
  const std::vector<uint32_t> order = rows_by(column);
  for (size_t first = 0; first < order.size();) {
    size_t last = first;
    while (last < order.size() && column[order[last]] == column[order[first]]) ++last;
    use(column[order[first]], std::span<const uint32_t>(order).subspan(first, last - first));
    first = last;
  }
}

// Millimetres as metres, for messages.
std::string metres_of_cell(int64_t mm);
// A cell as it reads in a message: "none" where empty.
std::string cell_text(int64_t cell);

}  // namespace plan
