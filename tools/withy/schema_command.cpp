#include <memory>

#include "record/record.h"
#include "scenario/scenario.h"
#include "withy/commands.h"
#include "withy/common.h"

namespace withy {

void add_schema(CLI::App& app, int& code) {
  auto page = std::make_shared<std::string>();
  CLI::App* command =
      app.add_subcommand("schema", "print the JSON Schema (2020-12) of the scenario language");
  command->add_option("--page", *page, "print a reference page instead: scenario, numbers or outputs")
      ->check(CLI::IsMember({"scenario", "numbers", "outputs"}));
  command->callback([page, &code] {
    print_out(page->empty()         ? plan::schema_json()
              : *page == "scenario" ? plan::language_page()
              : *page == "numbers"  ? plan::numbers_page()
                                    : plan::outputs_page());
    code = exit_good;
  });
}

}  // namespace withy
