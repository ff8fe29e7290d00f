#include "leewheel/climb_power.hpp"

#include <limits>

#include "leewheel/ride.hpp"

namespace leewheel {

namespace {

constexpr double least_W = 20.0, most_W = 900.0;

Scenario climb_alone(const RiderSettings& rider, const RiddenClimb& climb) {
  Stretch even;
  even.length_m = climb.length_m;
  even.grade = climb.grade;
  Scenario alone{.title = "",
                 .question = "",
                 .finding = "",
                 .road = Road(profile_from_stretches({even}, 0.0)),
                 .air = {},
                 .wind = {},
                 .riders = {rider},
                 .plans = {{}},
                 .ride = {},
                 .tactics = {},
                 .groups = {},
                 .wake = {}};
  alone.ride.step_s = 0.5;  // the power is steady
  alone.ride.start_speed_mps = climb.length_m / climb.time_s;
  alone.ride.time_limit_s = 3.0 * climb.time_s;
  alone.riders.front().target_effort = 1.0;
  alone.riders.front().pedal_force_N = 3000.0;  // whoever rode it had the gears for it
  return alone;
}

/// Time at that power; without end when it is too little.
double time_at_s(Scenario& alone, double power_W) {
  alone.riders.front().critical_power_W = power_W;
  alone.riders.front().peak_power_W = power_W + 100.0;
  const RideResult ridden = ride_to_end(alone, {.notes_debts = false, .notes_laws = false});
  const RiderResult& rider = ridden.riders.front();
  return rider.finished ? rider.finish_time_s : std::numeric_limits<double>::infinity();
}

}  // namespace

std::optional<double> power_for_climb_W(const RiderSettings& rider, const RiddenClimb& climb) {
  Scenario alone = climb_alone(rider, climb);
  double low_W = least_W, high_W = most_W;
  if (time_at_s(alone, low_W) < climb.time_s || time_at_s(alone, high_W) > climb.time_s) return std::nullopt;
  while (high_W - low_W > 0.05) {
    const double power_W = 0.5 * (low_W + high_W);
    (time_at_s(alone, power_W) > climb.time_s ? low_W : high_W) = power_W;
  }
  return 0.5 * (low_W + high_W);
}

}  // namespace leewheel
