// From packed runs to what stands in the plan: runs, sections, paths, joints, branch points.
//
// Sections of a run follow each other by position, of a position outwards, so that the sections of a
// link ascend along its path.
#pragma once
#include "ducts/ducts.h"
#include "ducts/packing.h"

namespace plan {

void write_runs(const DuctInput& in, const Drafts& drafts, Ducts& ducts);
void write_sections(const DuctInput& in, const Drafts& drafts, Ducts& ducts);
void write_joints(const DuctInput& in, const Drafts& drafts, Ducts& ducts);
void write_branch_points(const DuctInput& in, Ducts& ducts);

}  // namespace plan
