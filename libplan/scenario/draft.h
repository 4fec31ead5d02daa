// What the descriptors fill: the scenario as it was said, before it is checked across its sections and
// split into slices (finish_*.cpp). Rows keep the spot they were written at.
#pragma once
#include <string>
#include <vector>

#include "scenario/descriptor.h"
#include "scenario/scenario.h"

namespace plan {

struct PremisesRow {
  Premises premises;
  Spot spot;
};
struct RouteRow {
  Route route;
  RouteKind kind = RouteKind::trench;
  bool surface_given = false;
  Spot spot;
};
struct HeadendRow {
  Headend headend;
  Spot spot;
};
struct SiteRow {
  Site site;
  Spot spot;
};
// A named thing and why: a forbidden route, premises left out.
struct Reason {
  std::string name, why;
  Spot spot;
};

struct EstateDraft {
  Coordinates coordinates = Coordinates::metres;
  std::string reference_system;
  std::vector<PremisesRow> premises, added;
  std::vector<RouteRow> routes;
  std::vector<SiteRow> sites;
  std::vector<Reason> forbidden_routes, forbidden_sites, left_out;
};

struct SurfaceRow {
  std::string name, usual_method;
};
struct CrossingRow {
  std::string name, built_by;
};
struct SplitRow {
  SplitStage stage;
  Spot spot;
};
struct PriceRow {
  Price price;
  WrittenPrice written;
  Spot spot;
};
struct LeadRow {
  Lead lead;
  Spot spot;
};
struct StockDraft {
  int lead = 0;
  bool lead_given = false;
  std::vector<LeadRow> items;
};
struct RateRow {
  std::string name;  // "dig verge"
  Rate rate;
  WrittenOutput per_day;
  bool gross_given = false, net_given = false;
  Spot spot;
};
struct CrewRow {
  Crew crew;
  int number = 1;
  Spot spot;
};
struct CalendarDraft {
  std::vector<Weekday> working_days;
  std::vector<Date> holidays;
  Work shift;
  double utilisation = 1;
  Work travel;
};
struct EditRow {
  Edit edit;
  Spot spot;
};
struct CatalogueDraft {
  DuctCatalogue ducts;
  FibreCatalogue fibre;
  std::vector<std::string> other_items;
};

struct Draft {
  std::string name, note, currency;
  Date start;
  EstateDraft estate;
  std::vector<HeadendRow> headends;
  std::vector<SplitRow> split;
  OpticRules optics;
  LayoutRules layout;
  DuctRules ducts;
  FibreRules fibre;
  BlowRules blowing;
  CatalogueDraft catalogue;
  std::vector<SurfaceRow> surfaces;
  std::vector<CrossingRow> crossings;
  std::vector<PriceRow> prices, design_prices;
  StockDraft stock;
  std::vector<CrewRow> crews;
  CalendarDraft calendar;
  std::vector<RateRow> rates;
  std::vector<Reason> blocked_routes;
  std::vector<EditRow> edits;
  std::vector<std::string> use;
};

// The whole language.
extern const Mapping scenario_words;
extern const Mapping estate_words, premises_words, route_words, site_words, headend_words, reason_words;
extern const Mapping catalogue_words;
extern const Mapping layout_words, duct_words, fibre_words, blowing_words, optic_words, split_words;
extern const Mapping price_words, stock_words, crew_words, calendar_words, rate_words, site_state_words;

}  // namespace plan
