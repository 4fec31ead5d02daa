#include <algorithm>
#include <array>
#include <vector>

#include "base/date.h"
#include "base/text.h"
#include "explain/teller.h"

namespace withy {

using plan::no_cell;

std::string Teller::number(std::string_view file, std::string_view column, int64_t row) const {
  const plan::TableSchema& schema = plan_[file].schema();
  const plan::Column& c = schema.columns[schema.column(column)];
  const int64_t value = cell(file, column, row);
  if (value == no_cell) return "none";
  double scale = 1;
  for (int k = 0; k < c.decimals; ++k) scale *= 10;
  return plan::fixed(static_cast<double>(value) / scale, c.decimals);
}

std::string Teller::station_name(int64_t station) const {
  return word("stations.csv", "name", station);
}

std::string Teller::link_end(int64_t link) const {
  const std::string premises = word("links.csv", "premises", link);
  return premises.empty() ? station_name(cell("links.csv", "to station", link)) : premises;
}

int64_t Teller::area_of(int64_t station) const {
  while (station != no_cell) {
    const std::string kind = word("stations.csv", "kind", station);
    const int64_t above = cell("stations.csv", "upstream", station);
    if (kind == "headend" || kind == "cabinet" || above >= station) break;
    station = above;
  }
  return station;
}

void Teller::premises(int64_t row) {
  constexpr std::string_view file = "premises.csv";
  const std::string name = word(file, "premises", row), state = word(file, "state", row);
  const int64_t link = cell(file, "link", row);
  line("premises {}: {}; connect {}, drop laid {}; {}; at {}, {} m", name, state, word(file, "connect", row),
       word(file, "drop laid", row), counted(cell(file, "dwellings", row), "dwelling"),
       number(file, "x", row), number(file, "y", row));
  findings_at("premises " + name);
  if (link == no_cell) return;
  const int64_t station = cell(file, "station", row);
  line("served by {} of headend {} over link {}", station_name(station),
       word("stations.csv", "headend", station), link);
  findings_at(fmt::format("link {} to premises {}", link, name));
  duct_path(link);
  unit_and_blow(link);
  int64_t before = no_cell;
  each("dwellings.csv", "premises", cell(file, "premises", row), [&](int64_t d) {
    light_of(d);
    if (before != no_cell && like(d, before))
      line("  the same parts and losses as dwelling {}", number("dwellings.csv", "number", before));
    else
      ledger(before = d);
  });
  tasks_at(cell("links.csv", "to node", link));
}

void Teller::link(int64_t link) {
  line("link {}: from {} to {}, node {} to {}", link, station_name(cell("links.csv", "from station", link)),
       link_end(link), number("links.csv", "from node", link), number("links.csv", "to node", link));
  const bool to_premises = cell("links.csv", "premises", link) != no_cell;
  findings_at(fmt::format("link {} to {}{}", link, to_premises ? "premises " : "", link_end(link)));
  duct_path(link);
  unit_and_blow(link);
}

void Teller::section_line(int64_t s) {
  const int64_t run = cell("sections.csv", "run", s), link = cell("sections.csv", "link", s);
  line("  section {:<6} run {:<6} {:<24} position {:>2} {:<18} node {:>6} to {:<6} {:>10} m  {}{}", s, run,
       word("runs.csv", "bundle", run), number("sections.csv", "position", s),
       word("sections.csv", "colour", s), number("sections.csv", "from node", s),
       number("sections.csv", "to node", s), number("sections.csv", "length", s),
       word("sections.csv", "state", s),
       link == no_cell ? "" : fmt::format(" by link {} to {}", link, link_end(link)));
}

void Teller::duct_path(int64_t link) {
  const auto path = plan_["links.csv"].list("sections")[link];
  int64_t sum = 0;
  line("duct path, {}:", counted(static_cast<int64_t>(path.size()), "section"));
  for (const uint32_t s : path) {
    section_line(s);
    sum += plan::or_zero(cell("sections.csv", "length", s));
  }
  line("  sum {} m; the table says {} m", plan::fixed(static_cast<double>(sum) / 1000, 3),
       number("links.csv", "duct length", link));
}

void Teller::unit_and_blow(int64_t link) {
  constexpr std::string_view file = "blows.csv";
  line("cable: {}, {} of {} fibres used, {} m with slack and tails", word("links.csv", "cable", link),
       number("links.csv", "fibres used", link), number("links.csv", "fibres", link),
       number("links.csv", "cable length", link));
  if (cell(file, "bore", link) == no_cell) return line("blow: {}", word(file, "result", link));
  const int64_t reserve =
      plan::or_zero(cell(file, "push available", link)) - plan::or_zero(cell(file, "push needed", link));
  line("blow: {}; launched from {}; {} m through {} with {}", word(file, "result", link),
       word(file, "launch", link) == "station" ? station_name(cell("links.csv", "from station", link))
                                               : link_end(link),
       number(file, "length", link), word(file, "bore", link), counted(cell(file, "bends", link), "bend"));
  line("  supply {} bar gauge, at least {} needed; free air {} l/min; {} min at the planned speed",
       number(file, "supply", link), number(file, "supply needed", link), number(file, "free air", link),
       number(file, "running", link));
  line("  push needed {} N of {} N available, reserve {} N, least at {} m; pushing alone gets {} m",
       number(file, "push needed", link), number(file, "push available", link),
       plan::fixed(static_cast<double>(reserve) / 1000, 3), number(file, "limiting", link),
       number(file, "push only", link));
  line(
      "  a planning figure: compressed air is dangerous; makers' limits, a trial blow and local codes "
      "decide");
}

void Teller::run(int64_t run) {
  constexpr std::string_view file = "runs.csv";
  line("run {}: {}, {} of {}, node {} to {}, {} m in {}", run, word(file, "bundle", run),
       word(file, "role", run), station_name(cell(file, "station", run)), number(file, "from node", run),
       number(file, "to node", run), number(file, "length", run),
       counted(static_cast<int64_t>(plan_[file].list("spans")[run].size()), "span"));
  findings_at(fmt::format("run {}", run));
  sections_of(run, no_cell);
  each("drums.csv", "run", run, [&](int64_t cut) {
    line("cut from drum {}, metre {} to {}, first used {}", number("drums.csv", "drum", cut),
         number("drums.csv", "metre in", cut), number("drums.csv", "metre out", cut),
         plan::iso({static_cast<int32_t>(plan::or_zero(cell("drums.csv", "first use", cut)))}));
  });
}

void Teller::section(int64_t section) {
  section_line(section);
  line("joined or closed by:");
  for (const std::string_view end : {"section a", "section b"})
    each("joints.csv", end, section, [&](int64_t j) {
      const int64_t other = cell("joints.csv", end == "section a" ? "section b" : "section a", j);
      line("  node {}: {}{}", number("joints.csv", "node", j), word("joints.csv", "kind", j),
           other == no_cell ? "" : fmt::format(" to section {}", other));
    });
}

// All sections of a run, or those that pass one span of it.
void Teller::sections_of(int64_t run, int64_t span) {
  std::vector<int64_t> nodes{cell("runs.csv", "from node", run)};
  size_t wanted = SIZE_MAX;
  plan::NumberMap rows;
  const plan::Cells& ids = plan_["spans.csv"]["span"];
  for (size_t row = 0; row < ids.size(); ++row) rows.add(ids[row], static_cast<int64_t>(row));
  rows.sort();
  for (const uint32_t s : plan_["runs.csv"].list("spans")[run]) {
    if (static_cast<int64_t>(s) == span) wanted = nodes.size() - 1;
    const int64_t row = rows[s], from = cell("spans.csv", "from node", row);
    nodes.push_back(from == nodes.back() ? cell("spans.csv", "to node", row) : from);
  }
  const auto place = [&](int64_t node) {
    return static_cast<size_t>(std::find(nodes.begin(), nodes.end(), node) - nodes.begin());
  };
  each("sections.csv", "run", run, [&](int64_t s) {
    const bool passes = place(cell("sections.csv", "from node", s)) <= wanted &&
                        wanted < place(cell("sections.csv", "to node", s));
    if (span == no_cell || passes) section_line(s);
  });
}

void Teller::span(int64_t row) {
  constexpr std::string_view file = "spans.csv";
  const std::string route = word(file, "route", row), method = word(file, "method", row);
  const std::string name = number(file, "span", row);
  line("span {}: {} of {}, node {} to {}, {} m of {}{}", name, word(file, "kind", row), route,
       number(file, "from node", row), number(file, "to node", row), number(file, "length", row),
       word(file, "surface", row), method.empty() ? "" : ", " + method);
  line("{}; opening costs {} at design prices; surface {}; cover {}; separation {}",
       cell(file, "opened", row) == 1 ? "opened" : "not opened", number(file, "opening cost", row),
       word(file, "surface known", row), word(file, "cover", row), word(file, "separation", row));
  findings_at(fmt::format("span {} ({})", name, route));
  for (const uint32_t run : plan_[file].list("runs")[row]) {
    line("run {}: {}, {} of {}", run, word("runs.csv", "bundle", run), word("runs.csv", "role", run),
         station_name(cell("runs.csv", "station", run)));
    sections_of(run, cell(file, "span", row));
  }
}

void Teller::node(int64_t node) {
  line("node {}:", node);
  each("stations.csv", "node", node,
       [&](int64_t s) { line("  {} {}", word("stations.csv", "kind", s), station_name(s)); });
  each("links.csv", "to node", node, [&](int64_t l) { line("  link {} ends here, to {}", l, link_end(l)); });
  each("branch-points.csv", "node", node, [&](int64_t b) {
    line("  branch point with {}: {}", counted(cell("branch-points.csv", "joints", b), "joint"),
         word("branch-points.csv", "chamber", b));
  });
  for (const std::string_view end : {"from node", "to node"})
    each("spans.csv", end, node, [&](int64_t s) {
      line("  span {}, {} of {}, {} m", number("spans.csv", "span", s), word("spans.csv", "kind", s),
           word("spans.csv", "route", s), number("spans.csv", "length", s));
    });
  each("joints.csv", "node", node, [&](int64_t j) {
    const int64_t b = cell("joints.csv", "section b", j);
    line("  {}: section {}{}", word("joints.csv", "kind", j), number("joints.csv", "section a", j),
         b == no_cell ? "" : fmt::format(" to {}", b));
  });
  findings_at(fmt::format("node {}", node));
  tasks_at(node);
}

void Teller::findings_at(const std::string& subject) {
  const int64_t word_of = plan_.words.find(subject);
  each("findings.csv", "at", word_of, [&](int64_t f) {
    const std::string mend = word("findings.csv", "mend", f);
    line("{}: {}{}", word("findings.csv", "kind", f), word("findings.csv", "text", f),
         mend.empty() ? "" : "; would mend it: " + mend);
  });
}

}  // namespace withy
