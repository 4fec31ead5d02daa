// What several commands share: reading a scenario, showing progress, writing and checking a plan folder.
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "files/folder.h"
#include "files/sources.h"
#include "plan/plan.h"

namespace withy {

// Reads from the disk and prints every diagnostic to standard error; nothing where the scenario is bad.
std::optional<plan::Scenario> load_scenario(const std::string& path, Sources& sources);
void print(const plan::Diagnostics& diagnostics);
// Prints what is wrong, that nothing was written, and gives the exit code for it.
int refuse(const plan::Diagnostics& faults);

// From now on an interrupt is noted and ends the work between two steps: a half-written folder is taken away.
void note_interrupts();
// Progress on a terminal's standard error, silent when piped; throws OutsideFault once interrupted.
plan::Run run_with_progress(int threads);

// Writes every output of the plan, the scenario as used and the list of its sources into the folder.
void write_plan(const plan::Plan& plan, const Sources& sources, OutputFolder& folder);
// Runs the plan checker on the written texts alone, so the plan itself may be gone by then. A fault that
// it finds is our bug: BrokenInvariant.
void check_written(const OutputFolder& folder);

void print_out(std::string_view text);
void print_error(std::string_view text);

}  // namespace withy
