#pragma once
/// A ride in company beside the same riders, each alone.

#include <string>
#include <vector>

#include "leewheel/ride.hpp"

namespace company {

struct InCompany {
  double over_alone;        ///< riding time, waiting left out, over that alone
  double home_over_alone;   ///< time at the finish, waiting included, over that alone
  double power_over_plan;   ///< mean power over the mean power that the plan asks
  double least_wbal_share;  ///< of W'
  double end_wbal_share;
  double alone_s, home_s;
};

struct Company {
  leewheel::RideEnd end;
  std::vector<InCompany> riders;
  std::size_t groups_at_end;  ///< contact groups and lone riders when the first reaches the finish
  double mean_home_s;
  double over_equal_power;  ///< slowest riding time over that alone at the riders' mean power; 0 where riders differ

  double slowest_over_alone() const;
  double last_over_weakest() const;  ///< last home over the longest time alone
  double mean_power_over_plan() const;
  const InCompany& weakest() const;  ///< longest time alone
};

/// Rides a scenario, and each of its riders alone.
Company ride_company(const leewheel::Scenario& scenario);

/// The riders of the checks: 72 kg, W' 18 kJ, everything else as shipped.
std::vector<leewheel::RiderSettings> riders_of(const std::vector<double>& critical_power_W);
/// Settings as shipped.
leewheel::Scenario as_shipped(const leewheel::Road& road, const std::vector<leewheel::RiderSettings>& riders,
                              leewheel::RideKind kind);

/// Stretches of grade (per cent) and length (m), over and over to the length asked; an open slope on both sides.
leewheel::Road waves(const std::vector<double>& grades_percent, double each_m, double length_m);
/// A rolling road of climbs and descents from 0.2 to 9.5 % through houses, woods and open land, 9 km.
leewheel::Road mixed_road();

}  // namespace company
