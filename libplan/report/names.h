// Private to report: what things are called in texts.
#pragma once
#include <string>
#include <string_view>

#include "plan/plan.h"

namespace plan {

std::string_view word(Connect c);
std::string_view word(DropLaid d);
std::string_view word(Confidence c);
std::string_view word(SpanKind k);
std::string_view word(StationKind k);
std::string_view word(DuctRole r);
std::string_view word(SectionState s);
std::string_view word(JointKind k);
std::string_view word(LightState s);

// Names of stations: a headend by its own name, else "cabinet 3", numbered in the plan's order.
class StationNames {
 public:
  explicit StationNames(const Plan& plan);
  const std::string& operator[](StationId s) const { return names_[s]; }

 private:
  Table<StationId, std::string> names_;
};

// "premises 12 Mill Lane", "span 34 (Mill Lane)", "link 5 to 12 Mill Lane".
std::string subject_name(const Plan& plan, const StationNames& stations, const Subject& s);
// The node a subject stands at; invalid where it has no place.
NodeId subject_node(const Plan& plan, const Subject& s);
// The sentence of a finding with its numbers.
std::string finding_text(const Finding& f);

}  // namespace plan
