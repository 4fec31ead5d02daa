// A stage's signature is its dependency list: it runs again exactly where something it takes differs, and is
// kept everywhere else. The lists below are written from the stages' headers, not from the code that runs
// them.
#include "laws/edits.h"

using namespace plan;

namespace {

// What differs between two plans, by the names used in the lists.
class Differences {
 public:
  Differences(const Plan& now, const Plan& base) {
    const Scenario &a = now.scenario, &b = base.scenario;
    note("demand", a.demand, b.demand);
    note("duct_catalogue", a.duct_catalogue, b.duct_catalogue);
    note("fibre_catalogue", a.fibre_catalogue, b.fibre_catalogue);
    note("layout_rules", a.layout_rules, b.layout_rules);
    note("duct_rules", a.duct_rules, b.duct_rules);
    note("fibre_rules", a.fibre_rules, b.fibre_rules);
    note("blow_rules", a.blow_rules, b.blow_rules);
    note("optic_rules", a.optic_rules, b.optic_rules);
    note("design_prices", a.design_prices, b.design_prices);
    note("prices", a.prices, b.prices);
    note("stock", a.stock, b.stock);
    note("crews", a.crews, b.crews);
    note("site", a.site, b.site);
    note("network", now.network, base.network);
    note("basis", now.basis, base.basis);
    note("takeoff", now.takeoff, base.takeoff);
    note("schedule", now.schedule, base.schedule);
    note("bom", now.bill, base.bill);
  }
  // Of one round; the last of the base where it is the last of the plan.
  void compare(const Round& a, const Round& b) {
    note("asks", a.asks, b.asks);
    note("layout", a.layout, b.layout);
    note("ducts", a.ducts, b.ducts);
    note("fibre", a.fibre, b.fibre);
    note("blowing", a.blowing, b.blowing);
    note("optics", a.optics, b.optics);
  }
  bool any(std::string_view list) const {
    for (const std::string_view name : split(list, ' '))
      if (differs_.at(std::string(name))) return true;
    return false;
  }

 private:
  template <class T>
  void note(const char* name, const T& a, const T& b) {
    differs_[name] = !(a == b);
  }
  std::map<std::string, bool> differs_;
};

struct Takes {
  std::string_view stage, list;
};
const Takes before[] = {
    {"network", "demand site"},
    {"basis",
     "network demand duct_catalogue fibre_catalogue layout_rules duct_rules fibre_rules blow_rules "
     "optic_rules "
     "design_prices"},
};
const Takes in_round[] = {
    {"layout", "network basis layout_rules asks"},
    {"ducts", "network basis layout demand duct_catalogue fibre_catalogue duct_rules layout_rules"},
    {"fibre",
     "network basis layout ducts demand duct_catalogue fibre_catalogue layout_rules duct_rules fibre_rules"},
    {"blowing", "network layout ducts fibre duct_catalogue fibre_catalogue duct_rules blow_rules"},
    {"optics", "layout fibre demand fibre_catalogue fibre_rules optic_rules"},
};
const Takes after[] = {
    {"acceptance",
     "layout fibre demand fibre_catalogue fibre_rules optic_rules blowing optics duct_catalogue"},
    {"takeoff",
     "network basis layout ducts fibre demand duct_catalogue fibre_catalogue duct_rules layout_rules"},
    {"schedule", "network layout ducts fibre blowing takeoff demand stock crews"},
    {"bom", "takeoff schedule prices stock"},
    {"orders",
     "network layout ducts fibre blowing optics takeoff schedule bom demand duct_catalogue fibre_catalogue "
     "crews"},
};

// Walks the log of a plan beside the lists.
class Reader {
 public:
  Reader(const Plan& plan, const Plan& base) : plan_(plan), base_(base), differ_(plan, base) {}

  void all() {
    for (const Takes& t : before) expect(t.stage, differ_.any(t.list));
    for (size_t k = 0; k < plan_.rounds.size(); ++k) {
      const bool beside = k < base_.rounds.size();
      if (beside) differ_.compare(plan_.rounds[k], base_.rounds[k]);
      for (const Takes& t : in_round) expect(t.stage, !beside || differ_.any(t.list));
    }
    differ_.compare(plan_.rounds.back(), base_.rounds.back());
    for (const Takes& t : after) expect(t.stage, differ_.any(t.list));
    CHECK(at_ == plan_.stages.size());
  }

 private:
  void expect(std::string_view stage, bool runs) {
    REQUIRE(at_ < plan_.stages.size());
    const StageRun& run = plan_.stages[at_++];
    CHECK(run.stage == stage);
    CHECK_MESSAGE(run.kept == !runs, std::string(stage));
  }
  const Plan &plan_, &base_;
  Differences differ_;
  size_t at_ = 0;
};

}  // namespace

TEST_CASE("a stage runs again exactly where something it takes has changed") {
  for (const FolderTexts& texts :
       {with_edits(shipped("hamlet")), with_edits(invented(120, 3)), with_edits(invented(250, 9))}) {
    const Scenario scenario = scenario_in(texts);
    const Plan base = planned(scenario);
    for (const Edit& edit : scenario.edits) {
      CAPTURE(edit.name);
      const Plan plan = planned_on(base, edit_of(texts, scenario, edit));
      Reader(plan, base).all();
    }
  }
}
