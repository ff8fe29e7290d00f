#pragma once
/// Parts of summary.json; docs/results.md tells each key.

#include <nlohmann/json.hpp>

#include "leewheel/ride_facts.hpp"
#include "words/day_clock.hpp"

namespace leewheel {

/// A time of day beside a time of the ride; null while the start is not known.
nlohmann::ordered_json clock_json(const DayClock& clock, double time_s);

nlohmann::ordered_json stretch_json(const StretchRidden& stretch);

nlohmann::ordered_json rider_json(const RiderResult& rider, const RiderFacts& facts, const RiderResult* alone_again,
                                  const DayClock& clock);

/// Regroup points and stops: who stood there, and who was left behind.
nlohmann::ordered_json waits_json(const Scenario& scenario, const RideResult& result);

}  // namespace leewheel
