#include "estate/route_line.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace withy {

Stations::Stations(const std::vector<plan::Point>& line) {
  along_.reserve(line.size() + 1);
  along_.push_back(0);
  for (size_t i = 1; i < line.size(); ++i)
    along_.push_back(along_.back() + std::hypot(static_cast<double>(line[i].x - line[i - 1].x),
                                                static_cast<double>(line[i].y - line[i - 1].y)));
}

size_t Stations::leg(double at) const {
  const auto above = std::upper_bound(along_.begin(), along_.end(), at);
  const auto vertex = static_cast<size_t>(above - along_.begin());
  const size_t last = along_.size() < 2 ? 0 : along_.size() - 2;
  return std::min(vertex == 0 ? 0 : vertex - 1, last);
}

namespace {

double share(const Stations& stations, size_t leg, double at) {
  const double length = stations[leg + 1] - stations[leg];
  return length > 0 ? std::clamp((at - stations[leg]) / length, 0.0, 1.0) : 0.0;
}

double between(int64_t a, int64_t b, double share) {
  return static_cast<double>(b - a) * share;
}

}  // namespace

plan::Point point_at(const std::vector<plan::Point>& line, const Stations& stations, double at) {
  if (line.size() < 2) return line[0];
  const size_t i = stations.leg(at);
  const double s = share(stations, i, at);
  const plan::Point a = line[i], b = line[i + 1];
  return {a.x + std::llround(between(a.x, b.x, s)), a.y + std::llround(between(a.y, b.y, s))};
}

int32_t height_at(const std::vector<int32_t>& heights, const Stations& stations, double at) {
  if (heights.size() < 2) return heights.empty() ? 0 : heights[0];
  const size_t i = stations.leg(at);
  return heights[i] +
         static_cast<int32_t>(std::lround(between(heights[i], heights[i + 1], share(stations, i, at))));
}

DraftRoute cut(const DraftRoute& route, const Stations& stations, double from, double to) {
  DraftRoute piece = route;
  piece.line.clear();
  piece.heights.clear();
  const bool high = route.heights.size() == route.line.size();
  const auto add = [&](plan::Point p, int32_t height) {
    if (!piece.line.empty() && piece.line.back() == p) return;
    piece.line.push_back(p);
    if (high) piece.heights.push_back(height);
  };
  const auto add_place = [&](double at) {
    add(point_at(route.line, stations, at), high ? height_at(route.heights, stations, at) : 0);
  };
  add_place(from);
  for (size_t i = stations.leg(from) + 1; i < route.line.size() && stations[i] < to; ++i)
    if (stations[i] > from) add(route.line[i], high ? route.heights[i] : 0);
  add_place(to);
  return piece;
}

PieceNames::PieceNames(const std::vector<DraftRoute>& routes) {
  for (const DraftRoute& r : routes) taken_.insert(r.name);
}

std::string PieceNames::next(const std::string& name, const char* word, int& last) const {
  if (name.empty()) return {};
  for (;;)
    if (std::string made = fmt::format("{} {} {}", name, word, ++last); !taken_.contains(made)) return made;
}

}  // namespace withy
