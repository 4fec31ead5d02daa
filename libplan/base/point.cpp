#include "base/point.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace plan {

Length distance(Point a, Point b) {
  return whole_millimetres(
      std::llround(std::hypot(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y))));
}

Length polyline_length(std::span<const Point> line) {
  Length sum;
  for (size_t i = 1; i < line.size(); ++i) sum += distance(line[i - 1], line[i]);
  return sum;
}

void extend_line(std::vector<Point>& line, std::span<const Point> piece, bool forward) {
  for (size_t i = 0; i < piece.size(); ++i) {
    const Point p = piece[forward ? i : piece.size() - 1 - i];
    if (line.empty() || line.back() != p) line.push_back(p);
  }
}

Angle turn(Point a, Point b, Point c) {
  const auto ux = static_cast<double>(b.x - a.x), uy = static_cast<double>(b.y - a.y);
  const auto vx = static_cast<double>(c.x - b.x), vy = static_cast<double>(c.y - b.y);
  if ((ux == 0 && uy == 0) || (vx == 0 && vy == 0)) return radians(0);
  return radians(std::abs(std::atan2(ux * vy - uy * vx, ux * vx + uy * vy)));
}

uint64_t hilbert(Point p) {
  const auto clamp = [](int64_t v) {
    return static_cast<uint32_t>(std::clamp<int64_t>(v + (int64_t{1} << 31), 0, (int64_t{1} << 32) - 1));
  };
  uint32_t x = clamp(p.x), y = clamp(p.y);
  uint64_t d = 0;
  for (uint32_t s = 1u << 31; s > 0; s >>= 1) {
    const uint32_t rx = (x & s) ? 1 : 0, ry = (y & s) ? 1 : 0;
    d += static_cast<uint64_t>(s) * s * ((3 * rx) ^ ry);
    if (ry == 0) {
      if (rx == 1) x = ~x, y = ~y;
      std::swap(x, y);
    }
  }
  return d;
}

}  // namespace plan
