#include <fmt/core.h>

#include <algorithm>
#include <map>

#include "base/text.h"
#include "orders/orders.h"
#include "report/names.h"
#include "report/sheets.h"

namespace plan {
namespace {

constexpr std::string_view blank = "____________";
constexpr size_t width = 100;

std::string rule() {
  return std::string(width, '-') + "\n";
}

std::string clock(Work minutes_in) {
  return fmt::format("{}:{:02}", minutes_in.minutes() / 60, minutes_in.minutes() % 60);
}

std::string amount_text(int64_t value, bool in_mm) {
  return in_mm ? metres_text(whole_millimetres(value), 1) + " m" : std::to_string(value);
}

// One page: what one crew does on one day.
class Page {
 public:
  Page(const Plan& plan, const StationNames& names, OrderId order)
      : plan_(plan),
        names_(names),
        order_(order),
        day_(plan.schedule->crew_days[order]),
        input_(orders_input(plan)) {}

  std::string text() {
    head();
    stops();
    loads();
    safety();
    results();
    return std::move(out_);
  }

 private:
  void head() {
    const Crew& crew = plan_.scenario.crews->crews[day_.crew];
    const WorkOrder& order = plan_.orders->orders[order_];
    std::string skills;
    for (const TaskKind k : crew.skills) skills += (skills.empty() ? "" : ", ") + std::string(task_name(k));
    out_ += fmt::format("WORK ORDER {}   {} {}\n", hex16(order.id), weekday_name(weekday(day_.date)),
                        iso(day_.date));
    out_ += fmt::format("{}: {}, {} people, for {}\n", plan_.scenario.demand->name, crew.name, crew.people,
                        skills);
    out_ += fmt::format("area {}   standard time {} h   supervisor {}   shift from {} to {}\n",
                        order.area.valid() ? names_[order.area] : std::string(blank), clock(order.worked),
                        blank, blank, blank);
    out_ += fmt::format("permit no. {} valid {} to {}   traffic plan {}\n", blank, blank, blank, blank);
    out_ += fmt::format(
        "utility plans dated {}   located on {}, expires {}   trial holes {}   confined space yes/no\n",
        blank, blank, blank, blank);
    out_ += fmt::format("landowner contact {}   access {}   parking {}   earlier work confirmed by {}\n",
                        blank, blank, blank, blank);
    out_ += rule();
  }
  void stops() {
    int number = 0;
    for (const Stop& stop : plan_.orders->stops[order_]) {
      const Task& task = plan_.schedule->tasks[stop.task];
      out_ += fmt::format("{:>2}. {} to {}  {}{}  {}  {}\n", ++number, clock(stop.from), clock(stop.to),
                          task_name(task.kind), stop.continued ? " (continued)" : "",
                          amount_text(stop.amount, in_metres(task.kind)), place(stop, task));
      for (const StopLine& line : expanded_stop(input_, stop)) out_ += "      " + describe(task, line) + "\n";
    }
    out_ += rule();
  }
  std::string place(const Stop& stop, const Task& task) const {
    std::string text =
        stop.route.valid() ? plan_.scenario.demand->routes[stop.route].name : std::string("no street named");
    if (task.surface.valid()) text += ", " + plan_.scenario.demand->surfaces[task.surface];
    if (stop.node.valid()) {
      const Point at = plan_.network->at[stop.node];
      text += fmt::format(", node {} (E {} N {})", stop.node.value, metres_text(whole_millimetres(at.x), 1),
                          metres_text(whole_millimetres(at.y), 1));
    }
    return text;
  }
  std::string describe(const Task& task, const StopLine& line) const {
    std::string text = thing(task, line);
    if (line.a.position > 0)
      text += fmt::format("; microduct {} {} at node {}", line.a.position, line.a.colour, line.a.node.value);
    if (line.b.position > 0)
      text += fmt::format(", {} {} at node {}", line.b.position, line.b.colour, line.b.node.value);
    if (line.cable.valid()) text += "; " + plan_.scenario.fibre_catalogue->cables[line.cable].name;
    if (line.drum.valid())
      text += fmt::format("; drum {} from {} to {} m", line.drum.value, metres_text(line.drum_in, 1),
                          metres_text(line.drum_out, 1));
    if (task.kind == TaskKind::blow)
      text += fmt::format("; {} bar, push only {} m, {} bends, air {} l/min when empty",
                          fixed(in_bar_gauge(line.pressure), 1), metres_text(line.push_only, 0), line.bends,
                          fixed(line.free_air_litres_per_minute, 0));
    if (line.fibre > 0) text += fmt::format("; fibre {}", line.fibre);
    if (task.kind == TaskKind::test || task.kind == TaskKind::connect)
      text += fmt::format("; planned loss {} dB", fixed(in_decibels(line.budget), 2));
    return text + "   done [ ]  reading " + std::string(blank);
  }
  std::string thing(const Task& task, const StopLine& line) const {
    const auto metres_or_pieces = amount_text(line.amount, in_metres(task.kind));
    switch (thing_kind(task.kind)) {
      case ThingKind::span: {
        const Span& span = plan_.network->spans[SpanId(line.thing)];
        return fmt::format("span {} from node {} to node {}, {}{}", line.thing, span.from.value,
                           span.to.value, metres_or_pieces, ground(span));
      }
      case ThingKind::run: {
        const BundleRun& run = plan_.ducts().runs[RunId(line.thing)];
        return fmt::format("run {} {} from node {} to node {}, {}", line.thing,
                           plan_.scenario.duct_catalogue->bundles[run.bundle].name, run.from.value,
                           run.to.value, metres_or_pieces);
      }
      case ThingKind::node:
        return node_text(NodeId(line.thing)) + ", " + metres_or_pieces;
      case ThingKind::station:
        return names_[StationId(line.thing)] + ", " + metres_or_pieces;
      case ThingKind::link:
        return link_text(LinkId(line.thing)) + ", " + metres_or_pieces;
      case ThingKind::dwelling: {
        const Dwelling& d = plan_.fibre().dwellings[DwellingId(line.thing)];
        const Premises& premises = plan_.scenario.demand->premises[d.premises];
        std::string text = fmt::format("{}, dwelling {}", premises.name, d.number);
        return premises.consent.empty() ? text : text + ", consent: " + premises.consent;
      }
    }
    return "";
  }
  std::string node_text(NodeId node) const {
    const auto& places = plan_.ducts().branch_points;
    const auto at = std::lower_bound(places.begin(), places.end(), node,
                                     [](const BranchPoint& b, NodeId n) { return b.node < n; });
    if (at == places.end() || at->node != node) return fmt::format("node {}", node.value);
    return fmt::format(
        "node {}: {}", node.value,
        at->chamber.valid() ? plan_.scenario.duct_catalogue->chambers[at->chamber].name : "buried closure");
  }
  std::string ground(const Span& span) const {
    const auto code = [](const std::string& r) { return r.empty() ? std::string("to local code") : r; };
    if (!span.route.valid()) return "";
    const Route& route = plan_.scenario.demand->routes[span.route];
    return fmt::format(", surface {}, cover {}, separation {}, method {}{}", word(route.surface_known),
                       code(route.cover_rule), code(route.separation_rule),
                       route.method.empty() ? "usual" : route.method,
                       span.kind == SpanKind::street          ? to_be_asked(route)
                       : span.kind == SpanKind::existing_duct ? duct_facts(route)
                                                              : "");
  }
  static std::string duct_facts(const Route& route) {
    std::string text;
    if (!route.owner.empty()) text += "; duct of " + route.owner + ", ask before it is opened";
    if (!route.content.empty()) text += "; holds " + route.content;
    if (!route.hire_price.empty()) text += "; hire " + route.hire_price;
    return text;
  }
  // What nobody may begin without another's leave.
  std::string to_be_asked(const Route& route) const {
    const Demand& demand = *plan_.scenario.demand;
    std::string text;
    if (route.crossing.valid())
      text += fmt::format("; crossing {}, built by {}", demand.crossings[route.crossing],
                          demand.crossing_builders[route.crossing]);
    if (!route.restricted.empty()) text += "; way restricted: " + route.restricted;
    return text;
  }
  std::string link_text(LinkId l) const {
    const Link& link = plan_.layout().links[l];
    const bool from_station = plan_.blowing().blows[l].from_station;
    const std::string end =
        link.premises.valid() ? plan_.scenario.demand->premises[link.premises].name : names_[link.to];
    return from_station ? fmt::format("link {} from {} to {}", l.value, names_[link.from], end)
                        : fmt::format("link {} from {} to {}", l.value, end, names_[link.from]);
  }
  void loads() {
    out_ +=
        "materials to load                                                  planned    issued    used    "
        "returned\n";
    for (const Load& load : plan_.orders->loads[order_]) {
      const Item& item = plan_.takeoff->items[load.item];
      out_ += fmt::format("  {:<56} {:>14}    ______    ____    ________\n", item.name,
                          amount_text(load.amount, item.in_metres));
    }
    out_ += rule();
  }
  void safety() {
    const uint16_t mask = plan_.orders->orders[order_].cautions;
    for (size_t k = 0; k < cautions().size(); ++k) {
      if (!(mask & (1u << k))) continue;
      const Caution& c = cautions()[k];
      out_ += wrapped(fmt::format("{} {}: {} ({})", c.code, c.subject, c.line, c.basis));
    }
    out_ += rule();
  }
  static std::string wrapped(const std::string& text) {
    std::string out, line;
    for (const std::string_view part : split(text, ' ')) {
      if (line.size() + part.size() + 1 > width)
        out += line + "\n", line = "  ";
      else if (!line.empty())
        line += ' ';
      line += part;
    }
    return out + line + "\n";
  }
  void results() {
    out_ += fmt::format("begun {}  ended {}  stops and reasons {}  red lines {}  photos {}\n", blank, blank,
                        blank, blank, blank);
    out_ += fmt::format("weather {}  ground {}  headcount {}  equipment {}  deliveries {}\n", blank, blank,
                        blank, blank, blank);
    out_ += fmt::format("snags {}  signed (crew) {}  signed (supervisor) {}\n", blank, blank, blank);
    out_ += wrapped(std::string(caution_footer()));
  }

  const Plan& plan_;
  const StationNames& names_;
  OrderId order_;
  const CrewDay& day_;
  OrdersInput input_;
  std::string out_;
};

std::string file_name(const std::string& crew, Date day) {
  std::string safe;
  for (const char c : crew)
    safe += (static_cast<unsigned char>(c) < 0x21 || c == '/' || c == '\\' || c == ',') ? '-' : c;
  return fmt::format("sheets/{}-{}.txt", safe, iso_week(day));
}

}  // namespace

std::vector<Output> sheets(const Plan& plan, const std::function<bool(const CrewDay&)>& wanted) {
  std::map<std::string, std::vector<OrderId>> weeks;
  for (const OrderId o : plan.schedule->crew_days.ids()) {
    const CrewDay& day = plan.schedule->crew_days[o];
    if (wanted(day)) weeks[file_name(plan.scenario.crews->crews[day.crew].name, day.date)].push_back(o);
  }
  std::vector<Output> outputs;
  for (auto& [file, orders] : weeks)
    outputs.push_back({file, [&plan, orders = std::move(orders)](const Sink& sink) {
                         const StationNames names(plan);
                         for (const OrderId o : orders) sink(Page(plan, names, o).text() + "\f");
                       }});
  return outputs;
}

std::vector<Output> sheet_outputs(const Plan& plan, std::string_view crew, Date from, Date to) {
  return sheets(plan, [&, from, to](const CrewDay& day) {
    return day.date >= from && day.date <= to &&
           (crew.empty() || plan.scenario.crews->crews[day.crew].name == crew);
  });
}

}  // namespace plan
