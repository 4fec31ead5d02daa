#include "estate/vector_take.h"

#include <fmt/core.h>

#include <charconv>
#include <cmath>
#include <optional>

#include "base/text.h"
#include "estate/osm_values.h"

namespace withy {
namespace {

constexpr size_t most_faults = 200;
// A million buildings of a city have some ten million places.
constexpr uint64_t most_places = 200'000'000, most_features = 50'000'000;
// Half way round the earth, in metres: nothing of a plane lies beyond.
constexpr double farthest_metres = 20'037'508.4;

std::string_view shape_name(GisShape shape) {
  switch (shape) {
    case gis_point:
      return "point";
    case gis_line:
      return "line";
    case gis_polygon:
      return "polygon";
    case gis_mixed:
      return "collection";
    default:
      return "nothing";
  }
}

MapPath path_of(const GisBlock& b, int64_t ring) {
  MapPath path;
  path.reserve(static_cast<size_t>(b.place_start[ring + 1] - b.place_start[ring]));
  for (int64_t p = b.place_start[ring]; p < b.place_start[ring + 1]; ++p) path.push_back({b.x[p], b.y[p]});
  return path;
}
MapPath ring_of(const GisBlock& b, int64_t ring) {
  MapPath path = path_of(b, ring);
  if (!path.empty() && path.front() != path.back()) path.push_back(path.front());
  return path;
}

template <class Each>
void each_part(const GisBlock& b, int64_t feature, Each each) {
  for (int64_t p = b.part_start[feature]; p < b.part_start[feature + 1]; ++p)
    if (b.ring_start[p] < b.ring_start[p + 1]) each(p);
}
std::vector<MapPart> parts_of(const GisBlock& b, int64_t feature) {
  std::vector<MapPart> parts;
  each_part(b, feature, [&](int64_t p) {
    MapPart part;
    for (int64_t r = b.ring_start[p]; r < b.ring_start[p + 1]; ++r) part.rings.push_back(ring_of(b, r));
    parts.push_back(std::move(part));
  });
  return parts;
}

// Tables of Shapefiles that do not name their encoding are mostly of western Europe.
std::string utf8_of(std::string_view text) {
  if (plan::valid_utf8(text)) return std::string(text);
  std::string utf8;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte >= 0x80) utf8 += static_cast<char>(0xC0 | byte >> 6);
    utf8 += static_cast<char>(byte >= 0x80 ? 0x80 | (byte & 0x3F) : byte);
  }
  return utf8;
}

template <class Number>
std::optional<Number> number_of(std::string_view text) {
  text = plan::trimmed(text);
  if (text.ends_with("mm")) text = plan::trimmed(text.substr(0, text.size() - 2));
  Number number{};
  const auto read = std::from_chars(text.data(), text.data() + text.size(), number);
  if (read.ec != std::errc{} || read.ptr != text.data() + text.size()) return {};
  return number;
}

}  // namespace

void VectorTake::fault(int64_t feature, std::string message) {
  if (faults.size() >= most_faults) return;
  std::string where = at_.layer.empty() ? "" : fmt::format("layer '{}': ", plan::shown(at_.layer));
  if (feature >= 0) where += fmt::format("feature {}: ", feature);
  faults.push_back(plan::diagnostic({at_.file, 0, 0}, where + message));
}

void VectorTake::remark(const Feature& f, RemarkKind kind, std::string_view what, std::string detail) {
  into_.remarks.push_back({kind, what, f.id, f.first, std::move(detail)});
}

bool VectorTake::take(const GisBlock& block) {
  for (int64_t i = 0; i < block.features && faults.size() < most_faults; ++i) {
    const int64_t part = block.part_start[i];
    Feature f{block, i, {at_.source, MapKind::feature, block.ids[i]}, {}};
    ++counts.features;
    if (block.shapes[i] != gis_nothing && block.shapes[i] != gis_mixed && part < block.part_start[i + 1]) {
      const int64_t first = block.place_start[block.ring_start[part]];
      f.first = {block.x[first], block.y[first]};
    }
    take_feature(f);
  }
  const bool too_many = places_ > most_places || counts.features > most_features;
  if (too_many)
    fault(-1, fmt::format("more than {} features or {} places in one layer", most_features, most_places));
  return !too_many && faults.size() < most_faults;
}

void VectorTake::take_feature(const Feature& f) {
  const GisShape shape = f.block.shapes[f.index];
  if (shape == gis_nothing) {
    ++counts.without_place;
    return remark(f, RemarkKind::left_out, "feature without a place", "");
  }
  if (shape != gis_mixed && !good_places(f)) return;
  const int64_t* texts = f.block.text_start + f.index * field_count_;
  if (!plan::valid_utf8({f.block.text + texts[0], static_cast<size_t>(texts[field_count_] - texts[0])}))
    remark(f, RemarkKind::repaired, "text that is not UTF-8, read as ISO 8859-1", "");
  Holds holds = rule_.holds;
  if (holds == Holds::by_geometry)
    holds = shape == gis_line ? Holds::streets : shape == gis_polygon ? Holds::buildings : Holds::addresses;
  switch (holds) {
    case Holds::streets:
      return streets(f);
    case Holds::addresses:
      return addresses(f);
    case Holds::buildings:
      return building(f);
    case Holds::plots:
      return plot(f);
    case Holds::barriers:
      return barriers(f);
    case Holds::ducts:
      return ducts(f);
    default:
      return;
  }
}

bool VectorTake::good_places(const Feature& f) {
  const GisBlock& b = f.block;
  const double most_x = at_.metres ? farthest_metres : 180, most_y = at_.metres ? farthest_metres : 90;
  const int64_t first = b.place_start[b.ring_start[b.part_start[f.index]]];
  const int64_t last = b.place_start[b.ring_start[b.part_start[f.index + 1]]];
  places_ += static_cast<uint64_t>(last - first);
  for (int64_t p = first; p < last; ++p) {
    if (std::abs(b.x[p]) <= most_x && std::abs(b.y[p]) <= most_y) continue;
    const std::string at = fmt::format("place {}, {}", plan::shortest(b.x[p]), plan::shortest(b.y[p]));
    if (at_.metres)
      fault(f.id.number, at + " is not on the earth");
    else if (!std::isfinite(b.x[p]) || !std::isfinite(b.y[p]))
      fault(f.id.number, at + " is no place in longitude and latitude");
    else
      fault(f.id.number,
            at + " is beyond 180 by 90 degrees" +
                (at_.system ? ""
                            : "; the source names no coordinate system: say that these are metres, "
                              "if they are"));
    return false;
  }
  return true;
}

bool VectorTake::expect(const Feature& f, GisShape shape, std::string_view due) {
  if (f.block.shapes[f.index] == shape) return true;
  fault(f.id.number, fmt::format("{} where a {} is due ({})", shape_name(f.block.shapes[f.index]),
                                 shape_name(shape), due));
  return false;
}

std::string_view VectorTake::written(const Feature& f, Role role) const {
  for (const int32_t field : fields_[static_cast<size_t>(role)]) {
    const int64_t* start = f.block.text_start + f.index * field_count_ + field;
    if (start[0] < start[1]) return {f.block.text + start[0], static_cast<size_t>(start[1] - start[0])};
  }
  return {};
}

std::string VectorTake::text(const Feature& f, Role role) const {
  const RoleRule& rule = rule_.roles[static_cast<size_t>(role)];
  const std::string_view said = written(f, role);
  if (said.empty()) return rule.always;
  std::string value = utf8_of(said);
  if (rule.values.empty()) return value;
  const auto found = rule.values.find(std::string(plan::trimmed(value)));
  return found == rule.values.end() ? value : found->second;
}

bool VectorTake::says(const Feature& f, Role role) const {
  const std::string said = text(f, role);
  return !said.empty() && said != "no" && said != "0" && said != "false";
}

int VectorTake::level(const Feature& f) {
  const std::string said = text(f, Role::level);
  if (said.empty()) return says(f, Role::bridge) ? 1 : says(f, Role::tunnel) ? -1 : 0;
  const auto number = number_of<double>(said);
  constexpr double most = 99;
  if (number && std::abs(*number) <= most) return static_cast<int>(std::lround(*number));
  remark(f, RemarkKind::doubtful, "level that is no number",
         fmt::format("'{}', taken as 0", plan::shown(said)));
  return 0;
}

void VectorTake::streets(const Feature& f) {
  if (!expect(f, gis_line, "streets")) return;
  MapStreet street;
  street.id = f.id;
  street.name = text(f, Role::name);
  street.surface = text(f, Role::surface);
  street.access = text(f, Role::access);
  street.bridge = says(f, Role::bridge), street.tunnel = says(f, Role::tunnel);
  street.level = level(f);
  if (const std::string said = text(f, Role::street_class); !said.empty()) {
    const auto known = street_of(said);
    if (known) street.street_class = known->street_class, street.link = known->link;
    if (!known)
      remark(f, RemarkKind::doubtful, "street class not known",
             fmt::format("'{}', taken as unstated", plan::shown(said)));
  }
  each_part(f.block, f.index, [&](int64_t p) {
    street.line = path_of(f.block, f.block.ring_start[p]);
    into_.streets.push_back(street);
  });
}

void VectorTake::street_and_number(const Feature& f, std::string& street, std::string& number) const {
  street = text(f, Role::street), number = text(f, Role::number);
  const std::string both = text(f, Role::address);
  if (both.empty()) return;
  const size_t comma = both.rfind(',');
  if (street.empty()) street = plan::trimmed(std::string_view(both).substr(0, comma));
  if (number.empty() && comma != std::string::npos)
    number = plan::trimmed(std::string_view(both).substr(comma + 1));
}

void VectorTake::addresses(const Feature& f) {
  if (!expect(f, gis_point, "addresses")) return;
  MapAddress address;
  address.id = f.id;
  street_and_number(f, address.street, address.number);
  address.unit = text(f, Role::unit);
  address.dwellings = text(f, Role::dwellings);
  each_part(f.block, f.index, [&](int64_t p) {
    const int64_t place = f.block.place_start[f.block.ring_start[p]];
    address.at = {f.block.x[place], f.block.y[place]};
    into_.addresses.push_back(address);
  });
}

void VectorTake::building(const Feature& f) {
  if (!expect(f, gis_polygon, "buildings")) return;
  MapBuilding building;
  building.id = f.id;
  building.parts = parts_of(f.block, f.index);
  building.kind = text(f, Role::kind);
  if (building.kind.empty()) building.kind = "yes";
  street_and_number(f, building.street, building.number);
  building.levels = text(f, Role::levels), building.flats = text(f, Role::flats);
  building.use = text(f, Role::use);
  into_.buildings.push_back(std::move(building));
}

void VectorTake::plot(const Feature& f) {
  if (expect(f, gis_polygon, "plots")) into_.plots.push_back({f.id, parts_of(f.block, f.index)});
}

void VectorTake::barriers(const Feature& f) {
  if (f.block.shapes[f.index] != gis_polygon && !expect(f, gis_line, "barriers")) return;
  constexpr std::pair<std::string_view, BarrierKind> kinds[] = {{"rail", BarrierKind::rail},
                                                                {"tram", BarrierKind::tram},
                                                                {"water", BarrierKind::water},
                                                                {"motorway", BarrierKind::motorway}};
  MapBarrier barrier;
  const std::string said = text(f, Role::kind);
  bool known = false;
  for (const auto& [word, kind] : kinds)
    if (word == said) barrier.kind = kind, known = true;
  if (!known)
    return fault(f.id.number,
                 fmt::format("'{}' is no barrier: rail, tram, water or motorway", plan::shown(said)));
  barrier.id = f.id;
  barrier.bridge = says(f, Role::bridge), barrier.tunnel = says(f, Role::tunnel);
  barrier.level = level(f);
  barrier.area = f.block.shapes[f.index] == gis_polygon;
  each_part(f.block, f.index, [&](int64_t p) {
    const int64_t outside = f.block.ring_start[p];
    barrier.line = barrier.area ? ring_of(f.block, outside) : path_of(f.block, outside);
    barrier.islands.clear();
    for (int64_t r = outside + 1; r < f.block.ring_start[p + 1]; ++r)
      barrier.islands.push_back(ring_of(f.block, r));
    into_.barriers.push_back(barrier);
  });
}

void VectorTake::ducts(const Feature& f) {
  if (!expect(f, gis_line, "existing ducts")) return;
  MapDuct duct;
  duct.id = f.id;
  duct.name = text(f, Role::name), duct.content = text(f, Role::content);
  duct.owner = text(f, Role::owner), duct.hire_price = text(f, Role::hire_price);
  if (const std::string said = text(f, Role::bore); !said.empty()) {
    const auto bore = number_of<double>(said);
    if (!bore || !(*bore > 0) || !std::isfinite(*bore))
      return fault(f.id.number, fmt::format("bore '{}', expected millimetres", plan::shown(said)));
    duct.bore_millimetres = *bore;
  }
  const std::string state = text(f, Role::state);
  if (state == "proven")
    duct.state = DuctState::proven;
  else if (state == "blocked")
    duct.state = DuctState::blocked;
  else if (!state.empty() && state != "unproven")
    return fault(f.id.number,
                 fmt::format("state '{}', expected proven, unproven or blocked", plan::shown(state)));
  each_part(f.block, f.index, [&](int64_t p) {
    duct.line = path_of(f.block, f.block.ring_start[p]);
    into_.ducts.push_back(duct);
  });
}

}  // namespace withy
