// Slices `design_prices`, `prices`, `stock`, `crews` and `site`: what the work costs, when the material
// is there, who does it, and what is already fixed on site.
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/date.h"
#include "base/id.h"
#include "base/money.h"
#include "base/quantity.h"

namespace plan {

enum class PriceUnit : uint8_t { metre, piece, hour };
struct Price {
  std::string item;  // a catalogue name, a surface ("open verge"), or a task ("splice")
  UnitPrice price;
  PriceUnit per = PriceUnit::piece;
  int pack = 1;        // sold in packs of so many pieces
  std::string source;  // "invented", "memory", …
  friend bool operator==(const Price&, const Price&) = default;
};
// Sorted by item; one price an item.
struct Prices {
  std::string currency;
  std::vector<Price> list;
  const Price* find(std::string_view item) const;  // null where there is none
  friend bool operator==(const Prices&, const Prices&) = default;
};
// The item name under which opening a surface is priced and rated.
std::string opening_item(std::string_view surface);  // "open verge"
// That under which a special crossing is priced, once each, and waited for.
std::string crossing_item(std::string_view crossing);  // "crossing rail"

struct Lead {
  std::string item;  // empty = every item not named
  int days = 0;      // order to site, calendar days
  friend bool operator==(const Lead&, const Lead&) = default;
};
struct Stock {
  std::vector<Lead> leads;  // sorted by item
  // The item's own lead, else that of every item not named, else 0.
  int days_of(std::string_view item) const {
    int any = 0;
    for (const Lead& l : leads) {
      if (l.item == item) return l.days;
      if (l.item.empty()) any = l.days;
    }
    return any;
  }
  friend bool operator==(const Stock&, const Stock&) = default;
};

enum class TaskKind : uint8_t {
  dig,
  lay,
  chamber,
  cabinet,
  couple,
  prove,
  blow,
  splice,
  test,
  reinstate,
  connect
};
std::string_view task_name(TaskKind k);

// Output of one crew. Gross rates are per crew-day with waits inside; net ones are running rates,
// multiplied by utilisation, with a set-up per place.
struct Rate {
  TaskKind task = TaskKind::dig;
  std::string surface;  // of dig and reinstate; empty = any
  bool gross = true;
  double per_day = 0;       // gross: metres, pieces or premises a crew-day
  double minutes_each = 0;  // net: minutes a piece or a metre
  Work set_up;              // net: per place
  std::string source;
  friend bool operator==(const Rate&, const Rate&) = default;
};

struct Crew {
  std::string name;
  std::vector<TaskKind> skills;  // sorted
  int people = 2;
  friend bool operator==(const Crew&, const Crew&) = default;
};

struct Calendar {
  Date start;                         // first day of work
  std::vector<Weekday> working_days;  // sorted
  std::vector<Date> holidays;         // sorted
  Work shift = hours(8);
  friend bool operator==(const Calendar&, const Calendar&) = default;
};

struct Crews {
  Table<CrewId, Crew> crews;
  Calendar calendar;
  std::vector<Rate> rates;
  double utilisation = 0.70;
  Work travel_between_stops;
  friend bool operator==(const Crews&, const Crews&) = default;
};

// What is already done, blocked or frozen on site, by route or premises name.
struct SiteState {
  std::vector<std::string> blocked_routes;  // sorted
  friend bool operator==(const SiteState&, const SiteState&) = default;
};

}  // namespace plan
