#include <fmt/core.h>

#include <algorithm>

#include "base/text.h"
#include "scenario/finish.h"
#include "scenario/layers.h"

namespace plan {

namespace {

template <class T, class Member>
void sort_by(std::vector<T>& v, Member member) {
  std::sort(v.begin(), v.end(), [&](const T& a, const T& b) { return a.*member < b.*member; });
}

bool shipped(const Finish& f, const Spot& at) {
  return spot_place(f.reading, at).file.substr(0, shipped_folder.size()) == shipped_folder;
}

PriceUnit usual_unit(const Finish& f, const std::string& item, PriceUnit otherwise) {
  for (const Refers r : {Refers::microducts, Refers::bundles, Refers::cables})
    if (f.reading.names.find(r, item) != UINT32_MAX) return PriceUnit::metre;
  for (const Refers r : {Refers::cabinets, Refers::chambers, Refers::splitters})
    if (f.reading.names.find(r, item) != UINT32_MAX) return PriceUnit::piece;
  return item.substr(0, 5) == "open " ? PriceUnit::metre : otherwise;
}

std::string_view per_word(PriceUnit u) {
  constexpr std::string_view words[] = {"a metre", "a piece", "an hour"};
  return words[static_cast<size_t>(u)];
}

// Shipped prices are in one currency: a scenario in another brings its own.
bool kept(const Finish& f, const Draft& d, const PriceRow& row, size_t& foreign) {
  if (row.written.currency == d.currency) return true;
  if (shipped(f, row.spot)) {
    ++foreign;
    return false;
  }
  f.fault(row.spot, [&] {
    return fmt::format("price of '{}' is in {}, the scenario's currency is {}, amounts are never converted",
                       shown(row.price.item), row.written.currency, shown(d.currency));
  });
  return false;
}

std::vector<Price> price_list(const Finish& f, const Draft& d, const std::vector<PriceRow>& rows,
                              size_t& foreign) {
  std::vector<Price> list;
  for (const PriceRow& row : rows) {
    if (row.written.currency.empty() || !kept(f, d, row, foreign)) continue;
    Price p = row.price;
    p.price = row.written.price, p.per = row.written.per;
    if (const PriceUnit usual = usual_unit(f, p.item, p.per); usual != p.per)
      f.fault(row.spot, [&] {
        return fmt::format("price of '{}' is by {}, expected by {}", shown(p.item), per_word(p.per),
                           per_word(usual));
      });
    list.push_back(std::move(p));
  }
  sort_by(list, &Price::item);
  return list;
}

void finish_prices(const Finish& f, const Draft& d, Scenario& into) {
  size_t foreign = 0, ignored = 0;
  const Prices prices{d.currency, price_list(f, d, d.prices, foreign)};
  Prices design{d.currency, price_list(f, d, d.design_prices, ignored)};
  std::vector<std::string_view> named;
  for (const PriceRow& row : d.design_prices) named.push_back(row.price.item);
  std::sort(named.begin(), named.end());
  for (const Price& p : prices.list)
    if (!std::binary_search(named.begin(), named.end(), std::string_view(p.item))) design.list.push_back(p);
  sort_by(design.list, &Price::item);
  into.prices = Slice<Prices>(prices);
  into.design_prices = Slice<Prices>(std::move(design));
  if (foreign > 0)
    f.warnings.push_back(diagnostic(
        {}, fmt::format("{} shipped prices are not in {} and are left out", foreign, shown(d.currency))));
}

void refuse_currency(const Finish& f, const Draft& d) {
  const bool letters =
      std::all_of(d.currency.begin(), d.currency.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
  const NodeRef said = f.document.find(f.document.root(), "currency");
  if (said.valid() && (d.currency.size() != 3 || !letters))
    f.reading.faults.add([&] {
      return f.document.fault(
          said, fmt::format("'currency' is '{}', expected three letters, such as EUR", shown(d.currency)));
    });
}

void finish_stock(const Draft& d, Scenario& into) {
  Stock stock;
  if (d.stock.lead_given) stock.leads.push_back({"", d.stock.lead});
  for (const LeadRow& row : d.stock.items) stock.leads.push_back(row.lead);
  sort_by(stock.leads, &Lead::item);
  into.stock = Slice<Stock>(std::move(stock));
}

bool too_many_crews(const Finish& f, const std::vector<CrewRow>& rows) {
  constexpr int most = 10'000;
  int crews = 0;
  for (const CrewRow& row : rows) {
    crews += row.number;
    if (crews <= most) continue;
    f.fault(row.spot, [&] { return fmt::format("{} crews up to here, expected at most {}", crews, most); });
    return true;
  }
  return false;
}

void add_crews(const Finish& f, const CrewRow& row, Table<CrewId, Crew>& crews) {
  if (row.crew.skills.empty())
    f.fault(row.spot, [&] { return fmt::format("crew '{}' has no skill", shown(row.crew.name)); });
  for (int k = 1; k <= row.number; ++k) {
    Crew crew = row.crew;
    std::sort(crew.skills.begin(), crew.skills.end());
    crew.skills.erase(std::unique(crew.skills.begin(), crew.skills.end()), crew.skills.end());
    if (row.number > 1) crew.name += fmt::format(" {}", k);
    crews.add(std::move(crew));
  }
}

// Rows are numbered by now, so "Dig 2" may also be a row of its own.
void refuse_equal_crews(const Finish& f, const std::vector<CrewRow>& rows, const Table<CrewId, Crew>& crews) {
  std::vector<std::pair<std::string_view, const CrewRow*>> names;
  names.reserve(crews.size());
  auto crew = crews.begin();
  for (const CrewRow& row : rows)
    for (int k = 0; k < row.number; ++k) names.emplace_back((crew++)->name, &row);
  std::stable_sort(names.begin(), names.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  for (size_t i = 1; i < names.size(); ++i)
    if (names[i].first == names[i - 1].first)
      f.fault(names[i].second->spot,
              [&] { return fmt::format("two crews are called '{}'", shown(names[i].first)); });
}

// The unit in which a task's output is counted.
std::string_view output_unit(TaskKind k) {
  if (k == TaskKind::dig || k == TaskKind::lay || k == TaskKind::reinstate || k == TaskKind::blow) return "m";
  return k == TaskKind::connect ? "premises" : "pieces";
}

// "dig verge" -> dig, "verge"
bool name_rate(const Finish& f, const RateRow& row, Rate& rate) {
  const std::string_view name = row.name;
  const size_t space = name.find(' ');
  const std::string_view task = name.substr(0, space);
  const auto at = std::find(task_words.begin(), task_words.end(), task);
  if (at == task_words.end()) {
    f.fault(row.spot,
            [&] { return fmt::format("unknown task '{}'{}", shown(task), suggestion(task, task_words)); });
    return false;
  }
  rate.task = static_cast<TaskKind>(at - task_words.begin());
  if (space == std::string_view::npos) return true;
  rate.surface = std::string(name.substr(space + 1));
  const bool by_surface = rate.task == TaskKind::dig || rate.task == TaskKind::reinstate;
  if (!by_surface)
    f.fault(row.spot, [&] { return fmt::format("task '{}' has one rate, not one by surface", task); });
  else if (f.reading.names.find(Refers::surfaces, rate.surface) == UINT32_MAX)
    f.fault(row.spot, [&] {
      return fmt::format("unknown surface '{}'{}", shown(rate.surface),
                         f.reading.names.suggestion(Refers::surfaces, rate.surface));
    });
  return true;
}

bool fill_rate(const Finish& f, const RateRow& row, Rate& rate) {
  if (row.gross_given == row.net_given) {
    f.fault(row.spot, [&] {
      return fmt::format("rate '{}' has {}, expected one of 'per crew day' and 'each'", shown(row.name),
                         row.gross_given ? "both" : "neither");
    });
    return false;
  }
  rate.gross = row.gross_given;
  if (!rate.gross) return true;
  rate.per_day = row.per_day.amount;
  if (row.per_day.unit.empty()) return false;  // said already
  if (!(rate.per_day > 0) || rate.per_day > 1e6)
    f.fault(row.spot, [&] {
      return fmt::format("rate '{}' is {}, expected more than 0 and at most 1000000", row.name,
                         shortest(rate.per_day));
    });
  if (const auto unit = output_unit(rate.task); unit != row.per_day.unit)
    f.fault(row.spot,
            [&] { return fmt::format("rate '{}' is in {}, expected {}", row.name, row.per_day.unit, unit); });
  return true;
}

void finish_crews(const Finish& f, const Draft& d, Scenario& into) {
  Crews crews;
  if (!too_many_crews(f, d.crews)) {
    for (const CrewRow& row : d.crews) add_crews(f, row, crews.crews);
    refuse_equal_crews(f, d.crews, crews.crews);
  }
  crews.calendar = {d.start, d.calendar.working_days, d.calendar.holidays, d.calendar.shift};
  std::vector<Weekday>& days = crews.calendar.working_days;
  std::sort(days.begin(), days.end());
  days.erase(std::unique(days.begin(), days.end()), days.end());
  std::sort(crews.calendar.holidays.begin(), crews.calendar.holidays.end());
  for (const RateRow& row : d.rates) {
    Rate rate = row.rate;
    if (name_rate(f, row, rate) && fill_rate(f, row, rate)) crews.rates.push_back(std::move(rate));
  }
  std::sort(crews.rates.begin(), crews.rates.end(), [](const Rate& a, const Rate& b) {
    return a.task != b.task ? a.task < b.task : a.surface < b.surface;
  });
  crews.utilisation = d.calendar.utilisation;
  crews.travel_between_stops = d.calendar.travel;
  into.crews = Slice<Crews>(std::move(crews));
}

void finish_site(const Finish& f, const Draft& d, Scenario& into) {
  SiteState site;
  std::vector<std::string_view> names;
  for (const Route& r : into.demand->routes) names.push_back(r.name);
  std::sort(names.begin(), names.end());
  for (const Reason& reason : d.blocked_routes) {
    site.blocked_routes.push_back(reason.name);
    if (names.empty() || std::binary_search(names.begin(), names.end(), std::string_view(reason.name)))
      continue;
    const auto first =
        std::lower_bound(names.begin(), names.end(), std::string_view(reason.name).substr(0, 2));
    const auto near = std::span(names).subspan(static_cast<size_t>(first - names.begin()));
    f.fault(reason.spot, [&] {
      return fmt::format("no route is called '{}'{}", shown(reason.name),
                         suggestion(reason.name, near.first(std::min<size_t>(near.size(), 5000))));
    });
  }
  std::sort(site.blocked_routes.begin(), site.blocked_routes.end());
  into.site = Slice<SiteState>(std::move(site));
}

}  // namespace

void finish_works(const Finish& f, Draft& draft, Scenario& into) {
  refuse_currency(f, draft);
  finish_prices(f, draft, into);
  finish_stock(draft, into);
  finish_crews(f, draft, into);
  finish_site(f, draft, into);
}

}  // namespace plan
