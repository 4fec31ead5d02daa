#include <fmt/core.h>

#include <memory>

#include "audit/audit.h"
#include "base/text.h"
#include "files/disk.h"
#include "withy/commands.h"
#include "withy/common.h"

namespace withy {
namespace {

struct Options {
  std::string scenario, plan;
  bool effective = false;
};

int check_scenario(const Options& options) {
  Sources sources;
  const auto scenario = load_scenario(options.scenario, sources);
  if (!scenario) return exit_bad_scenario;
  if (options.effective) {
    print_out(plan::effective(*scenario));
    return exit_good;
  }
  const plan::Demand& demand = *scenario->demand;
  using plan::counted;
  print_out(fmt::format("{}: well formed; {} premises, {}, {}, {}, {}\n", options.scenario,
                        demand.premises.size(), counted(demand.routes.size(), "route"),
                        counted(demand.headends.size(), "headend"), counted(demand.sites.size(), "site"),
                        counted(scenario->edits.size(), "edit")));
  return exit_good;
}

// Re-derives validity from the written tables alone.
int check_plan(const std::string& folder) {
  if (!is_plan_folder(folder)) throw OutsideFault(folder + ": is not a plan folder of Withy");
  const plan::AuditFaults faults = plan::audit(
      [&folder](std::string_view file) { return must_read(std::filesystem::path(folder) / file); });
  for (const plan::AuditFault& fault : faults) print_out(plan::rendered(fault) + "\n");
  print_out(faults.empty() ? "the plan holds: no fault in its tables\n"
                           : plan::counted(faults.size(), "fault") + "\n");
  return faults.empty() ? exit_good : exit_findings;
}

}  // namespace

void add_check(CLI::App& app, int& code) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("check", "check a scenario, or with --plan a written plan");
  CLI::Option* scenario = command->add_option("scenario", options->scenario, "scenario file (YAML)");
  command->add_flag("--effective", options->effective,
                    "print the whole scenario as used, each value with its origin");
  CLI::Option* folder = command->add_option("--plan", options->plan, "plan folder to check");
  scenario->excludes(folder);
  command->callback([options, &code] {
    if (options->scenario.empty() && options->plan.empty())
      throw CLI::RequiredError("a scenario or --plan DIR");
    code = options->plan.empty() ? check_scenario(*options) : check_plan(options->plan);
  });
}

}  // namespace withy
