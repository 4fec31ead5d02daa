// Private to audit: the faults found, counted by rule. Of each rule the first are kept and the rest said
// in one closing line, so that one broken table cannot bury every other fault.
#pragma once
#include <map>
#include <string>
#include <string_view>

#include "audit/audit.h"
#include "record/written_table.h"

namespace plan {

class AuditLog {
 public:
  static constexpr size_t kept_of_a_rule = 100;

  void add(std::string_view rule, std::string_view file, uint32_t line, std::string message);
  // At a row of a table; a row outside it stands for the whole file.
  template <std::integral I>
  void add(std::string_view rule, const WrittenTable& table, I row, std::string message) {
    add(rule, table.file(), table.line(row), std::move(message));
  }
  AuditFaults take();

 private:
  AuditFaults kept_;
  std::map<std::string_view, size_t> counts_;
};

}  // namespace plan
