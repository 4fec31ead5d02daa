#include <fmt/core.h>

#include <list>
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

std::string safe_name(const std::string& name) {
  std::string safe;
  for (const char c : name) {
    const bool plain =
        (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' || c == '-';
    safe += plain ? c : '-';
  }
  return safe;
}

std::string kept_text(const plan::Plan& plan) {
  std::string ran;
  size_t kept = 0;
  for (const plan::StageRun& s : plan.stages) {
    if (s.kept)
      ++kept;
    else
      ran += (ran.empty() ? "" : ", ") + std::string(s.stage);
  }
  return fmt::format("kept {} stages; ran {}", kept, ran.empty() ? "none" : ran);
}

int compare(const Options& options) {
  OutputFolder folder(options.out);
  Sources sources;
  const auto scenario = load_scenario(options.scenario, sources);
  if (!scenario) return exit_bad_scenario;
  const plan::Run run = run_with_progress(options.threads);
  const plan::Plan base = plan::make_plan(*scenario, nullptr, plan::Hold::nothing, run);
  std::list<plan::Plan> edits;  // addresses stay
  std::vector<plan::Variant> variants{{"base", &base}};
  std::string log;
  for (const plan::Edit& edit : scenario->edits) {
    const auto changed = plan::edited(noting_files(sources), *scenario, edit);
    if (!changed) {
      print(changed.diagnostics);
      return exit_bad_scenario;
    }
    edits.push_back(plan::make_plan(*changed, &base, edit.hold, run));
    variants.push_back({edit.name, &edits.back()});
    log += fmt::format("{}: {}\n", edit.name, kept_text(edits.back()));
  }
  const std::string table = plan::comparison_text(variants);
  folder.write("comparison.txt", table + "\n" + log);
  plan::write_comparison(variants, folder.file("comparison.csv"));
  for (const plan::Variant& v : variants)
    folder.write("summaries/" + safe_name(v.name) + ".txt", plan::summary_text(*v.plan));
  folder.publish();
  print_out(table + "\n" + log + fmt::format("\nwritten to {}\n", options.out));
  return exit_good;
}

}  // namespace

void add_whatif(CLI::App& app, int& code) {
  auto options = std::make_shared<Options>();
  CLI::App* command =
      app.add_subcommand("whatif", "plan the scenario's named edits on top of it and compare");
  command->add_option("scenario", options->scenario, "scenario file (YAML) with `edits`")->required();
  command->add_option("--out", options->out, "folder to write")->required();
  command->add_option("--threads", options->threads, "threads; changes no byte of the result")
      ->check(CLI::Range(1, 64));
  command->callback([options, &code] { code = compare(*options); });
}

}  // namespace withy
