#include "app/oddities.hpp"

#include <fmt/format.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "io/wind_section.hpp"
#include "leewheel/units.hpp"
#include "plan/group_places.hpp"

namespace leewheel {

std::string odd_place(double m, const ShownUnits& units) { return fmt::format("{} {:.1f}", units.way_name(), units.way(m)); }

namespace {

/// Beyond these a number is possible and seldom true (assumed, but where a source is named).
constexpr double least_W_per_kg = 1.5, most_W_per_kg = 6.5;  // critical power over body mass
constexpr double least_w_prime_J = 6e3,
                 most_w_prime_J = 35e3;  // group of 16: 17.9 +- 3.3 kJ (Clark et al. 2019, J Appl Physiol 127:726)
constexpr double least_drag_area_m2 = 0.20, most_drag_area_m2 = 0.55;
constexpr double like_strength = 1.35;                            // critical power over all-up mass, strongest to weakest
constexpr double strong_wind_mps = 13.9, strong_gust_mps = 17.2;  // Beaufort 7, near gale, and 8, gale (from memory)

using List = std::vector<Oddity>;

double W_per_kg(const RiderSettings& rider) { return rider.critical_power_W / rider.body_mass_kg; }

// ---- road ----

void look_at_road(const Scenario& scenario, const ShownUnits& units, List& list) {
  const Road& road = scenario.road;
  const RoadProfile& profile = road.profile();
  const bool unmarked = std::all_of(profile.exposure_left.begin(), profile.exposure_left.end(),
                                    [](Exposure e) { return e == Exposure::open_slope; }) &&
                        std::all_of(profile.exposure_right.begin(), profile.exposure_right.end(),
                                    [](Exposure e) { return e == Exposure::open_slope; });
  if (unmarked && profile.has_position && road.length_m() > 2000.0)
    list.push_back({"road.exposure", "the whole road lies as open_slope",
                    "a recorded track has no data on the land; woods and houses take away most of the wind",
                    "mark exposure by distance in the road file"});
  if (road.landmarks().empty() && road.length_m() > 4000.0)
    list.push_back({"road.landmarks", fmt::format("none on {:.1f} {}", units.way(road.length_m()), units.way_name()),
                    "times and savings are given between landmarks, and plans name them",
                    "name a few places: foot, gate, bend, top"});
  const RoadFacts facts = road.facts();
  if (facts.steepest_100m_grade > 0.18)
    list.push_back({"road",
                    fmt::format("{:.0f} % over 100 m from {}", 100.0 * facts.steepest_100m_grade,
                                odd_place(facts.steepest_at_m, units)),
                    "roads are seldom so steep; recorded elevations often err in cuttings, on bridges and under trees",
                    "compare with the road itself; smooth the track over a longer way"});
}

// ---- air and wind ----

void look_at_air(const Scenario& scenario, List& list) {
  const double standard_Pa = standard_pressure_Pa(scenario.air_station_altitude_m),
               ratio = scenario.air.pressure_Pa / standard_Pa;
  if (std::abs(ratio - 1.0) > 0.05)
    list.push_back({"air.pressure_hPa",
                    fmt::format("{:.0f} at {:.0f} m, where {:.0f} is usual", scenario.air.pressure_Pa / 100.0,
                                scenario.air_station_altitude_m, standard_Pa / 100.0),
                    "a pressure reduced to sea level makes the air too dense",
                    "give what a barometer shows at station_altitude_m"});
}

void look_at_strength_of_wind(const Scenario& scenario, const ShownUnits& units, List& list) {
  double speed_mps = 0.0, gust_mps = 0.0;
  const auto take = [&](const std::vector<ForecastPoint>& forecast) {
    for (const ForecastPoint& p : forecast)
      speed_mps = std::max(speed_mps, p.speed_mps), gust_mps = std::max(gust_mps, p.gust_mps.value_or(0.0));
  };
  take(scenario.wind.forecast);
  for (const WindStation& station : scenario.wind.stations) take(station.forecast);
  if (speed_mps >= strong_wind_mps || gust_mps >= strong_gust_mps)
    list.push_back({"wind",
                    gust_mps > 0.0 ? fmt::format("{:.0f} {kmh}, gusts {:.0f} {kmh}", units.speed(speed_mps),
                                                 units.speed(gust_mps), fmt::arg("kmh", units.speed_name()))
                                   : fmt::format("{:.0f} {}", units.speed(speed_mps), units.speed_name()),
                    "caution: in a near gale riders are pushed across the road, and close riding is dangerous",
                    "ride another day, or another road"});
}

void look_at_belts(const Scenario& scenario, List& list) {
  const Wind wind(scenario.wind, scenario.road);
  for (std::size_t k = 0; k < scenario.wind.windbreaks.size(); ++k) {
    const Windbreak& belt = scenario.wind.windbreaks[k];
    if (belt.side == ShelterSide::both) continue;
    const double at_m = 0.5 * (belt.from_m + belt.to_m), heading = scenario.road.heading_rad(at_m);
    const Eigen::Vector2d open = wind.open_enu_mps(at_m, 0.0);
    const double to_left_mps = open.y() * std::sin(heading) - open.x() * std::cos(heading);
    const bool from_right = to_left_mps > 0.0;
    if (std::abs(to_left_mps) < 0.2 * open.norm() || from_right == (belt.side == ShelterSide::right)) continue;
    list.push_back({fmt::format("wind.windbreaks[{}]", k),
                    fmt::format("on the {}, and the wind comes from the {}",
                                windbreak_side_names[static_cast<std::size_t>(belt.side)], from_right ? "right" : "left"),
                    "a windbreak on the leeward side has no effect",
                    "check the side (as you ride) and the wind's direction"});
  }
}

// ---- riders ----

void look_at_rider(const RiderSettings& r, List& list) {
  const auto odd = [&](const std::string& what, const std::string& why, const std::string& change) {
    list.push_back({r.name, what, why, change});
  };
  if (W_per_kg(r) < least_W_per_kg || W_per_kg(r) > most_W_per_kg)
    odd(fmt::format("critical power {:.0f} W at {:.0f} kg, {:.1f} W/kg", r.critical_power_W, r.body_mass_kg, W_per_kg(r)),
        fmt::format("riders of a club lie between {:g} and {:g}", least_W_per_kg, most_W_per_kg),
        "check watts, kilograms, and that it is what the rider holds for about an hour");
  if (r.w_prime_J < least_w_prime_J || r.w_prime_J > most_w_prime_J)
    odd(fmt::format("w_prime_J {:.0f}", r.w_prime_J), "measured groups lie near 18,000 J (Clark et al. 2019)",
        "check joules against kilojoules");
  if (r.drag_area_hoods_m2 < least_drag_area_m2 || r.drag_area_hoods_m2 > most_drag_area_m2)
    odd(fmt::format("drag_area_hoods_m2 {:g}", r.drag_area_hoods_m2),
        "riders on the hoods have about 0.36 m2 (Merkes et al. 2019)", "leave it out unless it was measured");
  if (r.peak_power_W < 1.6 * r.critical_power_W)
    odd(fmt::format("peak power {:.0f} W, critical power {:.0f} W", r.peak_power_W, r.critical_power_W),
        "the best power over a few seconds is usually three times as high or more",
        "check that peak_power_W is a sprint of seconds");
  if (r.target_effort > 1.0)
    odd(fmt::format("target_effort {:g}", r.target_effort), "above critical power W' runs out within minutes",
        "plan 0.8 to 0.95 for a long climb");
}

// ---- ride ----

void look_at_company(const Scenario& scenario, List& list) {
  if (scenario.riders.size() < 2) return;
  const auto strength = [](const RiderSettings& r) { return r.critical_power_W / r.total_mass_kg(); };
  const auto [weakest, strongest] =
      std::minmax_element(scenario.riders.begin(), scenario.riders.end(),
                          [&](const RiderSettings& a, const RiderSettings& b) { return strength(a) < strength(b); });
  const double ratio = strength(*strongest) / strength(*weakest);
  if (scenario.ride.kind == RideKind::together && ratio > like_strength && scenario.road.facts().steepest_100m_grade > 0.03)
    list.push_back({"ride.kind",
                    fmt::format("together, and {} has {:.0f} % more watts a kilogram than {}", strongest->name,
                                100.0 * (ratio - 1.0), weakest->name),
                    "on steep parts the strong riders must wait, or the weak are dropped",
                    "kind: steady with regroup_at, or by_strength"});
  for (const RiderSettings& r : scenario.riders)
    if (r.wheel_skill < 0.4 && scenario.ride.formation == Formation::circulating)
      list.push_back({r.name, fmt::format("wheel_skill {:g} in a circulating line", r.wheel_skill),
                      "constant changes of place at small gaps need practice: caution",
                      "formation: turns, and let beginners sit at the back"});
  const bool beginners = std::any_of(scenario.riders.begin(), scenario.riders.end(),
                                     [](const RiderSettings& r) { return r.wheel_skill < 0.4; });
  if (scenario.tactics.gap_wary_m < 0.8 && beginners)
    list.push_back({"behaviour.gap_wary_m", fmt::format("{:g} m, with beginners in the group", scenario.tactics.gap_wary_m),
                    "a beginner needs a larger gap: caution", "leave it at 1.2 m or more"});
}

/// Where nobody can swing off, the first stays in front.
void look_at_turns(const Scenario& scenario, const ShownUnits& units, List& list) {
  if (scenario.riders.size() < 2 || scenario.ride.formation == Formation::one_in_front) return;
  double one_file_m = 0.0;
  for (double at_m = 5.0; at_m < scenario.road.length_m(); at_m += 10.0)
    if (!room_for_two(scenario, at_m)) one_file_m += 10.0;
  if (one_file_m > 0.0)
    list.push_back({"ride.formation",
                    fmt::format("{}, and {:.1f} {} of road allow one file only",
                                formation_names[static_cast<std::size_t>(scenario.ride.formation)], units.way(one_file_m),
                                units.way_name()),
                    "nobody swings off there: the first rider stays in front, at a pace to be held alone",
                    "put a strong rider in front before it, or check abreast and width_m"});
}

void look_at_regrouping(const Scenario& scenario, const ShownUnits& units, List& list) {
  const Road& road = scenario.road;
  for (const PlannedStop& where : waiting_places(scenario.ride)) {
    const double at_m = where.at_m;
    const char* const field = where.stop_s > 0.0 ? "ride.stops" : "ride.regroup_at";
    const double grade = grade_around(road, at_m);
    if (std::abs(grade) > steep_to_stand_grade)
      list.push_back({field, fmt::format("{} lies on {:.1f} %", odd_place(at_m, units), 100.0 * grade),
                      "a group that stands on a slope blocks the road, and starting again is hard",
                      "wait where it is flat, off the road"});
    if (at_m > road.length_m() - 200.0)
      list.push_back({field, fmt::format("{} is within 200 m of the finish", odd_place(at_m, units)),
                      "everyone waits at the finish anyway", "leave it out"});
  }
}

}  // namespace

std::vector<Oddity> oddities(const Scenario& scenario, const ShownUnits& units) {
  List list;
  look_at_road(scenario, units, list);
  look_at_air(scenario, list);
  look_at_strength_of_wind(scenario, units, list);
  look_at_belts(scenario, list);
  std::vector<List> of_rider(scenario.riders.size());
  tbb::parallel_for(std::size_t{0}, of_rider.size(), [&](std::size_t i) {
    look_at_rider(scenario.riders[i], of_rider[i]);
    look_at_plan(scenario, i, units, of_rider[i]);
    look_at_gears(scenario, i, units, of_rider[i]);
  });
  for (const List& some : of_rider) list.insert(list.end(), some.begin(), some.end());
  look_at_company(scenario, list);
  look_at_turns(scenario, units, list);
  look_at_regrouping(scenario, units, list);
  look_at_places_in_metres(scenario, list);
  look_at_heat(scenario, list);
  if (scenario.ride.step_s > 0.25)
    list.push_back({"ride.step_s", fmt::format("{:g} s", scenario.ride.step_s), "gaps and gusts are followed coarsely",
                    "0.1 for answers, 0.25 for many runs"});
  return list;
}

}  // namespace leewheel
