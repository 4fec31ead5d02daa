#include "graph/street_graph.h"

namespace plan {

StreetGraph::StreetGraph(size_t nodes, const Table<SpanId, Ends>& ends, const Table<SpanId, uint8_t>& allowed)
    : first_(nodes + 1, 0) {
  const auto each_arc = [&](auto&& visit) {
    for (SpanId s : ends.ids()) {
      if (!allowed.empty() && !allowed[s]) continue;
      const Ends e = ends[s];
      visit(e.from, Arc{e.to, s});
      if (e.from != e.to) visit(e.to, Arc{e.from, s});
    }
  };
  each_arc([&](NodeId from, Arc) {
    PLAN_CHECK(from.value < nodes);
    ++first_[from.value + 1];
  });
  for (size_t n = 0; n < nodes; ++n) first_[n + 1] += first_[n];
  arcs_.resize(first_[nodes]);
  std::vector<uint32_t> next(first_.begin(), first_.end() - 1);
  each_arc([&](NodeId from, Arc arc) { arcs_[next[from.value]++] = arc; });
}

}  // namespace plan
