#pragma once
/// What `leewheel spread` writes for machines.

#include <cstdint>
#include <string>
#include <vector>

#include "leewheel/ensemble.hpp"

namespace leewheel {

std::string spread_json(const Scenario& scenario, std::uint64_t seed, const SpreadAnswer& answer);

/// A line for each rider of each run.
std::string spread_csv(const Scenario& scenario, const std::vector<RunOutcome>& runs);

}  // namespace leewheel
