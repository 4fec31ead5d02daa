#include "audit/view.h"

#include <fmt/core.h>

#include <algorithm>
#include <tuple>

#include "base/text.h"

namespace plan {
namespace {

template <class I, class T>
void add_names(const Words& words, const Table<I, T>& table, NumberMap& into) {
  for (const I i : table.ids())
    if (const int64_t word = words.find(table[i].name); word != Words::no_word) into.add(word, i.value);
  into.sort();
}

using Pair = std::pair<int64_t, int64_t>;

bool begins(const std::vector<Pair>& pairs, int64_t key) {
  const auto at = std::lower_bound(pairs.begin(), pairs.end(), Pair(key, INT64_MIN));
  return at != pairs.end() && at->first == key;
}

}  // namespace

void FoundRules::read(const WrittenPlan& plan) {
  words_ = &plan.words;
  const WrittenTable& findings = plan["findings.csv"];
  const Cells &rule = findings["rule"], &at = findings["at"];
  for (size_t row = 0; row < findings.rows(); ++row) {
    by_rule_.emplace_back(rule[row], at[row]);
    by_subject_.emplace_back(at[row], rule[row]);
  }
  std::sort(by_rule_.begin(), by_rule_.end());
  std::sort(by_subject_.begin(), by_subject_.end());
}

bool FoundRules::anywhere(std::string_view rule) const {
  return begins(by_rule_, words_->find(rule));
}

bool FoundRules::at(std::string_view rule, std::string_view subject) const {
  return std::binary_search(by_rule_.begin(), by_rule_.end(),
                            Pair(words_->find(rule), words_->find(subject)));
}

bool FoundRules::any_at(std::string_view subject) const {
  return begins(by_subject_, words_->find(subject));
}

AuditView::AuditView(const WrittenPlan& written, AuditLog& faults)
    : plan(written),
      log(faults),
      premises(plan["premises.csv"]),
      dwellings(plan["dwellings.csv"]),
      stations(plan["stations.csv"]),
      spans(plan["spans.csv"]),
      runs(plan["runs.csv"]),
      sections(plan["sections.csv"]),
      links(plan["links.csv"]),
      joints(plan["joints.csv"]),
      splitters(plan["splitters.csv"]),
      pons(plan["pons.csv"]),
      blows(plan["blows.csv"]),
      programme(plan["programme.csv"]) {
  found.read(plan);
  read_names();
  read_catalogue();
  read_opened();
}

void AuditView::read_names() {
  const auto fill = [](const WrittenTable& table, std::string_view column, NumberMap& into) {
    const Cells& key = table[column];
    for (size_t row = 0; row < table.rows(); ++row) into.add(key[row], static_cast<int64_t>(row));
    into.sort();
  };
  fill(premises, "premises", premises_by_name);
  fill(spans, "span", span_rows);
  fill(stations, "name", station_by_name);
  feeds = Cells(stations.rows());
  const Cells &to = links["to station"], &name = links["premises"], &node = links["to node"];
  for (size_t l = 0; l < links.rows(); ++l) {
    if (feeds[to[l]] == no_cell) feeds.set(to[l], static_cast<int64_t>(l));
    if (name[l] != no_cell) node_premises.add(node[l], premises_by_name[name[l]]);
  }
  node_premises.sort();
}

void AuditView::read_catalogue() {
  const Scenario& s = plan.scenario;
  add_names(plan.words, s.duct_catalogue->bundles, bundles);
  add_names(plan.words, s.duct_catalogue->microducts, microducts);
  add_names(plan.words, s.fibre_catalogue->cables, cables);
  add_names(plan.words, s.fibre_catalogue->splitters, splitter_types);
  add_names(plan.words, s.crews->crews, crews);
}

// Nothing is opened for an existing duct, nor where nothing lies; a drop on order as far as it is laid.
void AuditView::read_opened() {
  opened = Cells(spans.rows(), 0);
  const Cells &kind = spans["kind"], &length = spans["length"], &to = spans["to node"],
              &boundary = premises["boundary"];
  const int64_t duct = word("existing duct"), drop = word("drop");
  const CellLists& lying = spans.list("runs");
  for (size_t row = 0; row < spans.rows(); ++row) {
    if (kind[row] == duct || lying[row].empty()) continue;
    opened.set(row, or_zero(length[row]));
    if (kind[row] != drop) continue;
    const int64_t owner = node_premises[to[row]];
    const std::string_view laid = laid_now(owner);
    if (laid == "none") opened.set(row, 0);
    if (laid == "to boundary" && boundary[owner] > 0)
      opened.set(row, std::min(boundary[owner], or_zero(length[row])));
  }
}

std::string_view AuditView::laid_now(int64_t row) const {
  if (row == no_cell || premises["connect"][row] != word("on order")) return "to door";
  return plan.words[premises["drop laid"][row]];
}

const Bundle* AuditView::bundle(int64_t name) const {
  const int64_t at = bundles[name];
  return at == no_cell ? nullptr
                       : &plan.scenario.duct_catalogue->bundles[BundleId(static_cast<uint32_t>(at))];
}

const Microduct* AuditView::microduct_of_run(int64_t run) const {
  const Bundle* b = bundle(runs["bundle"][run]);
  return b == nullptr || !b->microduct.valid() ? nullptr
                                               : &plan.scenario.duct_catalogue->microducts[b->microduct];
}

const Cable* AuditView::cable(int64_t name) const {
  const int64_t at = cables[name];
  return at == no_cell ? nullptr : &plan.scenario.fibre_catalogue->cables[CableId(static_cast<uint32_t>(at))];
}

const SplitterType* AuditView::splitter_type(int64_t name) const {
  const int64_t at = splitter_types[name];
  return at == no_cell ? nullptr
                       : &plan.scenario.fibre_catalogue->splitters[SplitterTypeId(static_cast<uint32_t>(at))];
}

std::string AuditView::premises_name(int64_t row) const {
  return "premises " + text(premises["premises"][row]);
}

std::string AuditView::station_name(int64_t station) const {
  return text(stations["name"][station]);
}

std::string AuditView::link_name(int64_t link) const {
  const int64_t name = links["premises"][link];
  return fmt::format("link {} to {}", link,
                     name != no_cell ? "premises " + text(name) : station_name(links["to station"][link]));
}

std::string AuditView::span_name(int64_t row) const {
  const int64_t route = spans["route"][row];
  return route == no_cell ? fmt::format("span {}", spans["span"][row])
                          : fmt::format("span {} ({})", spans["span"][row], plan.words[route]);
}

std::vector<uint32_t> rows_by(const Cells& column) {
  std::vector<uint32_t> order;
  order.reserve(column.size());
  for (size_t row = 0; row < column.size(); ++row)
    if (column[row] != no_cell) order.push_back(static_cast<uint32_t>(row));
  const auto less = [&](uint32_t a, uint32_t b) { return column[a] < column[b]; };
  if (!std::is_sorted(order.begin(), order.end(), less)) std::stable_sort(order.begin(), order.end(), less);
  return order;
}

std::string metres_of_cell(int64_t mm) {
  return mm == no_cell ? "none" : fixed(static_cast<double>(mm) / 1000, 3);
}

std::string cell_text(int64_t cell) {
  return cell == no_cell ? "none" : fmt::format("{}", cell);
}

}  // namespace plan
