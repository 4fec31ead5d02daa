// The one reader: walks a mapping of the tree along its descriptor and fills the members it names.
// Nothing stops at the first fault; what cannot be read keeps its default, so that the rest is checked.
#pragma once
#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/place.h"
#include "scenario/descriptor.h"
#include "scenario/scenario.h"

namespace plan {

// Diagnostics up to a number that a person can still read; how many more there were is said at the end.
class Faults {
 public:
  bool full() const { return list_.size() >= most; }
  // `make` is called only while there is room: texts of the millionth bad row are never made.
  template <class F>
  void add(F&& make) {
    if (full()) {
      ++beyond_;
    } else {
      list_.push_back(make());
    }
  }
  bool none() const { return list_.empty(); }
  // In the order of the files and of the places in them.
  Diagnostics sorted() const;

 private:
  static constexpr size_t most = 1000;
  Diagnostics list_;
  size_t beyond_ = 0;
};

// What references may name: each catalogue section's entries with their ids, sorted by name.
class Names {
 public:
  void add(Refers where, std::string_view name, uint32_t id) { of(where).push_back({name, id}); }
  void sort();
  // Id::none where there is no such name.
  uint32_t find(Refers where, std::string_view name) const;
  // ", did you mean 'X'", or nothing.
  std::string suggestion(Refers where, std::string_view name) const;

 private:
  using Entry = std::pair<std::string_view, uint32_t>;
  std::vector<Entry>& of(Refers r) { return lists_[static_cast<size_t>(r)]; }
  const std::vector<Entry>& of(Refers r) const { return lists_[static_cast<size_t>(r)]; }
  std::array<std::vector<Entry>, static_cast<size_t>(Refers::items) + 1> lists_;
};

// ", did you mean 'X'", or nothing.
std::string suggestion(std::string_view word, std::span<const std::string_view> candidates);
// "a list", "keys with values", "empty", or the text in quotes.
std::string found_text(const Tree& tree, NodeRef n);
// "a, b or c"
std::string alternatives(std::span<const std::string_view> words);
std::string_view what_is(Refers r);  // "microduct"

struct Reading {
  const Files& files;
  const Tree* tree;  // of the nodes at hand
  const Names& names;
  Faults& faults;
  double position_scale = 1000;              // metres to millimetres, or degrees to their 1e-9
  bool table = false;                        // rows of a file: positions and lines may be text
  const Field* skipped = nullptr;            // a field that is not to be read now
  std::vector<std::string> file_names = {};  // that spots point into
  std::vector<std::string> told = {};        // unknown keys of the table at hand
};

void read_mapping(Reading& r, NodeRef at, NodeRef node, const Mapping& m, void* object);
// A fault at a spot; with source line and caret where the tree still has them.
Diagnostic spot_fault(const Reading& r, const Tree& document, const Spot& spot, std::string message);
Place spot_place(const Reading& r, const Spot& spot);
// `name` as written in file `from`, seen from where the program stands.
std::string beside(const std::string& from, std::string_view name);

}  // namespace plan
