#include <algorithm>
#include <map>

#include "base/date.h"
#include "base/text.h"
#include "explain/teller.h"

namespace withy {
namespace {

using plan::no_cell;
using plan::or_zero;
using plan::WrittenPlan;

// Thousandths of metres or pieces by station, where the tables say to whom an item belongs.
class Origins {
 public:
  explicit Origins(const WrittenPlan& written) : plan_(written) {}
  std::map<int64_t, int64_t> by_station;

  void find(std::string_view item, std::string_view group) {
    if (group == "labour") return tasks(item);
    if (group == "civil") return openings(item);
    cuts(item);
    pieces("stations.csv", "type", "station", item);
    pieces("splitters.csv", "type", "station", item);
  }

 private:
  void add(int64_t station, int64_t amount) {
    if (station != no_cell) by_station[station] += amount;
  }

  void tasks(std::string_view kind) {
    const plan::WrittenTable& t = plan_["programme.csv"];
    for (size_t row = 0; row < t.rows(); ++row)
      if (plan_.words[t["kind"][row]] == kind) add(t["area"][row], or_zero(t["amount"][row]));
  }

  // Dug for the runs of a station; drops on order as far as the programme digs them.
  void openings(std::string_view item) {
    const plan::WrittenTable& t = plan_["programme.csv"];
    for (size_t row = 0; row < t.rows(); ++row) {
      const std::string_view surface = plan_.words[t["surface"][row]];
      if (plan_.words[t["kind"][row]] == "dig" && item == "open " + std::string(surface))
        add(t["area"][row], or_zero(t["amount"][row]));
    }
  }

  void cuts(std::string_view item) {
    const plan::WrittenTable& t = plan_["drums.csv"];
    for (size_t row = 0; row < t.rows(); ++row) {
      if (plan_.words[t["item"][row]] != item) continue;
      const int64_t run = t["run"][row], link = t["link"][row];
      const int64_t station =
          run != no_cell ? plan_["runs.csv"]["station"][run] : plan_["links.csv"]["from station"][link];
      add(station, or_zero(t["metre out"][row]) - or_zero(t["metre in"][row]));
    }
  }

  void pieces(std::string_view file, std::string_view column, std::string_view station,
              std::string_view item) {
    const plan::WrittenTable& t = plan_[file];
    const bool splitters = file == "splitters.csv";
    for (size_t row = 0; row < t.rows(); ++row)
      if (plan_.words[t[column][row]] == item && (!splitters || plan_.words[t["fitted"][row]] == "day one"))
        add(t[station][row], 1000);
  }

  const WrittenPlan& plan_;
};

}  // namespace

void Teller::bill_line(int64_t row) {
  constexpr std::string_view file = "bill-of-materials.csv";
  const std::string item = word(file, "item", row), unit = word(file, "unit", row),
                    source = word(file, "price source", row);
  const auto day = [&](std::string_view column) {
    const int64_t value = cell(file, column, row);
    return value == no_cell ? std::string("no day") : plan::iso({static_cast<int32_t>(value)});
  };
  const auto amount_of = [&](int64_t thousandths) {
    return unit == "piece" ? counted(thousandths / 1000, "piece")
                           : plan::fixed(static_cast<double>(thousandths) / 1000, 3) + " " + unit;
  };
  const int64_t packs = cell(file, "packs", row);
  line("{}: {}; {} needed, {} ordered{}", item, word(file, "group", row),
       amount_of(or_zero(cell(file, "needed", row))), amount_of(or_zero(cell(file, "ordered", row))),
       packs == no_cell ? "" : fmt::format(" in {}", counted(packs, unit == "m" ? "drum" : "pack")));
  line("price {} a {}{}, amount {}; needed on {}, order by {}", number(file, "price", row), unit,
       source.empty() ? "" : " (" + source + ")", number(file, "amount", row), day("needed on"),
       day("order by"));
  line("added up from: {}", word(file, "reasons", row));
  Origins origins(plan_);
  origins.find(item, word(file, "group", row));
  std::map<int64_t, int64_t> areas;
  for (const auto& [station, amount] : origins.by_station) areas[area_of(station)] += amount;
  if (areas.empty()) line("  the tables do not say for which areas");
  for (const auto& [station, amount] : areas)
    line("  {:>16} in the area of {}", unit == "h" ? counted(amount / 1000, "piece") : amount_of(amount),
         station_name(station));
  findings_at(item);
}

}  // namespace withy
