#include "optics/optics.h"

#include <algorithm>

#include "base/parallel.h"
#include "model/loss.h"
#include "optics/light_path.h"
#include "optics/part_loss.h"

namespace plan {
namespace {

constexpr size_t chunk = 1024;

// What a class and its powers allow in one direction.
LossClass window(const Direction& d) {
  LossClass w{d.min_loss, d.max_loss};
  if (!d.powers_known) return w;
  const Transceivers t{d.transmitter.min, d.transmitter.max, d.receiver.sensitivity, d.receiver.overload,
                       d.penalty};
  return shared_window(w, {loss_demanded(t), loss_carried(t)});
}

struct Judged {
  LossClass down, up;
  ClassVerdict down_verdict, up_verdict;
  bool met() const { return down_verdict.met && up_verdict.met; }
};

Judged judge(const OpticalClass& c, const Ledger& ledger) {
  Judged j{window(c.down), window(c.up), {}, {}};
  j.down_verdict = check_class(j.down, ledger.down_min, ledger.down_max);
  j.up_verdict = check_class(j.up, ledger.up_min, ledger.up_max);
  return j;
}

// Another class of the same wavelengths that would hold.
bool other_class_holds(const FibreCatalogue& catalogue, const OpticalClass& now, const Ledger& ledger) {
  return std::any_of(catalogue.classes.begin(), catalogue.classes.end(), [&](const OpticalClass& c) {
    return c.down.at == now.down.at && c.up.at == now.up.at && judge(c, ledger).met();
  });
}

class Checker {
 public:
  Checker(const OpticsInput& input, const OpticalClass& optical_class, Findings& findings)
      : input_(input), class_(optical_class), findings_(findings) {}

  void check(DwellingId d, const Ledger& ledger) const {
    const Judged j = judge(class_, ledger);
    check_largest(d, ledger, j);
    check_least(d, ledger, j);
    if (class_.reach > Length() && ledger.glass > class_.reach)
      tell(d, Rule::reach_exceeded, {in_metres(ledger.glass) / 1000, in_metres(class_.reach) / 1000}, {});
  }

 private:
  struct Amounts {
    double actual, limit;
  };
  struct Cure {
    Mend mend = Mend::none;
    double amount = 0;
  };

  void check_largest(DwellingId d, const Ledger& ledger, const Judged& j) const {
    const bool down = j.down_verdict.to_max < j.up_verdict.to_max;
    const double over = -in_decibels(down ? j.down_verdict.to_max : j.up_verdict.to_max);
    if (over <= loss_tolerance_db) return;
    const bool other = other_class_holds(input_.catalogue, class_, ledger);
    tell(d, Rule::loss_over_class,
         {in_decibels(down ? ledger.down_max : ledger.up_max), in_decibels(down ? j.down.max : j.up.max)},
         {other ? Mend::higher_class : Mend::lower_split, over});
  }

  // The attenuator that cures the worse direction must leave room in both.
  void check_least(DwellingId d, const Ledger& ledger, const Judged& j) const {
    const bool down = j.down_verdict.above_min < j.up_verdict.above_min;
    const double under = -in_decibels(down ? j.down_verdict.above_min : j.up_verdict.above_min);
    if (under <= loss_tolerance_db) return;
    const double room = in_decibels(std::min(j.down_verdict.to_max, j.up_verdict.to_max));
    tell(d, Rule::loss_under_class,
         {in_decibels(down ? ledger.down_min : ledger.up_min), in_decibels(down ? j.down.min : j.up.min)},
         under <= room + loss_tolerance_db ? Cure{Mend::attenuator, under} : Cure{});
  }

  void tell(DwellingId d, Rule rule, Amounts amounts, Cure cure) const {
    findings_.push_back({.rule = rule,
                         .at = subject(d),
                         .by = subject(input_.fibre.dwellings[d].pon),
                         .actual = amounts.actual,
                         .limit = amounts.limit,
                         .mend = cure.mend,
                         .mend_amount = cure.amount});
  }

  const OpticsInput& input_;
  const OpticalClass& class_;
  Findings& findings_;
};

// Ledgers of one class, all dwellings at once.
Table<DwellingId, Ledger> ledgers_of(const OpticsInput& input, const System& system, Findings& findings,
                                     const Run& run) {
  const size_t n = input.fibre.dwellings.size();
  Table<DwellingId, Ledger> ledgers(n);
  std::vector<Findings> told((n + chunk - 1) / chunk);
  for_each_chunk(run, n, chunk, [&](size_t first, size_t last) {
    const Checker checker(input, *system.optical_class, told[first / chunk]);
    std::vector<Part> parts;
    for (size_t k = first; k < last; ++k) {
      const DwellingId d(k);
      walk_light_path(input, d, parts);
      if (parts.empty()) continue;
      ledgers[d] = sum_up(input, system, parts);
      checker.check(d, ledgers[d]);
    }
  });
  for (const Findings& f : told) findings.insert(findings.end(), f.begin(), f.end());
  return ledgers;
}

// Largest loss without margin and least loss met so far in one PON and direction.
struct Spread {
  Loss most, least;
  void take(Loss largest, Loss smallest, bool first) {
    most = first ? largest : std::max(most, largest);
    least = first ? smallest : std::min(least, smallest);
  }
};

Table<PonId, Loss> differences(const OpticsInput& input, const Table<DwellingId, Ledger>& ledgers) {
  struct Both {
    Spread down, up;
    int dwellings = 0;
  };
  Table<PonId, Both> pons(input.fibre.pons.size());
  for (DwellingId d : ledgers.ids()) {
    const PonId pon = input.fibre.dwellings[d].pon;
    if (!pon.valid() || ledgers[d] == Ledger{}) continue;
    Both& both = pons[pon];
    const bool first = both.dwellings++ == 0;
    both.down.take(ledgers[d].down_max - input.rules.margin, ledgers[d].down_min, first);
    both.up.take(ledgers[d].up_max - input.rules.margin, ledgers[d].up_min, first);
  }
  Table<PonId, Loss> result(pons.size());
  for (PonId p : pons.ids())
    if (pons[p].dwellings > 1)
      result[p] = std::max(pons[p].down.most - pons[p].down.least, pons[p].up.most - pons[p].up.least);
  return result;
}

void check_differences(const Table<PonId, Loss>& differential, Loss limit, Findings& findings) {
  if (limit <= Loss()) return;
  for (PonId p : differential.ids())
    if (!differential_met(differential[p], Loss(), limit))
      findings.push_back({.rule = Rule::differential_exceeded,
                          .at = subject(p),
                          .actual = in_decibels(differential[p]),
                          .limit = in_decibels(limit),
                          .mend = Mend::regroup});
}

}  // namespace

Optics make_optics(const OpticsInput& input, const Run& run) {
  run.tell("optics", 0);
  Optics optics;
  std::vector<int> classes{input.rules.optical_class};
  classes.insert(classes.end(), input.rules.also.begin(), input.rules.also.end());
  for (size_t k = 0; k < classes.size(); ++k) {
    const System system = system_of(input, classes[k]);
    Table<DwellingId, Ledger> ledgers = ledgers_of(input, system, optics.findings, run);
    Table<PonId, Loss> differential = differences(input, ledgers);
    check_differences(differential, system.optical_class->differential, optics.findings);
    if (k > 0) continue;
    optics.ledgers = std::move(ledgers);
    optics.differential = std::move(differential);
  }
  run.tell("optics", 1);
  return optics;
}

}  // namespace plan
