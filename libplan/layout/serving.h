// Who serves whom: branch points, areas with their cabinets, and what the headends serve themselves.
#pragma once
#include <vector>

#include "layout/forest.h"
#include "layout/layout.h"
#include "scenario/rules.h"

namespace plan {

// Stages of the split by place, in order from the headend outwards: a place's stages are
// [first, first + count), and one input of them can light `lights` dwellings with all stages beyond.
struct StagePlan {
  struct At {
    int first = 0, count = 0;
    int lights = 1;
  };
  At headend, cabinet, branch_point, building;
  int total = 0;
};
StagePlan stage_plan(const LayoutRules& rules);

inline constexpr uint32_t no_index = UINT32_MAX;

struct DraftPoint {  // a branch point
  NodeId node;
  bool served = true;           // else nothing leads to it
  uint32_t cabinet = no_index;  // none: its headend's
};
struct DraftCabinet {
  NodeId node;
};
enum class ServedBy : uint8_t { nobody, headend, cabinet, branch_point };
struct PremisesServer {
  ServedBy by = ServedBy::nobody;
  uint32_t index = no_index;  // of the cabinet or branch point
};
// Every station belongs to the headend of the tree it stands on.
struct ServingDraft {
  std::vector<DraftCabinet> cabinets;
  std::vector<DraftPoint> points;
  Table<PremisesId, PremisesServer> servers;
};

struct LayoutInput {
  const Network& network;
  const Basis& basis;
  const LayoutRules& rules;
  const Asks& asks;
};
// Longest duct path from its station that a premises may have, in millimetres.
int64_t reach_of(const LayoutInput& input, PremisesId p);
// `dwellings` rounded up to whole inputs that light `lights` each.
int whole_multiple(int64_t dwellings, int lights);
// Dwellings whose ports it takes at its serving station: its own, or all that the splitters in its
// building could light.
int dwellings_held(const LayoutInput& input, const StagePlan& stages, PremisesId p);

ServingDraft draft_serving(const LayoutInput& input, const TrenchForest& forest, const StagePlan& stages);

}  // namespace plan
