#pragma once
/// The wind along a road for a rider who passes at known times.

#include <string>
#include <vector>

#include "leewheel/ride.hpp"

namespace leewheel {

/// One place on the road at the time of arrival. Winds are means; gusts beside them.
struct OutlookRow {
  double distance_m, time_s, speed_mps;    ///< of the rider
  double open_mps, open_from_rad;          ///< the forecast at 10 m over open land
  double rider_mps;                        ///< at the rider
  double head_mps, from_left_mps;          ///< its parts: > 0 against the rider; > 0 from the left
  double yaw_rad, air_mps;                 ///< of the air the rider meets
  double gust_intensity;                   ///< standard deviation over mean
  double gust_least_mps, gust_mps;         ///< weakest and strongest three seconds in ten minutes, mean (1 -+ 2.5 I)
  double side_force_N, gust_side_force_N;  ///< towards either side, in the mean wind and in that gust from the same side
  double land_share;                       ///< factor of hills and windbreaks on the wind: 1 = no effect
  double hill_share;                       ///< the hills' part of it: above 1 near a crest, below 1 in a lull
  Exposure exposure_left, exposure_right;
};

struct Outlook {
  std::string rider;                     ///< in words: whose times these are
  bool gusty;                            ///< the ride itself has gusts
  std::vector<OutlookRow> rows;          ///< by distance, `spacing_m` apart and the finish
  std::vector<double> steep_leewards_m;  ///< crests with a leeward slope so steep that the wind may turn round behind it
};

/// Place and speed by time, as a rider alone or a constant speed gives them; both rising.
struct Coming {
  std::vector<double> distance_m, time_s;
};
Coming coming_at_speed(const Scenario& scenario, double speed_mps);
Coming coming_alone(const Scenario& scenario, std::size_t rider);

/// With `frozen_s` >= 0 the wind is that of this moment everywhere.
Outlook wind_outlook(const Scenario& scenario, const Coming& coming, double spacing_m, double frozen_s = -1.0);

/// Smallest change of the wind by a hill that is shown (assumed).
inline constexpr double hill_shown_from = 0.02;

}  // namespace leewheel
