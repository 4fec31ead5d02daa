#include "plan/asks.h"

#include <algorithm>

namespace plan {
namespace {

// A refused blow asks for a path shorter by this share: the screen's push grows faster than length.
constexpr double shorter = 0.85;

void ask_beside_full_ducts(const Ducts& ducts, Asks& asks) {
  for (const Finding& f : ducts.findings)
    if (f.rule == Rule::existing_duct_full && f.at.kind == SubjectKind::span)
      asks.not_through.push_back(SpanId(f.at.id));
  std::sort(asks.not_through.begin(), asks.not_through.end());
  asks.not_through.erase(std::unique(asks.not_through.begin(), asks.not_through.end()),
                         asks.not_through.end());
}

// Once more in every round in which it is still crowded.
void ask_beside_crowded_spans(const Ducts& ducts, Asks& asks) {
  for (const Finding& f : ducts.findings)
    if (f.rule == Rule::bundles_per_span_exceeded && f.at.kind == SubjectKind::span)
      asks.crowded.push_back(SpanId(f.at.id));
  std::sort(asks.crowded.begin(), asks.crowded.end());
}

void ask_shorter_paths(const Round& round, Table<PremisesId, Length>& longest) {
  const Layout& layout = *round.layout;
  for (const LinkId link : layout.links.ids()) {
    const PremisesId premises = layout.links[link].premises;
    const Blow& blow = round.blowing->blows[link];
    if (!premises.valid() || blow.feasible || blow.length == Length()) continue;
    longest[premises] = scaled(blow.length, shorter);
  }
}

}  // namespace

Asks next_asks(const Round& round, const Network& network) {
  Asks asks = round.asks;
  ask_beside_full_ducts(*round.ducts, asks);
  ask_beside_crowded_spans(*round.ducts, asks);
  Table<PremisesId, Length> longest = asks.longest;
  if (longest.empty()) longest.resize(network.premises_nodes.size());
  ask_shorter_paths(round, longest);
  const bool any = std::any_of(longest.begin(), longest.end(), [](Length l) { return l > Length(); });
  if (any) asks.longest = std::move(longest);
  return asks;
}

}  // namespace plan
