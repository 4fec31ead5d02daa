// withy-bench: measurements, never part of a test's verdict.
#include <CLI/CLI.hpp>

#include "bench/ladder.h"

int main(int argc, char** argv) {
  CLI::App app("withy-bench measures the planner on invented estates.");
  app.require_subcommand(1);
  std::vector<int> sizes{1000, 10000, 100000};
  int threads = 2;
  CLI::App* command =
      app.add_subcommand("ladder", "seconds and peak memory a stage, one row of the ladder a size");
  command->add_option("--premises", sizes, "sizes")->delimiter(',')->check(CLI::Range(10, 2000000));
  command->add_option("--threads", threads, "threads")->check(CLI::Range(1, 64));
  CLI11_PARSE(app, argc, argv);
  return withy::ladder(sizes, threads);
}
