// withy: plans the build of passive optical networks with air-blown fibre. README.md says how to use it.
#include <fmt/core.h>

#include <exception>

#include "base/check.h"
#include "files/disk.h"
#include "withy/commands.h"
#include "withy/common.h"

namespace {

int run(int argc, char** argv) {
  CLI::App app(
      "withy plans the build of passive optical networks with air-blown fibre.\n"
      "A planning aid: it replaces no site survey, utility search, product data sheet or licensed practice.");
  app.require_subcommand(1);
  int code = withy::exit_good;
  withy::add_plan(app, code);
  withy::add_check(app, code);
  withy::add_explain(app, code);
  withy::add_whatif(app, code);
  withy::add_sheets(app, code);
  withy::add_schema(app, code);
  withy::add_invent(app, code);
  withy::add_estate(app, code);
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& e) {
    const int said = app.exit(e);
    return said == 0 ? withy::exit_good : withy::exit_bad_scenario;
  }
  return code;
}

}  // namespace

int main(int argc, char** argv) {
  withy::note_interrupts();
  try {
    return run(argc, argv);
  } catch (const plan::BrokenInvariant& e) {
    withy::print_error(
        fmt::format("withy: a bug of ours, please report it; nothing was written\n{}\n", e.what()));
    return withy::exit_bug;
  } catch (const withy::OutsideFault& e) {
    withy::print_error(fmt::format("withy: {}\n", e.what()));
    return withy::exit_outside;
  } catch (const std::bad_alloc&) {
    withy::print_error("withy: out of memory; nothing was written\n");
    return withy::exit_outside;
  } catch (const std::exception& e) {
    withy::print_error(
        fmt::format("withy: a bug of ours, please report it; nothing was written\n{}\n", e.what()));
    return withy::exit_bug;
  }
}
