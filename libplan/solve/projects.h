// Resource-constrained project scheduling: one-pass rules and certified lower bounds.
//
// Jobs have whole durations, finish-start precedence without lag, and a constant demand of each of a few
// renewable resources. LFT_j = critical path - tail_j, tail_j = the longest chain after j. Both rules take
// the smallest (LFT, job number). serial: among jobs whose predecessors are placed, at the earliest time at
// which it fits (Kelley, in Muth & Thompson, Industrial Scheduling, 1963). parallel: at time 0 and each
// next finish, as many as fit. Ties go to the smaller number, never to a sort's whim.
#pragma once
#include <cstdint>
#include <span>
#include <vector>

namespace plan {

struct Project {
  std::vector<int64_t> durations;
  std::vector<std::vector<uint32_t>> successors;  // a directed graph without cycle
  std::vector<int64_t> capacities;                // of each resource
  std::vector<int64_t> demands;                   // job-major: demands[job * resources + resource]
};

struct ProjectPlan {
  std::vector<int64_t> starts;
  int64_t length = 0;
  friend bool operator==(const ProjectPlan&, const ProjectPlan&) = default;
};

// Every demand at most its capacity. O(n (n + longest plan) resources).
ProjectPlan serial_by_latest_finish(const Project& project);
ProjectPlan parallel_by_latest_finish(const Project& project);

// Earliest starts and longest chains after the finish, without resources.
struct HeadsAndTails {
  std::vector<int64_t> heads, tails;
  int64_t critical_path = 0;
};
HeadsAndTails heads_and_tails(const Project& project);
// The largest of the critical path, of a + b + energy / capacity over all thresholds (jobs with head >= a
// and tail >= b have to fit between a and the end less b), and of the whole energy. O(resources n²).
int64_t head_tail_energy_bound(const Project& project);

// Skill flow: work that only crews with a skill can do, at most 16 skills, every crew the same calendar.
struct SkillWork {
  int64_t work = 0;            // of jobs that need this skill
  int64_t head = 0, tail = 0;  // smallest earliest start and smallest tail of these jobs
};
struct SkillBound {
  int64_t length = 0;
  uint32_t skills = 0;  // bits of the binding set; the set of fewest skills on a tie
  friend bool operator==(const SkillBound&, const SkillBound&) = default;
};
// Max over sets of skills: least head + work / crews that hold any of them, rounded up + least tail (the
// min cut of the flow of work to crews). A skill that no crew holds is left out.
SkillBound skill_flow_bound(std::span<const SkillWork> work, std::span<const uint32_t> crew_skills);

}  // namespace plan
