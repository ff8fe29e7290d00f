#pragma once
/// Values derived from the result of a ride: its stretches, savings by stretch, and riders who finished together.

#include <limits>
#include <string>
#include <vector>

#include "leewheel/ride.hpp"

namespace leewheel {

/// Marks a figure that has no value; files leave it empty, people read a dash.
inline constexpr double no_value = std::numeric_limits<double>::quiet_NaN();

/// The way from one landmark to the next, for one rider.
struct StretchRidden {
  std::string from, to;
  double from_m, to_m;
  double arrives_s, arrives_power_W;  ///< time and power at its end
  double time_s, pedal_J, saved_J, alone_J, sheltered_s;
  double wbal_J;       ///< at its end
  double solo_time_s;  ///< alone with the same plan; no_value when that is not known
  double saved_W() const { return saved_J / time_s; }
};

/// The same stretch, over all who rode it.
struct StretchOfRide {
  std::string from, to;
  double from_m, to_m, grade;
  double saved_W;    ///< mean over riders and time
  std::size_t most;  ///< rider who saved most
  double most_W;
};

/// A rider's rerun alone; nullptr when there is none. `solo`: one result a rider, in the order of the scenario.
const RiderResult* solo_of(const std::vector<RideResult>& solo, std::size_t rider);

/// In the order of the road, as far as the rider came. `alone_again` may be nullptr.
std::vector<StretchRidden> stretches_of(const RiderResult& rider, const RiderResult* alone_again);
std::vector<StretchOfRide> stretches_of_ride(const Scenario& scenario, const RideResult& result);

/// 100 part / whole; no_value when there is no whole.
double percent(double part, double whole);

/// Riding time alone less riding time in company (s), > 0 sooner; waits at regroup points do not count.
double time_saved_s(const RiderResult& rider, const RiderResult* alone_again);

/// The rider with the largest ledger error.
std::size_t worst_ledger(const RideResult& result);

/// Riders who finished together, by time, then name: a gap of a second or more to the rider ahead begins a new group.
std::vector<std::vector<std::uint32_t>> finish_groups(const RideResult& result);

/// Air density at the start of the road (kg/m3).
double start_density_kgpm3(const Scenario& scenario);

std::vector<std::string> names_of(const Scenario& scenario, const std::vector<std::uint32_t>& riders);

}  // namespace leewheel
