#include "unit/ducts/checker.h"

#include <fmt/core.h>

#include <map>
#include <set>

namespace plan {
namespace {

class Checker {
 public:
  Checker(const DuctInput& in, const Ducts& ducts) : in_(in), d_(ducts) {}

  std::vector<std::string> run() {
    for (RunId r : d_.runs.ids()) check_run(r);
    check_spans();
    check_tiling();
    check_fittings();
    for (LinkId l : in_.layout.links.ids()) check_path(l);
    check_branch_points();
    return faults_;
  }

 private:
  void fault(std::string text) { faults_.push_back(std::move(text)); }
  const Bundle& bundle(RunId r) const { return in_.catalogue.bundles[d_.runs[r].bundle]; }
  NodeId across(SpanId s, NodeId at) {
    const Span& span = in_.network.spans[s];
    if (at != span.from && at != span.to)
      fault(fmt::format("span {} does not touch node {}", s.value, at.value));
    return at == span.from ? span.to : span.from;
  }

  void check_run(RunId r) {
    const BundleRun& run = d_.runs[r];
    NodeId at = run.from;
    Length sum;
    bool buried = false, in_duct = false;
    for (SpanId s : d_.run_spans[r]) {
      at = across(s, at);
      sum += in_.network.spans[s].length;
      (in_.network.spans[s].kind == SpanKind::existing_duct ? in_duct : buried) = true;
    }
    if (at != run.to) fault(fmt::format("run {} does not end at its last span", r.value));
    if (run.role == DuctRole::drop ? run.length > sum : run.length != sum)
      fault(fmt::format("run {} has another length than its spans", r.value));
    if ((buried && !bundle(r).direct_buried) || (in_duct && !bundle(r).in_duct))
      fault(fmt::format("run {} lies where it may not", r.value));
    if (run.length > bundle(r).drum && d_.run_spans[r].size() > 1)
      fault(fmt::format("run {} is longer than its drum and was not cut", r.value));
    const MicroductId wanted = run.role == DuctRole::feeder         ? in_.rules.feeder_microduct
                               : run.role == DuctRole::distribution ? in_.rules.distribution_microduct
                                                                    : in_.rules.drop_microduct;
    if (bundle(r).microduct != wanted) fault(fmt::format("run {} has the wrong microduct", r.value));
  }

  void check_spans() {
    std::set<std::pair<uint32_t, uint32_t>> forth, back;
    for (RunId r : d_.runs.ids())
      for (SpanId s : d_.run_spans[r]) forth.insert({s.value, r.value});
    for (SpanId s : d_.runs_in_span.ids())
      for (RunId r : d_.runs_in_span[s]) back.insert({s.value, r.value});
    if (forth != back) fault("runs in spans differ from spans of runs");
  }

  // Sections of a position lie end to end over the whole run, used before dead, spare alone.
  void check_tiling() {
    std::map<std::pair<uint32_t, int>, std::vector<SectionId>> ways;
    for (SectionId s : d_.sections.ids())
      ways[{d_.sections[s].run.value, d_.sections[s].position}].push_back(s);
    std::map<uint32_t, int> spare, count;
    for (const auto& [way, list] : ways) {
      const BundleRun& run = d_.runs[RunId(way.first)];
      NodeId at = run.from;
      Length sum;
      for (SectionId s : list) {
        const Section& x = d_.sections[s];
        if (x.from != at) fault(fmt::format("section {} begins elsewhere", s.value));
        if (x.length <= Length()) fault(fmt::format("section {} has no length", s.value));
        const bool live = x.state == SectionState::used || x.state == SectionState::reserved;
        if (live != x.link.valid()) fault(fmt::format("section {} has state and link that differ", s.value));
        if (live && s != list.front()) fault(fmt::format("section {} in use behind another", s.value));
        if (x.state == SectionState::spare && list.size() > 1) fault("spare is not the whole run");
        at = x.to;
        sum += x.length;
      }
      if (at != run.to || sum != run.length)
        fault(fmt::format("run {} position {} has a gap", way.first, way.second));
      if (way.second < 1 || way.second > bundle(RunId(way.first)).ways) fault("position out of bounds");
      spare[way.first] += d_.sections[list.front()].state == SectionState::spare;
      ++count[way.first];
    }
    for (RunId r : d_.runs.ids()) {
      if (count[r.value] != bundle(r).ways) fault(fmt::format("run {} has not all its positions", r.value));
      const int taken = count[r.value] - spare[r.value];
      const bool enough = spare[r.value] >= 1 && spare[r.value] + 1e-9 >= in_.rules.spare_share * taken;
      if (d_.runs[r].role != DuctRole::drop && !enough) fault(fmt::format("run {} lacks its spare", r.value));
    }
  }

  // Each end of each section has exactly one fitting; joints join like with like.
  void check_fittings() {
    std::map<std::pair<uint32_t, uint32_t>, int> at;
    for (const Joint& j : d_.joints) {
      ++at[{j.a.value, j.node.value}];
      const bool joins = j.kind == JointKind::straight || j.kind == JointKind::reducing;
      if (joins != j.b.valid()) fault("a joint without its second section, or an end with one");
      if (!j.b.valid()) {
        const bool used = d_.sections[j.a].state == SectionState::used;
        if (used != (j.kind == JointKind::block_connector)) fault("an end closed by the wrong fitting");
        continue;
      }
      ++at[{j.b.value, j.node.value}];
      const Section &a = d_.sections[j.a], &b = d_.sections[j.b];
      joined_.insert({j.a.value, j.b.value});
      if (a.to != j.node || b.from != j.node) fault("a joint away from its sections");
      if (a.link != b.link) fault("a joint between two links");
      const auto od = [&](const Section& x) { return in_.catalogue.microducts[bundle(x.run).microduct].od; };
      if ((od(a) == od(b)) != (j.kind == JointKind::straight)) fault("a joint of the wrong kind");
    }
    for (SectionId s : d_.sections.ids())
      for (NodeId n : {d_.sections[s].from, d_.sections[s].to})
        if (at[{s.value, n.value}] != 1)
          fault(
              fmt::format("section {} has {} fittings at node {}", s.value, at[{s.value, n.value}], n.value));
  }

  void check_path(LinkId l) {
    const Link& link = in_.layout.links[l];
    const bool reserved = link.premises.valid() && in_.basis.needs[link.premises].reserved;
    std::vector<SpanId> walked;
    NodeId at = in_.layout.stations[link.from].node;
    SectionId before;
    for (SectionId s : d_.paths[l]) {
      const Section& x = d_.sections[s];
      if (x.link != l) fault(fmt::format("link {} runs in a section of another", l.value));
      if (x.from != at) fault(fmt::format("link {} has a broken path", l.value));
      if ((x.state == SectionState::reserved) != reserved) fault("a section in the wrong state");
      if (before.valid() && !joined_.count({before.value, s.value}))
        fault("a change of section without a joint");
      bool inside = false;
      NodeId node = d_.runs[x.run].from;
      for (SpanId span : d_.run_spans[x.run]) {
        if (node == x.from) inside = true;
        if (inside) walked.push_back(span);
        node = across(span, node);
        if (inside && node == x.to) break;
      }
      at = x.to;
      before = s;
    }
    const std::span<const SpanId> route = in_.layout.routes[l];
    const bool unlaid = reserved && in_.demand.premises[link.premises].laid == DropLaid::none;
    const std::vector<SpanId> expected(route.begin(), route.end() - (unlaid ? 1 : 0));
    if (walked != expected) fault(fmt::format("link {} does not follow its route", l.value));
    for (SectionId s : d_.sections.ids())
      if (d_.sections[s].link == l &&
          std::find(d_.paths[l].begin(), d_.paths[l].end(), s) == d_.paths[l].end())
        fault(fmt::format("section {} belongs to a link that does not use it", s.value));
  }

  void check_branch_points() {
    std::map<uint32_t, int> joints;
    for (const Joint& j : d_.joints)
      if (j.b.valid()) ++joints[j.node.value];
    NodeId before;
    for (const BranchPoint& b : d_.branch_points) {
      if (before.valid() && b.node <= before) fault("branch points out of order");
      before = b.node;
      if (joints[b.node.value] != b.joints)
        fault(fmt::format("node {} counts its joints wrongly", b.node.value));
      joints.erase(b.node.value);
    }
    for (const auto& [node, n] : joints)
      if (n > 0) fault(fmt::format("node {} has joints and no branch point", node));
  }

  const DuctInput& in_;
  const Ducts& d_;
  std::set<std::pair<uint32_t, uint32_t>> joined_;
  std::vector<std::string> faults_;
};

}  // namespace

std::vector<std::string> faults_of(const DuctInput& in, const Ducts& ducts) {
  return Checker(in, ducts).run();
}

}  // namespace plan
