#include <fmt/core.h>

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

// The rows of one block of features as one small tree.
class PackageBlock {
 public:
  PackageBlock(const std::string& path, const GisLayer& layer, const GisBlock& block, TableFaults& faults)
      : layer_(layer), block_(block), faults_(faults) {
    tree_.select_file(tree_.add_file(path, ""));
    list_ = tree_.add(TreeKind::list, "", 1, 1);
  }
  void read(uint32_t rows_before) {
    for (int64_t f = 0; f < block_.features && !faults_.full(); ++f)
      row(f, rows_before + static_cast<uint32_t>(f) + 1);
  }
  const Tree& tree() const { return tree_; }
  NodeRef list() const { return list_; }

 private:
  void row(int64_t f, uint32_t line) {
    const NodeRef mapping = tree_.add(TreeKind::mapping, "", line, 1);
    for (int32_t i = 0; i < layer_.field_count; ++i) {
      const int64_t* start = block_.text_start + f * layer_.field_count + i;
      const std::string_view text{block_.text + start[0], static_cast<size_t>(start[1] - start[0])};
      const auto column = static_cast<uint32_t>(i) + 1;
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
      return faults_.add(line, 1, "geometry that is neither one point nor one line");
    const int64_t ring = block_.ring_start[block_.part_start[f]];
    const int64_t first = block_.place_start[ring], last = block_.place_start[ring + 1];
    if (shape == gis_point) return tree_.add_entry(mapping, "at", place(first, line)), void();
    const NodeRef path = tree_.add(TreeKind::list, "", line, 1);
    for (int64_t p = first; p < last; ++p) tree_.append(path, place(p, line));
    tree_.add_entry(mapping, "line", path);
  }
  NodeRef place(int64_t p, uint32_t line) {
    const NodeRef list = tree_.add(TreeKind::list, "", line, 1);
    for (const double value : {block_.x[p], block_.y[p]}) tree_.append(list, number(value, line));
    if (!std::isnan(block_.z[p])) tree_.append(list, number(block_.z[p], line));
    return list;
  }
  NodeRef number(double value, uint32_t line) {
    if (!std::isfinite(value)) faults_.add(line, 1, "a coordinate that is no number");
    return tree_.add(TreeKind::scalar, std::isfinite(value) ? plan::shortest(value) : "0", line, 1);
  }

  const GisLayer& layer_;
  const GisBlock& block_;
  TableFaults& faults_;
  Tree tree_;
  NodeRef list_;
};

plan::Diagnostics read_layer(GisReader& reader, int32_t index, const std::string& path,
                             const PackageRows& rows) {
  const GisLayer layer = reader.layer(index);
  std::vector<int32_t> fields(static_cast<size_t>(layer.field_count));
  std::iota(fields.begin(), fields.end(), 0);
  reader.begin(index, fields, gis_as_stored);
  TableFaults faults(path);
  GisBlock block{};
  for (uint32_t before = 0; faults.none() && reader.next(block);
       before += static_cast<uint32_t>(block.features)) {
    PackageBlock part(path, layer, block, faults);
    part.read(before);
    if (faults.none()) rows(part.tree(), part.list());
  }
  return faults.take();
}

}  // namespace

plan::Diagnostics geopackage_table(const std::string& path, std::string_view layer, const PackageRows& rows) {
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
