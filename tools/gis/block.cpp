#include "gis/block.h"

#include <cmath>
#include <limits>
#include <memory>

namespace withy {
namespace {

constexpr double farthest = 2e8;  // half way round the earth in feet, with room for false eastings

// GDAL takes every point with a coordinate that is not a number for an empty one; only one without either
// number is empty.
bool is_empty(const OGRGeometry& geometry) {
  if (!geometry.IsEmpty()) return false;
  if (wkbFlatten(geometry.getGeometryType()) != wkbPoint) return true;
  const OGRPoint& point = *geometry.toPoint();
  return std::isnan(point.getX()) == std::isnan(point.getY());
}

}  // namespace

void BlockMaker::clear() {
  ids_.clear(), shapes_.clear(), x_.clear(), y_.clear(), z_.clear(), text_.clear();
  for (auto* start : {&part_start_, &ring_start_, &place_start_, &text_start_}) start->assign(1, 0);
}

void BlockMaker::add_text(const char* text) {
  text_ += text;
  text_start_.push_back(static_cast<int64_t>(text_.size()));
}

void BlockMaker::add(int64_t id, const OGRGeometry* geometry) {
  ids_.push_back(id);
  std::unique_ptr<OGRGeometry> straight;
  if (geometry && OGR_GT_IsNonLinear(geometry->getGeometryType())) {
    straight.reset(geometry->getLinearGeometry());
    geometry = straight.get();
  }
  shapes_.push_back(geometry && !is_empty(*geometry) ? add_geometry(*geometry) : gis_nothing);
  part_start_.push_back(static_cast<int64_t>(ring_start_.size()) - 1);
}

GisShape BlockMaker::add_geometry(const OGRGeometry& geometry) {
  switch (wkbFlatten(geometry.getGeometryType())) {
    case wkbPoint:
      return add_point(*geometry.toPoint()), gis_point;
    case wkbLineString:
      return add_line(*geometry.toLineString()), gis_line;
    case wkbPolygon:
      return add_polygon(*geometry.toPolygon()), gis_polygon;
    case wkbMultiPoint:
      for (const OGRPoint* point : *geometry.toMultiPoint()) add_point(*point);
      return gis_point;
    case wkbMultiLineString:
      for (const OGRLineString* line : *geometry.toMultiLineString()) add_line(*line);
      return gis_line;
    case wkbMultiPolygon:
      for (const OGRPolygon* polygon : *geometry.toMultiPolygon()) add_polygon(*polygon);
      return gis_polygon;
    default:
      return gis_mixed;
  }
}

void BlockMaker::add_point(const OGRPoint& point) {
  if (is_empty(point)) return;
  x_.push_back(point.getX()), y_.push_back(point.getY());
  z_.push_back(point.Is3D() ? point.getZ() : std::numeric_limits<double>::quiet_NaN());
  place_start_.push_back(static_cast<int64_t>(x_.size()));
  ring_start_.push_back(static_cast<int64_t>(place_start_.size()) - 1);
}

void BlockMaker::add_ring(const OGRSimpleCurve& ring) {
  const size_t had = x_.size(), count = static_cast<size_t>(ring.getNumPoints());
  const bool heights = ring.Is3D();
  x_.resize(had + count), y_.resize(had + count);
  z_.resize(had + count, std::numeric_limits<double>::quiet_NaN());
  constexpr int stride = sizeof(double);
  ring.getPoints(x_.data() + had, stride, y_.data() + had, stride, heights ? z_.data() + had : nullptr,
                 heights ? stride : 0);
  place_start_.push_back(static_cast<int64_t>(x_.size()));
}

void BlockMaker::add_line(const OGRLineString& line) {
  if (line.IsEmpty()) return;
  add_ring(line);
  ring_start_.push_back(static_cast<int64_t>(place_start_.size()) - 1);
}

void BlockMaker::add_polygon(const OGRPolygon& polygon) {
  if (polygon.IsEmpty()) return;
  for (const OGRLinearRing* ring : polygon) add_ring(*ring);
  ring_start_.push_back(static_cast<int64_t>(place_start_.size()) - 1);
}

void BlockMaker::transform(OGRCoordinateTransformation& into) {
  if (x_.empty()) return;
  ok_.assign(x_.size(), 0);
  // Projections run round and round far outside of the earth.
  const auto absurd = [](double v) { return !(std::abs(v) < farthest); };
  for (size_t i = 0; i < x_.size(); ++i)
    if (absurd(x_[i]) || absurd(y_[i])) x_[i] = y_[i] = std::numeric_limits<double>::infinity();
  into.Transform(static_cast<int>(x_.size()), x_.data(), y_.data(), nullptr, ok_.data());
  for (size_t i = 0; i < ok_.size(); ++i)
    if (!ok_[i]) x_[i] = y_[i] = std::numeric_limits<double>::infinity();
}

GisBlock BlockMaker::block() const {
  return {static_cast<int64_t>(ids_.size()),
          ids_.data(),
          shapes_.data(),
          part_start_.data(),
          ring_start_.data(),
          place_start_.data(),
          x_.data(),
          y_.data(),
          z_.data(),
          text_start_.data(),
          text_.data()};
}

}  // namespace withy
