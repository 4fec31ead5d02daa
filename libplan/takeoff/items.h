// Every name that can be counted, in catalogue order, so that the id of an item is arithmetic.
#pragma once
#include "takeoff/takeoff.h"

namespace plan {

struct ItemSources {
  const Demand& demand;
  const DuctCatalogue& ducts;
  const FibreCatalogue& fibres;
};

class ItemBook {
 public:
  explicit ItemBook(const ItemSources& sources);
  const Table<ItemId, Item>& items() const { return items_; }
  ItemId of(ItemKind kind, uint32_t index) const;
  ItemId work(TaskKind task) const { return of(ItemKind::work, static_cast<uint32_t>(task)); }
  ItemId part(NamedPart part) const { return of(ItemKind::part, static_cast<uint32_t>(part)); }
  // The first catalogue fitting of the kind that joins both ODs, in either order; one without ODs fits
  // any. Invalid where there is none.
  ItemId fitting(FittingKind kind, Length a, Length b) const;
  // The first catalogue cabinet of the kind; invalid where there is none.
  ItemId cabinet(CabinetKind kind) const;

 private:
  void add(ItemKind kind, std::string name, bool in_metres = false, Length drum = {});
  const DuctCatalogue& ducts_;
  Table<ItemId, Item> items_;
  std::vector<uint32_t> first_, count_;
};

}  // namespace plan
