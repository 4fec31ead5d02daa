// The scenario: immutable slices, shared between a base and its edits. Equal slices are the same to
// every stage: what an edit does not touch is not computed again (plan/plan.h).
//
//   Result<Scenario> s = read_scenario(files, "village.yaml");       // all diagnostics at once
//   Result<Scenario> e = edited(files, "village.yaml", s->edits[0]); // the edit merged in, read again
//
// Reading touches no disk: `Files` hands over texts and tables that somebody else opened.
#pragma once
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "scenario/catalogue.h"
#include "scenario/demand.h"
#include "scenario/rules.h"
#include "scenario/tree.h"
#include "scenario/works.h"

namespace plan {

// An immutable slice, compared by value, cheap to copy.
template <class T>
class Slice {
 public:
  Slice() : value_(std::make_shared<const T>()) {}
  Slice(T value) : value_(std::make_shared<const T>(std::move(value))) {}  // NOLINT: a slice is its value
  const T& operator*() const { return *value_; }
  const T* operator->() const { return value_.get(); }
  bool identical(const Slice& other) const { return value_ == other.value_; }  // shared, not only equal
  friend bool operator==(const Slice& a, const Slice& b) {
    return a.value_ == b.value_ || *a.value_ == *b.value_;
  }

 private:
  std::shared_ptr<const T> value_;
};

enum class Hold : uint8_t { nothing, layout, ducts, quantities };

// A named change: a fragment of the same language, merged over the scenario.
struct Edit {
  std::string name;
  Hold hold = Hold::nothing;
  NodeRef change;  // into Scenario::document
};

// Where a row was read; the file's name stands once, in Scenario::row_files.
struct RowPlace {
  uint32_t line = 0, column = 0;
  uint16_t file = 0;
  friend bool operator==(const RowPlace&, const RowPlace&) = default;
};

struct Scenario {
  Slice<Demand> demand;
  Slice<DuctCatalogue> duct_catalogue;
  Slice<FibreCatalogue> fibre_catalogue;
  Slice<LayoutRules> layout_rules;
  Slice<DuctRules> duct_rules;
  Slice<FibreRules> fibre_rules;
  Slice<BlowRules> blow_rules;
  Slice<OpticRules> optic_rules;
  Slice<Prices> design_prices;  // what layout weighs; equal to prices unless given
  Slice<Prices> prices;         // what the bill charges
  Slice<Stock> stock;
  Slice<Crews> crews;
  Slice<SiteState> site;
  std::vector<Edit> edits;
  std::shared_ptr<const Tree> document;         // what was read, with places; not part of what is compared
  Table<PremisesId, RowPlace> premises_places;  // for diagnostics and findings only
  Table<RouteId, RowPlace> route_places;
  std::vector<std::string> row_files;
  Diagnostics warnings;
};
// Slices equal; documents, places and edits are not compared.
bool same_slices(const Scenario& a, const Scenario& b);

// Takes some rows of a table: a list of mappings in the scenario's own words, with places (row and
// column). The tree is the giver's and is used again once the call returns.
using RowSink = std::function<void(const Tree& tree, NodeRef rows)>;
// What the outside hands over. `text` gives the bytes of a YAML file; `table` hands over the rows of a
// CSV or GeoJSON file block by block and says what is wrong with the file; of a file of several layers it
// takes the one called as the table is: premises, routes or sites.
struct Files {
  std::function<Result<std::string>(const std::string& path)> text;
  std::function<Diagnostics(const std::string& path, std::string_view layer, const RowSink& rows)> table;
};

Result<Scenario> read_scenario(const Files& files, const std::string& path);
// The scenario with one edit merged over it: mappings merge key by key, everything else is replaced.
// Slices equal to the base's are the base's own.
Result<Scenario> edited(const Files& files, const Scenario& base, const Edit& edit);
// The most that an edit can hold of its base's plan: nothing where it changes the estate or the places of the
// split, the layout where it adds or leaves out microducts, bundles or chambers, the ducts where other parts.
// An edit that asks for more is a fault of the scenario.
Hold most_held(const Scenario& base, const Scenario& edit);
// The whole scenario as used, as YAML, each value with where it came from.
std::string effective(const Scenario& scenario);
// JSON Schema 2020-12 of the language; docs/scenario.md; docs/numbers.md. All print the descriptor tables.
std::string schema_json();
std::string language_page();
std::string numbers_page();

}  // namespace plan
