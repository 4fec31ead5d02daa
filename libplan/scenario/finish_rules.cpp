#include <fmt/core.h>

#include <algorithm>
#include <initializer_list>

#include "base/text.h"
#include "scenario/finish.h"

namespace plan {

namespace {

constexpr size_t most_stages = 4;  // headend, cabinet, branch point, building

// A fault at the key that a path of keys leads to, as far as it exists.
void fault_at(const Finish& f, std::initializer_list<std::string_view> path, const auto& make) {
  if (f.reading.faults.full()) return f.reading.faults.add([] { return Diagnostic(); });  // only counted
  NodeRef at = f.document.root(), value = at;
  for (const std::string_view key : path) {
    const NodeRef pair = f.document.find_pair(value, key);
    if (!pair.valid()) break;
    at = pair, value = f.document.value(pair);
  }
  f.reading.faults.add([&] { return f.document.fault(at, make()); });
}

std::string mm(Length l) {
  return shortest(in_millimetres(l)) + " mm";
}

void check_ducts(const Finish& f, const DuctCatalogue& c) {
  for (const Microduct& m : c.microducts)
    if (m.id >= m.od && m.od > Length())  // zero was not read: said already
      fault_at(f, {"catalogue", "microducts", m.name, "bore"}, [&] {
        return fmt::format("bore {} is not below the outside diameter {}", mm(m.id), mm(m.od));
      });
  for (const Bundle& b : c.bundles) {
    if (!b.microduct.valid()) continue;
    const Microduct& m = c.microducts[b.microduct];
    if (b.od < m.od && b.od > Length())
      fault_at(f, {"catalogue", "bundles", b.name, "outside diameter"}, [&] {
        return fmt::format("bundle of {} is thinner than one of its microducts of {}", mm(b.od), mm(m.od));
      });
  }
}

void check_direction(const Finish& f, const OpticalClass& c, std::string_view which, const Direction& d) {
  if (d.min_loss > d.max_loss && d.max_loss > Loss())
    fault_at(f, {"catalogue", "classes", c.name, which, "least loss"}, [&] {
      return fmt::format("least loss {} dB exceeds largest loss {} dB", shortest(in_decibels(d.min_loss)),
                         shortest(in_decibels(d.max_loss)));
    });
  if (d.powers_known && d.transmitter.max < d.transmitter.min)
    fault_at(f, {"catalogue", "classes", c.name, which, "transmitter"}, [&] {
      return fmt::format("least power {} dBm exceeds most power {} dBm", shortest(in_dbm(d.transmitter.min)),
                         shortest(in_dbm(d.transmitter.max)));
    });
}

void check_fibre(const Finish& f, const FibreCatalogue& c) {
  for (const OpticalClass& k : c.classes) {
    check_direction(f, k, "down", k.down);
    check_direction(f, k, "up", k.up);
  }
  for (const FibreType& t : c.fibres) {
    const bool rising = std::is_sorted(t.attenuation.begin(), t.attenuation.end(),
                                       [](const auto& a, const auto& b) { return a.at < b.at; });
    if (!rising)
      fault_at(f, {"catalogue", "fibres", t.name, "attenuation"}, [&] {
        return fmt::format("attenuation of '{}' needs rows by rising wavelength", shown(t.name));
      });
  }
}

bool has_splitter(const FibreCatalogue& c, int ratio) {
  return std::any_of(c.splitters.begin(), c.splitters.end(),
                     [&](const SplitterType& s) { return s.ports == ratio && s.inputs == 1; });
}

void check_split(const Finish& f, const Draft& d) {
  if (d.split.size() > most_stages)
    return f.fault(d.split[most_stages].spot, [&] {
      return fmt::format("'split' has {} stages, expected at most {}", d.split.size(), most_stages);
    });
  for (size_t i = 0; i < d.split.size(); ++i) {
    const SplitStage& s = d.split[i].stage;
    if (!has_splitter(d.catalogue.fibre, s.ratio))
      f.fault(d.split[i].spot, [&] { return fmt::format("the catalogue has no splitter 1:{}", s.ratio); });
    if (i > 0 && s.at < d.split[i - 1].stage.at)
      f.fault(d.split[i].spot, [&] {
        return fmt::format("stage at {} stands after one at {}, stages run from the headend outwards",
                           words_of(s.at)[static_cast<size_t>(s.at)],
                           words_of(s.at)[static_cast<size_t>(d.split[i - 1].stage.at)]);
      });
  }
}

// All stages of a light path together against the classes that must be met.
void check_product(const Finish& f, const Draft& d) {
  const auto& classes = d.catalogue.fibre.classes;
  if (d.split.empty() || d.split.size() > most_stages) return;
  int64_t product = 1;
  for (const SplitRow& row : d.split) product *= row.stage.ratio;
  std::vector<int> held{d.optics.optical_class};
  held.insert(held.end(), d.optics.also.begin(), d.optics.also.end());
  for (const int k : held) {
    if (static_cast<size_t>(k) >= classes.size()) continue;
    const OpticalClass& c = classes[static_cast<size_t>(k)];
    if (c.largest_split > 0 && product > c.largest_split)
      f.fault(d.split.back().spot, [&] {
        return fmt::format("split 1:{} exceeds the largest split 1:{} of class '{}'", product,
                           c.largest_split, shown(c.name));
      });
  }
}

void check_fill(const Finish& f, std::string_view key, const FillRule& r) {
  if (r.warn > r.fail && r.fail > 0)
    fault_at(f, {"ducts", key, "warn"}, [&] {
      return fmt::format("warn at {} exceeds fail at {}", fixed(r.warn, 2), fixed(r.fail, 2));
    });
}

void check_rules(const Finish& f, const Draft& d) {
  check_fill(f, "unit fill", d.ducts.unit_fill);
  check_fill(f, "microcable fill", d.ducts.microcable_fill);
  check_fill(f, "pulled fill", d.ducts.pulled_fill);
  const auto& radius = d.ducts.bundle_radius;
  const bool warmer =
      std::is_sorted(radius.begin(), radius.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
  if (!warmer)
    fault_at(f, {"ducts", "bundle radius"},
             [] { return std::string("'bundle radius' needs rows by rising temperature"); });
  if (d.optics.splice_mean > d.optics.splice_max && d.optics.splice_max > Loss())
    fault_at(f, {"optics", "splice mean"}, [&] {
      return fmt::format("splice mean {} dB exceeds splice largest {} dB",
                         shortest(in_decibels(d.optics.splice_mean)),
                         shortest(in_decibels(d.optics.splice_max)));
    });
  if (d.optics.connector_mean > d.optics.connector_max && d.optics.connector_max > Loss())
    fault_at(f, {"optics", "connector mean"}, [&] {
      return fmt::format("connector mean {} dB exceeds connector largest {} dB",
                         shortest(in_decibels(d.optics.connector_mean)),
                         shortest(in_decibels(d.optics.connector_max)));
    });
}

}  // namespace

void finish_rules(const Finish& f, const Draft& d, Scenario& into) {
  check_ducts(f, d.catalogue.ducts);
  check_fibre(f, d.catalogue.fibre);
  check_split(f, d);
  check_product(f, d);
  check_rules(f, d);
  LayoutRules layout = d.layout;
  layout.split.clear();
  for (const SplitRow& row : d.split) layout.split.push_back(row.stage);
  into.duct_catalogue = Slice<DuctCatalogue>(d.catalogue.ducts);
  into.fibre_catalogue = Slice<FibreCatalogue>(d.catalogue.fibre);
  into.layout_rules = Slice<LayoutRules>(std::move(layout));
  into.duct_rules = Slice<DuctRules>(d.ducts);
  into.fibre_rules = Slice<FibreRules>(d.fibre);
  into.blow_rules = Slice<BlowRules>(d.blowing);
  into.optic_rules = Slice<OpticRules>(d.optics);
}

}  // namespace plan
