/// Who towed whom.

#include <catch2/catch.hpp>

#include "leewheel/ledger.hpp"

using namespace leewheel;

TEST_CASE("debts of a pair add up and come sorted by giver, then receiver", "[ledger]") {
  TowLedger ledger(3);
  ledger.add(2, 0, 5.0);
  ledger.add(0, 1, 1.0);
  ledger.add(0, 1, 2.0);
  ledger.add(0, 2, 4.0);
  const std::vector<TowDebt> debts = ledger.debts();
  REQUIRE(debts.size() == 3);
  CHECK((debts[0].giver == 0 && debts[0].receiver == 1 && debts[0].saved_J == 3.0));
  CHECK((debts[1].giver == 0 && debts[1].receiver == 2 && debts[1].saved_J == 4.0));
  CHECK((debts[2].giver == 2 && debts[2].receiver == 0 && debts[2].saved_J == 5.0));
  CHECK(ledger.given_J() == std::vector<double>{7.0, 0.0, 5.0});
  CHECK(ledger.received_J() == std::vector<double>{5.0, 3.0, 4.0});
}
