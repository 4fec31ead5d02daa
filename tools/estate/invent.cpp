#include "estate/invent.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace withy {
namespace {

using plan::Point;

// SplitMix64 (Steele, Lea, Flood 2014): one call, one draw.
class Draw {
 public:
  explicit Draw(uint64_t seed) : state_(seed) {}
  uint64_t next() {
    uint64_t z = (state_ += 0x9E3779B97F4A7C15ULL);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31);
  }
  // Whole number in [low, high].
  int64_t between(int64_t low, int64_t high) {
    return low + static_cast<int64_t>(next() % static_cast<uint64_t>(high - low + 1));
  }
  bool percent(int64_t share) { return between(1, 100) <= share; }

 private:
  uint64_t state_;
};

constexpr std::array<std::string_view, 20> first_parts{
    "Alder",   "Birch",  "Clover", "Dapple", "Ember", "Fallow", "Gorse",  "Hazel", "Iris",  "Juniper",
    "Kestrel", "Linden", "Marsh",  "Nettle", "Osier", "Plover", "Quarry", "Reed",  "Sedge", "Thistle"};
constexpr std::array<std::string_view, 12> last_parts{"Lane",  "Road", "Street", "Way",  "Rise",  "Walk",
                                                      "Close", "Row",  "Hill",   "Path", "Green", "Mead"};

std::string street_name(size_t index) {
  const size_t names = first_parts.size() * last_parts.size();
  const size_t k = (index * 89) % names;  // 89 and 240 share no factor: neighbours differ
  std::string name =
      fmt::format("{} {}", first_parts[k % first_parts.size()], last_parts[k / first_parts.size()]);
  return index < names ? name : fmt::format("{} {}", name, index / names + 1);
}

constexpr std::array<std::string_view, 4> street_surfaces{"verge", "paved footway", "paved footway",
                                                          "paved carriageway"};

enum Corner { south_west, south_east, north_east, north_west };

// One crossing of two streets: four corners joined in a ring.
struct Crossing {
  std::array<Point, 4> corner;
};

class Town {
 public:
  // Without a taker the plots are only counted: built() tells how many.
  Town(int wanted, uint64_t seed, int side, const InventedTaker* taker = nullptr, size_t have = 0)
      : draw_(seed), wanted_(wanted), side_(side), taker_(taker), have_(have) {}

  void build() {
    lay_grid();
    for (int j = 0; taker_ && j < side_; ++j)
      for (int i = 0; i < side_; ++i) ring(i, j);
    for (int j = 0; j < side_; ++j) street(0, j, true);
    for (int i = 0; i < side_; ++i) street(i, 0, false);
    if (taker_) headends();
  }
  size_t built() const { return built_; }

 private:
  Crossing& at(int i, int j) {
    return crossings_[static_cast<size_t>(j) * static_cast<size_t>(side_) + static_cast<size_t>(i)];
  }

  void lay_grid() {
    std::vector<int64_t> xs{0}, ys{0};
    for (int k = 1; k < side_; ++k) {
      xs.push_back(xs.back() + draw_.between(60000, 160000));
      ys.push_back(ys.back() + draw_.between(60000, 160000));
    }
    crossings_.resize(static_cast<size_t>(side_) * static_cast<size_t>(side_));
    for (int j = 0; j < side_; ++j)
      for (int i = 0; i < side_; ++i) {
        const int64_t x = xs[static_cast<size_t>(i)] + draw_.between(-8000, 8000);
        const int64_t y = ys[static_cast<size_t>(j)] + draw_.between(-8000, 8000);
        const int64_t w = draw_.between(3000, 7000);
        at(i, j).corner = {Point{x - w, y - w}, Point{x + w, y - w}, Point{x + w, y + w},
                           Point{x - w, y + w}};
      }
  }

  void ring(int i, int j) {
    const Crossing& c = at(i, j);
    for (size_t k = 0; k < 4; ++k)
      route(fmt::format("crossing {} {} {}", i + 1, j + 1, k + 1), "crossing",
            {c.corner[k], c.corner[(k + 1) % 4]});
  }

  // A whole street through the grid, from crossing to crossing.
  void street(int i, int j, bool east) {
    const std::string name = street_name(streets_++);
    const std::string surface(street_surfaces[static_cast<size_t>(draw_.between(0, 3))]);
    int number = 1;
    for (int k = 0; k + 1 < side_; ++k) {
      if (draw_.percent(6)) continue;  // no way through here
      const Crossing& a = at(east ? k : i, east ? j : k);
      const Crossing& b = at(east ? k + 1 : i, east ? j : k + 1);
      block(name, surface, k + 1, number,
            {{a.corner[east ? south_east : north_west], b.corner[south_west]},
             {a.corner[north_east], b.corner[east ? north_west : south_east]},
             east});
    }
  }

  struct Side {
    Point from, to;
  };
  struct Sides {
    Side near_side, far_side;
    bool near_is_right;  // of the street's direction
  };

  void block(const std::string& name, const std::string& surface, int k, int& number, const Sides& at_sides) {
    const auto& [near_side, far_side, near_is_right] = at_sides;
    const bool crossed = draw_.percent(90);
    const std::array<Side, 2> sides{near_side, far_side};
    std::array<Point, 2> middles{};
    const std::string far_surface =
        draw_.percent(70) ? surface : std::string(street_surfaces[static_cast<size_t>(draw_.between(0, 3))]);
    for (size_t s = 0; s < 2; ++s) {
      const Side& side = sides[s];
      middles[s] = {(side.from.x + side.to.x) / 2, (side.from.y + side.to.y) / 2};
      std::vector<Point> line{side.from, side.to};
      if (crossed) line.insert(line.begin() + 1, middles[s]);
      const std::string route_name = fmt::format("{} {} {}", name, k, s == 0 ? "near side" : "far side");
      route(route_name, s == 0 ? surface : far_surface, line);
      plots(name, number, side, (s == 0) == near_is_right ? 1 : -1);
    }
    if (crossed) route(fmt::format("{} {} crossing", name, k), "crossing", {middles[0], middles[1]});
    if (draw_.percent(4)) duct(fmt::format("{} {} old duct", name, k), near_side);
  }

  void duct(const std::string& name, Side side) {
    if (taker_) taker_->routes({name, "existing duct", {side.from, side.to}, true});
  }

  // Plots away from the street's middle: to the right of the near side, to the left of the far side.
  void plots(const std::string& street_name_of, int& number, Side side, int64_t away) {
    const int64_t count = draw_.between(3, 8);
    const double dx = static_cast<double>(side.to.x - side.from.x),
                 dy = static_cast<double>(side.to.y - side.from.y);
    const double length = std::max(1.0, std::hypot(dx, dy));
    for (int64_t k = 0; k < count; ++k) {
      const int house = number++;
      const bool built = draw_.percent(80);
      const double along = (static_cast<double>(k) + 0.5) / static_cast<double>(count);
      const double set_back = static_cast<double>(draw_.between(3000, 15000) * away);
      const Point entry{side.from.x + std::llround(dx * along + dy / length * set_back),
                        side.from.y + std::llround(dy * along - dx / length * set_back)};
      const int64_t kind = draw_.between(1, 100);
      if (!built || !is_kept()) continue;
      const int dwellings = kind <= 92   ? 1
                            : kind <= 97 ? static_cast<int>(2 + kind % 3)
                                         : static_cast<int>(4 + kind % 5);
      taker_->premises({fmt::format("{} {}", house, street_name_of), street_name_of,
                        kind % 20 == 7 ? "on order" : "at build", entry, dwellings});
    }
  }

  void route(std::string name, std::string_view surface, std::vector<Point> line) {
    if (taker_) taker_->routes({std::move(name), std::string(surface), std::move(line), false});
  }

  // Exactly the number wanted: built plots beyond it are left out, evenly.
  bool is_kept() {
    const size_t wanted = static_cast<size_t>(wanted_), k = built_++;
    return taker_ && (k + 1) * wanted / have_ > k * wanted / have_;
  }

  void headends() {
    const int across = std::max(1, static_cast<int>(std::lround(std::sqrt(wanted_ / 1250.0))));
    for (int b = 0; b < across; ++b)
      for (int a = 0; a < across; ++a) {
        const int i = (2 * a + 1) * side_ / (2 * across), j = (2 * b + 1) * side_ / (2 * across);
        const Point corner = at(std::min(i, side_ - 1), std::min(j, side_ - 1)).corner[south_west];
        taker_->headends({across == 1 ? "Exchange" : fmt::format("Exchange {}", b * across + a + 1),
                          {corner.x - 4000, corner.y - 4000}});
      }
  }

  Draw draw_;
  int wanted_, side_;
  const InventedTaker* taker_;
  size_t have_, built_ = 0;  // plots built on in all, and so far
  size_t streets_ = 0;
  std::vector<Crossing> crossings_;
};

}  // namespace

void invent(int premises, uint64_t seed, const InventedTaker& taker) {
  // About 14 built plots a crossing; a small town may draw too few and gets another street.
  for (int side = std::max(2, static_cast<int>(std::lround(std::sqrt(premises / 14.0) + 0.5)));; ++side) {
    Town count(premises, seed, side);
    count.build();
    if (count.built() < static_cast<size_t>(premises)) continue;
    return Town(premises, seed, side, &taker, count.built()).build();
  }
}

InventedEstate invent(int premises, uint64_t seed) {
  InventedEstate estate;
  invent(premises, seed,
         {[&](const InventedPremises& p) { estate.premises.push_back(p); },
          [&](const InventedRoute& r) { estate.routes.push_back(r); },
          [&](const InventedHeadend& h) { estate.headends.push_back(h); }});
  return estate;
}

}  // namespace withy
