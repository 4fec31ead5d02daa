#include "bench/ladder.h"

#include <fmt/core.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>

#include "audit/audit.h"
#include "estate/invent.h"
#include "files/disk.h"
#include "files/folder.h"
#include "files/tables.h"
#include "graph/street_graph.h"
#include "report/report.h"

namespace withy {
namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point then) {
  return std::chrono::duration<double>(Clock::now() - then).count();
}

double peak_megabytes() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

void line(std::string_view what, double seconds) {
  std::fputs(
      fmt::format("  {:<28} {:>9.3f} s   peak {:>8.1f} MiB\n", what, seconds, peak_megabytes()).c_str(),
      stdout);
}

// The files of an invented estate, served from memory.
plan::Files invented_files(const InventedEstate& estate) {
  const std::string scenario = invented_scenario(estate, "ladder");
  const std::string premises = premises_geojson(estate), routes = routes_geojson(estate);
  return {[scenario](const std::string&) { return plan::good(scenario); },
          [premises, routes](const std::string& path, std::string_view, const plan::RowSink& rows) {
            return geojson_table(path, path.find("premises") != std::string::npos ? premises : routes, rows);
          }};
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
  const auto pass = Clock::now();
  const std::vector<plan::NodeId> from{network.headend_nodes[plan::HeadendId(0u)]};
  const plan::PathTree tree = plan::shortest_paths(graph, lengths, from);
  line(fmt::format("one Boost.Graph pass, {} nodes", tree.cost.size()), seconds_since(pass));
}

// The plan and the written texts; the plan is gone when this returns, as in `withy plan`.
std::string plan_and_write(int premises, int threads, OutputFolder& folder) {
  const plan::Files files = invented_files(invent(premises, 1));
  auto begin = Clock::now();
  const auto scenario = plan::read_scenario(files, "scenario.yaml");
  if (!scenario) throw OutsideFault(plan::rendered(scenario.diagnostics[0]));
  line("read scenario", seconds_since(begin));
  const plan::Run run{threads, [&begin](std::string_view stage, double share) {
                        if (share == 0) begin = Clock::now();
                        if (share >= 1) line(stage, seconds_since(begin));
                      }};
  const plan::Plan plan = plan::make_plan(*scenario, nullptr, plan::Hold::nothing, run);
  begin = Clock::now();
  for (const plan::Output& o : plan::plan_outputs(plan)) o.write(folder.file(o.file));
  folder.write("scenario.yaml", plan::effective(plan.scenario));
  folder.close_files();
  line("report", seconds_since(begin));
  measure_of_the_machine(*plan.network);
  return plan::summary_text(plan).substr(0, 120);
}

void one_size(int premises, int threads) {
  std::fputs(fmt::format("{} premises\n", premises).c_str(), stdout);
  const auto all = Clock::now();
  OutputFolder folder(fmt::format("ladder-{}", premises));
  const std::string summary = plan_and_write(premises, threads, folder);
  const auto begin = Clock::now();
  const auto faults = plan::audit([&](std::string_view file) { return must_read(folder.working() / file); });
  line(fmt::format("audit ({} faults)", faults.size()), seconds_since(begin));
  line("whole", seconds_since(all));
  std::fputs((summary + "\n").c_str(), stdout);
}

}  // namespace

int ladder(const std::vector<int>& sizes, int threads) {
  for (const int premises : sizes) {
    std::fflush(stdout);
    const pid_t child = fork();  // a process a size: peak memory is its own
    if (child == 0) {
      int code = 0;
      try {
        one_size(premises, threads);
      } catch (const std::exception& e) {
        std::fputs(fmt::format("{}\n", e.what()).c_str(), stderr);
        code = 1;
      }
      std::fflush(stdout);
      _exit(code);
    }
    int status = 0;
    if (child < 0 || waitpid(child, &status, 0) != child || !WIFEXITED(status) || WEXITSTATUS(status) != 0)
      return 1;
  }
  return 0;
}

}  // namespace withy
