// Stage `network`: the estate as a checked street graph with its premises hung on it.
//
// Routes meet where they share a vertex (to the millimetre) of one level, or where one of both ends; they
// are split there, and wherever a premises, headend or site hangs on them. Each premises snaps to the
// nearest point of a route that may be left midway (never an existing duct, a forbidden or blocked route,
// or one without drops; ties by route, leg, position), nearest to its entry or to where its drop is said
// to leave: a new node there and a drop span, 1 mm where it stands on the route. Headends and sites get
// a link span the same way, none if they stand on a route. An existing duct is a span of its own between
// its two ends; an end within 2 m of a street joins it there, else it stands alone; only a proven one is
// open. What lies farther than 200 m from every such route is a finding and a node without spans. Heights
// of routes are laid on the nodes; a premises without a height of its own stands as high as its street.
// Guaranteed: ids in Hilbert order of the position, whatever the order of the file; every span at least 1 mm;
// a street span or duct runs from its smaller node to its larger. Premises that no headend reaches are
// findings with the length of the shortest straight gap between their component and a reached route. O((n +
// p) log n).
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
  Length length;      // whole millimetres
  SurfaceId surface;  // of a drop or link: the surface named "garden" or else the route's
  RouteId route;      // a drop's and link's is the route it leaves
  SpanKind kind = SpanKind::street;
  bool forbidden = false;
  friend bool operator==(const Span&, const Span&) = default;
};

struct Network {
  Table<NodeId, Point> at;
  Table<NodeId, NodeKind> kinds;
  Table<NodeId, Length> heights;      // empty where no route has any; `height_unknown` where not known
  Table<NodeId, uint32_t> component;  // over spans not forbidden: 0 … components-1, by smallest node id
  Table<SpanId, Span> spans;
  Lists<SpanId, Point> shapes;  // whole line from `from` to `to`; a drop of 1 mm has two equal points
  Table<PremisesId, NodeId> premises_nodes;
  Table<PremisesId, SpanId> drops;  // invalid where the premises stands on no graph
  Table<HeadendId, NodeId> headend_nodes;
  Table<SiteId, NodeId> site_nodes;
  Table<PremisesId, uint8_t> reached;  // 1 where a headend reaches it over allowed spans
  uint32_t components = 0;
  Findings findings;
  friend bool operator==(const Network&, const Network&) = default;
};

inline constexpr Length height_unknown = whole_millimetres(-100'000'000);
// How far the span climbs from `from` to `to`; 0 where either height is not known.
Length rise(const Network& network, SpanId span);

Network make_network(const Demand& demand, const SiteState& site, const Run& run);

}  // namespace plan
