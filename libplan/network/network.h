// Stage `network`: the estate as a checked street graph with its premises hung on it.
//
// Routes meet where they share a vertex (to the millimetre); they are split there, and wherever a
// premises, headend or site hangs on them. Each premises snaps to the nearest point of a route that may
// be left midway (never an existing duct, never a forbidden route): a new node there and a drop span.
// Headends and sites get a link span the same way, none if they stand on a route. An existing duct is a
// span of its own between its two ends. Guaranteed: ids in Hilbert order of the position, whatever the
// order of the file; every span at least 1 mm. Premises that no headend reaches are findings with the
// length of the shortest straight gap that would join them. O((n + p) log n).
#pragma once
#include "base/finding.h"
#include "base/id.h"
#include "base/point.h"
#include "base/run.h"
#include "scenario/demand.h"
#include "scenario/works.h"

namespace plan {

enum class NodeKind : uint8_t { street, premises, headend, site };
enum class SpanKind : uint8_t { street, drop, link, existing_duct };

// A piece of route between two nodes. A drop runs from the street to its premises, a link from the
// street to its headend or site.
struct Span {
  NodeId from, to;
  Length length;       // whole millimetres
  SurfaceId surface;   // of a drop or link: the surface named "garden" or else the route's
  RouteId route;       // a drop's and link's is the route it leaves
  SpanKind kind = SpanKind::street;
  bool forbidden = false;
  friend bool operator==(const Span&, const Span&) = default;
};

struct Network {
  Table<NodeId, Point> at;
  Table<NodeId, NodeKind> kinds;
  Table<NodeId, uint32_t> component;   // 0 … components-1, by smallest node id
  Table<SpanId, Span> spans;
  Lists<SpanId, Point> shapes;         // whole polyline from `from` to `to`
  Table<PremisesId, NodeId> premises_nodes;
  Table<PremisesId, SpanId> drops;     // invalid where the premises stands on no graph
  Table<HeadendId, NodeId> headend_nodes;
  Table<SiteId, NodeId> site_nodes;
  Table<PremisesId, uint8_t> reached;  // 1 where a headend reaches it over allowed spans
  uint32_t components = 0;
  Findings findings;
  friend bool operator==(const Network&, const Network&) = default;
};

Network make_network(const Demand& demand, const SiteState& site, const Run& run);

}  // namespace plan
