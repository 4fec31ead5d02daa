// The estate folder that `withy estate` leaves: ready to edit, to open in a GIS, and to plan.
//
//   premises.*, routes.*      the estate in the scenario's own words (EstateTable), or both as layers of
//                             estate.gpkg where that is asked for
//   scenario.yaml             a commented brief that names them: headends proposed, start date to be set
//   estate-report.txt         what was read, repaired, left out and doubtful; what the plan will rest on
//   estate-walk-out.csv       street by street what to look at on site, most of it first
//   estate-remarks.geojson    every remark as a point, so that the source can be mended
//   LICENCE.txt               attribution and licence, where a source demands it
//
// Tables are GeoJSON, which a GIS opens where it lies, up to 100,000 premises; above that CSV, which is
// read in 60 % of the time and takes 40 % of the room (measured on a million). Same estate, same bytes.
#pragma once
#include <string>

#include "estate/components.h"
#include "estate/draft.h"
#include "estate/estate_table.h"
#include "estate/headends.h"
#include "estate/map.h"
#include "files/folder.h"

namespace withy {

struct EstateBrief {
  std::string name;  // of the scenario
  std::string optical_class = "GPON B+";
  std::string ratio = "1:32";        // of the split at the cabinet
  std::string start = "2027-03-01";  // to be set by the designer; no clock is read
  HeadendRules headends = {};
  bool geopackage = false;  // the tables as layers of one file
};

struct DraftedEstate {
  const Map& map;
  const Draft& draft;
  const Components& components;
};

// The kind of table that an estate of so many premises is written in.
TableKind table_kind(size_t premises);

void write_estate(const DraftedEstate& estate, const EstateBrief& brief, OutputFolder& out);

// Its parts, each a whole file.
void write_premises(const Draft& draft, TableKind kind, const plan::Sink& sink);
void write_routes(const Draft& draft, TableKind kind, const plan::Sink& sink);
void write_remarks(const DraftedEstate& estate, const plan::Sink& sink);
void write_walk_out(const DraftedEstate& estate, const plan::Sink& sink);
std::string brief_text(const DraftedEstate& estate, const EstateBrief& brief);
std::string report_text(const DraftedEstate& estate, const EstateBrief& brief);
// Empty where no source demands one.
std::string licence_text(const Map& map);

// "way 4031", "feature 17 of roads.gpkg" where there are several sources.
std::string id_text(const Map& map, const MapId& id);

}  // namespace withy
