// withy-bench: measurements, never part of a test's verdict.
#include <CLI/CLI.hpp>
#include <functional>
#include <map>
#include <string>

#include "bench/ladder.h"
#include "bench/maps.h"
#include "bench/steiner.h"

namespace {

CLI::App* map_command(CLI::App& app, const char* name, const char* says, withy::MapSources& sources) {
  CLI::App* command = app.add_subcommand(name, says);
  command->add_option("source", sources.paths, "map files, as `withy estate` takes them")->required();
  command->add_option("--mapping", sources.mapping, "YAML file for foreign field names");
  command->add_option("--elevation", sources.elevation, "rasters of heights");
  return command;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("withy-bench measures the planner on invented estates and real maps.");
  app.require_subcommand(1);
  int code = 0, threads = 2, rounds = 3;
  const auto with_threads = [&](CLI::App* command) {
    command->add_option("--threads", threads, "threads")->check(CLI::Range(1, 64));
  };

  std::vector<int> sizes{1000, 10000, 100000};
  CLI::App* ladder =
      app.add_subcommand("ladder", "seconds and peak memory a stage, one row of the ladder a size");
  ladder->add_option("--premises", sizes, "sizes")->delimiter(',')->check(CLI::Range(10, 2000000));
  with_threads(ladder);
  ladder->callback([&] { code = withy::ladder(sizes, threads); });

  withy::MapSources sources;
  CLI::App* stages =
      map_command(app, "map", "seconds and peak memory a stage, from sources to a plan", sources);
  with_threads(stages);
  stages->callback([&] { code = withy::map_stages(sources, threads); });

  CLI::App* loop = map_command(app, "loop", "the estate against a bare loop over the features", sources);
  loop->add_option("--rounds", rounds, "of each")->check(CLI::Range(1, 100));
  loop->callback([&] { code = withy::map_against_bare_loop(sources, rounds); });

  std::vector<int> rungs{100'000, 300'000, 2'000'000};
  CLI::App* growth = map_command(app, "growth", "the estate of shares of a map, and the exponent", sources);
  growth->add_option("--premises", rungs, "rungs")->delimiter(',')->check(CLI::Range(10, 2000000));
  growth->callback([&] { code = withy::map_growth(sources, rungs); });

  withy::SteinerMeasure steiner;
  using plan::SteinerEffort;
  const std::map<std::string, SteinerEffort> efforts{{"quick", SteinerEffort::quick},
                                                     {"normal", SteinerEffort::normal},
                                                     {"thorough", SteinerEffort::thorough}};
  CLI::App* tree = app.add_subcommand("steiner", "one .stp file: value, lower bound, seconds, steps");
  tree->add_option("file", steiner.file, "SteinLib or PACE flavour")->required();
  tree->add_option("--effort", steiner.effort, "quick, normal or thorough")
      ->transform(CLI::CheckedTransformer(efforts));
  tree->add_option("--seconds", steiner.seconds, "go on so long")->check(CLI::Range(0.0, 1e6));
  tree->add_option("--steps", steiner.steps, "repeat a run: so many steps at most");
  tree->add_option("--threads", threads, "one is used")->check(CLI::Range(1, 64));
  tree->add_flag("--plain", steiner.plain, "the plain shortest-path heuristic alone");
  tree->callback([&] { code = withy::measure_steiner(steiner); });

  CLI11_PARSE(app, argc, argv);
  return code;
}
