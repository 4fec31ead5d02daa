#include <fmt/core.h>

#include <algorithm>
#include <initializer_list>

#include "audit/checks.h"

namespace plan {
namespace {

struct Numbered {
  std::string_view file, column;
};
constexpr Numbered numbered[] = {
    {"dwellings.csv", "dwelling"}, {"stations.csv", "station"}, {"runs.csv", "run"},
    {"sections.csv", "section"},   {"links.csv", "link"},       {"splitters.csv", "splitter"},
    {"pons.csv", "pon"},           {"blows.csv", "link"},       {"programme.csv", "task"},
};

struct Reference {
  std::string_view file, column, to;
  bool needed = false;
};
constexpr Reference references[] = {
    {"premises.csv", "station", "stations.csv"},
    {"premises.csv", "link", "links.csv"},
    {"premises.csv", "duct path", "sections.csv"},
    {"dwellings.csv", "premises", "premises.csv", true},
    {"dwellings.csv", "link", "links.csv"},
    {"dwellings.csv", "splitter", "splitters.csv"},
    {"dwellings.csv", "pon", "pons.csv"},
    {"stations.csv", "upstream", "stations.csv"},
    {"spans.csv", "runs", "runs.csv"},
    {"runs.csv", "station", "stations.csv", true},
    {"runs.csv", "spans", "spans.csv", true},
    {"sections.csv", "run", "runs.csv", true},
    {"sections.csv", "link", "links.csv"},
    {"links.csv", "from station", "stations.csv", true},
    {"links.csv", "to station", "stations.csv"},
    {"links.csv", "premises", "premises.csv"},
    {"links.csv", "sections", "sections.csv"},
    {"joints.csv", "section a", "sections.csv", true},
    {"joints.csv", "section b", "sections.csv"},
    {"splitters.csv", "station", "stations.csv", true},
    {"splitters.csv", "upstream", "splitters.csv"},
    {"splitters.csv", "pon", "pons.csv", true},
    {"drums.csv", "run", "runs.csv"},
    {"drums.csv", "link", "links.csv"},
    {"programme.csv", "area", "stations.csv", true},
    {"programme.csv", "before", "programme.csv"},
    {"reconciliation.csv", "station", "stations.csv", true},
};

struct Needed {
  std::string_view file, column;
};
constexpr Needed never_empty[] = {
    {"premises.csv", "premises"},  {"premises.csv", "dwellings"}, {"dwellings.csv", "number"},
    {"spans.csv", "span"},         {"spans.csv", "from node"},    {"spans.csv", "to node"},
    {"spans.csv", "length"},       {"runs.csv", "bundle"},        {"runs.csv", "from node"},
    {"runs.csv", "to node"},       {"runs.csv", "length"},        {"sections.csv", "position"},
    {"sections.csv", "from node"}, {"sections.csv", "to node"},   {"sections.csv", "length"},
    {"joints.csv", "node"},        {"links.csv", "duct length"},  {"links.csv", "cable length"},
    {"pons.csv", "port"},          {"splitters.csv", "stage"},    {"drums.csv", "metre in"},
    {"drums.csv", "metre out"},    {"programme.csv", "start"},    {"programme.csv", "finish"},
    {"programme.csv", "minutes"},  {"programme.csv", "amount"},   {"findings.csv", "rule"},
};

struct Vocabulary {
  std::string_view file, column;
  std::initializer_list<std::string_view> words;
};
const Vocabulary vocabularies[] = {
    {"premises.csv", "connect", {"at build", "on order", "never"}},
    {"premises.csv", "drop laid", {"to door", "to boundary", "none"}},
    {"premises.csv", "state", {"lit", "reserved", "not planned", "unserved"}},
    {"premises.csv", "blow", {"", "passes", "refused"}},
    {"dwellings.csv", "state", {"lit", "reserved", "unlit"}},
    {"stations.csv", "kind", {"headend", "cabinet", "branch point", "building"}},
    {"spans.csv", "kind", {"street", "drop", "link", "existing duct"}},
    {"runs.csv", "role", {"feeder", "distribution", "drop"}},
    {"sections.csv", "state", {"used", "reserved", "spare", "dead"}},
    {"joints.csv", "kind", {"straight", "reducing", "end stop", "block connector"}},
    {"blows.csv", "result", {"passes", "refused"}},
    {"blows.csv", "launch", {"station", "far end"}},
    {"splitters.csv", "fitted", {"day one", "later"}},
    {"bill-of-materials.csv", "group", {"civil", "material", "labour"}},
    {"findings.csv", "kind", {"finding", "note"}},
};

void check_numbered(const AuditView& v) {
  for (const Numbered& n : numbered) {
    const WrittenTable& table = v.plan[n.file];
    const Cells& id = table[n.column];
    for (size_t row = 0; row < table.rows(); ++row)
      if (id[row] != static_cast<int64_t>(row))
        v.log.add("id-out-of-order", table, row,
                  fmt::format("{} {} stands where {} belongs", n.column, cell_text(id[row]), row));
  }
  const Cells& span = v.spans["span"];
  for (size_t row = 1; row < v.spans.rows(); ++row)
    if (span[row] <= span[row - 1])
      v.log.add("id-out-of-order", v.spans, row,
                fmt::format("span {} follows span {}", cell_text(span[row]), cell_text(span[row - 1])));
}

bool known(const AuditView& v, std::string_view to, int64_t id) {
  if (to == "spans.csv") return v.span_rows[id] != no_cell;
  if (to == "premises.csv") return v.premises_by_name[id] != no_cell;
  return id >= 0 && id < static_cast<int64_t>(v.plan[to].rows());
}

void unknown(const AuditView& v, const Reference& r, size_t row, int64_t id) {
  const std::string what = r.to == "premises.csv" ? v.text(id) : cell_text(id);
  v.log.add("id-out-of-range", v.plan[r.file], row, fmt::format("{} {} is not in {}", r.column, what, r.to));
}

void check_reference(const AuditView& v, const Reference& r) {
  const WrittenTable& table = v.plan[r.file];
  const bool lists = table.schema().columns[table.schema().column(r.column)].kind == ColumnKind::ids;
  for (size_t row = 0; row < table.rows(); ++row) {
    if (!lists) {
      const int64_t id = table[r.column][row];
      if (id == no_cell ? r.needed : !known(v, r.to, id)) unknown(v, r, row, id);
      continue;
    }
    const auto list = table.list(r.column)[row];
    if (list.empty() && r.needed) unknown(v, r, row, no_cell);
    for (const uint32_t id : list)
      if (!known(v, r.to, id)) unknown(v, r, row, id);
  }
}

void check_vocabulary(const AuditView& v, const Vocabulary& vocabulary) {
  const WrittenTable& table = v.plan[vocabulary.file];
  const Cells& cells = table[vocabulary.column];
  std::vector<int64_t> allowed;
  for (const std::string_view w : vocabulary.words) allowed.push_back(w.empty() ? no_cell : v.word(w));
  for (size_t row = 0; row < table.rows(); ++row)
    if (std::find(allowed.begin(), allowed.end(), cells[row]) == allowed.end())
      v.log.add("word-unknown", table, row,
                fmt::format("'{}' is no {}", v.plan.words[cells[row]], vocabulary.column));
}

}  // namespace

void check_references(const AuditView& view) {
  check_numbered(view);
  for (const Reference& r : references) check_reference(view, r);
  for (const Needed& n : never_empty) {
    const WrittenTable& table = view.plan[n.file];
    const Cells& cells = table[n.column];
    for (size_t row = 0; row < table.rows(); ++row)
      if (cells[row] == no_cell)
        view.log.add("field-missing", table, row, fmt::format("{} is empty", n.column));
  }
  for (const Vocabulary& vocabulary : vocabularies) check_vocabulary(view, vocabulary);
}

}  // namespace plan
