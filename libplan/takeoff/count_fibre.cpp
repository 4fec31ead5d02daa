#include "takeoff/counting.h"

namespace plan {
namespace {

class FibreCounter {
 public:
  explicit FibreCounter(Counting& c) : c_(c), in_(c.in) {}

  void stations() {
    for (const StationId s : in_.layout.stations.ids()) {
      const StationId area = c_.out.area[s];
      const StationFibre& fibre = in_.fibre.stations[s];
      splices(area, fibre.splices);
      c_.sums.add(c_.book.part(NamedPart::splice_tray), area, QuantityReason::station_tray, fibre.trays);
      housing(in_.layout.stations[s].kind, area);
    }
  }

  void premises() {
    for (const PremisesId p : in_.demand.premises.ids()) {
      if (!in_.basis.needs[p].planned || !in_.layout.drops[p].valid()) continue;
      const StationId area = c_.out.link_area[in_.layout.drops[p]];
      if (laid_now(in_, p) == DropLaid::to_boundary)
        c_.sums.add(c_.book.part(NamedPart::boundary_point), area, QuantityReason::plot_boundary, 1);
      if (in_.basis.needs[p].reserved) continue;
      splices(area, in_.fibre.premises_splices[p]);
      if (in_.demand.premises[p].building_point)
        c_.sums.add(c_.book.part(NamedPart::building_point), area, QuantityReason::building_entered, 1);
    }
  }

  void links() {
    c_.out.blown.resize(in_.layout.links.size());
    c_.out.proven.resize(in_.layout.links.size());
    for (const LinkId l : in_.layout.links.ids()) {
      if (proven(l)) count_path(l);
      if (blown(l)) count_cable(l);
    }
  }

  void splitters() {
    for (const Splitter& s : in_.fibre.splitters)
      if (s.day_one && s.type.valid())
        c_.sums.add(c_.book.of(ItemKind::splitter, s.type.value), c_.out.area[s.station],
                    QuantityReason::day_one_split, 1);
  }

  void pons() {
    Table<HeadendId, StationId> at(in_.demand.headends.size());
    for (const StationId s : in_.layout.stations.ids())
      if (in_.layout.stations[s].kind == StationKind::headend) at[in_.layout.stations[s].headend] = s;
    for (const Pon& p : in_.fibre.pons)
      if (p.day_one > 0)
        c_.sums.add(c_.book.part(NamedPart::olt_port), at[p.headend], QuantityReason::day_one_pon, 1);
  }

  void dwellings() {
    for (const Dwelling& d : in_.fibre.dwellings) {
      if (d.state != LightState::lit || !d.link.valid()) continue;
      const StationId area = c_.out.link_area[d.link];
      c_.sums.add(c_.book.part(NamedPart::outlet), area, QuantityReason::dwelling_served, 1);
      c_.sums.add(c_.book.part(NamedPart::pigtail), area, QuantityReason::dwelling_served, 1);
      c_.sums.add(c_.book.work(TaskKind::test), area, QuantityReason::work_done, 1);
      c_.sums.add(c_.book.work(TaskKind::connect), area, QuantityReason::work_done, 1);
    }
  }

 private:
  void splices(StationId area, int n) {
    c_.sums.add(c_.book.work(TaskKind::splice), area, QuantityReason::work_done, n);
    c_.sums.add(c_.book.part(NamedPart::splice_protector), area, QuantityReason::splice_made, n);
  }

  void housing(StationKind kind, StationId area) {
    const CabinetTypeId type = in_.basis.cabinet.type;
    if (kind == StationKind::cabinet && type.valid()) {
      c_.sums.add(c_.book.of(ItemKind::cabinet, type.value), area, QuantityReason::area_cabinet, 1);
      c_.sums.add(c_.book.work(TaskKind::cabinet), area, QuantityReason::work_done, 1);
    } else if (kind == StationKind::branch_point) {
      c_.sums.add(c_.book.cabinet(CabinetKind::chamber_closure), area, QuantityReason::branch_splitter, 1);
    } else if (kind == StationKind::building) {
      c_.sums.add(c_.book.cabinet(CabinetKind::wall_box), area, QuantityReason::building_splitter, 1);
    }
  }

  bool proven(LinkId l) const {
    const PremisesId p = in_.layout.links[l].premises;
    return !in_.ducts.paths[l].empty() && (!p.valid() || laid_now(in_, p) == DropLaid::to_door);
  }

  bool blown(LinkId l) const {
    const PremisesId p = in_.layout.links[l].premises;
    if (!in_.fibre.cables[l].cable.valid() || in_.ducts.paths[l].empty()) return false;
    return !p.valid() || !in_.basis.needs[p].reserved;
  }

  void count_path(LinkId l) {
    c_.out.proven[l] = 1;
    c_.sums.add(c_.book.work(TaskKind::prove), c_.out.link_area[l], QuantityReason::work_done, 1);
    c_.sums.add(c_.book.part(NamedPart::microduct_marker), c_.out.link_area[l], QuantityReason::path_end, 2);
  }

  void count_cable(LinkId l) {
    const LinkCable& cable = in_.fibre.cables[l];
    const StationId area = c_.out.link_area[l];
    const ItemId item = c_.book.of(ItemKind::cable, cable.cable.value);
    const int64_t path = to_whole_millimetres(cable.duct_length);
    const int64_t all = to_whole_millimetres(cable.length);
    c_.out.blown[l] = 1;
    c_.sums.add(item, area, QuantityReason::blown_link, path);
    c_.sums.add(item, area, QuantityReason::slack_and_tails, all - path);
    c_.sums.add(c_.book.work(TaskKind::blow), area, QuantityReason::work_done, path);
    c_.out.cuts.push_back({item, whole_millimetres(all), {}, l});
  }

  Counting& c_;
  const TakeoffInput& in_;
};

}  // namespace

void count_fibre(Counting& counting) {
  FibreCounter counter(counting);
  counter.stations();
  counter.premises();
  counter.links();
  counter.splitters();
  counter.pons();
  counter.dwellings();
}

}  // namespace plan
