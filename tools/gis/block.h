// One block of features on its way out: GDAL's objects in, flat arrays out.
#pragma once
#include <ogrsf_frmts.h>

#include <string>
#include <vector>

#include "gis/gis_table.h"

namespace withy {

class BlockMaker {
 public:
  void clear();
  void add_text(const char* text);
  void add(int64_t id, const OGRGeometry* geometry);
  // Places into another system; a place that has none becomes infinite.
  void transform(OGRCoordinateTransformation& into);
  bool full() const {
    return ids_.size() >= most_features || x_.size() >= most_places || text_.size() >= most_bytes;
  }
  bool empty() const { return ids_.empty(); }
  GisBlock block() const;

 private:
  static constexpr size_t most_features = 4096, most_places = 1u << 20, most_bytes = 16u << 20;
  GisShape add_geometry(const OGRGeometry& geometry);
  void add_point(const OGRPoint& point);
  void add_ring(const OGRSimpleCurve& ring);
  void add_line(const OGRLineString& line);
  void add_polygon(const OGRPolygon& polygon);

  std::vector<int64_t> ids_, part_start_{0}, ring_start_{0}, place_start_{0}, text_start_{0};
  std::vector<GisShape> shapes_;
  std::vector<double> x_, y_, z_;
  std::string text_;
  std::vector<int> ok_;
};

}  // namespace withy
