// docs/scenario.md, printed from the descriptors and the shipped data: every key with what it says, what
// it takes, its range, its default and where the default comes from.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "base/text.h"
#include "scenario/draft.h"
#include "scenario/layers.h"
#include "scenario/reader.h"

namespace plan {

namespace {

constexpr std::string_view introduction = R"(# The scenario language

Printed from the descriptors that the reader itself uses; a test compares this page with them.

A scenario is one YAML file. Twelve lines are enough, everything else has a default:

```yaml
scenario: Little Withy
start: 2027-03-01
estate:
  coordinates: metres
  premises: village/premises.geojson
  routes: village/routes.geojson
headends: [{name: Exchange, at: [0, 0]}]
class: GPON B+
split: [{at: cabinet, ratio: 1:32}]
crews:
  - {name: Dig, skills: [dig, lay, chamber, cabinet, reinstate], people: 5}
  - {name: Fibre, skills: [couple, prove, blow, splice, test, connect], people: 2}
```

- Every amount carries its unit, with one space between: `12.5 m`, `10 bar`, `0.36 dB/km`, `15 %`, `0.155 EUR/m`.
- Yes and no are `yes` and `no`. A share is written in per cent. Pressures are gauge. Dates are `2027-03-01`.
- Positions are pairs of plain numbers, east then north, in metres, or longitude then latitude in degrees.
- Premises, routes and sites stand inline as lists, or in a GeoJSON or CSV file named instead of the list. A file
  uses the same words: columns of a CSV file or properties of a GeoJSON feature are the keys below; the position
  of a CSV row stands in columns `x` and `y`, its line as text, `0 0, 12.5 40`. An empty cell is a key left out.
  Of a GeoPackage (`estate.gpkg`) the layer called `premises`, `routes` or `sites` is read, as it is stored.
- Layers: shipped data, below the files of `use` in their order, below the scenario, below an edit. Mappings merge
  key by key; everything else, lists too, is replaced whole. File names are read beside the file that names them.
- An edit of `prices` changes the bill and leaves the layout as it was; one of `design prices` changes what the
  layout weighs. An edit holds nothing of what it changes itself: not the layout where it changes the estate or
  the places of the split, not the ducts where it adds or leaves out what they are made of.
- Aliases, anchors, tags, repeated keys and second documents are refused. All faults are told at once.
- `withy check --effective` prints the scenario as it is used, each value with where it came from.
)";

std::string range(const Field& f) {
  if (f.many == Many::named || f.kind == Kind::mapping) return "";
  const bool low = std::isfinite(f.least), high = std::isfinite(f.most);
  if (!low && !high) return "";
  const auto end = [&](double v) {
    return f.kind == Kind::ratio ? fmt::format("1:{}", v)
           : is_amount(f.kind)   ? amount_text(f.kind, v)
           : v == std::round(v)  ? fixed(v, 0)
                                 : shortest(v);
  };
  if (low && high) return fmt::format("{} to {}", end(f.least), end(f.most));
  return low ? fmt::format("from {}", end(f.least)) : fmt::format("up to {}", end(f.most));
}

std::string one_value(const Field& f) {
  switch (f.kind) {
    case Kind::choice: {
      std::string words;
      for (const std::string_view w : f.words) words += fmt::format("{}`{}`", words.empty() ? "" : ", ", w);
      return words;
    }
    case Kind::yes_no:
      return "`yes`, `no`";
    case Kind::reference:
      return fmt::format("name of a {}", what_is(f.refers));
    case Kind::mapping:
      return fmt::format("keys of {}", f.mapping->name);
    case Kind::fragment:
      return "keys of the scenario";
    default:
      return expected(f.kind);
  }
}

std::string takes(const Field& f) {
  switch (f.many) {
    case Many::list:
      return "list, each: " + one_value(f);
    case Many::named:
      return fmt::format("by name, each: {}", one_value(f));
    case Many::rows:
      return fmt::format("file name, or list, each: {}", one_value(f));
    case Many::one:
      break;
  }
  return one_value(f);
}

// The shipped value as it is written, where it is a single one.
std::string shipped_value(const Tree& t, NodeRef n) {
  if (!n.valid()) return "";
  if (t.kind(n) == TreeKind::scalar) return fmt::format("`{}`", t.text(n));
  size_t count = 0;
  for (NodeRef c = t.first_child(n); c.valid(); c = t.next(c)) ++count;
  return count == 0 ? "none" : fmt::format("{} shipped", count);
}

class Page {
 public:
  explicit Page(const Tree& shipped) : t_(shipped) {}

  void section(const Mapping& m, NodeRef shipped) {
    if (std::find(done_.begin(), done_.end(), &m) != done_.end()) return;
    done_.push_back(&m);
    text += fmt::format(
        "\n## {}\n\n{}\n\n| key | says | takes | range | default | source |\n|---|---|---|---|---|---|\n",
        m.name, m.doc);
    for (const Field& f : m.fields) row(f, t_.find(shipped, f.key));
    for (const Field& f : m.fields)
      if (f.mapping) section(*f.mapping, f.many == Many::one ? t_.find(shipped, f.key) : NodeRef{});
  }

  std::string text = std::string(introduction);

 private:
  void row(const Field& f, NodeRef shipped) {
    const bool whole = f.kind == Kind::mapping && f.many == Many::one;
    std::string fallback =
        f.fallback.empty() ? whole ? "" : shipped_value(t_, shipped) : std::string(f.fallback);
    if (fallback.empty() && f.required) fallback = "needed";
    text += fmt::format("| `{}` | {} | {} | {} | {} | {} |\n", f.key, f.doc, takes(f), range(f), fallback,
                        f.source);
  }

  const Tree& t_;
  std::vector<const Mapping*> done_;
};

}  // namespace

std::string language_page() {
  const Result<Tree> shipped = read_shipped();
  PLAN_CHECK(shipped.value.has_value());
  Page page(*shipped);
  page.section(scenario_words, shipped->root());
  return std::move(page.text);
}

}  // namespace plan
