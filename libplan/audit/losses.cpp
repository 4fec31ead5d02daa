#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "audit/checks.h"
#include "audit/light_path.h"
#include "base/text.h"

namespace plan {
namespace {

constexpr double half_a_digit = 0.00051;    // decibels are printed with three decimals
constexpr double class_tolerance = 0.0011;  // of a margin that is read back from print

double decibels_of(int64_t cell) {
  return static_cast<double>(or_zero(cell)) / 1000;
}

struct Extremes {
  double most = 0, least = 0;
  void take(double high, double low, bool first) {
    most = first ? high : std::max(most, high);
    least = first ? low : std::min(least, low);
  }
};

class LossChecker {
 public:
  explicit LossChecker(const AuditView& view)
      : v_(view), paths_(view), down_(v_.pons.rows()), up_(v_.pons.rows()), seen_(v_.pons.rows(), 0) {}

  void check() {
    if (paths_.optical_class() == nullptr) return;
    for (size_t d = 0; d < t_.rows(); ++d) {
      paths_.walk(d, parts_);
      if (parts_.empty() && t_["pon"][d] != no_cell && !v_.found.anywhere("splitter-missing"))
        v_.log.add("light-path-broken", t_, d, "no chain of links and splitters leads to an OLT port");
      if (!parts_.empty()) check_ledger(d);
    }
    check_differences();
  }

 private:
  void check_ledger(size_t d) {
    PartLosses sum;
    int64_t glass = 0;
    for (const WrittenPart& part : parts_) {
      const PartLosses loss = paths_.losses(part);
      sum.down_most += loss.down_most;
      sum.down_least += loss.down_least;
      sum.up_most += loss.up_most;
      sum.up_least += loss.up_least;
      if (part.part == LitPart::glass || part.part == LitPart::riser) glass += part.amount;
    }
    if (t_["glass"][d] != glass)
      v_.log.add("glass-differs", t_, d,
                 fmt::format("{} m of glass, its cables add up to {} m", metres_of_cell(t_["glass"][d]),
                             metres_of_cell(glass)));
    const OpticalClass& c = *paths_.optical_class();
    const Loss overload = std::min(sum.down_least - c.down.min_loss, sum.up_least - c.up.min_loss);
    same(d, "loss-differs", "down most", sum.down_most);
    same(d, "loss-differs", "down least", sum.down_least);
    same(d, "loss-differs", "up most", sum.up_most);
    same(d, "loss-differs", "up least", sum.up_least);
    same(d, "margin-differs", "margin down", c.down.max_loss - sum.down_most);
    same(d, "margin-differs", "margin up", c.up.max_loss - sum.up_most);
    same(d, "margin-differs", "overload margin", overload);
    check_limits(d, sum, glass);
    spread(t_["pon"][d], sum);
  }

  void same(size_t d, std::string_view rule, std::string_view column, Loss loss) const {
    const int64_t cell = t_[column][d];
    if (cell != no_cell && std::abs(decibels_of(cell) - in_decibels(loss)) <= half_a_digit) return;
    v_.log.add(
        rule, t_, d,
        fmt::format("{} {} dB, its parts add up to {} dB", column,
                    cell == no_cell ? "none" : fixed(decibels_of(cell), 3), fixed(in_decibels(loss), 3)));
  }

  // A class that is not met has its finding; a test may never read more than the class allows or, where that
  // is already passed, than was designed.
  void check_limits(size_t d, const PartLosses& sum, int64_t glass) const {
    const OpticalClass& c = *paths_.optical_class();
    const std::string name =
        fmt::format("dwelling {} of premises {}", cell_text(t_["number"][d]), v_.text(t_["premises"][d]));
    const auto unmet = [&](std::string_view found, std::string_view why) {
      if (!v_.found.at(found, name))
        v_.log.add("class-not-met", t_, d, fmt::format("{} {} and no finding says so", name, why));
    };
    const Loss most = std::min(c.down.max_loss - sum.down_most, c.up.max_loss - sum.up_most);
    if (in_decibels(most) < -class_tolerance) unmet("loss-over-class", "loses more than its class allows");
    const Loss least = std::min(sum.down_least - c.down.min_loss, sum.up_least - c.up.min_loss);
    if (in_decibels(least) < -class_tolerance)
      unmet("loss-under-class", "loses less than its class asks for");
    if (c.reach > Length() && glass > to_whole_millimetres(c.reach))
      unmet("reach-exceeded", "lies beyond the reach of its class");
    const double designed = in_decibels(sum.down_most - v_.plan.scenario.optic_rules->margin);
    const double limit = decibels_of(t_["test limit"][d]),
                 largest = std::max(designed, in_decibels(c.down.max_loss));
    if (limit < designed - half_a_digit || limit > largest + half_a_digit)
      v_.log.add("test-limit-differs", t_, d,
                 fmt::format("test limit {} dB for a path of {} dB, at most {} dB", fixed(limit, 3),
                             fixed(designed, 3), fixed(largest, 3)));
  }

  void spread(int64_t pon, const PartLosses& sum) {
    if (pon < 0 || pon >= static_cast<int64_t>(down_.size())) return;
    const bool first = seen_[pon] == 0;
    seen_.add(pon, 1);
    const double margin = in_decibels(v_.plan.scenario.optic_rules->margin);
    down_[static_cast<size_t>(pon)].take(in_decibels(sum.down_most) - margin, in_decibels(sum.down_least),
                                         first);
    up_[static_cast<size_t>(pon)].take(in_decibels(sum.up_most) - margin, in_decibels(sum.up_least), first);
  }

  void check_differences() const {
    const double limit = in_decibels(paths_.optical_class()->differential);
    for (size_t p = 0; p < v_.pons.rows(); ++p) {
      const double apart =
          seen_[p] > 1 ? std::max(down_[p].most - down_[p].least, up_[p].most - up_[p].least) : 0;
      const double written = decibels_of(v_.pons["differential"][p]);
      if (std::abs(written - apart) > half_a_digit)
        v_.log.add("differential-differs", v_.pons, p,
                   fmt::format("{} dB, its dwellings are {} dB apart", fixed(written, 3), fixed(apart, 3)));
      if (limit > 0 && apart > limit + class_tolerance &&
          !v_.found.at("differential-exceeded", fmt::format("PON {}", p)))
        v_.log.add("class-not-met", v_.pons, p,
                   fmt::format("dwellings {} dB apart exceed {} dB and no finding says so", fixed(apart, 3),
                               fixed(limit, 3)));
    }
  }

  const AuditView& v_;
  const WrittenTable& t_ = v_.dwellings;
  LightPaths paths_;
  std::vector<WrittenPart> parts_;
  std::vector<Extremes> down_, up_;
  Cells seen_;
};

}  // namespace

void check_losses(const AuditView& view) {
  LossChecker(view).check();
}

std::vector<WrittenLoss> written_losses(const WrittenPlan& plan, size_t dwelling) {
  AuditLog unused;
  const AuditView view(plan, unused);
  const LightPaths paths(view);
  std::vector<WrittenPart> parts;
  paths.walk(dwelling, parts);
  std::vector<WrittenLoss> lines;
  for (const WrittenPart& part : parts) {
    const PartLosses loss = paths.losses(part);
    const bool metres = part.part == LitPart::glass || part.part == LitPart::riser;
    lines.push_back({paths.name(part), part.amount, metres, loss.down_most, loss.down_least, loss.up_most,
                     loss.up_least});
  }
  return lines;
}

}  // namespace plan
