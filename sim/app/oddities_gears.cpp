/// What `check` says of gears, of heat, and of places given in kilometres where metres were meant.

#include <fmt/format.h>

#include "app/oddities.hpp"
#include "leewheel/low_gear.hpp"

namespace leewheel {

void look_at_gears(const Scenario& scenario, std::size_t rider, const ShownUnits& units, std::vector<Oddity>& list) {
  const std::vector<LowGearRamp> ramps = low_gear_ramps(scenario, rider);
  const LowGearRamp* worst = nullptr;
  std::size_t walked = 0;
  for (const LowGearRamp& ramp : ramps) {
    walked += ramp.walks();
    if (!worst || ramp.cadence_rpm < worst->cadence_rpm) worst = &ramp;
  }
  if (walked == 0) return;
  list.push_back({scenario.riders[rider].name,
                  fmt::format("{} {:.2f}, {:.0f} %: {:.0f} turns a minute in the lowest gear at {:.0f} W, {:.1f} {}",
                              units.way_name(), units.way(worst->from_m), 100.0 * worst->grade, worst->cadence_rpm,
                              worst->power_W, units.speed(worst->speed_mps), units.speed_name()),
                  fmt::format("below {:.0f} turns a minute nobody pedals on: this rider walks, on {}", walks_below_rpm,
                              walked == 1 ? std::string("one ramp") : fmt::format("{} ramps", walked)),
                  "check the grade there, a lower gear (lowest_development_m), or plan to walk"});
}

void look_at_places_in_metres(const Scenario& scenario, std::vector<Oddity>& list) {
  constexpr double near_start_m = 100.0;
  for (const PlannedStop& where : waiting_places(scenario.ride))
    if (where.at_m > 0.0 && where.at_m < near_start_m && where.at_m * 1e3 < scenario.road.length_m())
      list.push_back({where.stop_s > 0.0 ? "ride.stops" : "ride.regroup_at",
                      fmt::format("{:g} m after the start", where.at_m), "a number without a unit is metres",
                      fmt::format("{:g} km, if kilometres were meant", where.at_m)});
}

void look_at_heat(const Scenario& scenario, std::vector<Oddity>& list) {
  constexpr double hot_C = 30.0;
  if (scenario.air.temperature_C < hot_C) return;
  list.push_back({"air.temperature_C", fmt::format("{:g}", scenario.air.temperature_C),
                  scenario.heat.on
                      ? "caution: heat takes power, and can make riders ill"
                      : "caution: heat can make riders ill, and takes power that no answer counts without heat: yes",
                  "ride early, easier and in the shade; know where there is water"});
}

}  // namespace leewheel
