/// How pocket cards share pages of A4.

#include <catch2/catch.hpp>

#include "pages/sheet_leaves.hpp"

using namespace leewheel;

namespace {

/// Cards of so many full lines.
std::vector<std::vector<CardBlock>> cards_of(std::size_t count, std::size_t lines) {
  return std::vector(count, std::vector(lines, CardBlock{50}));
}

}  // namespace

TEST_CASE("every card stands on one page, in order, and the fuller pages come last", "[leaves]") {
  for (std::size_t count = 1; count <= 13; ++count) {
    std::size_t next = 0, before = 0;
    for (const Leaf& leaf : leaves_of(cards_of(count, 12))) {
      CHECK(leaf.from == next);
      CHECK(leaf.to > leaf.from);
      CHECK(leaf.to - leaf.from >= before);
      next = leaf.to, before = leaf.to - leaf.from;
    }
    CHECK(next == count);
  }
}

TEST_CASE("cards share pages in 14 pt or more, in 12 pt before one takes a page, and in less only alone", "[leaves]") {
  const auto of_two = [](std::size_t lines) { return leaves_of(cards_of(2, lines)); };
  REQUIRE(of_two(10).size() == 1);
  CHECK(of_two(10)[0].type_pt == 16);  // the largest there is
  REQUIRE(of_two(16).size() == 1);
  CHECK(of_two(16)[0].type_pt == 14);
  REQUIRE(of_two(19).size() == 1);
  CHECK(of_two(19)[0].type_pt == 12);
  REQUIRE(of_two(32).size() == 2);
  CHECK(of_two(32)[0].type_pt == 15);
  CHECK(of_two(500)[1].type_pt == 9);
}

TEST_CASE("small cards are four on a page, no more", "[leaves]") {
  CHECK(leaves_of(cards_of(4, 2)).size() == 1);
  CHECK(leaves_of(cards_of(5, 2)).size() == 2);
}
