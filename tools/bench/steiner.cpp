#include "bench/steiner.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <cstdio>
#include <string_view>
#include <vector>

#include "base/text.h"
#include "bench/stages.h"
#include "files/disk.h"

namespace withy {
namespace {

constexpr uint64_t most_bytes = 1u << 30;
constexpr uint32_t most = 10'000'000;

std::vector<std::string_view> words_of(std::string_view line) {
  std::vector<std::string_view> words;
  while (!(line = plan::trimmed(line)).empty()) {
    const size_t end = std::min(line.find_first_of(" \t"), line.size());
    words.push_back(line.substr(0, end));
    line.remove_prefix(end);
  }
  return words;
}

template <class T>
bool number(std::string_view text, T low, T high, T& out) {
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), out);
  return fault == std::errc() && end == text.data() + text.size() && out >= low && out <= high;
}

class StpReader {
 public:
  // Empty where the line is good.
  std::string take(std::string_view line) {
    const std::vector<std::string_view> words = words_of(line);
    if (words.empty()) return {};
    const auto node = [&](size_t i, uint32_t& out) {
      return words.size() > i && number<uint32_t>(words[i], 1, static_cast<uint32_t>(problem.nodes()), out);
    };
    uint32_t a = 0, b = 0;
    if (words[0] == "Nodes") {
      if (words.size() < 2 || !number<uint32_t>(words[1], 1, most, a)) return "a number of nodes is due";
      problem.terminal.assign(a, 0);
    } else if (words[0] == "E") {
      int64_t cost = 0;
      if (!node(1, a) || !node(2, b) || words.size() < 4 ||
          !number<int64_t>(words[3], 0, int64_t{1} << 40, cost))
        return "two nodes and a cost are due";
      if (problem.edges.size() == most) return "too many edges";
      problem.edges.push_back({a - 1, b - 1, cost});
    } else if (words[0] == "T") {
      if (!node(1, a)) return "a node is due";
      problem.terminal[a - 1] = 1;
    }
    return {};
  }
  plan::SteinerProblem problem;
};

// The terminals hang together; else there is no tree.
bool is_connected(const plan::SteinerProblem& p) {
  const plan::SteinerGraph graph = plan::steiner_graph(p.nodes(), p.edges);
  std::vector<uint8_t> reached(p.nodes(), 0);
  std::vector<uint32_t> queue;
  const auto first = std::find(p.terminal.begin(), p.terminal.end(), 1);
  if (first == p.terminal.end()) return false;
  queue.push_back(static_cast<uint32_t>(first - p.terminal.begin()));
  reached[queue[0]] = 1;
  for (size_t i = 0; i < queue.size(); ++i)
    for (const auto& a : graph.at(queue[i]))
      if (!reached[a.to]) reached[a.to] = 1, queue.push_back(a.to);
  for (size_t v = 0; v < p.nodes(); ++v)
    if (p.terminal[v] && !reached[v]) return false;
  return true;
}

int64_t plain_tree(const plan::SteinerProblem& p) {
  std::vector<uint32_t> terminals;
  for (uint32_t v = 0; v < p.nodes(); ++v)
    if (p.terminal[v]) terminals.push_back(v);
  return plan::steiner_forest(plan::steiner_graph(p.nodes(), p.edges), terminals,
                              std::span(terminals).first(1))
      .cost;
}

}  // namespace

plan::Result<plan::SteinerProblem> read_stp(const std::string& path) {
  using Problem = plan::SteinerProblem;
  auto text = read_file(path, most_bytes);
  if (!text) return {{}, text.diagnostics};
  StpReader reader;
  uint32_t line_number = 0;
  for (const std::string_view line : plan::split(*text, '\n')) {
    ++line_number;
    if (std::string fault = reader.take(line); !fault.empty())
      return plan::failed<Problem>(plan::diagnostic({path, line_number, 0}, std::move(fault)));
  }
  if (!is_connected(reader.problem))
    return plan::failed<Problem>(
        plan::diagnostic({path, 0, 0}, "no terminals, or no path between some of them"));
  return plan::good(std::move(reader.problem));
}

int measure_steiner(const SteinerMeasure& measure) {
  const auto problem = read_stp(measure.file);
  if (!problem) {
    for (const auto& d : problem.diagnostics) std::fputs(plan::rendered(d).c_str(), stderr);
    return 2;
  }
  const Stopwatch watch;
  if (measure.plain) {
    const int64_t value = plain_tree(*problem);
    std::fputs(fmt::format("{} - {:.2f} s\n", value, watch.seconds()).c_str(), stdout);
    return 0;
  }
  plan::SteinerRun run{measure.effort, measure.steps, {}};
  if (measure.seconds > 0) {
    if (measure.steps < 0) run.balls = INT64_MAX / 2;
    run.stop = [&] { return watch.seconds() > measure.seconds; };
  }
  const plan::SteinerAnswer a = plan::steiner_solve(*problem, run);
  std::fputs(fmt::format("{} {} {:.2f} s {} steps\n", a.tree.cost, a.bound, watch.seconds(), a.balls).c_str(),
             stdout);
  return 0;
}

}  // namespace withy
