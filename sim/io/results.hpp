#pragma once
/// The results of a ride for machines; every field is documented in docs/results.md.

#include <string>
#include <vector>

#include "leewheel/ride.hpp"
#include "leewheel/ride_report.hpp"

namespace leewheel {

/// `solo`: each rider's rerun alone with the same plan, in the order of the scenario. `ranges`: of the same plan on
/// further days, if any.
std::string summary_json(const Scenario& scenario, const RideResult& result, const std::vector<RideResult>& solo,
                         const FinishRanges& ranges = {});
std::string riders_csv(const Scenario& scenario, const RideResult& result, const std::vector<RideResult>& solo);
std::string stretches_csv(const Scenario& scenario, const RideResult& result, const std::vector<RideResult>& solo);
std::string events_csv(const Scenario& scenario, const RideResult& result);

/// Who towed whom as GraphML (joules on the edges).
std::string towing_graphml(const Scenario& scenario, const RideResult& result);

}  // namespace leewheel
