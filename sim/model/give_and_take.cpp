#include "leewheel/give_and_take.hpp"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/dag_shortest_paths.hpp>
#include <boost/graph/strong_components.hpp>
#include <map>
#include <utility>

namespace leewheel {
namespace {

using Joules = boost::property<boost::edge_weight_t, double>;
using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property, Joules>;

std::vector<double> net_of(std::size_t riders, std::span<const TowDebt> debts) {
  std::vector<double> net(riders, 0.0);
  for (const TowDebt& debt : debts) {
    net[debt.giver] += debt.saved_J;
    net[debt.receiver] -= debt.saved_J;
  }
  return net;
}

std::vector<std::vector<std::uint32_t>> circles_of(std::size_t riders, std::span<const TowDebt> debts) {
  double all_J = 0.0;
  for (const TowDebt& debt : debts) all_J += std::max(0.0, debt.saved_J);
  const double least_J = counting_share * all_J / static_cast<double>(riders);
  Graph counting(riders);
  for (const TowDebt& debt : debts)
    if (debt.saved_J > 0.0 && debt.saved_J >= least_J) boost::add_edge(debt.giver, debt.receiver, counting);

  std::vector<std::size_t> component(riders);
  const std::size_t count = boost::strong_components(
      counting, boost::make_iterator_property_map(component.begin(), boost::get(boost::vertex_index, counting)));
  std::vector<std::vector<std::uint32_t>> circles(count);
  for (std::uint32_t rider = 0; rider < riders; ++rider) circles[component[rider]].push_back(rider);
  std::erase_if(circles, [](const auto& circle) { return circle.size() < 2; });
  std::ranges::sort(circles, [](const auto& a, const auto& b) {
    return a.size() != b.size() ? a.size() > b.size() : a.front() < b.front();
  });
  return circles;
}

/// Differences of both debts of each pair, where they went from more net to less; weights negative, for the longest path is
/// sought as a shortest one. One vertex more, the last, leads to every rider for nothing: a chain may begin anywhere.
Graph down_the_balance(const std::vector<double>& net_J, std::span<const TowDebt> debts) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, double> of_pair;  // lower rider first; > 0: the lower gave more
  for (const TowDebt& debt : debts) {
    const auto [low, high] = std::minmax(debt.giver, debt.receiver);
    of_pair[{low, high}] += debt.giver == low ? debt.saved_J : -debt.saved_J;
  }
  Graph graph(net_J.size() + 1);
  for (std::uint32_t rider = 0; rider < net_J.size(); ++rider) boost::add_edge(net_J.size(), rider, 0.0, graph);
  for (const auto& [pair, more_J] : of_pair) {
    const auto [giver, receiver] = more_J > 0.0 ? pair : std::pair(pair.second, pair.first);
    if (more_J != 0.0 && net_J[giver] > net_J[receiver]) boost::add_edge(giver, receiver, -std::abs(more_J), graph);
  }
  return graph;
}

}  // namespace

GiveAndTake give_and_take(std::size_t riders, std::span<const TowDebt> debts) {
  GiveAndTake answer;
  answer.net_J = net_of(riders, debts);
  if (debts.empty()) return answer;
  answer.circles = circles_of(riders, debts);

  const Graph graph = down_the_balance(answer.net_J, debts);
  std::vector<double> sum_J(riders + 1);
  std::vector<std::size_t> before(riders + 1);
  boost::dag_shortest_paths(graph, riders, boost::distance_map(sum_J.data()).predecessor_map(before.data()));
  std::size_t rider = static_cast<std::size_t>(std::ranges::min_element(sum_J) - sum_J.begin());
  answer.chain_J = -sum_J[rider];
  if (answer.chain_J <= 0.0) return answer;
  for (; rider != riders; rider = before[rider]) answer.chain.push_back(static_cast<std::uint32_t>(rider));
  std::ranges::reverse(answer.chain);
  return answer;
}

}  // namespace leewheel
