#include <fmt/core.h>

#include <memory>

#include "report/report.h"
#include "withy/commands.h"
#include "withy/common.h"

namespace withy {
namespace {

struct Options {
  std::string scenario, out;
  int threads = 2;
};

struct Told {
  std::string summary;
  int code = exit_good;
};

// The plan lives only in here: in a large estate the checker needs the room.
Told plan_into(const Options& options, OutputFolder& folder) {
  Sources sources;
  const auto scenario = load_scenario(options.scenario, sources);
  if (!scenario) return {"", exit_bad_scenario};
  const plan::Run run = run_with_progress(options.threads);
  const plan::Plan plan = plan::make_plan(*scenario, nullptr, plan::Hold::nothing, run);
  write_plan(plan, sources, folder);
  return {plan::summary_text(plan), plan::fails(plan::all_findings(plan)) ? exit_findings : exit_good};
}

int plan_scenario(const Options& options) {
  OutputFolder folder(options.out);
  const Told told = plan_into(options, folder);
  if (told.code == exit_bad_scenario) return told.code;
  check_written(folder);
  folder.publish();
  print_out(told.summary);
  print_out(fmt::format("\nwritten to {}\n", options.out));
  return told.code;
}

}  // namespace

void add_plan(CLI::App& app, int& code) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("plan", "plan a scenario and write the plan folder");
  command->add_option("scenario", options->scenario, "scenario file (YAML)")->required();
  command->add_option("--out", options->out, "folder to write")->required();
  command->add_option("--threads", options->threads, "threads; changes no byte of the result")
      ->check(CLI::Range(1, 64));
  command->callback([options, &code] { code = plan_scenario(*options); });
}

}  // namespace withy
