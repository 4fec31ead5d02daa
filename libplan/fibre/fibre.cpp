#include "fibre/fibre.h"

#include "fibre/cables.h"
#include "fibre/counts.h"
#include "fibre/grouping.h"

namespace plan {

Fibre make_fibre(const FibreInput& input, const Run& run) {
  run.tell("fibre", 0);
  Fibre fibre;
  group(input, fibre);
  choose_splitters(input, fibre);
  choose_cables(input, fibre);
  count_stations(input, fibre);
  check_limits(input, fibre);
  run.tell("fibre", 1);
  return fibre;
}

}  // namespace plan
