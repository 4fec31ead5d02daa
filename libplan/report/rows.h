// Private to report: rows of one schema. Decimals come from the schema; a row with too few or too many
// fields is a bug and is caught at its end.
#pragma once
#include <span>

#include "base/check.h"
#include "base/csv.h"
#include "base/date.h"
#include "base/id.h"
#include "base/money.h"
#include "base/text.h"
#include "record/record.h"

namespace plan {

class Rows {
 public:
  Rows(const TableSchema& schema, const Sink& sink) : schema_(schema), csv_(sink) {
    for (const Column& c : schema.columns) csv_.text(c.name);
    csv_.end_row();
  }
  Rows& text(std::string_view value) {
    step(ColumnKind::text);
    csv_.text(value);
    return *this;
  }
  Rows& integer(int64_t value) {
    step(ColumnKind::integer);
    csv_.integer(value);
    return *this;
  }
  Rows& number(double value) {
    csv_.number(value, step(ColumnKind::number).decimals);
    return *this;
  }
  Rows& length(Length l) {
    csv_.raw(metres_text(l, step(ColumnKind::number).decimals));
    return *this;
  }
  Rows& money(Money m) {
    step(ColumnKind::money);
    csv_.raw(amount(m));
    return *this;
  }
  Rows& date(Date d) {
    step(ColumnKind::date);
    csv_.raw(iso(d));
    return *this;
  }
  Rows& flag(bool value) {
    step(ColumnKind::flag);
    csv_.raw(value ? "1" : "0");
    return *this;
  }
  Rows& empty() {
    ++at_;
    csv_.raw("");
    return *this;
  }
  template <class I>
  Rows& id(I i) {
    return i.valid() ? integer(i.value) : empty();
  }
  template <class I>
  Rows& ids(std::span<const I> list) {
    step(ColumnKind::ids);
    std::string joined;
    for (const I i : list) joined += (joined.empty() ? "" : " ") + std::to_string(i.value);
    csv_.raw(joined);
    return *this;
  }
  void end() {
    PLAN_CHECK(at_ == schema_.columns.size());
    at_ = 0;
    csv_.end_row();
  }

 private:
  const Column& step(ColumnKind kind) {
    PLAN_CHECK(at_ < schema_.columns.size() && schema_.columns[at_].kind == kind);
    return schema_.columns[at_++];
  }
  const TableSchema& schema_;
  CsvWriter csv_;
  size_t at_ = 0;
};

}  // namespace plan
