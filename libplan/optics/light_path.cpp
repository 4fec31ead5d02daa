#include "optics/light_path.h"

#include <algorithm>

#include "base/check.h"

namespace plan {
namespace {

PartPlace place_of(StationKind kind) {
  switch (kind) {
    case StationKind::headend:
      return PartPlace::headend;
    case StationKind::cabinet:
      return PartPlace::cabinet;
    case StationKind::branch_point:
      return PartPlace::branch_point;
    case StationKind::building:
      break;
  }
  return PartPlace::building;
}

// Walks from the outlet inwards; the parts are turned round at the end.
class Walk {
 public:
  Walk(const OpticsInput& input, std::vector<Part>& parts) : input_(input), parts_(parts) {}

  void run(const Dwelling& dwelling) {
    add({PartKind::margin, PartPlace::path, {}, 1, {}});
    StationId at = leave_premises(dwelling);
    SplitterId next = dwelling.splitter;
    while (true) {
      next = cross(at, next);
      const Station& station = input_.layout.stations[at];
      if (!known_ || station.kind == StationKind::headend) break;
      PLAN_CHECK(station.upstream.valid() && station.upstream < at);
      add_glass(input_.layout.feeds[at], place_of(station.kind));
      at = station.upstream;
    }
    PLAN_CHECK(!known_ || !next.valid());
    if (!known_) parts_.clear();
    std::reverse(parts_.begin(), parts_.end());
  }

 private:
  // Outlet, indoor glass and the unit; returns the station where the unit or indoor fibre begins.
  StationId leave_premises(const Dwelling& dwelling) {
    const Link& link = input_.layout.links[dwelling.link];
    const Premises& premises = input_.demand.premises[dwelling.premises];
    add({PartKind::connectors, PartPlace::outlet, {}, input_.rules.connectors_at_outlet, {}});
    add({PartKind::splices, PartPlace::outlet, {}, 1, {}});
    if (link.to.valid() || premises.building_point)
      add({PartKind::riser, PartPlace::outlet, premises.riser, 1, {}});
    if (link.to.valid()) return link.to;
    if (premises.building_point) add({PartKind::splices, PartPlace::building, {}, 1, {}});
    add_glass(dwelling.link, PartPlace::outlet);
    return link.from;
  }

  // The splitters, splices and connectors of one station; returns the splitter still to come.
  SplitterId cross(StationId at, SplitterId next) {
    const Station& station = input_.layout.stations[at];
    const PartPlace place = place_of(station.kind);
    const bool headend = station.kind == StationKind::headend;
    const size_t splices_at = parts_.size();
    add({PartKind::splices, place, {}, 1, {}});  // of the fibre that leaves
    bool first = true, any_connectors = false, last_connectors = false;
    for (; next.valid() && input_.fibre.splitters[next].station == at; first = false) {
      const Splitter& splitter = input_.fibre.splitters[next];
      known_ &= splitter.type.valid();
      if (!known_) return next;
      const bool connectors = input_.catalogue.splitters[splitter.type].connectorised;
      if (!first && !connectors && !last_connectors) parts_[splices_at].pieces += 1;
      add({PartKind::splitter, place, {}, 1, splitter.type});
      any_connectors |= connectors;
      last_connectors = connectors;
      next = splitter.upstream;
    }
    if (!first && !headend) parts_[splices_at].pieces += 1;  // of the feed
    const int mated = headend ? input_.rules.connectors_at_headend
                      : station.kind == StationKind::cabinet && input_.fibre_rules.patched_cabinet
                          ? input_.rules.connectors_at_cabinet
                          : 0;
    if (!any_connectors) add({PartKind::connectors, place, {}, mated, {}});
    return next;
  }

  void add_glass(LinkId link, PartPlace to) {
    add({PartKind::glass, to, input_.fibre.cables[link].length, 1, {}});
  }

  void add(const Part& part) {
    if (part.pieces > 0) parts_.push_back(part);
  }

  const OpticsInput& input_;
  std::vector<Part>& parts_;
  bool known_ = true;
};

}  // namespace

void walk_light_path(const OpticsInput& input, DwellingId dwelling, std::vector<Part>& parts) {
  parts.clear();
  const Dwelling& d = input.fibre.dwellings[dwelling];
  if (!d.pon.valid()) return;
  Walk(input, parts).run(d);
}

}  // namespace plan
