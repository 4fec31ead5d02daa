#include "record/written_plan.h"

#include <fmt/core.h>

#include <algorithm>

#include "base/check.h"

namespace plan {
namespace {

constexpr std::string_view orders_file = "work-orders.csv";
constexpr std::string_view scenario_file = "scenario.yaml";
// Stands in for an estate whose tables are files elsewhere.
constexpr std::string_view stand_in =
    "estate:\n  premises: [{name: \"-\", at: [0, 0]}]\n"
    "  routes: [{name: \"-\", line: [[0, 0], [1, 0]], kind: existing duct, bore: 50 mm}]\n";

WrittenTable read_file(std::string_view file, Words& words, const WrittenTexts& texts,
                       const WrittenTell& tell) {
  const std::string text = texts(file);
  return read_table(table_schema(file), text, words,
                    [&](std::string_view rule, uint32_t line, std::string message) {
                      tell(rule, file, line, std::move(message));
                    });
}

// The scenario's top-level keys stand at the margin, as effective() prints them.
template <class F>
void each_section(std::string_view text, F&& take) {
  for (size_t at = 0; at < text.size();) {
    size_t end = at;
    do {
      end = std::min(text.find('\n', end), text.size() - 1) + 1;
    } while (end < text.size() && (text[end] == ' ' || text[end] == '\n' || text[end] == '-'));
    const std::string_view section = text.substr(at, end - at);
    take(section.substr(0, section.find(':')), section);
    at = end;
  }
}

// All headends at one place: positions in a system of their own lie far from the stand-in.
std::string moved(std::string_view headends) {
  std::string out;
  for (size_t at = 0; at < headends.size();) {
    const size_t end = std::min(headends.find('\n', at), headends.size() - 1) + 1;
    const std::string_view line = headends.substr(at, end - at);
    const size_t key = line.find_first_not_of(" -");
    if (key != std::string_view::npos && line.substr(key).starts_with("at:"))
      out += std::string(line.substr(0, key)) + "at: [0, 0]\n";
    else
      out += line;
    at = end;
  }
  return out;
}

// Edits are of no use here; they would be read and checked one by one.
std::string without_edits(std::string_view text) {
  std::string out;
  each_section(text, [&](std::string_view key, std::string_view section) {
    if (key != "edits") out += section;
  });
  return out;
}

std::string with_stand_in(std::string_view text) {
  std::string out;
  each_section(text, [&](std::string_view key, std::string_view section) {
    if (key == "headends")
      out += moved(section);
    else if (key != "edits" && key != "estate" && key != "site")
      out += section;
  });
  return out + std::string(stand_in);
}

Result<Scenario> read_text(const std::string& text, bool& asked_for_table) {
  Files files;
  files.text = [&](const std::string& path) {
    return path == scenario_file ? good(text) : failed<std::string>("not part of a plan folder");
  };
  files.table = [&](const std::string&, std::string_view, const RowSink&) {
    asked_for_table = true;
    return failed<NodeRef>("not part of a plan folder").diagnostics;
  };
  return read_scenario(files, std::string(scenario_file));
}

void read_as_used(const WrittenTexts& texts, const WrittenTell& tell, WrittenPlan& plan) {
  const std::string text = texts(scenario_file);
  bool asked = false, again = false;
  Result<Scenario> read = read_text(without_edits(text), asked);
  if (!read && asked) read = read_text(with_stand_in(text), again);
  plan.scenario_known = read.value.has_value();
  plan.estate_known = plan.scenario_known && !asked;
  if (plan.scenario_known) {
    plan.scenario = std::move(*read);
    return;
  }
  const Diagnostic first = read.diagnostics.empty() ? Diagnostic() : read.diagnostics.front();
  tell("scenario-unreadable", scenario_file, 0, first.message);
}

}  // namespace

const WrittenTable& WrittenPlan::operator[](std::string_view file) const {
  for (const WrittenTable& t : tables)
    if (t.file() == file) return t;
  broken_invariant("no such table", __FILE__, __LINE__);
}

WrittenPlan read_written_plan(const WrittenTexts& texts, const WrittenTell& tell) {
  WrittenPlan plan;
  for (const TableSchema& schema : table_schemas()) {
    if (schema.file == orders_file)
      plan.tables.emplace_back(schema);
    else
      plan.tables.push_back(read_file(schema.file, plan.words, texts, tell));
  }
  plan.summary = texts("summary.json");
  read_as_used(texts, tell, plan);
  return plan;
}

WrittenTable read_work_orders(WrittenPlan& plan, const WrittenTexts& texts, const WrittenTell& tell) {
  return read_file(orders_file, plan.words, texts, tell);
}

void NumberMap::sort() {
  std::stable_sort(rows_.begin(), rows_.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
}

int64_t NumberMap::operator[](int64_t key) const {
  const auto at = std::lower_bound(rows_.begin(), rows_.end(), key,
                                   [](const auto& row, int64_t k) { return row.first < k; });
  return at != rows_.end() && at->first == key ? at->second : no_cell;
}

}  // namespace plan
