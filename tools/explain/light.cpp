#include <algorithm>

#include "audit/audit.h"
#include "base/date.h"
#include "base/text.h"
#include "explain/teller.h"

namespace withy {

using plan::no_cell;

namespace {

std::string decibels(plan::Loss loss) {
  return plan::fixed(plan::in_decibels(loss), 3);
}

}  // namespace

void Teller::light_of(int64_t d) {
  constexpr std::string_view file = "dwellings.csv";
  const int64_t splitter = cell(file, "splitter", d), pon = cell(file, "pon", d),
                fibre = cell(file, "fibre", d);
  line("dwelling {} of {}: {}; {}{}{}", number(file, "number", d), word(file, "premises", d),
       word(file, "state", d),
       fibre == no_cell ? "its own indoor fibre"
                        : fmt::format("fibre {} {}", fibre, word(file, "fibre colour", d)),
       splitter == no_cell ? ""
                           : fmt::format(", port {} of splitter {} in {}", number(file, "port", d), splitter,
                                         station_name(cell("splitters.csv", "station", splitter))),
       pon == no_cell ? ""
                      : fmt::format(", PON {} (OLT port {} of {})", pon, number("pons.csv", "port", pon),
                                    word("pons.csv", "headend", pon)));
  findings_at(
      fmt::format("dwelling {} of premises {}", number(file, "number", d), word(file, "premises", d)));
}

// Losses are printed to a thousandth, glass to a millimetre: what agrees in them has the same parts.
bool Teller::like(int64_t d, int64_t other) const {
  for (const std::string_view column :
       {"link", "splitter", "pon", "glass", "down most", "down least", "up most", "up least"})
    if (cell("dwellings.csv", column, d) != cell("dwellings.csv", column, other)) return false;
  return true;
}

void Teller::ledger(int64_t d) {
  constexpr std::string_view file = "dwellings.csv";
  const auto parts = plan::written_losses(plan_, static_cast<size_t>(d));
  if (parts.empty()) return line("  no light leads there");
  line("  {:<40} {:>12} {:>10} {:>10} {:>10} {:>10}  dB", "", "", "down most", "down least", "up most",
       "up least");
  plan::WrittenLoss sum;
  for (const plan::WrittenLoss& p : parts) {
    const std::string amount =
        p.in_metres ? plan::fixed(static_cast<double>(p.amount) / 1000, 3) + " m" : std::to_string(p.amount);
    line("  {:<40} {:>12} {:>10} {:>10} {:>10} {:>10}", p.what, amount, decibels(p.down_most),
         decibels(p.down_least), decibels(p.up_most), decibels(p.up_least));
    sum.down_most += p.down_most;
    sum.down_least += p.down_least;
    sum.up_most += p.up_most;
    sum.up_least += p.up_least;
  }
  line("  {:<40} {:>12} {:>10} {:>10} {:>10} {:>10}", "sum", "", decibels(sum.down_most),
       decibels(sum.down_least), decibels(sum.up_most), decibels(sum.up_least));
  line("  {:<40} {:>12} {:>10} {:>10} {:>10} {:>10}", "the table says", number(file, "glass", d) + " m",
       number(file, "down most", d), number(file, "down least", d), number(file, "up most", d),
       number(file, "up least", d));
  line("  margin {} dB down, {} dB up, {} dB above the class minimum; a test may read at most {} dB down",
       number(file, "margin down", d), number(file, "margin up", d), number(file, "overload margin", d),
       number(file, "test limit", d));
}

void Teller::dwelling(int64_t d) {
  light_of(d);
  ledger(d);
}

void Teller::station(int64_t s) {
  constexpr std::string_view file = "stations.csv";
  const std::string type = word(file, "type", s);
  const int64_t upstream = cell(file, "upstream", s);
  line("{}: {} at node {}; {}", station_name(s), type.empty() ? word(file, "kind", s) : type,
       number(file, "node", s),
       upstream == no_cell ? "the light begins here" : "fed by " + station_name(upstream));
  findings_at(word(file, "kind", s) == "headend" ? "headend " + word(file, "headend", s) : station_name(s));
  line("  serves {} premises with {} directly; {} day one, {} ultimate; {} of its feed in use",
       number(file, "premises served", s), counted(cell(file, "dwellings served", s), "dwelling"),
       counted(cell(file, "splitters day one", s), "splitter"), number(file, "splitters ultimate", s),
       counted(cell(file, "feed fibres", s), "fibre"));
  line("  {} at build, {}", counted(cell(file, "splices", s), "splice"),
       counted(cell(file, "trays", s), "tray"));
  for (const std::string_view limit :
       {"microduct entries limit", "drop fibres limit", "splitter slots limit", "trays limit"})
    if (cell(file, limit, s) != no_cell) line("  {} {}", limit, number(file, limit, s));
  each("splitters.csv", "station", s, [&](int64_t k) { splitter(k); });
  each("links.csv", "from station", s, [&](int64_t l) {
    line("  link {} to {}: {}, {} m", l, link_end(l), word("links.csv", "cable", l),
         number("links.csv", "cable length", l));
  });
}

void Teller::splitter(int64_t k) {
  constexpr std::string_view file = "splitters.csv";
  const int64_t upstream = cell(file, "upstream", k), fibre = cell(file, "feed fibre", k);
  line("splitter {}: {} in {}, stage {}, {}; PON {}; {}{}", k, word(file, "type", k),
       station_name(cell(file, "station", k)), number(file, "stage", k), word(file, "fitted", k),
       number(file, "pon", k),
       upstream == no_cell
           ? "fed by an OLT port"
           : fmt::format("fed by port {} of splitter {}", number(file, "upstream port", k), upstream),
       fibre == no_cell ? "" : fmt::format(" over fibre {} of the feed", fibre));
}

void Teller::pon(int64_t p) {
  line("PON {}: OLT port {} of {}; {} dwellings day one, {} ultimate; losses differ by {} dB at most", p,
       number("pons.csv", "port", p), word("pons.csv", "headend", p),
       number("pons.csv", "dwellings day one", p), number("pons.csv", "dwellings ultimate", p),
       number("pons.csv", "differential", p));
  findings_at(fmt::format("PON {}", p));
  each("splitters.csv", "pon", p, [&](int64_t k) { splitter(k); });
}

// Working minutes are counted from the first shift on.
std::string Teller::day_of(int64_t minute) const {
  constexpr int64_t most_days = 100000;
  const plan::Calendar& calendar = plan_.scenario.crews->calendar;
  const auto works = [&](plan::Date d) {
    const auto& days = calendar.working_days;
    return (days.empty() || std::find(days.begin(), days.end(), plan::weekday(d)) != days.end()) &&
           !std::binary_search(calendar.holidays.begin(), calendar.holidays.end(), d);
  };
  int64_t left =
      std::min(std::max<int64_t>(minute, 0) / std::max<int64_t>(calendar.shift.minutes(), 1), most_days);
  plan::Date day = calendar.start;
  for (int64_t searched = 0; searched < 10 * most_days; ++searched, day = day + 1)
    if (works(day) && left-- == 0) return plan::iso(day);
  return "no day";
}

void Teller::task(int64_t t) {
  constexpr std::string_view file = "programme.csv";
  const std::string surface = word(file, "surface", t), kind = word(file, "kind", t);
  const bool metres = kind == "dig" || kind == "lay" || kind == "blow" || kind == "reinstate";
  const std::string amount = metres ? number(file, "amount", t) + " m"
                                    : counted(plan::or_zero(cell(file, "amount", t)) / 1000, "piece");
  line("task {}: {}{} in the area of {}, {}, {} min of one crew", t, kind,
       surface.empty() ? "" : " " + surface, station_name(cell(file, "area", t)), amount,
       number(file, "minutes", t));
  line("  {}, working minutes {} to {}, {} to {}", word(file, "crew", t), number(file, "start", t),
       number(file, "finish", t), day_of(cell(file, "start", t)), day_of(cell(file, "finish", t) - 1));
  for (const uint32_t before : plan_[file].list("before")[t])
    line("  waits for task {}: {}, finished at {}", before, word(file, "kind", before),
         number(file, "finish", before));
}

// Tasks name their first place only.
void Teller::tasks_at(int64_t node) {
  each("programme.csv", "node", node, [&](int64_t t) {
    line("task {} begins here: {}, {}, {}", t, word("programme.csv", "kind", t),
         word("programme.csv", "crew", t), day_of(cell("programme.csv", "start", t)));
  });
}

}  // namespace withy
