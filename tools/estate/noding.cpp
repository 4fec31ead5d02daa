#include "estate/noding.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <tuple>

#include "estate/box_index.h"
#include "estate/line_meetings.h"

namespace withy {
namespace {

using plan::Point;

class Noder {
 public:
  Noder(std::vector<LooseLine>& lines, const NodingRules& rules, std::vector<NodingRemark>& remarks)
      : lines_(lines), rules_(rules), remarks_(remarks) {}

  NodingCounts run() {
    for (LooseLine& l : lines_) tidy(l);
    sort_lines();
    drop_duplicates();
    node_meetings();
    move_ends();
    for (LooseLine& l : lines_) tidy(l);
    return counts_;
  }

 private:
  // A vertex to be put into a leg, in order of its distance from the leg's first vertex.
  struct Insert {
    uint32_t line, leg;
    double along;
    Point at;
    friend bool operator<(const Insert& a, const Insert& b) {
      return std::tie(a.line, a.leg, a.along, a.at) < std::tie(b.line, b.leg, b.along, b.at);
    }
  };
  struct Place {
    uint32_t line, leg;
  };

  void remark(RemarkKind kind, std::string_view what, const MapId& id, Point at, std::string detail = {}) {
    remarks_.push_back({{kind, what, id, {}, std::move(detail)}, at});
  }

  void tidy(LooseLine& l) {
    if (l.line.size() < 2) return l.line.clear();
    const Point at = l.line.front();
    for (Point& p : l.line) p = {keyed(p.x, rules_.key), keyed(p.y, rules_.key)};
    l.line.erase(std::unique(l.line.begin(), l.line.end()), l.line.end());
    if (l.line.size() > 1) return;
    remark(RemarkKind::left_out, "street shorter than the tolerance", l.id, at);
    l.line.clear();
  }

  // What follows must not hang on the order of the file.
  void sort_lines() {
    for (LooseLine& l : lines_) order_.push_back(&l);
    std::stable_sort(order_.begin(), order_.end(), [](const LooseLine* a, const LooseLine* b) {
      return std::tie(a->line, a->level, a->id.source, a->id.number) <
             std::tie(b->line, b->level, b->id.source, b->id.number);
    });
  }

  void drop_duplicates() {
    std::vector<std::pair<std::vector<Point>, LooseLine*>> seen;
    seen.reserve(order_.size());
    for (LooseLine* l : order_) {
      if (l->line.empty()) continue;
      std::vector<Point> back(l->line.rbegin(), l->line.rend());
      seen.emplace_back(std::min(l->line, back), l);
    }
    std::stable_sort(seen.begin(), seen.end(), [](const auto& a, const auto& b) {
      return std::tie(a.first, a.second->level) < std::tie(b.first, b.second->level);
    });
    for (size_t i = 1; i < seen.size(); ++i) {
      LooseLine& l = *seen[i].second;
      if (seen[i].first != seen[i - 1].first || l.level != seen[i - 1].second->level) continue;
      ++counts_.duplicates;
      remark(RemarkKind::left_out, "street line drawn twice", l.id, seen[i].first.front());
      l.line.clear();
    }
  }

  void take_legs() {
    places_.clear(), legs_.clear();
    for (uint32_t i = 0; i < order_.size(); ++i)
      for (uint32_t k = 0; k + 1 < order_[i]->line.size(); ++k) {
        places_.push_back({i, k});
        legs_.push_back({order_[i]->line[k], order_[i]->line[k + 1], order_[i]->level});
      }
  }

  void insert(uint32_t leg, Point at) {
    inserts_.push_back({places_[leg].line, places_[leg].leg, square_between(legs_[leg].a, at), at});
  }

  void node_meetings() {
    take_legs();
    const LegMeetings found =
        leg_meetings(legs_, {rules_.key, rules_.touch, rules_.tries_a_leg, rules_.most_meetings});
    for (const LegMeeting& m : found.all) {
      insert(m.leg, m.at);
      if (!m.touch) insert(m.other, m.at);
      const auto [less, more] = std::minmax(places_[m.leg].line, places_[m.other].line);
      met_.push_back({m.at, m.touch, less, more});
    }
    if (!found.complete)
      remark(RemarkKind::doubtful, "too many crossings to be noded", order_[places_[0].line]->id, legs_[0].a);
    std::sort(met_.begin(), met_.end());
    met_.erase(std::unique(met_.begin(), met_.end()), met_.end());
    for (const auto& [at, touch, line, other] : met_) {
      ++(touch ? counts_.touches : counts_.crossings);
      remark(RemarkKind::repaired,
             touch ? "street meets another without a vertex" : "crossing without a vertex", order_[line]->id,
             at);
    }
    apply_inserts();
  }

  void apply_inserts() {
    std::sort(inserts_.begin(), inserts_.end());
    for (size_t i = 0; i < inserts_.size();) {
      const uint32_t line = inserts_[i].line;
      std::vector<Point> made;
      const std::vector<Point>& old = order_[line]->line;
      for (uint32_t leg = 0; leg < old.size(); ++leg) {
        made.push_back(old[leg]);
        for (; i < inserts_.size() && inserts_[i].line == line && inserts_[i].leg == leg; ++i)
          made.push_back(inserts_[i].at);
      }
      made.erase(std::unique(made.begin(), made.end()), made.end());
      order_[line]->line = std::move(made);
    }
    inserts_.clear();
  }

  // Ends that no other vertex shares, in order of their place.
  std::vector<std::pair<Point, uint32_t>> loose_ends() const {
    std::vector<Point> all;
    for (const LooseLine* l : order_) all.insert(all.end(), l->line.begin(), l->line.end());
    std::sort(all.begin(), all.end());
    std::vector<std::pair<Point, uint32_t>> ends;
    for (uint32_t i = 0; i < order_.size(); ++i) {
      const auto& line = order_[i]->line;
      if (line.empty()) continue;
      for (const Point p : {line.front(), line.back()}) {
        const auto [first, last] = std::equal_range(all.begin(), all.end(), p);
        if (last - first == 1) ends.emplace_back(p, i);
      }
    }
    std::sort(ends.begin(), ends.end());
    return ends;
  }

  struct Target {
    double square;
    uint32_t leg;
    friend bool operator<(const Target& a, const Target& b) {
      return std::tie(a.square, a.leg) < std::tie(b.square, b.leg);
    }
  };

  // The nearest leg of another line within the tolerance.
  std::optional<Target> nearest_leg(const BoxIndex& index, Point end, uint32_t line) const {
    std::optional<Target> best;
    size_t tries = 0;
    index.each_meeting(grown({end, end}, rules_.tolerance), [&](uint32_t s) {
      if (legs_[s].level != order_[line]->level || places_[s].line == line || legs_[s].a == end ||
          legs_[s].b == end)
        return true;
      const Target t{square_between(nearest_on(legs_[s], end, 1), end), s};
      if (t.square <= reach() && (!best || t < *best)) best = t;
      return ++tries < BoxIndex::most;
    });
    return best;
  }
  double reach() const {
    return static_cast<double>(rules_.tolerance) * static_cast<double>(rules_.tolerance);
  }

  struct Move {
    Point to;
    std::optional<uint32_t> into;  // the leg that gets a vertex there
  };
  // What an end has been moved to stays where it is; an end whose neighbour has moved follows it, but no
  // farther than twice the tolerance.
  std::optional<Move> move_of(Point end, const Target& target) const {
    const LineLeg& leg = legs_[target.leg];
    const bool a = square_between(leg.a, end) <= square_between(leg.b, end);
    const Point corner = a ? leg.a : leg.b;
    if (square_between(corner, end) > reach()) return Move{nearest_on(leg, end, rules_.key), target.leg};
    const auto gone = moved_.find(corner);
    const Point to = gone == moved_.end() ? corner : gone->second;
    if (to == end || square_between(to, end) > 4 * reach()) return {};
    return Move{to, {}};
  }

  void move_ends() {
    take_legs();
    std::vector<Box> boxes;
    for (const LineLeg& leg : legs_) boxes.push_back(box_of(std::array{leg.a, leg.b}));
    const BoxIndex index(boxes);
    std::set<Point> held;
    for (const auto& [end, line] : loose_ends()) {
      if (held.count(end) > 0) continue;
      const auto target = nearest_leg(index, end, line);
      const auto move = target ? move_of(end, *target) : std::nullopt;
      if (!move) continue;
      if (move->into) insert(*move->into, move->to);
      held.insert(move->to);
      moved_.emplace(end, move->to);
      ++counts_.ends_moved;
      remark(RemarkKind::repaired, "loose end moved to the next street", order_[line]->id, end,
             fmt::format("by {} mm; tolerance {} mm", std::llround(std::sqrt(square_between(end, move->to))),
                         rules_.tolerance));
    }
    apply_inserts();
    for (LooseLine* l : order_) {
      if (l->line.empty()) continue;
      for (Point* p : {&l->line.front(), &l->line.back()})
        if (const auto gone = moved_.find(*p); gone != moved_.end()) *p = gone->second;
    }
  }

  std::vector<LooseLine>& lines_;
  const NodingRules& rules_;
  std::vector<NodingRemark>& remarks_;
  std::vector<LooseLine*> order_;
  std::vector<Place> places_;
  std::vector<LineLeg> legs_;
  std::vector<Insert> inserts_;
  std::vector<std::tuple<Point, bool, uint32_t, uint32_t>> met_;
  std::map<Point, Point> moved_;
  NodingCounts counts_;
};

}  // namespace

NodingCounts node_lines(std::vector<LooseLine>& lines, const NodingRules& rules,
                        std::vector<NodingRemark>& remarks) {
  return Noder(lines, rules, remarks).run();
}

}  // namespace withy
