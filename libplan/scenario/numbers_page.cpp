// docs/numbers.md, printed from the shipped data and the descriptors: every figure that ships, with its unit
// and where it comes from, and the few figures that stand in code.
#include <fmt/core.h>

#include "base/check.h"
#include "scenario/draft.h"
#include "scenario/layers.h"
#include "scenario/reader.h"

namespace plan {
namespace {

constexpr std::string_view introduction = R"(# Numbers

Every figure that ships, with its unit and where it comes from. Printed from the shipped data and the descriptors by
`withy schema --page numbers`; a test compares. A scenario overrides any figure of the second part.

Marks: *standard* the named text itself; *second-hand* a standard's figure as reproduced in secondary literature;
*practice* common practice or makers' sheets, no citable source; *memory* recalled, to be checked; *derived* computed,
method shown; *invented* made up for this program.

## Figures in code

| figure | value | where | source |
|---|---|---|---|
| standard gravity | 9.80665 m/s2 | model/push.h | exact by definition, CGPM 1901 |
| standard atmosphere | 101,325 Pa | base/quantity.h, model/air.h | exact by definition, CGPM 1954 |
| gas constant of dry air | 287.05 J/(kg K) | model/air.h | standard atmosphere, ISO 2533 (from memory) |
| viscosity of air at 20 C | 1.82e-5 Pa s | model/air.h | physical tables (from memory) |
| pieces of a route in the blow screen | 25 m at most | model/blow.cpp | own: shorter pieces tighten the bound |
| packing ratios R(1) to R(24) | table | model/fill.cpp | derived: best known packings of equal circles |
| tolerance of loss comparisons | 1e-9 dB | model/loss.h | own: rounding of sums |
| farthest premises, headend or site from a route | 200 m | network/hang.h | practice, no source |
| farthest chamber of an existing duct from a route | 2 m | network/hang.h | practice, no source |
| shortest span | 1 mm | network/network.cpp | own: positions are whole millimetres |
| corner of the standard route | one of 90 degrees each 100 m | basis/longest_blow.cpp | practice: at most one bend in 100 m |
| calibration bead | 0.85 of the bore | acceptance/acceptance.h | IEC 60794-5-10 Annex E, second-hand |
| pressure hold | 10 bar, 2 min, fall of 0.5 bar/min | acceptance/acceptance.h | an Indian public project specification |
| tolerance of a loss reading | 0.3 dB | acceptance/acceptance.h | practice: spread of a light-source test 0.1-0.3 dB |
| rounds of repair | 3 | plan/plan.cpp | own |
| a refused blow asks for a path of | 0.85 of its length | plan/asks.cpp | own |
| WGS 84 ellipsoid | 6,378,137 m, 1/298.257223563 | scenario/projection.cpp | NIMA TR8350.2 (from memory) |

## Shipped figures
)";

class NumbersPage {
 public:
  explicit NumbersPage(const Tree& shipped) : t_(shipped) {}

  void section(const Mapping& m, NodeRef values, const std::string& path) {
    std::string rows;
    for (const Field& f : m.fields) {
      const NodeRef value = t_.find(values, f.key);
      if (!value.valid() || t_.kind(value) == TreeKind::null) continue;
      if (f.many == Many::one && f.kind != Kind::mapping)
        rows += row(f.key, std::string(t_.text(value)), f.source);
      else if (f.many == Many::one && has_source(value))
        rows += entry(f.key, value, f);
    }
    if (!rows.empty()) table(path, rows);
    for (const Field& f : m.fields) group(f, t_.find(values, f.key), path);
  }

  std::string text = std::string(introduction);

 private:
  void group(const Field& f, NodeRef value, const std::string& path) {
    if (!value.valid() || !f.mapping) return;
    const std::string below = path.empty() ? std::string(f.key) : path + ", " + std::string(f.key);
    if (f.many == Many::one) {
      if (!has_source(value)) section(*f.mapping, value, below);
      return;
    }
    std::string rows;
    size_t number = 0;
    for (NodeRef c = t_.first_child(value); c.valid(); c = t_.next(c))
      rows += t_.kind(c) == TreeKind::pair ? entry(t_.text(c), t_.value(c), f)
                                           : entry(std::to_string(++number), c, f);
    if (!rows.empty()) table(below, rows);
  }

  bool has_source(NodeRef mapping) const {
    return t_.kind(mapping) == TreeKind::mapping && t_.find(mapping, "source").valid();
  }

  std::string entry(std::string_view name, NodeRef value, const Field& f) const {
    const NodeRef source = t_.kind(value) == TreeKind::mapping ? t_.find(value, "source") : NodeRef{};
    return row(name, flat(value), source.valid() ? t_.text(source) : f.source);
  }

  std::string flat(NodeRef n) const {
    if (t_.kind(n) == TreeKind::scalar || t_.kind(n) == TreeKind::null) return std::string(t_.text(n));
    std::string all;
    for (NodeRef c = t_.first_child(n); c.valid(); c = t_.next(c)) {
      const bool pair = t_.kind(c) == TreeKind::pair;
      if (pair && t_.text(c) == "source") continue;
      all += all.empty() ? "" : ", ";
      all += pair ? fmt::format("{} {}", t_.text(c), inside(t_.value(c))) : inside(c);
    }
    return all;
  }
  std::string inside(NodeRef n) const {
    return t_.kind(n) == TreeKind::scalar ? std::string(t_.text(n)) : "(" + flat(n) + ")";
  }

  static std::string row(std::string_view name, const std::string& value, std::string_view source) {
    return fmt::format("| {} | {} | {} |\n", name, value, source);
  }
  void table(const std::string& path, const std::string& rows) {
    text += fmt::format("\n### {}\n\n| figure | value | source |\n|---|---|---|\n{}",
                        path.empty() ? "scenario" : path, rows);
  }

  const Tree& t_;
};

}  // namespace

std::string numbers_page() {
  const Result<Tree> shipped = read_shipped();
  PLAN_CHECK(shipped.value.has_value());
  NumbersPage page(*shipped);
  page.section(scenario_words, shipped->root(), "");
  return std::move(page.text);
}

}  // namespace plan
