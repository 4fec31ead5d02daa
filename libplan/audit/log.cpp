#include "audit/log.h"

#include <fmt/core.h>

#include <algorithm>
#include <tuple>

namespace plan {

void AuditLog::add(std::string_view rule, std::string_view file, uint32_t line, std::string message) {
  if (++counts_[rule] > kept_of_a_rule) return;
  kept_.push_back({rule, std::string(file), line, std::move(message)});
}

AuditFaults AuditLog::take() {
  for (const auto& [rule, count] : counts_)
    if (count > kept_of_a_rule)
      kept_.push_back({rule, "", 0, fmt::format("and {} more of this rule", count - kept_of_a_rule)});
  return std::move(kept_);
}

}  // namespace plan
