// Private to explain: what tells about one thing of a plan, and the words it uses.
#pragma once
#include <fmt/core.h>

#include <string>
#include <string_view>

#include "record/written_plan.h"

namespace withy {

class Teller {
 public:
  explicit Teller(const plan::WrittenPlan& plan) : plan_(plan) {}
  std::string text;

  void premises(int64_t row);
  void link(int64_t link);
  void run(int64_t run);
  void section(int64_t section);
  void span(int64_t row);
  void node(int64_t node);
  void station(int64_t station);
  void dwelling(int64_t dwelling);
  void splitter(int64_t splitter);
  void pon(int64_t pon);
  void task(int64_t task);
  void bill_line(int64_t row);

 private:
  // Cells as they read.
  int64_t cell(std::string_view file, std::string_view column, int64_t row) const {
    return plan_[file][column][row];
  }
  std::string word(std::string_view file, std::string_view column, int64_t row) const {
    return std::string(plan_.words[cell(file, column, row)]);
  }
  std::string number(std::string_view file, std::string_view column, int64_t row) const;
  std::string station_name(int64_t station) const;
  std::string link_end(int64_t link) const;
  int64_t area_of(int64_t station) const;  // its cabinet or headend
  template <class F>
  void each(std::string_view file, std::string_view column, int64_t wanted, F&& use) const {
    const plan::Cells& cells = plan_[file][column];
    for (size_t row = 0; row < cells.size(); ++row)
      if (cells[row] == wanted) use(static_cast<int64_t>(row));
  }
  template <class... A>
  void line(fmt::format_string<A...> format, A&&... values) {
    text += fmt::format(format, std::forward<A>(values)...) + "\n";
  }
  void duct_path(int64_t link);
  void unit_and_blow(int64_t link);
  void light_of(int64_t dwelling);
  void ledger(int64_t dwelling);
  bool like(int64_t dwelling, int64_t other) const;  // the same parts on their light paths
  std::string day_of(int64_t minute) const;          // of the programme
  static std::string counted(int64_t n, std::string_view one) {
    return fmt::format("{} {}{}", n, one, n == 1 ? "" : "s");
  }
  void findings_at(const std::string& subject);
  void tasks_at(int64_t node);
  void sections_of(int64_t run, int64_t span);
  void section_line(int64_t section);

  const plan::WrittenPlan& plan_;
};

}  // namespace withy
