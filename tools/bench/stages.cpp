#include "bench/stages.h"

#include <fmt/core.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <memory>

#include "audit/audit.h"
#include "base/text.h"
#include "files/disk.h"
#include "files/folder.h"
#include "graph/street_graph.h"
#include "report/report.h"

namespace withy {
namespace {

double peak_megabytes() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

// One whole-graph shortest-path pass by the library, as the measure of the machine.
void measure_of_the_machine(const plan::Network& network) {
  plan::Table<plan::SpanId, int64_t> lengths;
  plan::Table<plan::SpanId, plan::Ends> ends;
  for (const plan::Span& s : network.spans) {
    lengths.add(plan::to_whole_millimetres(s.length));
    ends.add({s.from, s.to});
  }
  const plan::StreetGraph graph(network.at.size(), ends);
  const Stopwatch watch;
  const std::vector<plan::NodeId> from{network.headend_nodes[plan::HeadendId(0u)]};
  const plan::PathTree tree = plan::shortest_paths(graph, lengths, from);
  print_step(fmt::format("one Boost.Graph pass, {} nodes", tree.cost.size()), watch.seconds());
}

void print_sizes(const plan::Network& network) {
  print_fact(fmt::format("{} premises, {} nodes, {} spans, {}", network.premises_nodes.size(),
                         network.at.size(), network.spans.size(),
                         plan::counted(network.components, "component")));
}

// The plan is gone when this returns, as in `withy plan`.
void plan_and_write(const plan::Files& files, const Planning& planning, OutputFolder& folder) {
  Stopwatch watch;
  const auto scenario = plan::read_scenario(files, planning.scenario);
  if (!scenario) throw OutsideFault(plan::rendered(scenario.diagnostics[0]));
  print_step("read scenario", watch.seconds());
  const plan::Plan plan =
      plan::make_plan(*scenario, nullptr, plan::Hold::nothing, printing_run(planning.threads));
  watch.again();
  for (const plan::Output& o : plan::plan_outputs(plan)) o.write(folder.file(o.file));
  folder.write("scenario.yaml", plan::effective(plan.scenario));
  folder.close_files();
  print_step("report", watch.seconds());
  measure_of_the_machine(*plan.network);
  print_sizes(*plan.network);
  const std::string summary = plan::summary_text(plan);
  print_fact(summary.substr(0, summary.find('\n')));
}

}  // namespace

void print_step(std::string_view what, double seconds) {
  std::fputs(
      fmt::format("  {:<34} {:>9.3f} s   peak {:>8.1f} MiB\n", what, seconds, peak_megabytes()).c_str(),
      stdout);
}

void print_fact(std::string_view text) {
  std::fputs(fmt::format("  {}\n", text).c_str(), stdout);
}

plan::Run printing_run(int threads) {
  const auto watch = std::make_shared<Stopwatch>();
  return {threads, [watch](std::string_view stage, double share) {
            if (share <= 0) watch->again();
            if (share >= 1) print_step(stage, watch->seconds());
          }};
}

void plan_in_steps(const plan::Files& files, const Planning& planning) {
  const Stopwatch all;
  OutputFolder folder(planning.folder);
  plan_and_write(files, planning, folder);
  const Stopwatch watch;
  const auto faults = plan::audit([&](std::string_view file) { return must_read(folder.working() / file); });
  print_step("checker: " + plan::counted(faults.size(), "fault"), watch.seconds());
  print_step("plan in all", all.seconds());
}

bool in_child(const std::function<void()>& work) {
  std::fflush(stdout);
  const pid_t child = fork();
  if (child == 0) {
    int code = 0;
    try {
      work();
    } catch (const std::exception& e) {
      std::fputs(fmt::format("{}\n", e.what()).c_str(), stderr);
      code = 1;
    }
    std::fflush(stdout);
    _exit(code);
  }
  int status = 0;
  return child > 0 && waitpid(child, &status, 0) == child && WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

}  // namespace withy
