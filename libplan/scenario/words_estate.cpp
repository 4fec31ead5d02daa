// The words of the estate: premises, routes, sites, headends, as rows of a file or written inline.
#include "scenario/draft.h"

namespace plan {

namespace {

using P = PremisesRow;
constexpr Field drop_from() {
  Field f = field<&P::premises, &Premises::drop_from>(
      "drop from", "its drop leaves the nearest point of a route to this place");
  f.given = flag<&P::premises, &Premises::drop_stated>;
  return f.otherwise("the nearest point of a route to its entry");
}
constexpr Field premises_fields[] = {
    field<&P::premises, &Premises::name>("name", "how the premises are called, once in the estate").needed(),
    field<&P::premises, &Premises::at>("at", "position of the entry").needed(),
    field<&P::premises, &Premises::street>("street", "street, for the work order"),
    drop_from(),
    field<&P::premises, &Premises::dwellings>("dwellings", "homes or businesses in it")
        .from(1, 2000)
        .otherwise("1"),
    field<&P::premises, &Premises::connect>("connect", "when it is connected").otherwise("at build"),
    field<&P::premises, &Premises::laid>("drop laid", "how far its drop is laid at build")
        .otherwise("to door"),
    field<&P::premises, &Premises::boundary>("boundary",
                                             "from the street to the plot boundary along the drop")
        .from(0, 2000)
        .otherwise("0 m, unknown"),
    field<&P::premises, &Premises::boundary_known>("boundary known", "how well the plot boundary is known")
        .otherwise("mapped"),
    field<&P::premises, &Premises::indoor>("indoor", "from the entry to the outlet, or to the building point")
        .from(0, 1000)
        .otherwise("0 m"),
    field<&P::premises, &Premises::building_point>(
        "building point", "an internal point from which each dwelling has its own indoor fibre")
        .otherwise("no"),
    field<&P::premises, &Premises::riser>("riser", "building point to the farthest outlet")
        .from(0, 1000)
        .otherwise("0 m"),
    field<&P::premises, &Premises::take_up>("take-up", "share of its dwellings expected on day one")
        .as(Kind::share)
        .from(0, 1)
        .otherwise("take-up of the fibre rules"),
    field<&P::premises, &Premises::entry_known>("entry known", "how well the entry is known")
        .otherwise("mapped"),
    field<&P::premises, &Premises::dwellings_known>("dwellings known", "how well the dwellings are known")
        .otherwise("mapped"),
    field<&P::premises, &Premises::consent>("consent", "who must agree to the entry"),
};

using R = RouteRow;
constexpr Field route_surface() {
  Field f = reference<&R::route, &Route::surface>("surface", Refers::surfaces,
                                                  "what is opened and closed again; needed for a trench");
  f.given = flag<&R::surface_given>;
  return f.otherwise("existing duct, where it is one");
}
constexpr Field route_fields[] = {
    field<&R::route, &Route::name>("name", "how the route is called, once in the estate").needed(),
    field<&R::route>("line", "positions from end to end; a third number is the height in metres").needed(),
    field<&R::kind>("kind", "a trench to be opened or an existing duct; aerial is refused")
        .otherwise("trench"),
    route_surface(),
    field<&R::route, &Route::method>("method", "how it is opened").otherwise("usual method of the surface"),
    field<&R::route, &Route::street>("street", "street it belongs to, for the walk-out list"),
    field<&R::route, &Route::drops>("drops", "whether a drop, headend or site may leave it midway")
        .otherwise("yes"),
    field<&R::route, &Route::level>("level", "routes of other levels meet it only where one of both ends")
        .from(-20, 20)
        .otherwise("0"),
    reference<&R::route, &Route::crossing>("crossing", Refers::crossings,
                                           "what it crosses at a price of its own, such as rail"),
    field<&R::route, &Route::restricted>("restricted", "private or otherwise restricted, and how"),
    field<&R::route, &Route::forbidden_why>("forbidden", "who fixed that nothing is laid here, and why"),
    field<&R::route, &Route::bore>("bore", "of an existing duct").from(0.01, 0.5),
    field<&R::route, &Route::free_share>("free share", "share of the bore's area still free")
        .as(Kind::share)
        .from(0, 1)
        .otherwise("100 %"),
    field<&R::route, &Route::state>("state", "of an existing duct; only a proven one is used")
        .otherwise("proven"),
    field<&R::route, &Route::content>("content", "what lies in an existing duct"),
    field<&R::route, &Route::owner>("owner", "whose existing duct it is"),
    field<&R::route, &Route::hire_price>("hire price", "what its owner asks, as written; never added up"),
    field<&R::route, &Route::cover_rule>("cover", "cover asked for here, as it is to be printed")
        .otherwise("to local code, never counted as met"),
    field<&R::route, &Route::separation_rule>("separation",
                                              "separation from other plant, as it is to be printed")
        .otherwise("to local code, never counted as met"),
    field<&R::route, &Route::permit>("permit", "permit zone"),
    field<&R::route, &Route::surface_known>("surface known", "how well the surface is known")
        .otherwise("mapped"),
};

using S = SiteRow;
constexpr Field site_fields[] = {
    field<&S::site, &Site::name>("name", "how the site is called").needed(),
    field<&S::site, &Site::at>("at", "position").needed(),
    field<&S::site, &Site::why>("forbidden", "who fixed that no cabinet stands here, and why"),
};

using H = HeadendRow;
constexpr Field headend_fields[] = {
    field<&H::headend, &Headend::name>("name", "how the headend is called").needed(),
    field<&H::headend, &Headend::at>("at", "position").needed(),
    field<&H::headend, &Headend::olt_ports>("OLT ports", "ports it has room for")
        .from(0, 100000)
        .otherwise("0, as many as needed"),
    field<&H::headend, &Headend::microduct_entries>("microduct entries",
                                                    "premises it may serve without a cabinet")
        .from(0, 10000)
        .otherwise("0"),
    field<&H::headend, &Headend::feeder_fibres>("feeder fibres", "fibres it can terminate")
        .from(0, 1000000)
        .otherwise("0, as many as needed"),
};

constexpr Field reason_fields[] = {field<&Reason::why>("why", "who fixed it and why").needed()};

constexpr Field forbid_fields[] = {
    several<&EstateDraft::forbidden_routes>("routes", Many::named, reason_words,
                                            "routes in which nothing is laid"),
    several<&EstateDraft::forbidden_sites>("sites", Many::named, reason_words,
                                           "sites where no cabinet stands"),
};
constexpr Mapping forbid_words{"what is forbidden",
                               "Routes and sites ruled out on top of the estate's own rows.", forbid_fields};

void* same(void* object) {
  return object;
}
constexpr Field forbid() {
  Field f;
  f.key = "forbid", f.doc = "routes and sites ruled out", f.kind = Kind::mapping, f.mapping = &forbid_words;
  f.into = same;
  return f;
}

using E = EstateDraft;
constexpr Field estate_fields[] = {
    field<&E::coordinates>("coordinates", "what positions are given in").otherwise("metres"),
    field<&E::reference_system>("reference system", "name of the declared system, carried to the output"),
    several<&E::premises>("premises", Many::rows, premises_words, "premises, inline or the name of a file")
        .needed(),
    several<&E::routes>("routes", Many::rows, route_words, "routes, inline or the name of a file").needed(),
    several<&E::sites>("sites", Many::rows, site_words,
                       "places where cabinets may stand; none: at any street node"),
    forbid(),
    several<&E::left_out>("leave out", Many::named, reason_words, "premises that are not to be planned"),
    several<&E::added>("add premises", Many::list, premises_words, "premises besides those of the table"),
};

}  // namespace

constexpr Mapping reason_words{"a reason", "Who fixed something and why.", reason_fields,
                               text_of<&Reason::name>, spot_of<&Reason::spot>};
constexpr Mapping premises_words{"a premises", "One building or plot with one entry.", premises_fields,
                                 nullptr, spot_of<&P::spot>};
constexpr Mapping route_words{"a route",
                              "A street side, footway, verge or crossing that may be opened, or an "
                              "existing duct between two chambers.",
                              route_fields, nullptr, spot_of<&R::spot>};
constexpr Mapping site_words{"a site", "A place where a cabinet may stand.", site_fields, nullptr,
                             spot_of<&S::spot>};
constexpr Mapping headend_words{"a headend", "Where the OLT ports stand.", headend_fields, nullptr,
                                spot_of<&H::spot>};
constexpr Mapping estate_words{"the estate", "All that is given: premises, routes, sites.", estate_fields};

}  // namespace plan
