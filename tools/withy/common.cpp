#include "withy/common.h"

#include <fmt/core.h>
#include <unistd.h>

#include <atomic>
#include <csignal>
#include <cstdio>

#include "audit/audit.h"
#include "base/check.h"
#include "base/text.h"
#include "files/disk.h"
#include "report/report.h"
#include "withy/commands.h"

namespace withy {
namespace {

std::atomic<bool> interrupted{false};
static_assert(std::atomic<bool>::is_always_lock_free);

void note_interrupt(int) {
  interrupted = true;
}

void stop_if_interrupted() {
  if (interrupted) throw OutsideFault("interrupted; nothing was written");
}

}  // namespace

void print_out(std::string_view text) {
  std::fwrite(text.data(), 1, text.size(), stdout);
}
void print_error(std::string_view text) {
  std::fwrite(text.data(), 1, text.size(), stderr);
}

void print(const plan::Diagnostics& diagnostics) {
  for (const plan::Diagnostic& d : diagnostics) print_error(plan::rendered(d));
}

int refuse(const plan::Diagnostics& faults) {
  print(faults);
  print_error(fmt::format("{}; nothing was written\n", plan::counted(faults.size(), "fault")));
  return exit_bad_scenario;
}

std::optional<plan::Scenario> load_scenario(const std::string& path, Sources& sources) {
  sources.scenario = path;
  auto scenario = plan::read_scenario(noting_files(sources), path);
  if (!scenario) {
    refuse(scenario.diagnostics);
    return {};
  }
  print(scenario->warnings);
  return std::move(*scenario);
}

void note_interrupts() {
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) std::signal(signal, note_interrupt);
}

plan::Run run_with_progress(int threads) {
  const bool terminal = isatty(STDERR_FILENO) == 1;
  return {threads, [terminal](std::string_view stage, double share) {
            stop_if_interrupted();
            if (terminal) print_error(fmt::format("\r\033[K{} {} %", stage, static_cast<int>(100 * share)));
            if (terminal && share >= 1) print_error("\r\033[K");
          }};
}

void write_plan(const plan::Plan& plan, const Sources& sources, OutputFolder& folder) {
  for (const plan::Output& output : plan::plan_outputs(plan)) {
    stop_if_interrupted();
    output.write(folder.file(output.file));
  }
  folder.write("scenario.yaml", plan::effective(plan.scenario));
  folder.write("sources.csv", sources_text(sources));
  folder.close_files();
}

void check_written(const OutputFolder& folder) {
  const plan::AuditTexts texts = [&folder](std::string_view file) {
    return must_read(folder.working() / file);
  };
  const plan::AuditFaults faults = plan::audit(texts);
  if (faults.empty()) return;
  std::string message =
      fmt::format("the plan checker found {} in the written plan:", plan::counted(faults.size(), "fault"));
  for (size_t i = 0; i < faults.size() && i < 10; ++i) message += "\n  " + plan::rendered(faults[i]);
  throw plan::BrokenInvariant(message);
}

}  // namespace withy
