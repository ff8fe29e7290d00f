#pragma once
/// The book of who towed whom in plain lines: who carried, who shared, the strongest chain.

#include <functional>
#include <span>
#include <string>
#include <vector>

#include "leewheel/give_and_take.hpp"
#include "words/phrases.hpp"

namespace leewheel {

/// A list of riders as the page has it: "Ada, Ben and Cleo".
using ListOfRiders = std::function<std::string(std::span<const std::uint32_t> riders)>;

/// At most three sentences, each one line; none for what is not worth telling: balances below 0.1 kJ, chains of two.
std::vector<std::string> give_and_take_lines(const GiveAndTake& book, const NameOf& name, const ListOfRiders& list);

}  // namespace leewheel
