#include "audit/audit.h"

#include <fmt/core.h>

#include "audit/checks.h"

namespace plan {

std::string rendered(const AuditFault& f) {
  if (f.file.empty()) return fmt::format("{}: {}", f.rule, f.message);
  if (f.row == 0) return fmt::format("{}: {}: {}", f.file, f.rule, f.message);
  return fmt::format("{}:{}: {}: {}", f.file, f.row, f.rule, f.message);
}

AuditFaults audit(const AuditTexts& texts) {
  AuditLog log;
  const WrittenTell tell = [&](std::string_view rule, std::string_view file, uint32_t line,
                               std::string message) { log.add(rule, file, line, std::move(message)); };
  WrittenPlan plan = read_written_plan(texts, tell);
  if (!plan.scenario_known) return log.take();
  {
    const AuditView view(plan, log);
    check_references(view);
    check_premises(view);
    check_runs(view);
    check_paths(view);
    check_joints(view);
    check_splitters(view);
    check_fibres(view);
    check_losses(view);
    check_blows(view);
    check_drums(view);
    check_bill(view);
    check_programme(view);
    check_reconciliation(view);
    check_summary(view);
  }
  const WrittenTable orders = read_work_orders(plan, texts, tell);
  check_work_orders(AuditView(plan, log), orders);
  return log.take();
}

}  // namespace plan
