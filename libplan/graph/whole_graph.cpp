#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <boost/graph/strong_components.hpp>
#include <boost/property_map/function_property_map.hpp>

#include "graph/street_graph.h"

namespace plan {
namespace {

struct SpanOfEdge {
  SpanId span;
};
using BoostGraph = boost::compressed_sparse_row_graph<boost::directedS, boost::no_property, SpanOfEdge,
                                                      boost::no_property, uint32_t, uint32_t>;
using Edge = boost::graph_traits<BoostGraph>::edge_descriptor;

BoostGraph boost_graph(const StreetGraph& graph) {
  std::vector<std::pair<uint32_t, uint32_t>> ends;
  std::vector<SpanOfEdge> spans;
  ends.reserve(graph.arc_count());
  spans.reserve(graph.arc_count());
  for (NodeId n : Ids<NodeId>(graph.nodes()))
    for (Arc arc : graph.arcs(n)) {
      ends.emplace_back(n.value, arc.to.value);
      spans.push_back({arc.span});
    }
  return BoostGraph(boost::edges_are_sorted, ends.begin(), ends.end(), spans.begin(),
                    static_cast<uint32_t>(graph.nodes()));
}

// Remembers the span as well as the node, which a predecessor map alone would lose at parallel spans.
class Recorder : public boost::default_dijkstra_visitor {
 public:
  explicit Recorder(PathTree& tree) : tree_(&tree) {}
  void edge_relaxed(Edge e, const BoostGraph& g) const {
    const NodeId to(boost::target(e, g));
    tree_->by[to] = g[e].span;
    tree_->before[to] = NodeId(boost::source(e, g));
  }

 private:
  PathTree* tree_;
};

}  // namespace

// Every arc has its counterpart, so strong components are the components.
Table<NodeId, uint32_t> components(const StreetGraph& graph) {
  const size_t n = graph.nodes();
  Table<NodeId, uint32_t> numbers(n);
  if (n == 0) return numbers;
  const BoostGraph g = boost_graph(graph);
  std::vector<uint32_t> found(n);
  const auto index = boost::get(boost::vertex_index, g);
  const auto count = boost::strong_components(g, boost::make_iterator_property_map(found.begin(), index));
  std::vector<uint32_t> rank(count, UINT32_MAX);
  uint32_t next = 0;
  for (NodeId i : numbers.ids()) {
    uint32_t& r = rank[found[i.value]];
    if (r == UINT32_MAX) r = next++;
    numbers[i] = r;
  }
  return numbers;
}

PathTree shortest_paths(const StreetGraph& graph, const Table<SpanId, int64_t>& cost,
                        std::span<const NodeId> sources) {
  const size_t n = graph.nodes();
  PathTree tree{Table<NodeId, int64_t>(n, unreachable), Table<NodeId, SpanId>(n), Table<NodeId, NodeId>(n)};
  if (n == 0 || sources.empty()) return tree;
  const BoostGraph g = boost_graph(graph);
  const auto index = boost::get(boost::vertex_index, g);
  std::vector<uint32_t> starts;
  for (NodeId s : sources) {
    if (tree.cost[s] == 0) continue;
    tree.cost[s] = 0;
    starts.push_back(s.value);
  }
  const auto weight = boost::make_function_property_map<Edge>([&](Edge e) { return cost[g[e].span]; });
  const auto plus = [](int64_t a, int64_t b) { return a == unreachable ? unreachable : a + b; };
  boost::dijkstra_shortest_paths_no_init(g, starts.begin(), starts.end(), boost::dummy_property_map(),
                                         boost::make_iterator_property_map(tree.cost.begin(), index), weight,
                                         index, std::less<int64_t>(), plus, int64_t{0}, Recorder(tree),
                                         boost::make_two_bit_color_map(n, index));
  return tree;
}

}  // namespace plan
