#include <fmt/core.h>

#include <algorithm>

#include "base/csv.h"
#include "base/text.h"
#include "files/table_faults.h"
#include "files/tables.h"

namespace withy {
namespace {

using plan::CsvField;
using plan::NodeRef;
using plan::shown;
using plan::Tree;
using plan::TreeKind;

constexpr size_t most_columns = 256;
constexpr size_t absent = SIZE_MAX;

struct Column {
  std::string key;
  uint32_t line = 1, column = 1;
};

class CsvRows {
 public:
  CsvRows(const std::string& name, Tree& tree) : faults(name), tree_(tree) {}

  void header(const std::vector<CsvField>& row) {
    if (row.size() > most_columns)
      return faults.add(1, 1, fmt::format("{} columns, expected at most {}", row.size(), most_columns));
    for (const CsvField& field : row) {
      const std::string key(plan::trimmed(field.text));
      if (key.empty()) faults.add(field.line, field.column, "column without a name");
      if (column_of(key) != absent && !key.empty())
        faults.add(field.line, field.column, fmt::format("column '{}' stands twice", shown(key)));
      columns_.push_back({key, field.line, field.column});
    }
    x_ = column_of("x"), y_ = column_of("y");
    if ((x_ == absent) != (y_ == absent)) {
      const Column& one = columns_[x_ == absent ? y_ : x_];
      faults.add(one.line, one.column,
                 fmt::format("column '{}' needs a column '{}' beside it", one.key, x_ == absent ? "x" : "y"));
    }
    refuse_other_separators();
  }

  NodeRef row(const std::vector<CsvField>& fields) {
    const NodeRef mapping = tree_.add(TreeKind::mapping, "", fields[0].line, fields[0].column);
    if (fields.size() != columns_.size()) {
      faults.add(fields[0].line, fields[0].column,
                 fmt::format("row has {} fields, the header has {}", fields.size(), columns_.size()));
      return mapping;
    }
    for (size_t i = 0; i < fields.size(); ++i) {
      if (plan::trimmed(fields[i].text).empty() || i == y_) continue;
      if (i == x_) continue;
      append(mapping, i, columns_[i].key == "line" ? line(fields[i]) : scalar(fields[i].text, fields[i]));
    }
    if (x_ != absent) position(mapping, fields[x_], fields[y_]);
    return mapping;
  }

  TableFaults faults;

 private:
  size_t column_of(std::string_view key) const {
    const auto at =
        std::find_if(columns_.begin(), columns_.end(), [&](const Column& c) { return c.key == key; });
    return at == columns_.end() ? absent : static_cast<size_t>(at - columns_.begin());
  }
  void refuse_other_separators() {
    if (columns_.size() != 1) return;
    for (const char other : {';', '\t', '|'})
      if (columns_[0].key.find(other) != std::string::npos)
        faults.add(1, 1,
                   fmt::format("columns are separated by {}, expected ','",
                               other == '\t' ? "a tab" : fmt::format("'{}'", other)));
  }
  NodeRef scalar(std::string_view text, const CsvField& at) {
    return tree_.add(TreeKind::scalar, plan::trimmed(text), at.line, at.column);
  }
  // The key stands where the header has it: what is wrong with the key is told there.
  void append(NodeRef mapping, size_t column, NodeRef value) {
    const Column& c = columns_[column];
    const NodeRef pair = tree_.add(TreeKind::pair, c.key, c.line, c.column);
    tree_.append(pair, value);
    tree_.append(mapping, pair);
  }
  void position(NodeRef mapping, const CsvField& x, const CsvField& y) {
    const bool no_x = plan::trimmed(x.text).empty(), no_y = plan::trimmed(y.text).empty();
    if (no_x && no_y) return;
    if (no_x || no_y)
      return faults.add(x.line, no_x ? x.column : y.column, no_x ? "'x' is empty" : "'y' is empty");
    const NodeRef list = tree_.add(TreeKind::list, "", x.line, x.column);
    tree_.append(list, scalar(x.text, x));
    tree_.append(list, scalar(y.text, y));
    tree_.add_entry(mapping, "at", list);
  }
  NodeRef line(const CsvField& field) {
    const NodeRef points = tree_.add(TreeKind::list, "", field.line, field.column);
    for (const std::string_view part : plan::split(field.text, ',')) {
      const std::string_view text = plan::trimmed(part);
      const NodeRef point = tree_.add(TreeKind::list, "", field.line, field.column);
      for (const std::string_view number : plan::split(text, ' '))
        if (!number.empty()) tree_.append(point, scalar(number, field));
      tree_.append(points, point);
    }
    return points;
  }

  Tree& tree_;
  std::vector<Column> columns_;
  size_t x_ = absent, y_ = absent;
};

}  // namespace

plan::Diagnostics csv_table(const std::string& name, std::string_view text, const plan::RowSink& sink) {
  if (plan::Diagnostics refused = refuse_bytes(name, text); !refused.empty()) return refused;
  TableBlocks blocks(name, sink);
  CsvRows rows(name, blocks.tree());
  plan::CsvReader reader(text);
  std::vector<CsvField> fields;
  if (reader.next(fields)) rows.header(fields);
  const bool readable = rows.faults.none();
  while (readable && !rows.faults.full() && reader.next(fields)) {
    if (fields.size() == 1 && fields[0].text.empty()) continue;  // a blank line
    if (blocks.too_many()) {
      rows.faults.add(fields[0].line, 1, too_many_values());
      break;
    }
    blocks.add(rows.row(fields), rows.faults.none());
  }
  if (!reader.fault().empty()) rows.faults.add(reader.fault_line(), reader.fault_column(), reader.fault());
  if (rows.faults.none()) blocks.hand_over();
  return rows.faults.take();
}

}  // namespace withy
