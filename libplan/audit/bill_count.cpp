#include "audit/bill_count.h"

#include <algorithm>
#include <set>

namespace plan {
namespace {

constexpr int64_t thousandth = 1000;  // pieces are printed with three decimals

// Quantities counted again from the placed plan, by item.
class BillCount {
 public:
  explicit BillCount(const AuditView& view) : v_(view), work_(count_work(view)) {
    openings();
    ducts();
    stations();
    cables();
    parts();
    works();
  }
  BillQuantities needed;

 private:
  void add(std::string_view group, const std::string& item, int64_t amount) {
    if (amount != 0) needed[{group, item}] += amount;
  }
  void add_pieces(const std::string& item, int64_t n) { add("material", item, n * thousandth); }

  void openings() {
    int64_t sum = 0;
    const Cells& surface = v_.spans["surface"];
    for (size_t row = 0; row < v_.spans.rows(); ++row) {
      add("civil", opening_item(v_.plan.words[surface[row]]), v_.opened[row]);
      sum += v_.opened[row];
    }
    add("material", "warning tape", sum);
    crossings();
  }

  // Once for each route of which anything is opened.
  void crossings() {
    const Cells &crossing = v_.spans["crossing"], &route = v_.spans["route"];
    std::set<int64_t> counted;
    for (size_t row = 0; row < v_.spans.rows(); ++row)
      if (crossing[row] != no_cell && v_.opened[row] > 0 && counted.insert(route[row]).second)
        add("civil", crossing_item(v_.plan.words[crossing[row]]), thousandth);
  }

  void ducts() {
    const WrittenTable& points = v_.plan["branch-points.csv"];
    int64_t closures = 0;
    for (size_t row = 0; row < points.rows(); ++row) {
      const std::string chamber = v_.text(points["chamber"][row]);
      chamber == "buried" ? void(++closures) : add_pieces(chamber, 1);
    }
    add_pieces("branch closure", closures);
    const WrittenTable& drums = v_.plan["drums.csv"];
    for (size_t row = 0; row < drums.rows(); ++row)
      if (drums["run"][row] != no_cell)
        add("material", v_.text(drums["item"][row]),
            or_zero(drums["metre out"][row]) - or_zero(drums["metre in"][row]));
  }

  void stations() {
    const DuctCatalogue& catalogue = *v_.plan.scenario.duct_catalogue;
    const auto first_of = [&](CabinetKind kind) {
      for (const CabinetType& c : catalogue.cabinets)
        if (c.kind == kind) return c.name;
      return std::string();
    };
    const std::string closure = first_of(CabinetKind::chamber_closure), box = first_of(CabinetKind::wall_box);
    int64_t trays = 0;
    for (size_t s = 0; s < v_.stations.rows(); ++s) {
      const std::string_view kind = v_.plan.words[v_.stations["kind"][s]];
      trays += or_zero(v_.stations["trays"][s]);
      if (kind == "cabinet") add_pieces(v_.text(v_.stations["type"][s]), 1);
      if (kind == "branch point" && !closure.empty()) add_pieces(closure, 1);
      if (kind == "building" && !box.empty()) add_pieces(box, 1);
    }
    add_pieces("splice tray", trays);
    for (size_t s = 0; s < v_.splitters.rows(); ++s)
      if (v_.splitters["fitted"][s] == v_.word("day one") && v_.splitters["type"][s] != no_cell)
        add_pieces(v_.text(v_.splitters["type"][s]), 1);
    for (size_t p = 0; p < v_.pons.rows(); ++p)
      if (v_.pons["dwellings day one"][p] > 0) add_pieces("OLT port", 1);
  }

  void cables() {
    const Cells &cable = v_.links["cable"], &length = v_.links["cable length"];
    for (size_t l = 0; l < v_.links.rows(); ++l)
      if (cable[l] != no_cell && !v_.links.list("sections")[l].empty() &&
          blown_at_build(v_, static_cast<int64_t>(l)))
        add("material", v_.text(cable[l]), or_zero(length[l]));
  }

  void parts() {
    const WrittenTable& t = v_.premises;
    int64_t boundaries = 0, points = 0;
    for (size_t row = 0; row < t.rows(); ++row) {
      if (t["link"][row] == no_cell) continue;
      if (v_.laid_now(static_cast<int64_t>(row)) == "to boundary") ++boundaries;
      if (t["state"][row] == v_.word("lit") && t["building point"][row] == 1) ++points;
    }
    add_pieces("boundary point", boundaries);
    add_pieces("building point", points);
    add_pieces("outlet", work_.lit_dwellings);
    add_pieces("pigtail", work_.lit_dwellings);
    add_pieces("splice protector", work_.splices_at_stations + work_.splices_at_premises);
    add_pieces("microduct marker", 2 * work_.prove);
  }

  void works() {
    const auto work = [&](TaskKind kind, int64_t amount) {
      add("labour", std::string(task_name(kind)), amount);
    };
    work(TaskKind::lay, work_.lay);
    work(TaskKind::blow, work_.blow);
    work(TaskKind::chamber, work_.chamber * thousandth);
    work(TaskKind::cabinet, work_.cabinet * thousandth);
    work(TaskKind::couple, work_.couple * thousandth);
    work(TaskKind::prove, work_.prove * thousandth);
    work(TaskKind::splice, (work_.splices_at_stations + work_.splices_at_premises) * thousandth);
    work(TaskKind::test, work_.lit_dwellings * thousandth);
    work(TaskKind::connect, work_.lit_dwellings * thousandth);
  }

  const AuditView& v_;
  const WorkCount work_;
};

}  // namespace

BillQuantities count_bill(const AuditView& view) {
  return BillCount(view).needed;
}

WorkCount count_work(const AuditView& v) {
  WorkCount w;
  for (size_t row = 0; row < v.spans.rows(); ++row) w.dig += v.opened[row];
  for (size_t r = 0; r < v.runs.rows(); ++r) w.lay += or_zero(v.runs["length"][r]);
  const WrittenTable& points = v.plan["branch-points.csv"];
  for (size_t row = 0; row < points.rows(); ++row)
    w.chamber += points["chamber"][row] != v.word("buried") ? 1 : 0;
  for (size_t s = 0; s < v.stations.rows(); ++s) {
    w.cabinet += v.stations["kind"][s] == v.word("cabinet") ? 1 : 0;
    w.splices_at_stations += or_zero(v.stations["splices"][s]);
  }
  for (size_t j = 0; j < v.joints.rows(); ++j)
    w.couple += v.joints["kind"][j] != v.word("block connector") ? 1 : 0;
  for (size_t l = 0; l < v.links.rows(); ++l) {
    const bool path = !v.links.list("sections")[l].empty();
    if (path && v.laid_now(v.premises_by_name[v.links["premises"][l]]) == "to door") ++w.prove;
    if (path && v.links["cable"][l] != no_cell && blown_at_build(v, static_cast<int64_t>(l)))
      w.blow += or_zero(v.links["duct length"][l]);
  }
  for (size_t d = 0; d < v.dwellings.rows(); ++d) {
    const int64_t link = v.dwellings["link"][d];
    if (v.dwellings["state"][d] != v.word("lit") || link == no_cell) continue;
    const int64_t row = v.premises_by_name[v.dwellings["premises"][d]];
    const bool point = v.links["to station"][link] == no_cell && v.premises["building point"][row] == 1;
    w.splices_at_premises += point ? 2 : 1;
    ++w.lit_dwellings;
  }
  return w;
}

}  // namespace plan
