// The plan checker: re-derives validity from the written tables alone. It shares formulas (model) and
// the record schema with the stages, never their paths: a bug that a stage and its writer agree on is
// still seen here.
//
//   AuditFaults faults = audit([&](std::string_view file) { return text of that file; });
//
// Needs the tables of record/record.h and scenario.yaml (the scenario as used). Checks, among others:
// every duct path unbroken from station to premises, no section in two paths, sections of one position
// of a run not overlapping and filling it, every at-build dwelling lit once, every on-order dwelling with
// a reserved microduct, port and feasible blow, quantities equal to placed lengths, losses re-added from
// their parts, no crew in two places, no task before what it waits for. Linear in the size of the tables,
// but for sorts.
#pragma once
#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace plan {

struct AuditFault {
  std::string_view rule;     // stable name: "path-broken"
  std::string file;
  uint32_t row = 0;          // line of the file, the header is 1; 0 = the whole file
  std::string message;
  friend bool operator==(const AuditFault&, const AuditFault&) = default;
};
using AuditFaults = std::vector<AuditFault>;

// "sections.csv:12: path-broken: …"
std::string rendered(const AuditFault& fault);

using AuditTexts = std::function<std::string(std::string_view file)>;
AuditFaults audit(const AuditTexts& texts);

}  // namespace plan
