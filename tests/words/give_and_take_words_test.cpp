#include "words/give_and_take_words.hpp"

#include <catch2/catch.hpp>

using namespace leewheel;

namespace {

const std::vector<std::string> names{"Ada", "Ben", "Cleo", "Dora"};

std::vector<std::string> lines_of(std::vector<TowDebt> debts) {
  return give_and_take_lines(give_and_take(names.size(), debts),
                             [](std::uint32_t rider) -> const std::string& { return names[rider]; });
}

}  // namespace

TEST_CASE("who carried, who shared and the strongest chain are three plain lines", "[words]") {
  const std::vector<std::string> lines = lines_of({{0, 1, 9000.0}, {1, 0, 4000.0}, {1, 2, 8000.0}});
  REQUIRE(lines.size() == 3);
  CHECK(lines[0] ==
        "On balance Ada carried the others most, 5.0 kJ given over received, and Cleo was carried most, 8.0 kJ.");
  CHECK(lines[1] == "Ada and Ben shared the work; Cleo only took.");
  CHECK(lines[2] == "Strongest chain of wheels: Ada to Ben to Cleo, 13.0 kJ on balance.");
}

TEST_CASE("where all share it is said in one word", "[words]") {
  const std::vector<std::string> lines = lines_of({{0, 1, 5e3}, {1, 2, 5e3}, {2, 3, 5e3}, {3, 0, 5e3}});
  CHECK(lines == std::vector<std::string>{"All 4 shared the work: everyone gave and got back."});
}

TEST_CASE("a chain of two and balances below 0.1 kJ are not told, nor is an empty book", "[words]") {
  CHECK(lines_of({}).empty());
  CHECK(lines_of({{0, 1, 90.0}}).empty());
  CHECK(lines_of({{0, 1, 5000.0}}) ==
        std::vector<std::string>{"On balance Ada carried the others most, 5.0 kJ given over received, and Ben was carried "
                                 "most, 5.0 kJ."});
}
