// Private to audit: what a bill has to hold, counted again from the placed plan.
#pragma once
#include <map>
#include <string>
#include <string_view>
#include <utility>

#include "audit/checks.h"

namespace plan {

// By group and item: millimetres, or thousandths of pieces. Fittings by size and seals are not among them.
using BillQuantities = std::map<std::pair<std::string_view, std::string>, int64_t>;
BillQuantities count_bill(const AuditView& view);

}  // namespace plan
