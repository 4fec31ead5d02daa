#include "estate/osm_rings.h"

#include <algorithm>
#include <cstdlib>
#include <iterator>
#include <utility>

namespace withy {
namespace {

// The open pieces by the nodes they end at.
class Ends {
 public:
  explicit Ends(const std::vector<OsmLine>& pieces) : used_(pieces.size()) {
    for (size_t i = 0; i < pieces.size(); ++i)
      for (const int64_t node : {pieces[i].front().id, pieces[i].back().id}) ends_.push_back({node, i});
    std::sort(ends_.begin(), ends_.end());
    next_.resize(ends_.size());
    for (size_t i = 0; i < next_.size(); ++i) next_[i] = i;
  }

  bool used(size_t piece) const { return used_[piece]; }
  void use(size_t piece) { used_[piece] = true; }
  // The first unused piece that ends at the node; ends_.size() where there is none.
  size_t take(int64_t node) {
    const auto group = std::lower_bound(ends_.begin(), ends_.end(), std::pair{node, size_t{0}});
    if (group == ends_.end() || group->first != node) return none;
    size_t& next = next_[static_cast<size_t>(group - ends_.begin())];
    while (next < ends_.size() && ends_[next].first == node && used_[ends_[next].second]) ++next;
    if (next == ends_.size() || ends_[next].first != node) return none;
    use(ends_[next].second);
    return ends_[next].second;
  }
  static constexpr size_t none = static_cast<size_t>(-1);

 private:
  std::vector<std::pair<int64_t, size_t>> ends_;
  std::vector<size_t> next_;  // at the first end of a node: where its unused ones begin
  std::vector<bool> used_;
};

void append(OsmLine& chain, OsmLine piece) {
  if (piece.front().id != chain.back().id) std::reverse(piece.begin(), piece.end());
  chain.insert(chain.end(), piece.begin() + 1, piece.end());
}

void grow(OsmLine& chain, Ends& ends, std::vector<OsmLine>& pieces) {
  while (chain.front().id != chain.back().id) {
    const size_t next = ends.take(chain.back().id);
    if (next == Ends::none) return;
    append(chain, std::move(pieces[next]));
  }
}

void put(OsmLine chain, OsmRings& rings) {
  chain.erase(std::unique(chain.begin(), chain.end(), same_place), chain.end());
  if (chain.size() < 2) return;
  if (!same_place(chain.front(), chain.back())) {
    rings.open.push_back(std::move(chain));
  } else if (chain.size() >= 4) {
    rings.closed.push_back(std::move(chain));
  }
}

struct Box {
  int32_t west, south, east, north;
  double area;  // of the ring, without sign, in square steps
};

Box box_of(const OsmLine& ring) {
  Box box{ring[0].x, ring[0].y, ring[0].x, ring[0].y, 0};
  for (size_t i = 0; i + 1 < ring.size(); ++i) {
    box.west = std::min(box.west, ring[i].x);
    box.east = std::max(box.east, ring[i].x);
    box.south = std::min(box.south, ring[i].y);
    box.north = std::max(box.north, ring[i].y);
    const double ax = static_cast<double>(ring[i].x) - ring[0].x,
                 ay = static_cast<double>(ring[i].y) - ring[0].y;
    const double bx = static_cast<double>(ring[i + 1].x) - ring[0].x;
    const double by = static_cast<double>(ring[i + 1].y) - ring[0].y;
    box.area += (ax * by - ay * bx) / 2;
  }
  box.area = std::abs(box.area);
  return box;
}

bool within(const Box& inner, const Box& outer) {
  return inner.west >= outer.west && inner.east <= outer.east && inner.south >= outer.south &&
         inner.north <= outer.north;
}

enum class Side { inside, outside, edge };

// Even-odd rule; differences of 33 bits make products of 66, hence long double's 64-bit mantissa is not
// enough and 128-bit integers are used.
Side side_of(const OsmNode& p, const OsmLine& ring) {
  __extension__ using Wide = __int128;
  bool inside = false;
  for (size_t i = 0; i + 1 < ring.size(); ++i) {
    const OsmNode &a = ring[i], &b = ring[i + 1];
    const Wide ax = Wide{a.x} - p.x, ay = Wide{a.y} - p.y, bx = Wide{b.x} - p.x, by = Wide{b.y} - p.y;
    const Wide cross = ax * by - ay * bx;
    if (cross == 0 && ax * bx <= 0 && ay * by <= 0) return Side::edge;
    if ((a.y > p.y) != (b.y > p.y) && (cross > 0) == (b.y > a.y)) inside = !inside;
  }
  return inside ? Side::inside : Side::outside;
}

bool lies_in(const OsmLine& inner, const OsmLine& outer, int64_t& work) {
  for (const OsmNode& node : inner) {
    if ((work -= static_cast<int64_t>(outer.size())) < 0) return false;
    const Side side = side_of(node, outer);
    if (side != Side::edge) return side == Side::inside;
  }
  return true;
}

}  // namespace

OsmRings joined(std::vector<OsmLine> pieces) {
  OsmRings rings;
  std::erase_if(pieces, [](const OsmLine& piece) { return piece.size() < 2; });
  const auto closed = std::stable_partition(
      pieces.begin(), pieces.end(), [](const OsmLine& piece) { return piece.front().id != piece.back().id; });
  for (auto ring = closed; ring != pieces.end(); ++ring) put(std::move(*ring), rings);
  pieces.erase(closed, pieces.end());
  Ends ends(pieces);
  for (size_t i = 0; i < pieces.size(); ++i) {
    if (ends.used(i)) continue;
    ends.use(i);
    OsmLine chain = std::move(pieces[i]);
    grow(chain, ends, pieces);
    if (chain.front().id != chain.back().id) {
      std::reverse(chain.begin(), chain.end());
      grow(chain, ends, pieces);
    }
    put(std::move(chain), rings);
  }
  return rings;
}

std::vector<OsmPart> nested(std::vector<OsmLine> rings, int64_t work) {
  const size_t n = rings.size();
  std::vector<std::pair<Box, size_t>> order;
  for (size_t i = 0; i < n; ++i) order.push_back({box_of(rings[i]), i});
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.first.area > b.first.area; });
  std::vector<size_t> depth(n), part(n);
  std::vector<OsmPart> parts;
  for (size_t i = 0; i < n; ++i) {
    size_t parent = n;
    for (size_t j = i; j-- > 0 && parent == n;) {
      if (--work < 0) return {};
      if (within(order[i].first, order[j].first) &&
          lies_in(rings[order[i].second], rings[order[j].second], work))
        parent = j;
    }
    depth[i] = parent == n ? 0 : depth[parent] + 1;
    part[i] = depth[i] % 2 == 1 ? part[parent] : parts.size();
    if (depth[i] % 2 == 0) parts.emplace_back();
    parts[part[i]].rings.push_back(rings[order[i].second]);
  }
  if (work < 0) return {};
  return parts;
}

}  // namespace withy
