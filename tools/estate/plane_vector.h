// Vectors in the plane of an estate, millimetres.
#pragma once
#include <cmath>

#include "base/point.h"

namespace withy {

struct Vector {
  double x = 0, y = 0;
};

inline Vector operator+(Vector a, Vector b) {
  return {a.x + b.x, a.y + b.y};
}
inline Vector operator*(Vector a, double f) {
  return {a.x * f, a.y * f};
}
inline double cross(Vector a, Vector b) {
  return a.x * b.y - a.y * b.x;
}
inline double dot(Vector a, Vector b) {
  return a.x * b.x + a.y * b.y;
}
inline Vector left_of(Vector direction) {
  return {-direction.y, direction.x};
}
// Exact for legs shorter than 9,000,000 km; their cross product for legs up to 67 km.
inline Vector vector_of(plan::Point a, plan::Point b) {
  return {static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y)};
}
// Of length 1; `v` is not null.
inline Vector unit(Vector v) {
  return v * (1 / std::hypot(v.x, v.y));
}
// Rounded to whole millimetres.
inline plan::Point moved(plan::Point p, Vector by) {
  return {p.x + std::llround(by.x), p.y + std::llround(by.y)};
}

}  // namespace withy
