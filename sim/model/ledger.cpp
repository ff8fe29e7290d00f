#include "leewheel/ledger.hpp"

#include <algorithm>

namespace leewheel {

TowLedger::TowLedger(std::size_t riders) : received_(riders) {}

void TowLedger::add(std::uint32_t giver, std::uint32_t receiver, double saved_J) {
  std::vector<Entry>& from = received_[receiver];
  auto entry = std::ranges::lower_bound(from, giver, {}, &Entry::giver);
  if (entry == from.end() || entry->giver != giver) entry = from.insert(entry, {giver, 0.0});
  entry->saved_J += saved_J;
}

std::vector<TowDebt> TowLedger::debts() const {
  std::vector<TowDebt> debts;
  for (std::uint32_t receiver = 0; receiver < received_.size(); ++receiver)
    for (const Entry& entry : received_[receiver]) debts.push_back({entry.giver, receiver, entry.saved_J});
  std::ranges::stable_sort(debts, {}, &TowDebt::giver);
  return debts;
}

std::vector<double> TowLedger::given_J() const {
  std::vector<double> given(received_.size(), 0.0);
  for (const TowDebt& debt : debts()) given[debt.giver] += debt.saved_J;
  return given;
}

std::vector<double> TowLedger::received_J() const {
  std::vector<double> received(received_.size(), 0.0);
  for (const TowDebt& debt : debts()) received[debt.receiver] += debt.saved_J;
  return received;
}

}  // namespace leewheel
