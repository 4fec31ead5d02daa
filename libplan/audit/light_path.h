// Private to audit: the parts of a light path, read from the written tables, and what they lose.
#pragma once
#include <string>
#include <vector>

#include "audit/view.h"
#include "base/quantity.h"

namespace plan {

enum class LitPart : uint8_t { glass, riser, splices, connectors, splitter, margin };

struct WrittenPart {
  LitPart part = LitPart::glass;
  std::string_view place;  // kind of the station; empty: at the premises
  int64_t amount = 0;      // millimetres of glass and riser, else pieces
  const SplitterType* type = nullptr;
};

struct PartLosses {
  Loss down_most, down_least, up_most, up_least;
};

// What glass loses under the scenario's class, read once, and the light paths of its plan.
class LightPaths {
 public:
  explicit LightPaths(const AuditView& view);
  // The parts from the OLT port outwards, margin last, into `parts`; none where the path is not whole.
  void walk(size_t dwelling, std::vector<WrittenPart>& parts) const;
  PartLosses losses(const WrittenPart& part) const;
  std::string name(const WrittenPart& part) const;
  const OpticalClass* optical_class() const { return class_; }  // null where the scenario is unknown

 private:
  int64_t leave_premises(size_t dwelling, std::vector<WrittenPart>& parts) const;
  bool cross(int64_t station, int64_t& splitter, std::vector<WrittenPart>& parts) const;
  void glass(int64_t link, std::string_view place, std::vector<WrittenPart>& parts) const;

  const AuditView& v_;
  const OpticRules& rules_;
  const OpticalClass* class_ = nullptr;
  Attenuation down_planned_, up_planned_, down_typical_, up_typical_;
  int64_t headend_, cabinet_;
};

}  // namespace plan
