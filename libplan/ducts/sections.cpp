#include "ducts/sections.h"

#include "ducts/grouped.h"

namespace plan {
namespace {

SectionState state_of(const DuctInput& in, LinkId link) {
  const PremisesId p = in.layout.links[link].premises;
  return p.valid() && in.basis.needs[p].reserved ? SectionState::reserved : SectionState::used;
}

// The sections of one position: in use up to its turn-out, dead beyond.
void write_position(const DuctInput& in, const BundleRun& run, Section section, const RunSlot& slot,
                    Ducts& ducts) {
  section.from = run.from;
  if (slot.link.valid()) {
    Section used = section;
    used.state = state_of(in, slot.link);
    used.to = slot.end;
    used.length = slot.reach;
    used.link = slot.link;
    ducts.sections.add(used);
    section.from = slot.end;
  }
  section.length = run.length - slot.reach;
  section.state = SectionState::dead;
  section.to = run.to;
  if (section.length > Length()) ducts.sections.add(section);
}

}  // namespace

void write_runs(const DuctInput& in, const Drafts& drafts, Ducts& ducts) {
  ducts.runs.reserve(drafts.runs.size());
  for (const RunDraft& d : drafts.runs) ducts.runs.add(d.run);
  ducts.run_spans = grouped<RunId, SpanId>(ducts.runs.size(), drafts.spans);
  std::vector<std::pair<SpanId, RunId>> by_span;
  by_span.reserve(drafts.spans.size());
  for (RunId r : ducts.runs.ids())
    for (SpanId s : ducts.run_spans[r]) by_span.emplace_back(s, r);
  ducts.runs_in_span = grouped<SpanId, RunId>(in.network.spans.size(), by_span);
}

void write_sections(const DuctInput& in, const Drafts& drafts, Ducts& ducts) {
  std::vector<std::pair<LinkId, SectionId>> by_link;
  for (RunId r : drafts.runs.ids()) {
    const RunDraft& d = drafts.runs[r];
    for (int p = 0; p < in.catalogue.bundles[d.run.bundle].ways; ++p) {
      Section section;
      section.run = r;
      section.position = p + 1;
      if (p >= d.taken) {
        section.from = d.run.from;
        section.to = d.run.to;
        section.length = d.run.length;
        ducts.sections.add(section);
        continue;
      }
      const RunSlot& slot = drafts.slots[d.first_slot + static_cast<size_t>(p)];
      if (slot.link.valid()) by_link.emplace_back(slot.link, SectionId(ducts.sections.size()));
      write_position(in, d.run, section, slot, ducts);
    }
  }
  ducts.paths = grouped<LinkId, SectionId>(in.layout.links.size(), by_link);
}

}  // namespace plan
