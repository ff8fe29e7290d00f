/// Motion through time, ridden by the program's own integrator (ride.hpp), so that what is checked is what is used.

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "evidence/given.hpp"
#include "evidence/kinds.hpp"
#include "leewheel/ride.hpp"
#include "leewheel/units.hpp"
#include "ride/watch.hpp"

namespace leewheel::evidence {
namespace {

/// A rider who does only as told: no wobble of effort, no limits to strength or pedals, one posture.
RiderSettings obedient_rider(double mass_kg, double drag_area_m2, double wheel_drag_area_m2, double efficiency) {
  RiderSettings rider;
  rider.name = "rider";
  rider.body_mass_kg = mass_kg;
  rider.kit_mass_kg = rider.bike_mass_kg = 0.0;
  rider.w_prime_J = 1e15;
  rider.pedal_force_N = 1e12;
  rider.drag_area_hoods_m2 = rider.drag_area_drops_m2 = rider.drag_area_upright_m2 = drag_area_m2;
  rider.wheel_drag_area_m2 = wheel_drag_area_m2;
  rider.wheel_inertia_kgm2 = 0.0;
  rider.drivetrain_efficiency = efficiency;
  return rider;
}

TacticsSettings no_caution() {
  TacticsSettings tactics;
  tactics.effort_wobble = 0.0;
  tactics.descent_speed_mps = 1000.0;
  tactics.cornering_mps2 = 1e9;
  return tactics;
}

/// Dry air at 15 C of the asked density; the law of moist air is nearly linear in pressure.
AirState air_of_density(double density_kgpm3) {
  AirState air{.temperature_C = 15.0, .pressure_Pa = 101325.0, .humidity_fraction = 0.0};
  for (int i = 0; i < 20; ++i) air.pressure_Pa *= density_kgpm3 / air_density_kgpm3(air);
  return air;
}

RoadProfile uniform_road(double length_m, double grade, double rolling) {
  RoadProfile road;
  road.spacing_m = 1.0;
  const auto nodes = static_cast<std::size_t>(std::ceil(length_m)) + 2;
  const double rise = std::sin(std::atan(grade));  // a road is measured along its surface
  for (std::size_t i = 0; i < nodes; ++i) road.elevation_m.push_back(rise * static_cast<double>(i));
  road.heading_rad.assign(nodes, 0.0);
  road.rolling.assign(nodes, rolling);
  road.width_m.assign(nodes, 6.0);
  road.exposure_left.assign(nodes, Exposure::open_slope);
  road.exposure_right = road.exposure_left;
  road.abreast.assign(nodes, 1);
  return road;
}

/// One rider on a road, in calm air.
Scenario lonely_scenario(RoadProfile road, const RiderSettings& rider) {
  Scenario scenario{.title = {},
                    .question = {},
                    .finding = {},
                    .road = Road(std::move(road)),
                    .air = {},
                    .air_station_altitude_m = 0.0,
                    .gravity_mps2 = standard_gravity_mps2,
                    .wind = {},
                    .riders = {rider},
                    .plans = {{}},
                    .ride = {},
                    .tactics = no_caution(),
                    .groups = {},
                    .wake = {}};
  return scenario;
}

/// Places and speeds at every step of one rider's ride.
struct Course {
  std::vector<double> time_s, distance_m, speed_mps;

  /// Cubic through distance and speed at both ends of a step.
  std::pair<double, double> at_time(double asked_s) const {
    std::size_t k = 1;
    while (k + 1 < time_s.size() && time_s[k] < asked_s) ++k;
    const double dt = time_s[k] - time_s[k - 1], u = (asked_s - time_s[k - 1]) / dt;
    const double x0 = distance_m[k - 1], x1 = distance_m[k], v0 = speed_mps[k - 1] * dt, v1 = speed_mps[k] * dt;
    const double a = 2.0 * (x0 - x1) + v0 + v1, b = 3.0 * (x1 - x0) - 2.0 * v0 - v1;
    return {x0 + u * (v0 + u * (b + u * a)), (v0 + u * (2.0 * b + 3.0 * u * a)) / dt};
  }
  double time_at(double asked_m) const {
    double low_s = time_s.front(), high_s = time_s.back();
    if (distance_m.back() < asked_m) return std::numeric_limits<double>::quiet_NaN();  // stalled on the way
    for (int i = 0; i < 100; ++i) {
      const double middle_s = 0.5 * (low_s + high_s);
      (at_time(middle_s).first < asked_m ? low_s : high_s) = middle_s;
    }
    return 0.5 * (low_s + high_s);
  }
};

/// The ride has bearings and air that thins with height; the closed forms have neither. Both are made too small to matter by
/// similarity: mass, drag area and power all times `scale` leave the motion as it is and the bearings behind, and gravity
/// times `scale` with slope and rolling over it leave every force as it is on a road that hardly rises.
constexpr double scale = 1e4;

struct Motion {
  RoadLoad load;
  double power_W = 0.0, start_mps = 0.0, wheel_inertia_kgm2 = 0.0, wheel_radius_m = 0.311, step_s = 0.1;
  std::vector<double> at_times_s, at_distances_m;
  bool to_a_stop = false;

  Scenario scenario(double time_s) const {
    RiderSettings rider = obedient_rider(load.mass_kg * scale, load.drag_area_m2 * load.drag_factor * scale,
                                         load.wheel_drag_area_m2 * scale, load.efficiency);
    rider.wheel_inertia_kgm2 = wheel_inertia_kgm2 * scale;
    rider.wheel_radius_m = wheel_radius_m;
    rider.critical_power_W = std::max(power_W, 1e-6) * scale;
    rider.peak_power_W = 10.0 * rider.critical_power_W;
    rider.target_effort = 1.0;
    const double sine = std::sin(std::atan(load.grade)) / scale, cosine = std::cos(std::atan(load.grade));
    const double grade = std::tan(std::asin(sine)), rolling = load.rolling * cosine / scale / std::cos(std::asin(sine));
    Scenario s = lonely_scenario(uniform_road(40.0 * time_s + 100.0, grade, rolling), rider);
    s.air = air_of_density(load.density_kgpm3);
    s.gravity_mps2 = load.gravity_mps2 * scale;
    s.ride.step_s = step_s;
    s.ride.time_limit_s = time_s;
    s.ride.start_speed_mps = start_mps;
    return s;
  }

  Course ride(double time_s) const {
    Ride ride(scenario(time_s));
    Course course;
    const auto is_moving = [&](const Ride&) {
      return !to_a_stop || course.speed_mps.size() < 2 || course.speed_mps.back() > 0.0;
    };
    watch(ride, {0.0, is_moving}, [&](const RideView& view) {
      course.time_s.push_back(view.time_s());
      course.distance_m.push_back(view.distance_m(0));
      course.speed_mps.push_back(view.now.speed_mps[0]);
    });
    return course;
  }
};

/// The end of a coast up a slope: the last steps before the stop are followed to rest at their own deceleration.
std::pair<double, double> stop_of(const Course& course) {
  std::size_t last = 0;
  while (last + 1 < course.speed_mps.size() && course.speed_mps[last + 1] > 0.0) ++last;
  const double v = course.speed_mps[last], before = course.speed_mps[last - 1];
  const double slowing_mps2 = (before - v) / (course.time_s[last] - course.time_s[last - 1]);
  return {course.distance_m[last] + 0.5 * v * v / slowing_mps2, course.time_s[last] + v / slowing_mps2};
}

Work read_motion(YamlMap& given) {
  Motion motion;
  motion.load = read_load(given);
  motion.power_W = optional(given, "power_W", {0.0, 1e4}, 0.0);
  motion.start_mps = optional(given, "start_speed_mps", {0.0, 40.0}, 0.0);
  motion.wheel_inertia_kgm2 = optional(given, "wheel_inertia_kgm2", {0.0, 10.0}, 0.0);
  motion.wheel_radius_m = optional(given, "wheel_radius_m", {0.05, 1.0}, 0.311);
  motion.step_s = optional(given, "step_s", {0.02, 1.0}, 0.1);
  motion.at_times_s = number_list(given["at_times_s"], {0.0, 3600.0, true});
  motion.at_distances_m = number_list(given["at_distances_m"], {0.0, 20000.0, true});
  motion.to_a_stop = yes_no(given, "to_a_stop", false);
  if (motion.load.bearings || motion.load.wind_along_mps != 0.0 || motion.load.wind_cross_mps != 0.0)
    given.value().fault("found bearings or wind, expected neither: this kind has closed forms to compare with");
  const int asked = !motion.at_times_s.empty() + !motion.at_distances_m.empty() + motion.to_a_stop;
  if (asked != 1) given.value().fault("expected one of at_times_s, at_distances_m, to_a_stop");
  return [motion](const WakeLaw&) -> Quantities {
    constexpr double long_enough_s = 600.0;
    Quantity time{"time_s", {}}, distance{"distance_m", {}}, speed{"speed_mps", {}};
    const auto put = [&](double t, double x, double v) {
      time.values.push_back(t);
      distance.values.push_back(x);
      speed.values.push_back(v);
    };
    if (!motion.at_times_s.empty()) {
      const Course course = motion.ride(*std::max_element(motion.at_times_s.begin(), motion.at_times_s.end()) + 1.0);
      for (const double t : motion.at_times_s) put(t, course.at_time(t).first, course.at_time(t).second);
    } else if (!motion.at_distances_m.empty()) {
      const Course course = motion.ride(long_enough_s);
      for (const double x : motion.at_distances_m) {
        const double t = course.time_at(x);
        put(t, x, course.at_time(t).second);
      }
    } else {
      const auto [x, t] = stop_of(motion.ride(long_enough_s));
      put(t, x, 0.0);
    }
    return {time, distance, speed};
  };
}

/// Stretches in a row, each with its share of an even power.
struct Pacing {
  struct Stretch {
    double length_m, grade, share;
  };
  std::vector<Stretch> stretches;
  RoadLoad load;
  double even_W = 0.0;

  /// Each stretch at the speed its power holds: no time to speed up or slow down.
  Quantities steady() const {
    double even_s = 0.0, varied_s = 0.0, work_J = 0.0;
    for (const Stretch& stretch : stretches) {
      RoadLoad here = load;
      here.grade = stretch.grade;
      even_s += stretch.length_m / steady_speed_mps(here, even_W);
      const double time_s = stretch.length_m / steady_speed_mps(here, stretch.share * even_W);
      varied_s += time_s;
      work_J += stretch.share * even_W * time_s;
    }
    return answers(even_s, varied_s, work_J / varied_s);
  }

  /// By the ride, with all its inertia and bearings.
  Quantities ridden() const {
    std::vector<double> elevation_m{0.0};
    std::vector<PlanStep> plan;
    double end_m = 0.0;
    for (const Stretch& stretch : stretches) {
      plan.push_back({end_m, stretch.share});
      end_m += stretch.length_m;
      const double rise = std::sin(std::atan(stretch.grade));
      while (static_cast<double>(elevation_m.size()) <= end_m + 0.5) elevation_m.push_back(elevation_m.back() + rise);
    }
    RoadProfile road = uniform_road(end_m - 1.0, 0.0, load.rolling);
    const double lowest_m = *std::min_element(elevation_m.begin(), elevation_m.end());
    for (std::size_t i = 0; i < road.elevation_m.size(); ++i)
      road.elevation_m[i] = elevation_m[std::min(i, elevation_m.size() - 1)] - lowest_m;
    RiderSettings rider = obedient_rider(load.mass_kg, load.drag_area_m2, load.wheel_drag_area_m2, load.efficiency);
    rider.critical_power_W = even_W;
    rider.peak_power_W = 10.0 * even_W;
    rider.target_effort = 1.0;
    Scenario scenario = lonely_scenario(std::move(road), rider);
    scenario.air = air_of_density(load.density_kgpm3);
    scenario.gravity_mps2 = load.gravity_mps2;
    const RiderResult even = ride_to_end(scenario).riders[0];
    scenario.plans = {plan};
    const RiderResult varied = ride_to_end(scenario).riders[0];
    return answers(even.finish_time_s, varied.finish_time_s, varied.mean_power_W);
  }

  static Quantities answers(double even_s, double varied_s, double mean_W) {
    return {{"even_time_s", {even_s}},
            {"varied_time_s", {varied_s}},
            {"time_saved_s", {even_s - varied_s}},
            {"varied_mean_power_W", {mean_W}}};
  }
};

Work read_pacing(YamlMap& given) {
  Pacing pacing;
  pacing.load = read_load(given);
  pacing.even_W = needed(given, "even_power_W", {1.0, 2000.0});
  const bool steady = yes_no(given, "steady", false);
  for (const YamlValue& item : given.require("stretches", "a list of {length_m, grade_percent, power_percent}").items()) {
    YamlMap stretch(item);
    pacing.stretches.push_back({needed(stretch, "length_m", {10.0, 1e5}),
                                needed(stretch, "grade_percent", {-30.0, 30.0}) / 100.0,
                                needed(stretch, "power_percent", {10.0, 300.0}) / 100.0});
  }
  long times = 1;
  given["times"].whole(1, 100, times);
  const std::vector<Pacing::Stretch> once = pacing.stretches;
  for (long round = 1; round < times; ++round) pacing.stretches.insert(pacing.stretches.end(), once.begin(), once.end());
  return [=](const WakeLaw&) -> Quantities { return steady ? pacing.steady() : pacing.ridden(); };
}

/// The heart's share of its highest rate, as the ride records it, after a step of effort up and one down.
Work read_heart_rate(YamlMap& given) {
  const double hard = needed(given, "hard_percent", {10.0, 150.0}) / 100.0,
               easy = needed(given, "easy_percent", {1.0, 100.0}) / 100.0;
  return [=](const WakeLaw&) -> Quantities {
    constexpr double hard_until_m = 10000.0;
    RiderSettings rider = obedient_rider(80.0, 0.32, 0.0, 0.976);
    Scenario s = lonely_scenario(uniform_road(14000.0, 0.0, 0.005), rider);
    s.plans = {{{0.0, hard}, {hard_until_m, easy}}};
    Ride ride(s);
    std::vector<double> share, distance_m;
    watch(ride, {}, [&](const RideView& view) {
      if (!view.whole_interval) return;
      share.push_back(view.now.heart_rate_share[0]);
      distance_m.push_back(view.distance_m(0));
    });
    // First order: the time in which all but 1/e of the way to the new level is gone.
    const auto time_constant_s = [&](std::size_t from, std::size_t to) {
      const double level = share[to - 1], reached = level + (share[from] - level) * std::exp(-1.0);
      for (std::size_t k = from + 1; k < to; ++k)
        if ((share[k] - reached) * (share[k - 1] - reached) <= 0.0)
          return static_cast<double>(k - 1 - from) + (reached - share[k - 1]) / (share[k] - share[k - 1]);
      return std::numeric_limits<double>::quiet_NaN();
    };
    const auto turn =
        static_cast<std::size_t>(std::lower_bound(distance_m.begin(), distance_m.end(), hard_until_m) - distance_m.begin());
    return {{"rise_s", {time_constant_s(0, turn)}}, {"fall_s", {time_constant_s(turn + 2, share.size())}}};
  };
}

}  // namespace

std::vector<Kind> motion_kinds() {
  return {
      {"motion", "a rider alone through time by the ride's integrator", {"time_s", "distance_m", "speed_mps"}, read_motion},
      {"pacing",
       "time of a course at one power and at a power by stretch",
       {"even_time_s", "varied_time_s", "time_saved_s", "varied_mean_power_W"},
       read_pacing},
      {"heart_rate", "time constants of the heart rate of a ride", {"rise_s", "fall_s"}, read_heart_rate}};
}

}  // namespace leewheel::evidence
