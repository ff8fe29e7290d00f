#include "leewheel/give_and_take.hpp"

#include <catch2/catch.hpp>

using namespace leewheel;
using Riders = std::vector<std::uint32_t>;

namespace {

GiveAndTake of(std::size_t riders, std::vector<TowDebt> debts) { return give_and_take(riders, debts); }

}  // namespace

TEST_CASE("an empty book has nobody to thank", "[give_and_take]") {
  const GiveAndTake none = of(3, {});
  CHECK(none.net_J == std::vector<double>{0.0, 0.0, 0.0});
  CHECK(none.circles.empty());
  CHECK(none.chain.empty());
  CHECK(none.chain_J == 0.0);
}

TEST_CASE("what is given less what is received is the balance", "[give_and_take]") {
  CHECK(of(3, {{0, 1, 10.0}, {1, 0, 4.0}, {1, 2, 5.0}}).net_J == std::vector<double>{6.0, -1.0, -5.0});
}

TEST_CASE("who gets back round the circle shares, who only takes does not", "[give_and_take]") {
  // 0 -> 1 -> 2 -> 0 share; 3 takes from 2; 4 and 5 share apart.
  const GiveAndTake got = of(6, {{0, 1, 10.0}, {1, 2, 10.0}, {2, 0, 10.0}, {2, 3, 10.0}, {4, 5, 10.0}, {5, 4, 10.0}});
  CHECK(got.circles == std::vector<Riders>{{0, 1, 2}, {4, 5}});
}

TEST_CASE("a debt below a tenth of the mean received makes no circle, one at it does", "[give_and_take]") {
  // Two riders receive 100 J in all, 50 J on average: 5 J count.
  CHECK(of(2, {{0, 1, 95.1}, {1, 0, 4.9}}).circles.empty());
  CHECK(of(2, {{0, 1, 95.0}, {1, 0, 5.0}}).circles == std::vector<Riders>{{0, 1}});
}

TEST_CASE("the strongest chain is the path of greatest sum, not of the greatest first wheel", "[give_and_take]") {
  // 0 -> 3 alone is 10 J; 0 -> 1 -> 2 is 6 + 7.
  const GiveAndTake got = of(4, {{0, 3, 10.0}, {0, 1, 6.0}, {1, 2, 7.0}});
  CHECK(got.chain == Riders{0, 1, 2});
  CHECK(got.chain_J == 13.0);
}

TEST_CASE("of each pair only the difference counts in a chain", "[give_and_take]") {
  const GiveAndTake got = of(3, {{0, 1, 20.0}, {1, 0, 18.0}, {0, 2, 3.0}});
  CHECK(got.chain == Riders{0, 2});
  CHECK(got.chain_J == 3.0);
}

TEST_CASE("a circle of differences gives a chain that ends: it goes down the balance only", "[give_and_take]") {
  // 0 -> 1 -> 2 -> 0, net 0: +2, 1: -1, 2: -1; 1 -> 2 is level and does not count, nor does 2 -> 0, which climbs.
  const GiveAndTake got = of(3, {{0, 1, 5.0}, {1, 2, 4.0}, {2, 0, 3.0}});
  CHECK(got.net_J == std::vector<double>{2.0, -1.0, -1.0});
  CHECK(got.circles == std::vector<Riders>{{0, 1, 2}});
  CHECK(got.chain == Riders{0, 1});
  CHECK(got.chain_J == 5.0);
}

TEST_CASE("riding abreast in the open is a debt below nothing: it turns the pair round and makes no circle",
          "[give_and_take]") {
  const GiveAndTake got = of(2, {{0, 1, -3.0}});
  CHECK(got.net_J == std::vector<double>{-3.0, 3.0});
  CHECK(got.circles.empty());
  CHECK(got.chain == Riders{1, 0});
}
