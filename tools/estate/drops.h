// Which way one drop goes.
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "estate/areas.h"
#include "estate/drop_streets.h"
#include "estate/obstacles.h"
#include "estate/premises.h"

namespace withy {

struct DropAsk {
  plan::Point centre;
  Own own;
  uint32_t street = StreetNames::none;  // number of its own street's name
};
struct Drop {
  Leave from;         // its length is the drop's
  plan::Point entry;  // the centre where there is no building
  std::optional<plan::Point> drop_from;
  std::optional<Obstacle> obstacle;  // none of the ways tried was free
  Leave nearest;                     // from the centre, of all routes
  bool own_street = false;           // not nearest, but of its own street
  bool moved = false;                // for an obstacle
};

class DropMaker {
 public:
  // All must outlive this.
  DropMaker(const DropStreets& streets, const Areas& buildings, const Obstacles& obstacles,
            const PremisesRules& rules)
      : streets_(streets), buildings_(buildings), obstacles_(obstacles), rules_(rules) {}
  // Nothing where there is no route.
  std::optional<Drop> make(const DropAsk& ask) const;

 private:
  struct Way {
    Leave from;
    plan::Point entry;
    bool own = false;
  };
  // The nearest of the own street where `own`, else of all.
  Leave seek(const DropAsk& ask, bool own, plan::Point p, const std::optional<Leave>& known) const;
  Way settle(const DropAsk& ask, Leave from, bool own) const;
  std::optional<Obstacle> obstacle(const DropAsk& ask, const Way& way) const;
  std::vector<Way> others(const DropAsk& ask, bool own, int64_t reach) const;

  const DropStreets& streets_;
  const Areas& buildings_;
  const Obstacles& obstacles_;
  const PremisesRules& rules_;
};

}  // namespace withy
