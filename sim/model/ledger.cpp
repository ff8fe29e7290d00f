#include "leewheel/ledger.hpp"

#include <boost/graph/adjacency_list.hpp>

namespace leewheel {

namespace {
struct Joules {
  double saved_J = 0.0;
};
using DebtGraph = boost::adjacency_list<boost::setS, boost::vecS, boost::directedS, boost::no_property, Joules>;
}  // namespace

struct LeeLedger::Graph : DebtGraph {
  using DebtGraph::DebtGraph;
};

LeeLedger::LeeLedger(std::size_t riders) : graph_(std::make_unique<Graph>(riders)) {}
LeeLedger::~LeeLedger() = default;
LeeLedger::LeeLedger(LeeLedger&&) noexcept = default;

void LeeLedger::book(std::uint32_t giver, std::uint32_t receiver, double saved_J) {
  const auto edge = boost::add_edge(giver, receiver, *graph_).first;  // finds the edge when it is there
  (*graph_)[edge].saved_J += saved_J;
}

std::vector<LeeDebt> LeeLedger::debts() const {
  std::vector<LeeDebt> debts;
  for (const auto edge : boost::make_iterator_range(boost::edges(*graph_)))
    debts.push_back({static_cast<std::uint32_t>(boost::source(edge, *graph_)),
                     static_cast<std::uint32_t>(boost::target(edge, *graph_)), (*graph_)[edge].saved_J});
  return debts;
}

std::vector<double> LeeLedger::given_J() const {
  std::vector<double> given(boost::num_vertices(*graph_), 0.0);
  for (const LeeDebt& debt : debts()) given[debt.giver] += debt.saved_J;
  return given;
}

std::vector<double> LeeLedger::received_J() const {
  std::vector<double> received(boost::num_vertices(*graph_), 0.0);
  for (const LeeDebt& debt : debts()) received[debt.receiver] += debt.saved_J;
  return received;
}

}  // namespace leewheel
