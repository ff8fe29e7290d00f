#include "leewheel/ledger.hpp"

#include <boost/graph/adjacency_list.hpp>

namespace leewheel {

namespace {
struct Joules {
  double saved_J = 0.0;
};
using DebtGraph = boost::adjacency_list<boost::setS, boost::vecS, boost::directedS, boost::no_property, Joules>;

/// The last few who sheltered a rider, with the place of their joules in the graph: the same wheels come back every second.
struct Recent {
  static constexpr std::size_t size = 8;
  std::uint32_t giver[size];
  Joules* joules[size] = {};
  std::size_t next = 0;
};
}  // namespace

struct LeeLedger::Graph : DebtGraph {
  explicit Graph(std::size_t riders) : DebtGraph(riders), recent(riders) {}
  std::vector<Recent> recent;  // by receiver
};

LeeLedger::LeeLedger(std::size_t riders) : graph_(std::make_unique<Graph>(riders)) {}
LeeLedger::~LeeLedger() = default;
LeeLedger::LeeLedger(LeeLedger&&) noexcept = default;

void LeeLedger::book(std::uint32_t giver, std::uint32_t receiver, double saved_J) {
  Recent& recent = graph_->recent[receiver];
  for (std::size_t k = 0; k < Recent::size; ++k)
    if (recent.joules[k] && recent.giver[k] == giver) {
      recent.joules[k]->saved_J += saved_J;
      return;
    }
  const auto edge = boost::add_edge(giver, receiver, *graph_).first;  // finds the edge when it is there
  Joules& joules = (*graph_)[edge];
  joules.saved_J += saved_J;
  recent.giver[recent.next] = giver;
  recent.joules[recent.next] = &joules;  // edges of this graph never move
  recent.next = (recent.next + 1) % Recent::size;
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
