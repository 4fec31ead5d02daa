#include <fmt/core.h>

#include "base/check.h"
#include "optics/light_path.h"
#include "optics/part_loss.h"

namespace plan {
namespace {

std::string_view name(PartPlace place) {
  switch (place) {
    case PartPlace::headend:
      return "headend";
    case PartPlace::cabinet:
      return "cabinet";
    case PartPlace::branch_point:
      return "branch point";
    case PartPlace::building:
      return "building point";
    case PartPlace::outlet:
      return "outlet";
    case PartPlace::path:
      break;
  }
  return "path";
}

std::string_view glass_name(PartPlace to) {
  if (to == PartPlace::cabinet) return "feeder glass";
  if (to == PartPlace::branch_point) return "distribution glass";
  return "unit glass";
}

std::string what(const OpticsInput& input, const Part& part) {
  switch (part.kind) {
    case PartKind::glass:
      return std::string(glass_name(part.place));
    case PartKind::riser:
      return "riser glass";
    case PartKind::splices:
      return fmt::format("{} at {}", part.pieces == 1 ? "splice" : "splices", name(part.place));
    case PartKind::connectors:
      return fmt::format("{} at {}", part.pieces == 1 ? "connector" : "connectors", name(part.place));
    case PartKind::splitter: {
      const SplitterType& type = input.catalogue.splitters[part.type];
      return fmt::format("splitter {}:{}{} at {}", type.inputs, type.ports,
                         type.connectorised ? " with its connectors" : "", name(part.place));
    }
    case PartKind::margin:
      break;
  }
  return "margin";
}

}  // namespace

std::vector<LedgerLine> expanded_ledger(const OpticsInput& input, DwellingId dwelling) {
  PLAN_CHECK(dwelling.value < input.fibre.dwellings.size());
  const System system = system_of(input, input.rules.optical_class);
  std::vector<Part> parts;
  walk_light_path(input, dwelling, parts);
  std::vector<LedgerLine> lines;
  for (const Part& part : parts) {
    const PartLoss loss = loss_of(input, system, part);
    LedgerLine line;
    line.what = what(input, part);
    line.in_metres = part.kind == PartKind::glass || part.kind == PartKind::riser;
    line.amount = line.in_metres ? in_metres(part.length) : part.pieces;
    line.down_max = loss.down_max;
    line.down_min = loss.down_min;
    line.up_max = loss.up_max;
    line.up_min = loss.up_min;
    lines.push_back(std::move(line));
  }
  return lines;
}

}  // namespace plan
