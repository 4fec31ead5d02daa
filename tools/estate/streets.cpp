#include "estate/streets.h"

#include <algorithm>
#include <cmath>

#include "estate/barriers.h"
#include "estate/route_names.h"
#include "estate/shared_lines.h"
#include "estate/street_rules.h"

namespace withy {
namespace {

using plan::Point;

std::string trimmed_name(const std::string& written) {
  std::string name;
  for (const char c : written) name += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
  const size_t first = name.find_first_not_of(' ');
  if (first == std::string::npos) return {};
  return name.substr(first, name.find_last_not_of(' ') - first + 1);
}

class Streets {
 public:
  Streets(const Map& map, const Plane& plane, const StreetRules& rules)
      : map_(map), plane_(plane), rules_(rules) {
    draft_.plane = plane.name();
  }

  Draft make() {
    std::vector<LooseLine> loose;
    std::vector<const MapStreet*> loose_streets;
    for (const MapStreet& s : map_.streets) {
      if (rules_.roads_only && table_[s.street_class].soft) continue;
      if (map_.sources[s.id.source].shared_vertices) {
        add(s, line_of(s.line, s.id));
      } else {
        loose.push_back({s.id, line_of(s.line, s.id), level_of(s)});
        loose_streets.push_back(&s);
      }
    }
    tidy_shared();
    add_loose(loose, loose_streets);
    for (const MapDuct& d : map_.ducts) add_duct(d);
    name_routes(draft_.routes);
    const size_t placed = draft_.remarks.size();
    cross_barriers(draft_.routes, barriers(), rules_.crossings_forbidden, draft_.remarks);
    if (rules_.model == StreetModel::both_sides)
      draft_.routes = both_sides(draft_.routes, rules_.sides, draft_.remarks);
    for (size_t i = placed; i < draft_.remarks.size(); ++i) {
      MapPlace& at = draft_.remarks[i].at;
      at = plane_.inverse({std::llround(at.x * 1000), std::llround(at.y * 1000)});
    }
    return std::move(draft_);
  }

 private:
  // Without repeated vertices, and without what lies nowhere.
  std::vector<Point> line_of(const MapPath& path, const MapId& id) {
    std::vector<Point> line;
    line.reserve(path.size());
    for (const MapPlace& p : path) {
      if (!plane_.can_place(p)) {
        remark(RemarkKind::left_out, "vertex that lies nowhere", id, {});
        continue;
      }
      if (const Point at = plane_.forward(p); line.empty() || line.back() != at) line.push_back(at);
    }
    return line;
  }

  void remark(RemarkKind kind, std::string_view what, const MapId& id, MapPlace at) {
    draft_.remarks.push_back({kind, what, id, at, {}});
  }

  std::vector<DraftBarrier> barriers() {
    std::vector<DraftBarrier> all;
    for (const MapBarrier& b : map_.barriers) {
      all.push_back({b.id, b.kind, line_of(b.line, b.id), b.level, b.bridge, b.tunnel});
      for (const MapPath& island : b.islands)
        all.push_back({b.id, b.kind, line_of(island, b.id), b.level, b.bridge, b.tunnel});
    }
    return all;
  }

  // Of the lines added so far, all of sources with shared vertices.
  void tidy_shared() {
    for (const uint32_t i : drawn_twice(draft_.routes)) {
      DraftRoute& r = draft_.routes[i];
      remark(RemarkKind::left_out, "street line drawn twice", r.id, plane_.inverse(r.line.front()));
      r.line.clear();
    }
    std::erase_if(draft_.routes, [](const DraftRoute& r) { return r.line.empty(); });
    const ApartCrossings apart = apart_crossings(draft_.routes);
    for (const ApartCrossing& c : apart.all)
      draft_.remarks.push_back({RemarkKind::doubtful, "streets cross without a vertex: left apart",
                                draft_.routes[c.route].id, plane_.inverse(c.at),
                                "with " + id_text(draft_.routes[c.other].id)});
    if (!apart.complete)
      remark(RemarkKind::doubtful, "too many crossings to be listed", draft_.routes.front().id,
             plane_.inverse(draft_.routes.front().line.front()));
  }

  void add_loose(std::vector<LooseLine>& loose, const std::vector<const MapStreet*>& streets) {
    for (size_t i = 0; i < loose.size(); ++i)
      if (loose[i].line.size() < 2) no_length(*streets[i]);
    std::vector<NodingRemark> remarks;
    node_lines(loose, rules_.noding, remarks);
    for (NodingRemark& r : remarks) {
      r.remark.at = plane_.inverse(r.at);
      draft_.remarks.push_back(std::move(r.remark));
    }
    for (size_t i = 0; i < loose.size(); ++i)
      if (loose[i].line.size() >= 2) add(*streets[i], std::move(loose[i].line));
  }

  // The first place of a line that can be shown on a map.
  MapPlace shown(const MapPath& path) const {
    for (const MapPlace& p : path)
      if (plane_.can_place(p)) return p;
    return {};
  }

  void no_length(const MapStreet& s) {
    remark(RemarkKind::left_out, "street without length", s.id, shown(s.line));
  }

  static int level_of(const MapStreet& s) { return s.bridge || s.tunnel ? s.level : 0; }

  void add(const MapStreet& s, std::vector<Point> line) {
    if (line.size() < 2) return no_length(s);
    if (s.area) remark(RemarkKind::doubtful, "square taken by its outline", s.id, shown(s.line));
    const StreetDefault& usual = table_[s.street_class];
    const std::string_view stated = table_.surface_of(s.surface, s.street_class);
    DraftRoute r;
    r.id = s.id;
    r.line = std::move(line);
    r.street = trimmed_name(s.name);
    r.street_class = s.street_class;
    r.surface = stated.empty() ? usual.surface : stated;
    r.surface_known = stated.empty() ? Known::assumed : Known::mapped;
    r.bridge = s.bridge, r.tunnel = s.tunnel;
    r.drops = usual.drops && !s.bridge && !s.tunnel;
    r.level = level_of(s);
    r.restricted = table_.is_restricted(s.access);
    draft_.routes.push_back(std::move(r));
  }

  void add_duct(const MapDuct& d) {
    DraftRoute r;
    r.id = d.id;
    r.line = line_of(d.line, d.id);
    if (r.line.size() < 2)
      return remark(RemarkKind::left_out, "existing duct without length", d.id, shown(d.line));
    r.street = trimmed_name(d.name);
    r.surface = "existing duct";
    r.surface_known = Known::mapped;
    r.drops = false;
    r.duct = &d;
    draft_.routes.push_back(std::move(r));
  }

  const Map& map_;
  const Plane& plane_;
  const StreetRules& rules_;
  const StreetTable table_ = street_table();
  Draft draft_;
};

}  // namespace

Draft make_streets(const Map& map, const Plane& plane, const StreetRules& rules) {
  return Streets(map, plane, rules).make();
}

}  // namespace withy
