#include "estate/barriers.h"

#include <fmt/core.h>

#include <algorithm>
#include <tuple>
#include <utility>

#include "estate/obstacle_map.h"
#include "estate/route_line.h"

namespace withy {
namespace {

// mm; common practice, no source.
constexpr double beyond_water = 2'000, least_part = 1'000;
double half_width(BarrierKind kind) {
  switch (kind) {
    case BarrierKind::rail:
      return 6'000;
    case BarrierKind::tram:
      return 3'000;
    case BarrierKind::water:
      return 5'000;
    case BarrierKind::motorway:
      return 20'000;
  }
  return 0;
}

const char* crossing_word(BarrierKind kind) {
  switch (kind) {
    case BarrierKind::rail:
    case BarrierKind::tram:
      return "rail";
    case BarrierKind::water:
      return "water";
    case BarrierKind::motorway:
      return "motorway";
  }
  return "";
}

int lightness(BarrierKind kind) {
  switch (kind) {
    case BarrierKind::motorway:
      return 0;
    case BarrierKind::rail:
      return 1;
    case BarrierKind::tram:
      return 2;
    case BarrierKind::water:
      return 3;
  }
  return 4;
}

std::string id_text(const MapId& id) {
  constexpr const char* words[] = {"node", "way", "relation", "feature"};
  return fmt::format("{} {}", words[static_cast<size_t>(id.kind)], id.number);
}

struct Piece {
  double from = 0, to = 0;  // mm from the start of the route
  uint32_t obstacle = 0;    // the heaviest
};

// Which routes have a vertex where.
class Meetings {
 public:
  explicit Meetings(const std::vector<DraftRoute>& routes) : routes_(routes) {
    for (uint32_t r = 0; r < routes.size(); ++r)
      for (size_t i = 0; i < routes[r].line.size(); ++i) uses_.emplace_back(routes[r].line[i], r);
    std::sort(uses_.begin(), uses_.end());
  }
  // Whether the route that ends at `end` holds the crossing of a barrier there.
  bool holds(uint32_t route, plan::Point end, bool at_start) const {
    const auto first = std::lower_bound(uses_.begin(), uses_.end(), std::pair(end, uint32_t{0}));
    auto last = first;
    while (last != uses_.end() && last->first == end && last - first < 3) ++last;
    if (last - first != 2) return last - first > 2;
    const uint32_t other = first->second == route ? std::next(first)->second : first->second;
    if (other == route) return at_start;
    const auto& theirs = routes_[other].line;
    if (theirs.front() != end && theirs.back() != end) return true;
    return std::tie(routes_[route].line, routes_[route].name) < std::tie(theirs, routes_[other].name);
  }

 private:
  const std::vector<DraftRoute>& routes_;
  std::vector<std::pair<plan::Point, uint32_t>> uses_;
};

class Crosser {
 public:
  Crosser(const std::vector<DraftRoute>& routes, const std::vector<DraftBarrier>& barriers, bool forbidden,
          std::vector<MapRemark>& remarks)
      : obstacles_(barriers), meetings_(routes), names_(routes), forbidden_(forbidden), remarks_(remarks) {}

  void divide(const DraftRoute& route, uint32_t number, std::vector<DraftRoute>& out) {
    const Stations stations(route.line);
    const std::vector<Piece> pieces = crossings(route, number, stations);
    if (pieces.empty()) {
      out.push_back(route);
      return;
    }
    int parts = 0, crossed = 0;
    double done = 0;
    const auto part_to = [&](double to) {
      if (to > done) add(cut(route, stations, done, to), "part", parts, out);
      done = to;
    };
    for (const Piece& p : pieces) {
      part_to(p.from);
      add(across(cut(route, stations, p.from, p.to), p), "crossing", crossed, out);
      done = p.to;
    }
    part_to(stations.length());
  }

 private:
  void add(DraftRoute piece, const char* word, int& count, std::vector<DraftRoute>& out) const {
    if (piece.line.size() < 2) return;
    piece.name = names_.next(piece.name, word, count);
    out.push_back(std::move(piece));
  }

  DraftRoute across(DraftRoute piece, const Piece& p) {
    const MapObstacle& o = obstacles_[p.obstacle];
    piece.crossing = crossing_word(o.kind);
    piece.drops = false;
    if (forbidden_)
      piece.forbidden =
          fmt::format("crosses {} ({}); crossings were asked to be left out", piece.crossing, id_text(o.id));
    remark("crosses a barrier without bridge or tunnel", piece, o);
    return piece;
  }

  void remark(const char* what, const DraftRoute& route, const MapObstacle& o) {
    const plan::Point at = route.line[0];
    const MapPlace place{static_cast<double>(at.x) / 1000, static_cast<double>(at.y) / 1000};
    remarks_.push_back({RemarkKind::doubtful, what, route.id, place,
                        fmt::format("{} ({})", crossing_word(o.kind), id_text(o.id))});
  }

  std::vector<Piece> crossings(const DraftRoute& route, uint32_t number, const Stations& stations) {
    std::vector<Piece> found;
    const std::vector<Contact> contacts = obstacles_.contacts(route, stations);
    for (size_t begin = 0, end = 0; begin < contacts.size(); begin = end) {
      while (end < contacts.size() && contacts[end].obstacle == contacts[begin].obstacle) ++end;
      const std::vector<Contact> one(contacts.begin() + static_cast<std::ptrdiff_t>(begin),
                                     contacts.begin() + static_cast<std::ptrdiff_t>(end));
      if (obstacles_[one[0].obstacle].area)
        through_area(route, stations, one, found);
      else
        over_line(route, number, stations, one, found);
    }
    return joined(std::move(found), stations.length());
  }

  void over_line(const DraftRoute& route, uint32_t number, const Stations& stations,
                 const std::vector<Contact>& contacts, std::vector<Piece>& found) {
    const MapObstacle& o = obstacles_[contacts[0].obstacle];
    const double half = half_width(o.kind);
    for (const Contact& c : contacts) {
      if (c.to - c.from > 2 * half) {
        remark("runs along a barrier", route, o);
        continue;
      }
      const bool starts = c.from<1, ends = c.to> stations.length() - 1;
      if (starts && !meetings_.holds(number, route.line.front(), true)) continue;
      if (ends && !meetings_.holds(number, route.line.back(), false)) continue;
      const double middle = (c.from + c.to) / 2;
      if (obstacles_.dead_end(c.obstacle, point_at(route.line, stations, middle))) continue;
      found.push_back({middle - half, middle + half, c.obstacle});
    }
  }

  void through_area(const DraftRoute& route, const Stations& stations, const std::vector<Contact>& contacts,
                    std::vector<Piece>& found) const {
    double from = 0;
    const auto look = [&](double to) {
      if (to - from > 1 &&
          obstacles_.inside(contacts[0].obstacle, point_at(route.line, stations, (from + to) / 2)))
        found.push_back({from - beyond_water, to + beyond_water, contacts[0].obstacle});
    };
    for (const Contact& c : contacts) {
      look(c.from);
      from = c.to;
    }
    look(stations.length());
  }

  std::vector<Piece> joined(std::vector<Piece> pieces, double length) const {
    std::sort(pieces.begin(), pieces.end(), [](const Piece& a, const Piece& b) {
      return std::tie(a.from, a.to, a.obstacle) < std::tie(b.from, b.to, b.obstacle);
    });
    std::vector<Piece> kept;
    for (Piece p : pieces) {
      p.from = p.from < least_part ? 0 : p.from;
      p.to = p.to > length - least_part ? length : p.to;
      if (!kept.empty() && p.from < kept.back().to + least_part) {
        kept.back().to = std::max(kept.back().to, p.to);
        if (heavier(p.obstacle, kept.back().obstacle)) kept.back().obstacle = p.obstacle;
      } else {
        kept.push_back(p);
      }
    }
    return kept;
  }

  bool heavier(uint32_t a, uint32_t b) const {
    return std::pair(lightness(obstacles_[a].kind), a) < std::pair(lightness(obstacles_[b].kind), b);
  }

  ObstacleMap obstacles_;
  Meetings meetings_;
  PieceNames names_;
  bool forbidden_;
  std::vector<MapRemark>& remarks_;
};

bool stays(const DraftRoute& r) {
  return r.duct || !r.crossing.empty() || r.line.size() < 2;
}

}  // namespace

void cross_barriers(std::vector<DraftRoute>& routes, const std::vector<DraftBarrier>& barriers,
                    bool forbidden, std::vector<MapRemark>& remarks) {
  Crosser crosser(routes, barriers, forbidden, remarks);
  std::vector<DraftRoute> out;
  out.reserve(routes.size());
  for (uint32_t i = 0; i < routes.size(); ++i) {
    const DraftRoute& r = routes[i];
    if (!stays(r) && !r.bridge && !r.tunnel) {
      crosser.divide(r, i, out);
      continue;
    }
    out.push_back(r);
    if (stays(r)) continue;
    out.back().crossing = r.bridge ? "bridge" : "tunnel";
    out.back().drops = false;
  }
  routes = std::move(out);
}

}  // namespace withy
