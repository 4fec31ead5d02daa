#include "fibre/grouping.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "fibre/ordering.h"

namespace plan {
namespace {

constexpr double whole_number_tolerance = 1e-9;

// A fibre wanted from above, for a splitter's input or for a dwelling.
struct Request {
  bool dwelling = false;
  uint32_t id = 0;
  int level = 0;  // the stage whose input it is; the number of stages for a dwelling
  LinkId link;    // on which it arrives here; invalid where it begins here
  int fibre = 0;  // of that link
};
using Requests = std::vector<Request>;

struct PlacedThrough {
  StationId station;
  Through through;
};

// Works from the far ends inwards: a station's requests to above are complete once all stations fed by it
// are done, and those have larger ids.
class Grouper {
 public:
  Grouper(const FibreInput& input, Fibre& fibre)
      : input_(input),
        fibre_(fibre),
        stages_(static_cast<int>(input.layout_rules.split.size())),
        links_(links_by_station(input.layout)),
        up_(input.layout.stations.size()) {}

  void run() {
    const size_t stations = input_.layout.stations.size();
    for (size_t k = stations; k-- > 0;) place_station(StationId(k));
    number_ports();
    order_splitters(fibre_);
    hand_down_pons(fibre_, day_one_);
    order_throughs();
  }

 private:
  void place_station(StationId s) {
    const Station& station = input_.layout.stations[s];
    const int first = std::clamp(station.first_stage, 0, stages_);
    const int end = std::clamp(station.first_stage + station.stages, first, stages_);
    std::vector<Requests> inputs(static_cast<size_t>(end - first));  // by the stage that answers them
    Requests passing;
    for (const Request& r : gather(s)) {
      if (end == first || r.level <= first)
        passing.push_back(r);
      else
        inputs[static_cast<size_t>(std::min(r.level, end) - 1 - first)].push_back(r);
    }
    Requests made;
    for (int stage = end - 1; stage >= first; --stage) {
      Requests& list = inputs[static_cast<size_t>(stage - first)];
      list.insert(list.end(), made.begin(), made.end());
      made = fill_splitters(s, stage, list);
    }
    made.insert(made.end(), passing.begin(), passing.end());
    if (station.kind == StationKind::headend)
      up_[s] = std::move(made);
    else
      feed(s, std::move(made));
  }

  // Requests from below, in the order of the links.
  Requests gather(StationId s) {
    Requests wanted;
    const Station& station = input_.layout.stations[s];
    if (station.premises.valid()) add_dwellings(station.premises, input_.layout.feeds[s], false, wanted);
    for (LinkId l : links_[s]) {
      const Link& link = input_.layout.links[l];
      if (link.to.valid()) {
        Requests& below = up_[link.to];
        wanted.insert(wanted.end(), below.begin(), below.end());
        Requests().swap(below);
      } else if (link.premises.valid()) {
        add_dwellings(link.premises, l, true, wanted);
      }
    }
    return wanted;
  }

  void add_dwellings(PremisesId p, LinkId link, bool by_unit, Requests& wanted) {
    const DwellingId first = fibre_.first_dwelling[p];
    if (!first.valid()) return;
    const int each = std::max(1, input_.rules.fibres_per_dwelling);
    for (int n = 0; n < input_.basis.needs[p].dwellings; ++n) {
      const DwellingId d(first.value + static_cast<uint32_t>(n));
      Dwelling& dwelling = fibre_.dwellings[d];
      if (dwelling.link.valid()) continue;  // served already
      dwelling.link = link;
      dwelling.fibre = by_unit ? n * each + 1 : 0;
      dwelling.state = input_.basis.needs[p].reserved ? LightState::reserved : LightState::lit;
      wanted.push_back({true, d.value, stages_, by_unit ? link : LinkId(), dwelling.fibre});
    }
  }

  // The fewest splitters that answer `list`, filled one after another; their own inputs are returned.
  Requests fill_splitters(StationId s, int stage, const Requests& list) {
    const int ratio = std::max(1, input_.layout_rules.split[static_cast<size_t>(stage)].ratio);
    const double share = stage == stages_ - 1 ? input_.rules.port_fill : 1.0;
    const double each = std::clamp(ratio * share, 1.0, static_cast<double>(ratio));
    const std::vector<uint8_t> expected = expected_on_day_one(list);
    Requests inputs;
    size_t done = 0;
    for (int k = 1; done < list.size(); ++k) {
      const double held = std::floor(k * each + whole_number_tolerance);
      const size_t upto = held < static_cast<double>(list.size()) ? static_cast<size_t>(held) : list.size();
      const SplitterId id = fibre_.splitters.add(Splitter{});
      bool day_one = input_.rules.reserve_all_ports && !on_order(s);
      for (int port = 1; done < upto; ++done, ++port) {
        PLAN_CHECK(port <= ratio);
        day_one |= attach(list[done], id, port);
        day_one |= expected[done] != 0;
      }
      Splitter& splitter = fibre_.splitters[id];
      splitter.station = s;
      splitter.stage = stage;
      splitter.day_one = day_one;
      inputs.push_back({false, id.value, stage, LinkId(), 0});
    }
    return inputs;
  }

  // A building whose premises are on order gets its splitters with the order.
  bool on_order(StationId s) const {
    const PremisesId p = input_.layout.stations[s].premises;
    return p.valid() && input_.basis.needs[p].reserved;
  }

  // Whether what hangs on the port is itself fitted on day one.
  bool attach(const Request& r, SplitterId to, int port) {
    if (r.dwelling) {
      fibre_.dwellings[DwellingId(r.id)].splitter = to;
      fibre_.dwellings[DwellingId(r.id)].port = port;
      return false;
    }
    Splitter& below = fibre_.splitters[SplitterId(r.id)];
    below.upstream = to;
    below.upstream_port = port;
    return below.day_one;
  }

  // Which dwellings of a list are counted on day one: spread over the list where every port is reserved,
  // the first ones where the port follows the order. Also noted for the counts of the PONs.
  std::vector<uint8_t> expected_on_day_one(const Requests& list) {
    std::vector<double> sums;
    double sum = 0;
    for (const Request& r : list) sums.push_back(sum += r.dwelling ? take_up(DwellingId(r.id)) : 0.0);
    const auto count = [](double share) { return std::ceil(share - whole_number_tolerance); };
    std::vector<uint8_t> expected(list.size(), 0);
    double counted = 0;
    for (size_t k = 0; k < list.size(); ++k) {
      if (!list[k].dwelling) continue;
      const double goal = input_.rules.reserve_all_ports ? count(sums[k]) : count(sum);
      if (counted >= goal) continue;
      expected[k] = 1;
      counted += 1;
      day_one_[list[k].id] = 1;
    }
    return expected;
  }

  double take_up(DwellingId d) const {
    const PremisesId p = fibre_.dwellings[d].premises;
    if (input_.basis.needs[p].reserved) return 0;
    const double own = input_.demand.premises[p].take_up;
    return std::clamp(own < 0 ? input_.rules.take_up : own, 0.0, 1.0);
  }

  // Hands out the fibres of the station's feed.
  void feed(StationId s, Requests requests) {
    const LinkId link = input_.layout.feeds[s];
    int next = 0;
    for (Request& r : requests) {
      ++next;
      pass_through(s, r, next);
      r.link = link;
      r.fibre = next;
    }
    fibre_.stations[s].feed_fibres = next;
    up_[s] = std::move(requests);
  }

  void pass_through(StationId s, const Request& r, int feed_fibre) {
    if (r.link.valid())
      throughs_.push_back({s, {r.link, r.fibre, feed_fibre}});
    else if (r.dwelling)
      fibre_.dwellings[DwellingId(r.id)].fibre = feed_fibre;
    else if (input_.layout.stations[s].kind != StationKind::headend)
      fibre_.splitters[SplitterId(r.id)].feed_fibre = feed_fibre;
  }

  void number_ports() {
    std::vector<StationId> headends;
    for (StationId s : input_.layout.stations.ids())
      if (input_.layout.stations[s].kind == StationKind::headend) headends.push_back(s);
    std::stable_sort(headends.begin(), headends.end(), [&](StationId a, StationId b) {
      return input_.layout.stations[a].headend < input_.layout.stations[b].headend;
    });
    HeadendId last;
    int port = 0;
    for (StationId s : headends) {
      const HeadendId headend = input_.layout.stations[s].headend;
      if (headend != last) port = 0;
      last = headend;
      Requests& requests = up_[s];
      std::stable_sort(requests.begin(), requests.end(),
                       [&](const Request& a, const Request& b) { return place_of(a) < place_of(b); });
      expected_on_day_one(requests);
      for (const Request& r : requests) {
        const PonId pon = fibre_.pons.add({headend, ++port, 0, 0});
        pass_through(s, r, port);
        (r.dwelling ? fibre_.dwellings[DwellingId(r.id)].pon : fibre_.splitters[SplitterId(r.id)].pon) = pon;
      }
    }
  }

  StationId place_of(const Request& r) const {
    if (!r.dwelling) return fibre_.splitters[SplitterId(r.id)].station;
    return input_.layout.links[fibre_.dwellings[DwellingId(r.id)].link].from;
  }

  void order_throughs() {
    std::stable_sort(throughs_.begin(), throughs_.end(),
                     [](const PlacedThrough& a, const PlacedThrough& b) { return a.station < b.station; });
    auto at = throughs_.begin();
    std::vector<Through> row;
    for (StationId s : input_.layout.stations.ids()) {
      row.clear();
      for (; at != throughs_.end() && at->station == s; ++at) row.push_back(at->through);
      fibre_.throughs.add(row);
    }
  }

  const FibreInput& input_;
  Fibre& fibre_;
  const int stages_;
  const Lists<StationId, LinkId> links_;
  Table<StationId, Requests> up_;
  std::vector<PlacedThrough> throughs_;
  std::vector<uint8_t> day_one_ = std::vector<uint8_t>(fibre_.dwellings.size(), 0);
};

void list_dwellings(const FibreInput& input, Fibre& fibre) {
  fibre.first_dwelling.resize(input.basis.needs.size());
  for (PremisesId p : input.basis.needs.ids()) {
    const PremisesNeed& need = input.basis.needs[p];
    if (!need.planned || need.dwellings < 1) continue;
    fibre.first_dwelling[p] = DwellingId(fibre.dwellings.size());
    for (int n = 1; n <= need.dwellings; ++n) {
      Dwelling d;
      d.premises = p;
      d.number = n;
      fibre.dwellings.add(d);
    }
  }
}

}  // namespace

void group(const FibreInput& input, Fibre& fibre) {
  fibre.stations.resize(input.layout.stations.size());
  list_dwellings(input, fibre);
  Grouper(input, fibre).run();
}

}  // namespace plan
