// Slice `demand`: the estate as given, before anything is decided. Premises, routes, existing ducts,
// headends and sites, in canonical order (Hilbert order of the position, then name), so that the order
// of the file changes nothing but the places in diagnostics.
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "base/id.h"
#include "base/point.h"
#include "base/quantity.h"

namespace plan {

enum class Connect : uint8_t { at_build, on_order, never };
// How far the drop of a premises is laid at build.
enum class DropLaid : uint8_t { to_door, to_boundary, none };
// How well a fact of the estate is known; carried to the work order.
enum class Confidence : uint8_t { assumed, mapped, surveyed };
// Of an existing duct: only a proven one is free capacity.
enum class DuctState : uint8_t { proven, unproven, blocked };

// One building or plot with one entry. Microducts and cabinet entries count per premises; fibres,
// splitter ports and outlets per dwelling.
struct Premises {
  std::string name;
  Point at;  // the entry
  bool drop_stated = false;
  Point drop_from;     // the drop leaves the nearest point of a route to this; else the nearest to `at`
  std::string street;  // may be empty
  int dwellings = 1;   // at least 1
  Connect connect = Connect::at_build;
  DropLaid laid = DropLaid::to_door;
  Length boundary;  // from the street to the plot boundary along the drop; 0 = unknown
  Confidence boundary_known = Confidence::mapped;
  Length indoor;                // from the entry to the outlet, or to the building point
  bool building_point = false;  // an internal point from which each dwelling has its own indoor fibre
  Length riser;                 // building point to the farthest outlet; 0 without a building point
  double take_up = -1;          // share of its dwellings expected; < 0 = the scenario's
  Confidence entry_known = Confidence::mapped;
  Confidence dwellings_known = Confidence::mapped;
  std::string consent;  // who must agree to the entry, free text; empty = none known
  friend bool operator==(const Premises&, const Premises&) = default;
};

// A street side, footway, verge or crossing in which a trench may be opened, or an existing duct.
struct Route {
  std::string name;
  std::vector<Point> line;      // at least two points, no zero-length leg
  std::vector<Length> heights;  // above the datum, of each point of the line; empty = not known
  std::string street;           // the street it belongs to; may be empty
  bool drops = true;            // a drop, headend or site may leave it midway
  int level = 0;                // routes of other levels meet it only where one of both ends
  CrossingId crossing;          // what it crosses at a price of its own; invalid = nothing
  std::string restricted;       // private or otherwise restricted, and how; empty = open to all
  SurfaceId surface;
  std::string method;  // empty = the surface's usual method
  bool forbidden = false;
  std::string forbidden_why;   // who fixed it and why
  bool existing_duct = false;  // its ends are its only chambers; no drop leaves it midway
  Length bore;                 // of an existing duct
  double free_share = 1;       // share of the bore's area still free
  DuctState state = DuctState::proven;
  std::string content, owner, hire_price;  // of an existing duct, as written
  std::string cover_rule;                  // empty prints "to local code" and never counts as met
  std::string separation_rule;
  std::string permit;  // permit zone; empty = none named
  Confidence surface_known = Confidence::mapped;
  friend bool operator==(const Route&, const Route&) = default;
};

struct Headend {
  std::string name;
  Point at;
  int olt_ports = 0;          // 0 = as many as needed
  int microduct_entries = 0;  // direct premises it may serve without a cabinet
  int feeder_fibres = 0;      // 0 = as many as needed
  friend bool operator==(const Headend&, const Headend&) = default;
};

// A place where a cabinet may stand. Without any site every street node may hold one.
struct Site {
  std::string name;
  Point at;
  bool forbidden = false;
  std::string why;
  friend bool operator==(const Site&, const Site&) = default;
};

struct Demand {
  std::string name;                                  // of the scenario
  bool geographic = false;                           // true when positions came as longitude and latitude
  double origin_longitude = 0, origin_latitude = 0;  // degrees, of the plane's (0, 0)
  int64_t origin_east = 0, origin_north = 0;         // metres, of the plane's (0, 0), when given in metres
  std::string reference_system;                      // as declared; may be empty
  Table<SurfaceId, std::string> surfaces;            // names, in the order of the catalogue
  Table<SurfaceId, std::string> usual_methods;
  Table<CrossingId, std::string> crossings;  // names, in the order of the catalogue
  Table<CrossingId, std::string> crossing_builders;
  Table<PremisesId, Premises> premises;
  Table<RouteId, Route> routes;
  Table<HeadendId, Headend> headends;
  Table<SiteId, Site> sites;
  friend bool operator==(const Demand&, const Demand&) = default;
};

}  // namespace plan
