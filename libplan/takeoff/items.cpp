#include "takeoff/items.h"

#include <array>

namespace plan {
namespace {

constexpr size_t kinds = static_cast<size_t>(ItemKind::work) + 1;
constexpr uint32_t task_kinds = static_cast<uint32_t>(TaskKind::connect) + 1;

constexpr std::array<std::string_view, 9> part_names{"outlet",   "boundary point", "building point",
                                                     "OLT port", "splice tray",    "splice protector",
                                                     "pigtail",  "warning tape",   "microduct marker"};

bool joins(const Fitting& f, Length a, Length b) {
  const auto fits = [](Length own, Length od) { return own == Length() || own == od; };
  return (fits(f.od_a, a) && fits(f.od_b, b)) || (fits(f.od_a, b) && fits(f.od_b, a));
}

bool exact(const Fitting& f) {
  return f.od_a != Length() && f.od_b != Length();
}

}  // namespace

ItemBook::ItemBook(const ItemSources& sources) : ducts_(sources.ducts), first_(kinds), count_(kinds) {
  for (const std::string& surface : sources.demand.surfaces)
    add(ItemKind::opening, opening_item(surface), true);
  for (const std::string& crossing : sources.demand.crossings)
    add(ItemKind::crossing, crossing_item(crossing));
  for (const Bundle& b : ducts_.bundles) add(ItemKind::bundle, b.name, true, b.drum);
  for (const Cable& c : sources.fibres.cables) add(ItemKind::cable, c.name, true, c.drum);
  for (const Fitting& f : ducts_.fittings) add(ItemKind::fitting, f.name);
  for (const ChamberType& c : ducts_.chambers) add(ItemKind::chamber, c.name);
  for (const CabinetType& c : ducts_.cabinets) add(ItemKind::cabinet, c.name);
  for (const SplitterType& s : sources.fibres.splitters) add(ItemKind::splitter, s.name);
  for (const std::string_view part : part_names)
    add(ItemKind::part, std::string(part), part == part_names[static_cast<size_t>(NamedPart::warning_tape)]);
  for (uint32_t k = 0; k < task_kinds; ++k) {
    const TaskKind task = static_cast<TaskKind>(k);
    add(ItemKind::work, std::string(task_name(task)), task == TaskKind::lay || task == TaskKind::blow);
  }
}

void ItemBook::add(ItemKind kind, std::string name, bool in_metres, Length drum) {
  const size_t k = static_cast<size_t>(kind);
  if (count_[k] == 0) first_[k] = static_cast<uint32_t>(items_.size());
  items_.add({std::move(name), kind, in_metres, count_[k]++, drum});
}

ItemId ItemBook::of(ItemKind kind, uint32_t index) const {
  const size_t k = static_cast<size_t>(kind);
  PLAN_CHECK(index < count_[k]);
  return ItemId(first_[k] + index);
}

ItemId ItemBook::fitting(FittingKind kind, Length a, Length b) const {
  ItemId any;
  for (uint32_t i = 0; i < ducts_.fittings.size(); ++i) {
    const Fitting& f = ducts_.fittings[i];
    if (f.kind != kind || !joins(f, a, b)) continue;
    if (exact(f)) return of(ItemKind::fitting, i);
    if (!any.valid()) any = of(ItemKind::fitting, i);
  }
  return any;
}

ItemId ItemBook::cabinet(CabinetKind kind) const {
  for (const CabinetTypeId c : ducts_.cabinets.ids())
    if (ducts_.cabinets[c].kind == kind) return of(ItemKind::cabinet, c.value);
  return {};
}

}  // namespace plan
