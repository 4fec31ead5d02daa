// The words of the works, and of the scenario as a whole.
#include "scenario/draft.h"

namespace plan {

namespace {

constexpr Field price_fields[] = {
    field<&PriceRow::written>("price", "per metre, per piece or per hour, with its currency")
        .from(0, 1e9)
        .needed(),
    field<&PriceRow::price, &Price::pack>("pack", "pieces in a pack").from(1, 1000000).otherwise("1"),
    field<&PriceRow::price, &Price::source>("source", "where the price comes from; printed in the bill"),
};

constexpr Field lead_fields[] = {
    field<&LeadRow::lead, &Lead::days>("lead", "order to site, calendar days")
        .as(Kind::days)
        .from(0, 2000)
        .needed(),
    remark("source", "where the figure comes from"),
};
constexpr Mapping lead_entry{"a lead time", "Lead time of one item.", lead_fields,
                             text_of<&LeadRow::lead, &Lead::item>, spot_of<&LeadRow::spot>};
constexpr Field other_lead() {
  Field f = field<&StockDraft::lead>("lead", "of every item not named").as(Kind::days).from(0, 2000);
  f.given = flag<&StockDraft::lead_given>;
  return f.after("proposal of this program");
}
constexpr Field stock_items() {
  Field f =
      several<&StockDraft::items>("items", Many::named, lead_entry, "items with a lead time of their own");
  f.refers = Refers::items;
  return f;
}
constexpr Field stock_fields[] = {other_lead(), stock_items()};

constexpr Field crew_fields[] = {
    field<&CrewRow::crew, &Crew::name>("name", "how the crew is called").needed(),
    list<&CrewRow::crew, &Crew::skills>("skills", "tasks it can do").needed(),
    field<&CrewRow::crew, &Crew::people>("people", "people in the crew").from(1, 100).otherwise("2"),
    field<&CrewRow::number>("number", "crews like this; above one they are called 'name 1', 'name 2'")
        .from(1, 500)
        .otherwise("1"),
};

using C = CalendarDraft;
constexpr Field calendar_fields[] = {
    list<&C::working_days>("working days", "days of the week").after("common practice, no source"),
    list<&C::holidays>("holidays", "dates without work"),
    field<&C::shift>("shift", "length of a working day").from(30, 1440).after("common practice, no source"),
    field<&C::utilisation>("utilisation", "share of net running rates reached on site")
        .as(Kind::share)
        .from(0.05, 1)
        .after("0.65-0.75, common practice"),
    field<&C::travel>("travel between stops", "of a crew in one day")
        .from(0, 480)
        .after("proposal of this program"),
};

using R = RateRow;
constexpr Field per_day() {
  Field f = field<&R::per_day>("per crew day", "gross output, waits inside");
  f.given = flag<&R::gross_given>;
  return f;
}
constexpr Field each() {
  Field f = field<&R::rate, &Rate::minutes_each>("each", "net time a piece or a metre, before utilisation");
  f.given = flag<&R::net_given>;
  return f.as(Kind::minutes).from(0, 10000);
}
constexpr Field rate_fields[] = {
    per_day(),
    each(),
    field<&R::rate, &Rate::set_up>("set up", "net time per place").from(0, 10000).otherwise("0 min"),
    field<&R::rate, &Rate::source>("source", "where the rate comes from"),
};

constexpr Field site_state_fields[] = {
    several<&Draft::blocked_routes>("blocked routes", Many::named, reason_words,
                                    "routes where nobody can work now"),
};

constexpr Field edit_fields[] = {
    field<&EditRow::edit, &Edit::name>("name", "how the variant is called").needed(),
    field<&EditRow::edit, &Edit::hold>("hold", "what the variant keeps of the base plan")
        .otherwise("nothing"),
    field<&EditRow::edit, &Edit::change>("change", "keys of this language, merged over the scenario")
        .needed(),
};
constexpr Mapping edit_words{"an edit", "A named variant of this scenario.", edit_fields, nullptr,
                             spot_of<&EditRow::spot>};

constexpr Field surface_fields[] = {
    field<&SurfaceRow::usual_method>("usual method", "how it is opened where the route does not say")
        .needed(),
    offered(),
    remark("source", "where this comes from"),
};
constexpr Mapping surface_words{"a surface", "What is opened; priced as 'open' and its name.", surface_fields,
                                text_of<&SurfaceRow::name>};

constexpr Field crossing_fields[] = {
    field<&CrossingRow::built_by>("built by", "who builds it, and on whose terms").needed(),
    offered(),
    remark("source", "where this comes from"),
};
constexpr Mapping crossing_words{"a crossing",
                                 "What a route may cross at a price of its own: each such route is priced "
                                 "once as 'crossing' and its name, with a lead time in the stock.",
                                 crossing_fields, text_of<&CrossingRow::name>};

void* same(void* object) {
  return object;
}
constexpr Field site_state() {
  Field f;
  f.key = "site", f.doc = "what is blocked on site", f.kind = Kind::mapping, f.mapping = &site_state_words;
  f.into = same;
  return f;
}
template <auto Member>
constexpr Field priced(std::string_view key, std::string_view doc) {
  Field f = several<Member>(key, Many::named, price_words, doc);
  f.refers = Refers::items;
  return f;
}

using D = Draft;
constexpr Field scenario_fields[] = {
    field<&D::name>("scenario", "how the scenario is called").needed(),
    field<&D::note>("note", "a remark for the reader"),
    field<&D::start>("start", "first day of work").needed(),
    field<&D::currency>("currency", "three letters; amounts are never converted").after("invented"),
    list<&D::use>("use", "further files of this language, merged below this one"),
    inside<&D::estate>("estate", estate_words, "all that is given").needed(),
    several<&D::headends>("headends", Many::list, headend_words, "where the OLT ports stand").needed(),
    reference<&D::optics, &OpticRules::optical_class>("class", Refers::classes, "optical class to be met"),
    references<&D::optics, &OpticRules::also>("also classes", Refers::classes,
                                              "further classes on the same glass"),
    several<&D::split>("split", Many::list, split_words, "split stages from the headend outwards"),
    inside<&D::layout>("layout", layout_words, "rules of the layout"),
    inside<&D::ducts>("ducts", duct_words, "rules of the ducts"),
    inside<&D::fibre>("fibre", fibre_words, "rules of the fibre"),
    inside<&D::blowing>("blowing", blowing_words, "rules of the blows"),
    inside<&D::optics>("optics", optic_words, "rules of the light"),
    inside<&D::catalogue>("catalogue", catalogue_words, "what can be ordered"),
    several<&D::surfaces>("surfaces", Many::named, surface_words, "what can be opened"),
    several<&D::crossings>("crossings", Many::named, crossing_words, "what a route may cross"),
    priced<&D::prices>("prices", "by catalogue name, 'open' and a surface, 'crossing' and its name, or task"),
    priced<&D::design_prices>("design prices", "what the layout weighs where it differs from the prices"),
    inside<&D::stock>("stock", stock_words, "lead times"),
    several<&D::crews>("crews", Many::list, crew_words, "who does the work; a list replaces the shipped one"),
    inside<&D::calendar>("calendar", calendar_words, "working time"),
    several<&D::rates>("rates", Many::named, rate_words, "by task, or task and surface: 'dig verge'"),
    site_state(),
    several<&D::edits>("edits", Many::list, edit_words, "variants to be compared with this scenario"),
};

}  // namespace

constexpr Mapping price_words{"a price", "Price of one item.", price_fields,
                              text_of<&PriceRow::price, &Price::item>, spot_of<&PriceRow::spot>};
constexpr Mapping stock_words{"the stock", "Lead times from order to site.", stock_fields};
constexpr Mapping crew_words{"a crew", "People who work together.", crew_fields, nullptr,
                             spot_of<&CrewRow::spot>};
constexpr Mapping calendar_words{"the calendar", "Working days and hours.", calendar_fields};
constexpr Mapping rate_words{"a rate", "Output of one crew: 'per crew day' or 'each', not both.", rate_fields,
                             text_of<&R::name>, spot_of<&R::spot>};
constexpr Mapping site_state_words{"the site state", "What is already fixed on site.", site_state_fields};
constexpr Mapping scenario_words{"the scenario", "One estate, what is demanded, and who builds it.",
                                 scenario_fields};

}  // namespace plan
