// The commands of `withy`, one source each. Each adds its subcommand to the app; its work runs when
// parsed and leaves the exit code in `code`.
//
// Exit codes: 0 done, 1 done with findings, 2 bad scenario or bad call, 3 the outside world (cannot
// read or write, interrupted), 70 a bug of ours.
#pragma once
#include <CLI/CLI.hpp>
#include <functional>
#include <string>

#include "plan/plan.h"

namespace withy {

enum Exit { exit_good = 0, exit_findings = 1, exit_bad_scenario = 2, exit_outside = 3, exit_bug = 70 };

void add_plan(CLI::App& app, int& code);
void add_check(CLI::App& app, int& code);
void add_explain(CLI::App& app, int& code);
void add_whatif(CLI::App& app, int& code);
void add_sheets(CLI::App& app, int& code);
void add_schema(CLI::App& app, int& code);
void add_invent(CLI::App& app, int& code);
void add_estate(CLI::App& app, int& code);

}  // namespace withy
