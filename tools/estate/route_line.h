// Places along the line of a drafted route, and pieces cut out of it.
//
//   const Stations at(route.line);
//   DraftRoute piece = cut(route, at, 12'000, 24'000);   // from 12 m to 24 m: a copy but for line and
//   heights
//
// Vertices are never moved. A new vertex is the nearest whole millimetre to the line.
#pragma once
#include <set>
#include <string>
#include <vector>

#include "estate/draft.h"

namespace withy {

// Distance of every vertex from the start, mm.
class Stations {
 public:
  explicit Stations(const std::vector<plan::Point>& line);
  double length() const { return along_.back(); }
  double operator[](size_t vertex) const { return along_[vertex]; }
  size_t size() const { return along_.size(); }
  // The leg that holds the place `at`, the later one at a vertex: from vertex n to n + 1.
  size_t leg(double at) const;

 private:
  std::vector<double> along_;
};

plan::Point point_at(const std::vector<plan::Point>& line, const Stations& stations, double at);
int32_t height_at(const std::vector<int32_t>& heights, const Stations& stations, double at);
// 0 <= from <= to <= length. No vertex twice in a row; fewer than two vertices where nothing is left.
DraftRoute cut(const DraftRoute& route, const Stations& stations, double from, double to);

// Names made from the name of a route, none of which is the name of another.
class PieceNames {
 public:
  explicit PieceNames(const std::vector<DraftRoute>& routes);
  // "Mill Lane left 3": the next free number, counted in `last`. Empty where the route has no name.
  std::string next(const std::string& name, const char* word, int& last) const;

 private:
  std::set<std::string> taken_;
};

}  // namespace withy
