#pragma once
/// The ledger of who towed whom in plain lines: who carried, who shared, the strongest chain.

#include <string>
#include <vector>

#include "leewheel/give_and_take.hpp"
#include "words/phrases.hpp"

namespace leewheel {

/// At most three sentences, each one line; none for what is not worth telling: balances below 0.1 kJ, chains of two.
std::vector<std::string> give_and_take_lines(const GiveAndTake& shared, const NameOf& name);

}  // namespace leewheel
