#pragma once
/// The report of a ride: by stretch and by rider, and how much other days may differ from the expected one.

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "leewheel/lineup.hpp"
#include "leewheel/percentile.hpp"
#include "leewheel/ride_facts.hpp"
#include "leewheel/wind_outlook.hpp"

namespace leewheel {

/// Ranges hold 8 of 10 of the other days; empty where too few of those days have a value.
struct RiderReport {
  RiderFacts facts;                                 ///< on the day as expected; stretches as far as the rider came
  std::vector<std::optional<Middle80>> arrives_s;   ///< by landmark, the finish last
  std::vector<std::optional<Middle80>> power_W;     ///< by stretch, while riding
  std::vector<std::optional<Middle80>> wbal_share;  ///< of the day's store, going on from each stretch
  std::optional<Middle80> mean_power_W, work_J;     ///< of the whole ride
  std::optional<Middle80> wbal_least_share;
  double home_share = 0.0;     ///< of the days
  double dropped_share = 0.0;  ///< of the days, came off a group at least once (`comes_off`)
};

struct StretchReport : StretchOfRide {
  double ascent_m = 0.0;                            ///< all rises
  double steepest_grade = 0.0, lowest_grade = 0.0;  ///< over 100 m
  double front_speed_mps = 0.0;                     ///< of whoever rides first in the largest group
  double front_power_W = 0.0;
  std::vector<GroupTurns>
      groups{};  ///< who ride together most of it and how they share the front, from the first on the road
};

struct RideReport {
  RideResult ride;
  std::vector<StretchReport> stretches;
  std::vector<RiderReport> riders;                          ///< in the order of the scenario
  Coming first;                                             ///< on the road
  std::vector<std::vector<std::uint32_t>> groups_at_start;  ///< one, or more where the ride starts in groups
  std::size_t days = 0;                                     ///< other days ridden
  std::optional<Middle80> last_home_s;
  double all_home_share = 0.0;  ///< of the days
};

/// When riders finish on further days, beside the day as expected.
struct FinishRanges {
  std::size_t days = 0;                             ///< ridden
  std::vector<std::optional<Middle80>> finish_s{};  ///< by rider; as in `RiderReport`. Empty: no days were ridden
  std::optional<Middle80> last_home_s{};            ///< where all finish
};

/// As many days as ride in about a second (assumed: 4 million steps of one rider), at most 20; 0 where five take longer. Of a
/// ride of `time_s`, so that it depends on the scenario alone.
std::size_t days_at_hand(const Scenario& scenario, double time_s);

/// The first days of `add_days`. Nothing is filled in when `go_on` returns false.
FinishRanges finish_ranges(const Scenario& scenario, std::size_t days, const std::function<bool()>& go_on = {});

/// Rides the scenario as it stands. `go_on`, if given, is asked before every step; false ends the ride there.
RideReport report_ride(const Scenario& scenario, const std::function<bool()>& go_on = {});

/// Rides the same plan on `days` days drawn from the seed of the ride, on the threads the caller allows, and fills in the
/// ranges. `after_each` is called by one thread at a time with the number of days done. When `go_on` returns
/// false nothing is filled in.
void add_days(RideReport& report, const Scenario& scenario, std::size_t days, const std::function<bool()>& go_on = {},
              const std::function<void(std::size_t done)>& after_each = {});

}  // namespace leewheel
