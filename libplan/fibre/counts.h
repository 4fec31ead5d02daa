// Private to `fibre`: splitter types, splices, trays, connectors, and the limits of the places.
#pragma once
#include "fibre/fibre.h"

namespace plan {

// The splitter of a ratio: with connectors where the place is patched, bare where it is spliced, else the
// one there is; then the least loss. Invalid where the catalogue has none.
SplitterTypeId splitter_type(const FibreCatalogue& catalogue, int ratio, bool patched);

// Fills types of splitters, counts of stations and premises_splices; grouping must be done.
void choose_splitters(const FibreInput& input, Fibre& fibre);
void count_stations(const FibreInput& input, Fibre& fibre);
// Trays, splitter slots and feeder fibres of cabinets, OLT ports and feeder fibres of headends.
void check_limits(const FibreInput& input, Fibre& fibre);

}  // namespace plan
