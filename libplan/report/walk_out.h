// Private to report: what of a plan rests on assumptions, by street. A street is what routes say they
// belong to, else the route by its own name; a premises counts where its drop leaves.
#pragma once
#include <map>
#include <string_view>

#include "plan/plan.h"

namespace plan {

struct WalkOut {
  Length opened;      // ground opened, drops included
  Length assumed;     // of it: surface assumed, or a drop to an assumed entry
  Length restricted;  // of it: on private or restricted ways
  int crossings = 0;
  int unproven_ducts = 0, blocked_ducts = 0;  // existing ducts that the plan leaves alone
  int premises = 0, entries_assumed = 0, dwellings_assumed = 0, boundaries_assumed = 0, consents = 0;
};
// Keys live in the plan's scenario.
std::map<std::string_view, WalkOut> walk_out(const Plan& plan);

}  // namespace plan
