#include "report/names.h"
#include "report/rows.h"
#include "report/writers.h"

namespace plan {
namespace {

double metres_of(int64_t mm) {
  return static_cast<double>(mm) / 1000.0;
}

std::string_view cable_name(const Plan& plan, CableId c) {
  return c.valid() ? std::string_view(plan.scenario.fibre_catalogue->cables[c].name) : "";
}

}  // namespace

void write_runs(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("runs.csv"), sink);
  for (const RunId r : plan.ducts().runs.ids()) {
    const BundleRun& run = plan.ducts().runs[r];
    const Bundle& bundle = plan.scenario.duct_catalogue->bundles[run.bundle];
    rows.integer(r.value).text(bundle.name).integer(bundle.ways).text(word(run.role)).id(run.station);
    rows.id(run.from).id(run.to).length(run.length).ids(plan.ducts().run_spans[r]).end();
  }
}

void write_sections(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("sections.csv"), sink);
  const auto& codes = plan.scenario.fibre_catalogue->colour_codes;
  for (const SectionId s : plan.ducts().sections.ids()) {
    const Section& section = plan.ducts().sections[s];
    const Bundle& bundle = plan.scenario.duct_catalogue->bundles[plan.ducts().runs[section.run].bundle];
    rows.integer(s.value).id(section.run).integer(section.position);
    rows.text(colour_of(codes, bundle.colour_code, section.position)).text(word(section.state));
    rows.id(section.from).id(section.to).length(section.length).id(section.link).end();
  }
}

void write_links(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("links.csv"), sink);
  const Layout& layout = plan.layout();
  for (const LinkId l : layout.links.ids()) {
    const Link& link = layout.links[l];
    const LinkCable& cable = plan.fibre().cables[l];
    const NodeId end =
        link.premises.valid() ? plan.network->premises_nodes[link.premises] : layout.stations[link.to].node;
    rows.integer(l.value).id(link.from).id(link.to);
    rows.text(link.premises.valid() ? plan.scenario.demand->premises[link.premises].name : "");
    rows.id(layout.stations[link.from].node)
        .id(end)
        .ids(plan.ducts().paths[l])
        .text(cable_name(plan, cable.cable));
    cable.cable.valid() ? rows.integer(plan.scenario.fibre_catalogue->cables[cable.cable].fibres)
                        : rows.empty();
    rows.integer(cable.fibres_used).length(cable.duct_length).length(cable.length).end();
  }
}

void write_joints(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("joints.csv"), sink);
  for (const Joint& j : plan.ducts().joints) rows.id(j.node).text(word(j.kind)).id(j.a).id(j.b).end();
}

void write_branch_points(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("branch-points.csv"), sink);
  for (const BranchPoint& b : plan.ducts().branch_points) {
    const Point at = plan.network->at[b.node];
    rows.id(b.node).number(metres_of(at.x)).number(metres_of(at.y));
    rows.text(b.chamber.valid() ? plan.scenario.duct_catalogue->chambers[b.chamber].name : "buried");
    rows.integer(b.joints).end();
  }
}

void write_blows(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("blows.csv"), sink);
  for (const LinkId l : plan.blowing().blows.ids()) {
    const Blow& blow = plan.blowing().blows[l];
    rows.integer(l.value)
        .text(blow.feasible ? "passes" : "refused")
        .text(blow.from_station ? "station" : "far end");
    rows.text(cable_name(plan, plan.fibre().cables[l].cable));
    rows.text(blow.bore.valid() ? plan.scenario.duct_catalogue->microducts[blow.bore].name : "");
    rows.length(blow.length)
        .integer(blow.bends)
        .number(in_bar_gauge(blow.supply))
        .number(in_bar_gauge(blow.needed));
    rows.number(in_newtons(blow.push_needed)).number(in_newtons(blow.push_available)).length(blow.push_only);
    rows.length(blow.limiting).number(blow.free_air_litres_per_minute).integer(blow.running.minutes()).end();
  }
}

void write_splitters(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("splitters.csv"), sink);
  for (const SplitterId s : plan.fibre().splitters.ids()) {
    const Splitter& splitter = plan.fibre().splitters[s];
    const bool typed = splitter.type.valid();
    rows.integer(s.value).id(splitter.station);
    rows.text(typed ? plan.scenario.fibre_catalogue->splitters[splitter.type].name : "");
    typed ? rows.integer(plan.scenario.fibre_catalogue->splitters[splitter.type].ports) : rows.empty();
    rows.integer(splitter.stage + 1).id(splitter.upstream);
    splitter.upstream_port > 0 ? rows.integer(splitter.upstream_port) : rows.empty();
    splitter.feed_fibre > 0 ? rows.integer(splitter.feed_fibre) : rows.empty();
    rows.id(splitter.pon).text(splitter.day_one ? "day one" : "later").end();
  }
}

void write_pons(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("pons.csv"), sink);
  for (const PonId p : plan.fibre().pons.ids()) {
    const Pon& pon = plan.fibre().pons[p];
    rows.integer(p.value).text(plan.scenario.demand->headends[pon.headend].name).integer(pon.port);
    rows.integer(pon.day_one).integer(pon.ultimate).number(in_decibels(plan.optics().differential[p])).end();
  }
}

}  // namespace plan
