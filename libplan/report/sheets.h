// Private to report: printable work orders, one file a crew and week, a page (form feed) a day.
#pragma once
#include <functional>

#include "report/report.h"

namespace plan {

std::vector<Output> sheets(const Plan& plan, const std::function<bool(const CrewDay&)>& wanted);

}  // namespace plan
