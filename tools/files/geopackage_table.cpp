#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/text.h"
#include "files/geopackage.h"
#include "files/gis.h"
#include "files/table_faults.h"

namespace withy {
namespace {

using plan::NodeRef;
using plan::Tree;
using plan::TreeKind;

// Columns of the table: the feature's id, its geometry, then the fields.
constexpr uint32_t geometry_column = 2, first_field = 3;

// The rows of one block of features as one small tree.
class PackageBlock {
 public:
  PackageBlock(const std::string& table, const GisLayer& layer, const GisBlock& block, TableFaults& faults)
      : layer_(layer), block_(block), faults_(faults) {
    tree_.select_file(tree_.add_file(table, ""));
    list_ = tree_.add(TreeKind::list, "", 1, 1);
  }
  void read() {
    for (int64_t f = 0; f < block_.features && !faults_.full(); ++f)
      row(f, static_cast<uint32_t>(std::clamp<int64_t>(block_.ids[f], 1, UINT32_MAX)));
  }
  const Tree& tree() const { return tree_; }
  NodeRef list() const { return list_; }

 private:
  void row(int64_t f, uint32_t line) {
    const NodeRef mapping = tree_.add(TreeKind::mapping, "", line, 1);
    for (int32_t i = 0; i < layer_.field_count; ++i) {
      const int64_t* start = block_.text_start + f * layer_.field_count + i;
      const std::string_view text{block_.text + start[0], static_cast<size_t>(start[1] - start[0])};
      const uint32_t column = first_field + static_cast<uint32_t>(i);
      if (!plan::valid_utf8(text))
        faults_.add(line, column, "text that is not UTF-8");
      else if (!plan::trimmed(text).empty())
        tree_.add_entry(mapping, layer_.fields[i],
                        tree_.add(TreeKind::scalar, plan::trimmed(text), line, column));
    }
    places(mapping, f, line);
    tree_.append(list_, mapping);
  }
  void places(NodeRef mapping, int64_t f, uint32_t line) {
    const GisShape shape = block_.shapes[f];
    if (shape == gis_nothing) return;
    const int64_t parts = block_.part_start[f + 1] - block_.part_start[f];
    if ((shape != gis_point && shape != gis_line) || parts != 1)
      return faults_.add(line, geometry_column, "geometry that is neither one point nor one line");
    const int64_t ring = block_.ring_start[block_.part_start[f]];
    const int64_t first = block_.place_start[ring], last = block_.place_start[ring + 1];
    const NodeRef list = tree_.add(TreeKind::list, "", line, geometry_column);
    if (shape == gis_point) {
      add_place(list, first, line);
    } else {
      for (int64_t p = first; p < last; ++p) {
        const NodeRef place = tree_.add(TreeKind::list, "", line, geometry_column);
        add_place(place, p, line);
        if (!std::isnan(block_.z[p])) add_number(place, block_.z[p], line);
        tree_.append(list, place);
      }
    }
    tree_.add_entry(mapping, shape == gis_point ? "at" : "line", list);
  }
  void add_place(NodeRef list, int64_t p, uint32_t line) {
    add_number(list, block_.x[p], line);
    add_number(list, block_.y[p], line);
  }
  void add_number(NodeRef list, double value, uint32_t line) {
    if (!std::isfinite(value)) return faults_.add(line, geometry_column, "a coordinate that is no number");
    tree_.append(list, tree_.add(TreeKind::scalar, plan::shortest(value), line, geometry_column));
  }

  const GisLayer& layer_;
  const GisBlock& block_;
  TableFaults& faults_;
  Tree tree_;
  NodeRef list_;
};

plan::Diagnostics read_layer(GisReader& reader, int32_t index, const std::string& path,
                             const plan::RowSink& rows) {
  const GisLayer layer = reader.layer(index);
  std::vector<int32_t> fields(static_cast<size_t>(layer.field_count));
  std::iota(fields.begin(), fields.end(), 0);
  reader.begin(index, fields, gis_as_stored);
  const std::string table = fmt::format("{}, layer {}", path, layer.name);
  TableFaults faults(table);
  GisBlock block{};
  while (faults.none() && reader.next(block)) {
    PackageBlock part(table, layer, block, faults);
    part.read();
    if (faults.none()) rows(part.tree(), part.list());
  }
  return faults.take();
}

}  // namespace

plan::Diagnostics geopackage_table(const std::string& path, std::string_view layer,
                                   const plan::RowSink& rows) {
  if (plan::Diagnostics refused = refuse_map_path(path); !refused.empty()) return refused;
  try {
    GisReader reader(path);
    std::string there;
    for (int32_t i = 0; i < reader.layers(); ++i) {
      const std::string name = reader.layer(i).name;
      if (name == layer) return read_layer(reader, i, path, rows);
      there += fmt::format("{}'{}'", there.empty() ? "" : ", ", plan::shown(name));
    }
    return {plan::diagnostic(
        {path, 0, 0}, fmt::format("no layer '{}'{}", layer, there.empty() ? "" : ", it has " + there))};
  } catch (const BadMap& bad) {
    const std::string where = bad.feature < 0 ? "" : fmt::format("feature {}: ", bad.feature);
    return {plan::diagnostic({path, 0, 0}, where + bad.what())};
  }
}

}  // namespace withy
