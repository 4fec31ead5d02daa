#include <fmt/core.h>

#include <memory>

#include "files/disk.h"
#include "report/report.h"
#include "withy/commands.h"
#include "withy/common.h"

namespace withy {
namespace {

struct Options {
  std::string plan, crew, from, to, out;
  int threads = 2;
};

// The plan of a folder, made again from the sources it names; refused where one of them has changed.
std::optional<plan::Plan> planned_again(const std::string& folder, int threads) {
  if (!is_plan_folder(folder)) throw OutsideFault(folder + ": is not a plan folder of Withy");
  const Sources then = read_sources(must_read(std::filesystem::path(folder) / "sources.csv"));
  Sources now;
  const auto scenario = load_scenario(then.scenario, now);
  if (!scenario) return {};
  for (const auto& [path, source] : then.files)
    if (!now.files.contains(path) || now.files.at(path) != source) {
      print_error(fmt::format("{}: has changed since the plan was written; plan again\n", path));
      return {};
    }
  return plan::make_plan(*scenario, nullptr, plan::Hold::nothing, run_with_progress(threads));
}

int write_sheets(const Options& options) {
  const auto from = plan::parse_date(options.from), to = plan::parse_date(options.to);
  if (!from || !to) {
    print_error("--from and --to want a date such as 2027-03-01\n");
    return exit_bad_scenario;
  }
  OutputFolder folder(options.out);
  const auto plan = planned_again(options.plan, options.threads);
  if (!plan) return exit_bad_scenario;
  const auto outputs = plan::sheet_outputs(*plan, options.crew, *from, *to);
  for (const plan::Output& output : outputs) output.write(folder.file(output.file));
  folder.publish();
  print_out(fmt::format("{} sheet files written to {}\n", outputs.size(), options.out));
  return exit_good;
}

}  // namespace

void add_sheets(CLI::App& app, int& code) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("sheets", "print work orders of a planned folder for some days");
  command->add_option("plan", options->plan, "plan folder")->required();
  command->add_option("--crew", options->crew, "one crew only");
  command->add_option("--from", options->from, "first day")->required();
  command->add_option("--to", options->to, "last day")->required();
  command->add_option("--out", options->out, "folder to write")->required();
  command->callback([options, &code] { code = write_sheets(*options); });
}

}  // namespace withy
