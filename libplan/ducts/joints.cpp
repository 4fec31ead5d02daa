#include <algorithm>
#include <tuple>

#include "ducts/sections.h"

namespace plan {
namespace {

class Joiner {
 public:
  Joiner(const DuctInput& in, const Drafts& drafts, Ducts& ducts)
      : in_(in), drafts_(drafts), ducts_(ducts), first_(drafts.runs.size()) {
    for (size_t s = ducts.sections.size(); s-- > 0;)
      first_[ducts.sections[SectionId(s)].run.value] = SectionId(s);
  }

  void join_path(LinkId link) {
    const std::span<const SectionId> path = ducts_.paths[link];
    if (path.empty()) return;
    for (size_t i = 1; i < path.size(); ++i) join(path[i - 1], path[i]);
    const bool reserved = ducts_.sections[path.front()].state == SectionState::reserved;
    const JointKind kind = reserved ? JointKind::end_stop : JointKind::block_connector;
    ducts_.joints.push_back({ducts_.sections[path.front()].from, kind, path.front(), {}});
    ducts_.joints.push_back({ducts_.sections[path.back()].to, kind, path.back(), {}});
  }

  // Closes what no link uses, or joins it way by way over a cut.
  void close_run(RunId r) {
    const RunDraft& d = drafts_.runs[r];
    const std::vector<SectionId> before =
        d.cut_from.valid() ? last_of_each_way(d.cut_from) : std::vector<SectionId>();
    for (SectionId s = first_[r.value]; s.value < ducts_.sections.size() && ducts_.sections[s].run == r;
         ++s.value) {
      const Section& section = ducts_.sections[s];
      if (section.link.valid()) continue;
      const SectionId ahead = section.length == d.run.length && !before.empty()
                                  ? before[static_cast<size_t>(section.position - 1)]
                                  : SectionId();
      if (ahead.valid() && !ducts_.sections[ahead].link.valid())
        join(ahead, s);
      else
        stop(section.from, s);
      if (!d.cut) stop(section.to, s);
    }
  }

 private:
  void join(SectionId a, SectionId b) {
    const bool same = size_of(a) == size_of(b);
    ducts_.joints.push_back(
        {ducts_.sections[b].from, same ? JointKind::straight : JointKind::reducing, a, b});
  }
  void stop(NodeId node, SectionId s) { ducts_.joints.push_back({node, JointKind::end_stop, s, {}}); }

  std::pair<Length, Length> size_of(SectionId s) const {
    const BundleId bundle = ducts_.runs[ducts_.sections[s].run].bundle;
    const Microduct& m = in_.catalogue.microducts[in_.catalogue.bundles[bundle].microduct];
    return {m.od, m.id};
  }

  std::vector<SectionId> last_of_each_way(RunId r) const {
    std::vector<SectionId> last(static_cast<size_t>(in_.catalogue.bundles[ducts_.runs[r].bundle].ways));
    for (SectionId s = first_[r.value]; s.value < ducts_.sections.size() && ducts_.sections[s].run == r;
         ++s.value)
      last[static_cast<size_t>(ducts_.sections[s].position - 1)] = s;
    return last;
  }

  const DuctInput& in_;
  const Drafts& drafts_;
  Ducts& ducts_;
  std::vector<SectionId> first_;  // of each run
};

}  // namespace

void write_joints(const DuctInput& in, const Drafts& drafts, Ducts& ducts) {
  Joiner joiner(in, drafts, ducts);
  for (LinkId l : ducts.paths.ids()) joiner.join_path(l);
  for (RunId r : drafts.runs.ids()) joiner.close_run(r);
  std::sort(ducts.joints.begin(), ducts.joints.end(), [](const Joint& x, const Joint& y) {
    return std::tie(x.node, x.a, x.b, x.kind) < std::tie(y.node, y.a, y.b, y.kind);
  });
}

}  // namespace plan
