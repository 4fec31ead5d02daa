// One layer's features on their way into the map.
#pragma once
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "base/place.h"
#include "estate/map.h"
#include "estate/vector_map.h"
#include "estate/vector_mapping.h"
#include "gis/gis_table.h"

namespace withy {

// Which of the fields asked for say what; the first that is not empty counts.
using RoleFields = std::array<std::vector<int32_t>, role_count>;

struct LayerAt {
  std::string file;   // as the user wrote it
  std::string layer;  // as a message names it; empty where the file has one layer
  uint16_t source = 0;
  bool metres = false;
  bool system = true;  // the source names its coordinate system
};

class VectorTake {
 public:
  VectorTake(const LayerRule& rule, const RoleFields& fields, int32_t field_count, LayerAt at, Map& into)
      : rule_(rule), fields_(fields), field_count_(field_count), at_(std::move(at)), into_(into) {}
  // False once there is no sense in going on.
  bool take(const GisBlock& block);
  void fault(int64_t feature, std::string message);

  plan::Diagnostics faults;
  VectorCounts counts;

 private:
  // What is looked at just now.
  struct Feature {
    const GisBlock& block;
    int64_t index;
    MapId id;
    MapPlace first;
  };
  void take_feature(const Feature& f);
  bool good_places(const Feature& f);
  bool expect(const Feature& f, GisShape shape, std::string_view due);
  std::string_view written(const Feature& f, Role role) const;
  std::string text(const Feature& f, Role role) const;
  bool says(const Feature& f, Role role) const;
  int level(const Feature& f);
  void remark(const Feature& f, RemarkKind kind, std::string_view what, std::string detail);

  void streets(const Feature& f);
  void addresses(const Feature& f);
  void building(const Feature& f);
  void plot(const Feature& f);
  void barriers(const Feature& f);
  void ducts(const Feature& f);
  void street_and_number(const Feature& f, std::string& street, std::string& number) const;

  const LayerRule& rule_;
  const RoleFields& fields_;
  int32_t field_count_;
  LayerAt at_;
  Map& into_;
  uint64_t places_ = 0;
};

}  // namespace withy
