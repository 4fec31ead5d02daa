#include "estate/shared_lines.h"

#include <algorithm>
#include <numeric>
#include <tuple>
#include <utility>

#include "estate/line_meetings.h"

namespace withy {
namespace {

using plan::Point;

// A line read from the end that makes it the smaller one.
class Read {
 public:
  explicit Read(const std::vector<Point>& line)
      : line_(&line),
        back_(std::lexicographical_compare(line.rbegin(), line.rend(), line.begin(), line.end())) {}
  size_t size() const { return line_->size(); }
  Point operator[](size_t i) const { return (*line_)[back_ ? line_->size() - 1 - i : i]; }
  int compare(const Read& other) const {
    for (size_t i = 0; i < std::min(size(), other.size()); ++i)
      if ((*this)[i] != other[i]) return (*this)[i] < other[i] ? -1 : 1;
    return size() == other.size() ? 0 : size() < other.size() ? -1 : 1;
  }

 private:
  const std::vector<Point>* line_;
  bool back_;
};

auto rank(const DraftRoute& r) {
  return std::tuple(r.level, r.street_class, r.id.number, r.id.source);
}

}  // namespace

std::vector<uint32_t> drawn_twice(const std::vector<DraftRoute>& routes) {
  std::vector<Read> read;
  read.reserve(routes.size());
  for (const DraftRoute& r : routes) read.emplace_back(r.line);
  std::vector<uint32_t> order(routes.size()), twice;
  std::iota(order.begin(), order.end(), 0u);
  std::sort(order.begin(), order.end(), [&](uint32_t a, uint32_t b) {
    const int lines = read[a].compare(read[b]);
    if (lines != 0) return lines < 0;
    return std::pair(rank(routes[a]), a) < std::pair(rank(routes[b]), b);
  });
  for (size_t i = 1; i < order.size(); ++i)
    if (routes[order[i]].level == routes[order[i - 1]].level &&
        read[order[i]].compare(read[order[i - 1]]) == 0)
      twice.push_back(order[i]);
  std::sort(twice.begin(), twice.end());
  return twice;
}

ApartCrossings apart_crossings(const std::vector<DraftRoute>& routes) {
  std::vector<LineLeg> legs;
  std::vector<uint32_t> owner;
  for (uint32_t i = 0; i < routes.size(); ++i) {
    const DraftRoute& r = routes[i];
    if (r.bridge || r.tunnel) continue;
    for (size_t k = 1; k < r.line.size(); ++k) {
      legs.push_back({r.line[k - 1], r.line[k], r.level});
      owner.push_back(i);
    }
  }
  MeetingRules rules;
  rules.key = 1;
  rules.touch = 0;
  const LegMeetings found = leg_meetings(legs, rules);
  ApartCrossings apart;
  apart.complete = found.complete;
  for (const LegMeeting& m : found.all) {
    uint32_t a = owner[m.leg], b = owner[m.other];
    const auto id = [&](uint32_t i) { return std::tie(routes[i].id.number, routes[i].id.source); };
    if (id(b) < id(a)) std::swap(a, b);
    apart.all.push_back({a, b, m.at});
  }
  std::sort(apart.all.begin(), apart.all.end(), [&](const ApartCrossing& a, const ApartCrossing& b) {
    return std::tie(a.at, routes[a.route].id.number, routes[a.other].id.number) <
           std::tie(b.at, routes[b.route].id.number, routes[b.other].id.number);
  });
  return apart;
}

}  // namespace withy
