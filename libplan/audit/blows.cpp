#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "audit/checks.h"
#include "base/text.h"
#include "model/air.h"
#include "model/blow.h"

namespace plan {
namespace {

constexpr double push_slack =
    1.02;  // the screen walks in pieces: a straight route is not always the easier by a hair
constexpr int64_t printed_tenth = 1;

class BlowChecker {
 public:
  explicit BlowChecker(const AuditView& view) : v_(view), rules_(*view.plan.scenario.blow_rules) {}

  void check() {
    if (t_.rows() != l_.rows())
      v_.log.add("blow-missing", t_.file(), 0, fmt::format("{} blows for {} links", t_.rows(), l_.rows()));
    for (size_t b = 0; b < t_.rows(); ++b) check_blow(b);
    check_straight();
  }

 private:
  void check_blow(size_t b) {
    const int64_t link = t_["link"][b];
    if (t_["cable"][b] != l_["cable"][link])
      v_.log.add("blow-cable-differs", t_, b,
                 fmt::format("'{}' is blown, the link holds '{}'", v_.plan.words[t_["cable"][b]],
                             v_.plan.words[l_["cable"][link]]));
    if (t_["result"][b] == refused_) return check_refused(b, link);
    check_length(b, link);
    check_ducts(b, link);
    if (or_zero(t_["length"][b]) > 0) check_push(b);
  }

  // One that nothing can be blown into says so at cable, unit or bundle.
  void check_refused(size_t b, int64_t link) const {
    const bool nothing = t_["cable"][b] == no_cell || t_["bore"][b] == no_cell;
    const bool elsewhere = v_.found.anywhere("no-cable-for-fibres") ||
                           v_.found.anywhere("no-unit-for-fibres") || v_.found.anywhere("no-bundle-fits");
    if (v_.found.at("blow-too-hard", v_.link_name(link)) || (nothing && elsewhere)) return;
    v_.log.add("blow-refused", t_, b,
               fmt::format("{} cannot be blown and no finding says so", v_.link_name(link)));
  }

  void check_length(size_t b, int64_t link) const {
    const int64_t length = t_["length"][b], path = l_["duct length"][link];
    if (length != path)
      v_.log.add("blow-length-differs", t_, b,
                 fmt::format("{} m, the duct path is {} m", metres_of_cell(length), metres_of_cell(path)));
    const double speed = in_metres_per_minute(rules_.speed);
    const int64_t minutes =
        speed > 0 ? std::llround(std::ceil(static_cast<double>(or_zero(length)) / 1000 / speed)) : 0;
    if (t_["running"][b] != minutes)
      v_.log.add("blow-time-differs", t_, b,
                 fmt::format("{} min, {} m at the planned speed take {} min", cell_text(t_["running"][b]),
                             metres_of_cell(length), minutes));
    for (const std::string_view column : {"limiting", "push only"})
      if (const int64_t at = t_[column][b]; at < 0 || at > or_zero(length) / 100 + 1)
        v_.log.add("blow-length-differs", t_, b,
                   fmt::format("{} at {} m of {} m", column, fixed(static_cast<double>(or_zero(at)) / 10, 1),
                               metres_of_cell(length)));
  }

  // The narrowest microduct decides the bore, the weakest the pressure.
  void check_ducts(size_t b, int64_t link) const {
    const Microduct *narrow = nullptr, *weak = nullptr;
    const auto take = [&](const Microduct* m) {
      if (m == nullptr) return;
      if (narrow == nullptr || m->id < narrow->id) narrow = m;
      if (weak == nullptr || m->rated < weak->rated) weak = m;
    };
    for (const uint32_t s : l_.list("sections")[link]) take(v_.microduct_of_run(v_.sections["run"][s]));
    const bool partly = v_.laid_now(v_.premises_by_name[l_["premises"][link]]) == "none";
    const MicroductId drop = v_.plan.scenario.duct_rules->drop_microduct;
    if (partly && drop.valid()) take(&v_.plan.scenario.duct_catalogue->microducts[drop]);
    if (narrow == nullptr) return;
    const int64_t bore = v_.microducts[t_["bore"][b]];
    const MicroductId written(static_cast<uint32_t>(bore == no_cell ? MicroductId::none : bore));
    if (!written.valid() || v_.plan.scenario.duct_catalogue->microducts[written].id != narrow->id)
      v_.log.add(
          "blow-bore-differs", t_, b,
          fmt::format("'{}', the narrowest on the way is {}", v_.plan.words[t_["bore"][b]], narrow->name));
    const Pressure most = weak->rated < rules_.supply ? weak->rated : rules_.supply;
    if (or_zero(t_["supply"][b]) > std::llround(in_bar_gauge(most) * 10))
      v_.log.add(
          "supply-above-rating", t_, b,
          fmt::format("{} bar, {} may be used in {}", fixed(static_cast<double>(t_["supply"][b]) / 10, 1),
                      fixed(in_bar_gauge(most), 1), weak->name));
    if (weak->rated < rules_.supply && !v_.found.anywhere("supply-over-rating"))
      v_.log.add("supply-above-rating", t_, b,
                 fmt::format("{} does not bear the planned supply and no finding says so", weak->name));
  }

  void check_push(size_t b) {
    const int64_t needed = t_["push needed"][b], available = t_["push available"][b];
    if (needed == no_cell || available == no_cell || needed > available)
      v_.log.add("push-not-available", t_, b,
                 fmt::format("passes with a push of {} N needed and {} N available",
                             fixed(static_cast<double>(or_zero(needed)) / 1000, 3),
                             fixed(static_cast<double>(or_zero(available)) / 1000, 3)));
    if (t_["supply needed"][b] > or_zero(t_["supply"][b]) + printed_tenth)
      v_.log.add("push-not-available", t_, b, "needs more pressure than is planned");
    straight_.push_back({t_["cable"][b], t_["bore"][b], t_["supply"][b], t_["length"][b], b});
  }

  // What passes round bends passes on a straight route too. Equal ones are tried once.
  struct Straight {
    int64_t cable, bore, supply, length;
    size_t row;
    auto key() const { return std::tie(cable, bore, supply, length); }
  };

  void check_straight() {
    std::sort(straight_.begin(), straight_.end(), [](const Straight& a, const Straight& b) {
      return std::tie(a.cable, a.bore, a.supply, a.length, a.row) <
             std::tie(b.cable, b.bore, b.supply, b.length, b.row);
    });
    for (size_t i = 0; i < straight_.size(); ++i) {
      const Straight& s = straight_[i];
      if (i > 0 && straight_[i - 1].key() == s.key()) continue;
      const Cable* cable = v_.cable(s.cable);
      const int64_t bore = v_.microducts[s.bore];
      if (cable == nullptr || bore == no_cell || s.length > longest_tried_mm) continue;
      const Microduct& microduct =
          v_.plan.scenario.duct_catalogue->microducts[MicroductId(static_cast<uint32_t>(bore))];
      const RouteElement route[] = {{whole_millimetres(s.length)}};
      if (!blow_passes({cable->od, cable->mass, cable->stiffness}, {microduct.id},
                       conditions(*cable, s.supply), route))
        v_.log.add("blow-impossible", t_, s.row,
                   fmt::format("even a straight route of {} m is out of reach", metres_of_cell(s.length)));
    }
  }

  BlowConditions conditions(const Cable& cable, int64_t supply) const {
    BlowConditions c;
    const bool unit = cable.cable_class == CableClass::fibre_unit;
    c.friction = (unit ? rules_.unit_friction : rules_.cable_friction) / rules_.length_share;
    c.tortuosity = rules_.tortuosity;
    c.supply = bar_gauge(static_cast<double>(or_zero(supply)) / 10);
    const Force end_effect = newtons((in_pascals(c.supply) - ambient_pascals) * flow_area(cable.od, {}));
    c.push_limit = push_slack * std::min(cable.push_limit, rules_.net_push_limit + end_effect);
    c.air = rules_.air;
    return c;
  }

  static constexpr int64_t longest_tried_mm = 50'000'000;  // no blow of any product comes near
  const AuditView& v_;
  const BlowRules& rules_;
  const WrittenTable &t_ = v_.blows, &l_ = v_.links;
  const int64_t refused_ = v_.word("refused");
  std::vector<Straight> straight_;
};

}  // namespace

void check_blows(const AuditView& view) {
  BlowChecker(view).check();
}

}  // namespace plan
