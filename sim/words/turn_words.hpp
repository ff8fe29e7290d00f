#pragma once
/// Turns in front as a rule that riders can follow.

#include <string>
#include <vector>

#include "leewheel/lineup.hpp"

namespace leewheel {

/// "45 s", "2 min".
std::string turn_length(double s);

/// How one group shares the front: "Bram 45 s, Dirk 30 s; Fenn sits in".
std::string turns_text(const GroupTurns& turns, const Scenario& scenario, Formation formation);

/// Whether nobody need be told that anything changes: who follows whom behind the front does not count.
bool same_rule(const std::vector<GroupTurns>& one, const std::vector<GroupTurns>& other);

}  // namespace leewheel
