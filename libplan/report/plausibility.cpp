#include "report/facts.h"

namespace plan {
namespace {

double ratio(double a, double b) {
  return b > 0 ? a / b : 0;
}
double currency(Money m) {
  return static_cast<double>(m.cents) / 100.0;
}

}  // namespace

// The ranges are rules of thumb of the trade: urban 8 m of trench a connection to rural 420 m; 2.7 m of
// duct a metre of trench in a village, more in town; civils 47 % (ploughed village) to 90 %.
std::vector<Plausible> plausibility(const Facts& f) {
  const double dwellings = f.dwellings_lit + f.dwellings_reserved;
  const double opened = in_metres(f.opened);
  const bool some = dwellings > 0;
  return {
      {"trench a dwelling", "m", ratio(opened, dwellings), 8, 420, 1,
       "from memory; rural end one village's bill", some},
      {"microduct a metre of trench", "m", ratio(in_metres(f.microduct), opened), 1.5, 30, 1,
       "2.7 m of duct in one village's bill, more in town; upper end common practice, no source", opened > 0},
      {"civil share of cost", "%", 100 * ratio(currency(f.civil), currency(f.total)), 47, 90, 1,
       "one village's bill 47; a state guide of 2017 up to 80; others to 90", f.total.cents > 0},
      {"splitter ports filled at take-up", "%", 100 * f.port_fill, 40, 85, 1, "common practice, no source",
       f.splitter_ports > 0},
      {"spare microduct", "%", 100 * f.spare_share, 10, 60, 1,
       "10-20 by rule, from memory; catalogue sizes add", f.runs > 0},
      {"joints a duct path", "", f.joints_per_path, 0, 4, 2, "common practice, no source", some},
      {"longest blow", "m", in_metres(f.longest_blow), 50, 2000, 0,
       "500-1,000 routine, above 2,000 suspicious without test data; common practice", f.blows > 0},
      {"cost a dwelling passed", "", ratio(currency(f.total), f.dwellings_passed), 300, 4000, 0,
       "published per-premises figures of 2010-2019, 500 to 4,000, currencies differ",
       f.dwellings_passed > 0},
      {"cost a dwelling connected", "", ratio(currency(f.total), f.dwellings_lit), 600, 6000, 0,
       "as above with the connection; currencies differ", f.dwellings_lit > 0},
  };
}

}  // namespace plan
