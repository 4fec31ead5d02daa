#include <algorithm>

#include "ducts/sections.h"

namespace plan {
namespace {

struct NodeWork {
  int joints = 0;  // straight and reducing
  bool closed_ends = false;
  bool bundles_meet = false;  // joined run to run, both of more than one way
};

// The rule's chamber, else the smallest that holds the joints, else the one that holds most.
ChamberTypeId chamber_for(const DuctInput& in, int joints) {
  const auto& types = in.catalogue.chambers;
  const ChamberTypeId usual = in.layout_rules.chamber;
  if (usual.valid() && types[usual].joints >= joints) return usual;
  ChamberTypeId best = usual;
  for (ChamberTypeId c : types.ids()) {
    if (!best.valid()) best = c;
    const int now = types[best].joints, other = types[c].joints;
    if (now >= joints ? other >= joints && other < now : other > now) best = c;
  }
  return best;
}

bool of_many_ways(const DuctInput& in, const Ducts& ducts, SectionId s) {
  return in.catalogue.bundles[ducts.runs[ducts.sections[s].run].bundle].ways > 1;
}

}  // namespace

void write_branch_points(const DuctInput& in, Ducts& ducts) {
  Table<NodeId, uint8_t> housed(in.network.at.size());  // ends there belong to a station or a building
  for (const Station& s : in.layout.stations) housed[s.node] = 1;
  for (NodeId n : in.network.kinds.ids())
    if (in.network.kinds[n] == NodeKind::premises) housed[n] = 1;
  for (size_t i = 0; i < ducts.joints.size();) {
    const NodeId node = ducts.joints[i].node;
    NodeWork work;
    for (; i < ducts.joints.size() && ducts.joints[i].node == node; ++i) {
      const Joint& j = ducts.joints[i];
      if (j.b.valid()) {
        ++work.joints;
        work.bundles_meet |= of_many_ways(in, ducts, j.a) && of_many_ways(in, ducts, j.b);
      } else {
        work.closed_ends |= j.kind == JointKind::end_stop;
      }
    }
    if (work.joints == 0 && (housed[node] || !work.closed_ends)) continue;
    BranchPoint point;
    point.node = node;
    point.joints = work.joints;
    if (work.bundles_meet && work.joints > in.rules.buried_joints)
      point.chamber = chamber_for(in, work.joints);
    ducts.branch_points.push_back(point);
  }
}

}  // namespace plan
