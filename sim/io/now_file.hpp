#pragma once
/// Where everyone is in the middle of a ride, as YAML.

#include <string>

#include "leewheel/from_here.hpp"

namespace leewheel {

/// Riders left out are not on the ride any more. Throws InputFault with every fault found.
RideNow read_now(const std::string& path, const Scenario& scenario);

/// To start from: everyone at the start, fresh.
std::string now_starter(const Scenario& scenario);

}  // namespace leewheel
