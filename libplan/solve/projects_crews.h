// Jobs for crews with skills on a common calendar: an event-driven list schedule.
//
// Time is counted in working minutes; a shift has `shift` of them and the next begins where it ends. Each
// job is done by one crew that holds its skill, one job at a time for a crew. A crew that is free takes, of
// the ready jobs of its skills that still fit into the shift, the one of the smallest (rank, then longest
// tail, then number). Jobs that may not be split fit into one shift, or are split if longer than any.
// Moving to a job at another place within a shift takes the job's `travel`. A job whose skill no crew holds
// is passed at once with no crew, so that the rest is planned. Deterministic, O(n log n + events x crews).
#pragma once
#include <cstdint>
#include <vector>

#include "base/id.h"

namespace plan {

struct CrewJob {
  uint8_t skill = 0;  // below 16
  bool splittable = true;
  int64_t duration = 0;  // minutes, at least 0
  int64_t release = 0;   // not before
  uint32_t rank = 0;
  uint32_t place = 0;
  int64_t travel = 0;  // minutes to get there from another place on the same day
};

struct CrewProblem {
  std::vector<CrewJob> jobs;
  Lists<TaskId, TaskId> before;       // of each job: jobs to be finished first; no cycle
  std::vector<uint32_t> crew_skills;  // bits
  int64_t shift = 480;                // minutes, at least 1
};

struct CrewPlan {
  std::vector<int64_t> starts, finishes;
  std::vector<uint32_t> crews;  // UINT32_MAX where none holds the skill
  int64_t length = 0;
};

CrewPlan plan_crews(const CrewProblem& problem);

// No plan is shorter: the larger of the critical path (shifts, releases and unsplittable jobs respected,
// no travel, crews without number) and the skill flow between earliest starts and tails.
struct CrewBound {
  int64_t critical_path = 0;
  int64_t skill_flow = 0;
  uint32_t skills = 0;  // of the skill flow
};
CrewBound crew_bound(const CrewProblem& problem);

}  // namespace plan
