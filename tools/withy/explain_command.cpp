#include <fmt/core.h>

#include <memory>

#include "explain/explain.h"
#include "files/disk.h"
#include "withy/commands.h"
#include "withy/common.h"

namespace withy {
namespace {

struct Options {
  std::string folder, id;
};

int explain(const Options& options) {
  if (!is_plan_folder(options.folder)) throw OutsideFault(options.folder + ": is not a plan folder of Withy");
  const auto texts = [&](std::string_view file) {
    return must_read(std::filesystem::path(options.folder) / file);
  };
  const plan::WrittenPlan plan = plan::read_written_plan(
      texts, [](std::string_view rule, std::string_view file, uint32_t line, const std::string& message) {
        print_error(fmt::format("{}:{}: {}: {}\n", file, line, rule, message));
      });
  if (const auto text = explained(plan, options.id)) {
    print_out(*text);
    return exit_good;
  }
  const auto near = nearest_id(plan, options.id);
  print_error(fmt::format("{}: nothing is called '{}'{}\n", options.folder, options.id,
                          near ? fmt::format(", did you mean '{}'", *near) : ""));
  return exit_bad_scenario;
}

}  // namespace

void add_explain(CLI::App& app, int& code) {
  auto options = std::make_shared<Options>();
  CLI::App* command =
      app.add_subcommand("explain", "tell why: one premises, span, link, cabinet or bill line of a plan");
  command->add_option("plan", options->folder, "plan folder")->required();
  command
      ->add_option(
          "id", options->id,
          "a name such as '12 Alder Lane' or 'cabinet 3', or 'span 34', 'link 5', 'dwelling 2', a bill item")
      ->required();
  command->callback([options, &code] { code = explain(*options); });
}

}  // namespace withy
