#include <fmt/core.h>

#include <filesystem>
#include <memory>

#include "base/text.h"
#include "estate/invent.h"
#include "withy/commands.h"
#include "withy/common.h"

namespace withy {
namespace {

struct Options {
  std::string out, tables;
  int premises = 400;
  uint64_t seed = 1;
};

int write_estate(const Options& options) {
  OutputFolder folder(options.out);
  const std::string name = std::filesystem::path(options.out).filename().string();
  const TableKind kind = options.tables == "csv" ? TableKind::csv : TableKind::geojson;
  const InventedCounts counts =
      write_invented(options.premises, options.seed, name.empty() ? "invented" : name, kind,
                     {folder.file(fmt::format("premises{}", ending(kind))),
                      folder.file(fmt::format("routes{}", ending(kind))), folder.file("scenario.yaml")});
  folder.publish();
  print_out(fmt::format("{} premises, {}, {}, all invented, written to {}\n", counts.premises,
                        plan::counted(static_cast<uint64_t>(counts.routes), "route"),
                        plan::counted(static_cast<uint64_t>(counts.headends), "headend"), options.out));
  return exit_good;
}

}  // namespace

void add_invent(CLI::App& app, int& code) {
  auto options = std::make_shared<Options>();
  CLI::App* command =
      app.add_subcommand("invent", "invent an estate of any size, for demos and measurements");
  command->add_option("--premises", options->premises, "how many")
      ->check(CLI::Range(10, 2000000))
      ->required();
  command->add_option("--seed", options->seed, "same seed, same estate");
  command
      ->add_option("--tables", options->tables,
                   "geojson or csv; csv reads faster and is less than half the size")
      ->check(CLI::IsMember({"geojson", "csv"}));
  command->add_option("--out", options->out, "folder to write")->required();
  command->callback([options, &code] { code = write_estate(*options); });
}

}  // namespace withy
