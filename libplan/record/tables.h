// Private to record: the groups of schemas that table_schemas() joins.
#pragma once
#include "record/record.h"

namespace plan {

std::span<const TableSchema> estate_tables();
std::span<const TableSchema> plant_tables();
std::span<const TableSchema> works_tables();

}  // namespace plan
