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
// their parts, no crew in two places, no task before what it waits for. What the plan's own findings say it
// cannot meet is no fault. Of each rule the first 100 faults are given and the others counted. Linear in the
// size of the tables, but for sorts.
#pragma once
#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "base/quantity.h"
#include "record/written_plan.h"

namespace plan {

struct AuditFault {
  std::string_view rule;  // stable name: "path-broken"
  std::string file;
  uint32_t row = 0;  // line of the file, the header is 1; 0 = the whole file
  std::string message;
  friend bool operator==(const AuditFault&, const AuditFault&) = default;
};
using AuditFaults = std::vector<AuditFault>;

// "sections.csv:12: path-broken: …"
std::string rendered(const AuditFault& fault);

using AuditTexts = std::function<std::string(std::string_view file)>;
AuditFaults audit(const AuditTexts& texts);

// One part of a dwelling's light path and what it loses, from the OLT port outwards, the margin last. What
// the checker adds up for every dwelling; `withy explain` shows it for one, which is why it stands here.
struct WrittenLoss {
  std::string what;    // "feeder glass", "splices at cabinet"
  int64_t amount = 0;  // millimetres of glass, else pieces
  bool in_metres = false;
  Loss down_most, down_least, up_most, up_least;
};
// By the row of dwellings.csv. Empty where no light leads there.
std::vector<WrittenLoss> written_losses(const WrittenPlan& plan, size_t dwelling);

}  // namespace plan
