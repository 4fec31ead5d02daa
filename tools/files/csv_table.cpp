#include <fmt/core.h>

#include "base/csv.h"
#include "base/text.h"
#include "files/disk.h"
#include "files/tables.h"

namespace withy {
namespace {

using plan::CsvField;
using plan::NodeRef;
using plan::Tree;
using plan::TreeKind;

constexpr size_t most_columns = 256;

class CsvRows {
 public:
  CsvRows(const std::string& name, Tree& tree) : name_(name), tree_(tree) {}

  void fault(uint32_t line, uint32_t column, std::string message) {
    if (faults.size() < 200) faults.push_back({{name_, line, column}, std::move(message), "", 1});
  }

  void header(const std::vector<CsvField>& row) {
    for (const CsvField& field : row) {
      const std::string key(plan::trimmed(field.text));
      if (key.empty()) fault(field.line, field.column, "column without a name");
      for (const std::string& other : keys_)
        if (other == key) fault(field.line, field.column, fmt::format("duplicate column '{}'", key));
      keys_.push_back(key);
    }
    if (keys_.size() > most_columns) fault(1, 1, fmt::format("{} columns exceed limit {}", keys_.size(), most_columns));
  }

  NodeRef row(const std::vector<CsvField>& fields) {
    const NodeRef mapping = tree_.add(TreeKind::mapping, "", fields[0].line, fields[0].column);
    if (fields.size() != keys_.size()) {
      fault(fields[0].line, fields[0].column, fmt::format("row has {} fields, the header has {}", fields.size(), keys_.size()));
      return mapping;
    }
    const CsvField* x = nullptr;
    for (size_t i = 0; i < fields.size(); ++i) {
      const CsvField& field = fields[i];
      if (plan::trimmed(field.text).empty()) continue;
      if (keys_[i] == "x") x = &field;
      else if (keys_[i] == "y") position(mapping, x, field);
      else if (keys_[i] == "line") append(mapping, "line", field, line(field));
      else append(mapping, keys_[i], field, scalar(field.text, field));
    }
    return mapping;
  }

  plan::Diagnostics faults;

 private:
  NodeRef scalar(std::string_view text, const CsvField& at) {
    return tree_.add(TreeKind::scalar, plan::trimmed(text), at.line, at.column);
  }
  void append(NodeRef mapping, std::string_view key, const CsvField& at, NodeRef value) {
    const NodeRef pair = tree_.add(TreeKind::pair, key, at.line, at.column);
    tree_.append(pair, value);
    tree_.append(mapping, pair);
  }
  void position(NodeRef mapping, const CsvField* x, const CsvField& y) {
    if (!x) return fault(y.line, y.column, "column 'y' needs a column 'x' before it");
    const NodeRef list = tree_.add(TreeKind::list, "", x->line, x->column);
    tree_.append(list, scalar(x->text, *x));
    tree_.append(list, scalar(y.text, y));
    append(mapping, "at", *x, list);
  }
  NodeRef line(const CsvField& field) {
    const NodeRef points = tree_.add(TreeKind::list, "", field.line, field.column);
    for (const std::string_view part : plan::split(field.text, ',')) {
      const std::string_view text = plan::trimmed(part);
      const NodeRef point = tree_.add(TreeKind::list, "", field.line, field.column);
      const size_t gap = text.find(' ');
      tree_.append(point, scalar(text.substr(0, gap), field));
      if (gap != std::string_view::npos) tree_.append(point, scalar(text.substr(gap + 1), field));
      tree_.append(points, point);
    }
    return points;
  }

  const std::string& name_;
  Tree& tree_;
  std::vector<std::string> keys_;
};

}  // namespace

plan::Result<NodeRef> csv_table(const std::string& name, std::string text, Tree& into) {
  CsvRows rows(name, into);
  if (!plan::valid_utf8(text)) rows.fault(0, 0, "not UTF-8 text");
  into.select_file(into.add_file(name, ""));
  plan::CsvReader reader(text);
  std::vector<CsvField> fields;
  const NodeRef list = into.add(TreeKind::list, "", 1, 1);
  if (rows.faults.empty() && reader.next(fields)) rows.header(fields);
  else rows.fault(1, 1, "no header row");
  while (rows.faults.empty() && reader.next(fields)) {
    if (fields.size() == 1 && fields[0].text.empty()) continue;  // a blank line
    into.append(list, rows.row(fields));
  }
  if (!reader.fault().empty()) rows.fault(reader.fault_line(), reader.fault_column(), reader.fault());
  if (!rows.faults.empty()) return {{}, rows.faults};
  return plan::good(list);
}

}  // namespace withy
