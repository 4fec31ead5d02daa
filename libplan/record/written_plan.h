// A plan folder read back: its tables by schema and the scenario as used.
//
//   WrittenPlan plan = read_written_plan(texts, tell);
//   const WrittenTable& links = plan["links.csv"];
//   for (size_t l = 0; l < links.rows(); ++l) plan.words[links["premises"][l]] …
//
// `scenario.yaml` holds the rules, catalogues, prices and crews; where it names files for premises and
// routes, these are not part of a plan folder: the estate of `scenario` is then a stand-in and
// `estate_known` false. Headends keep their limits, not their positions. Work orders are the largest table
// and are read only when asked for. Total: what cannot be read is told by rule and left empty.
#pragma once
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "record/written_table.h"
#include "scenario/scenario.h"

namespace plan {

using WrittenTexts = std::function<std::string(std::string_view file)>;
using WrittenTell =
    std::function<void(std::string_view rule, std::string_view file, uint32_t line, std::string message)>;

struct WrittenPlan {
  Words words;
  std::vector<WrittenTable> tables;  // as table_schemas(); work-orders.csv empty
  std::string summary;               // summary.json
  Scenario scenario;
  bool scenario_known = false, estate_known = false;
  const WrittenTable& operator[](std::string_view file) const;
};

WrittenPlan read_written_plan(const WrittenTexts& texts, const WrittenTell& tell);
WrittenTable read_work_orders(WrittenPlan& plan, const WrittenTexts& texts, const WrittenTell& tell);

// From a number to a number, for ids that are no row: words of names, nodes, spans. `sort` before asking;
// the first value of equal keys stays, and `no_cell` has none.
class NumberMap {
 public:
  void add(int64_t key, int64_t value) {
    if (key != no_cell) rows_.emplace_back(key, value);
  }
  void sort();
  int64_t operator[](int64_t key) const;  // no_cell where there is none

 private:
  std::vector<std::pair<int64_t, int64_t>> rows_;
};

}  // namespace plan
