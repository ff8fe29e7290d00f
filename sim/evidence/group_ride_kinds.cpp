/// What the riders of a ride do, against what is said of groups: rides of two across the convergence ratio, and the speed that
/// riders of mixed strength hold.

#include <algorithm>
#include <cmath>
#include <string>

#include "evidence/given.hpp"
#include "evidence/kinds.hpp"
#include "leewheel/ride.hpp"
#include "leewheel/units.hpp"
#include "ride/watch.hpp"

namespace leewheel::evidence {
namespace {

/// Riders alike in all but power on one grade, in the air of `load`, who ride as evenly as no one does.
Scenario line_of(const RoadLoad& load, const std::vector<double>& power_W, double w_prime_J, double length_m,
                 double start_mps) {
  Stretch stretch;
  stretch.length_m = length_m;
  stretch.grade = load.grade;
  stretch.width_m = 6.0;
  RoadProfile profile = profile_from_stretches({stretch}, 0.0);
  profile.rolling.assign(profile.rolling.size(), load.rolling);
  Scenario s{.title = {},
             .question = {},
             .finding = {},
             .road = Road(std::move(profile)),
             .air = {},
             .wind = {},
             .riders = {},
             .plans = {},
             .ride = {},
             .tactics = {},
             .groups = {},
             .wake = {}};
  s.gravity_mps2 = load.gravity_mps2;
  for (int round = 0; round < 20; ++round) s.air.pressure_Pa *= load.density_kgpm3 / air_density_kgpm3(s.air);
  s.tactics.effort_wobble = 0.0;
  s.tactics.hold_margin = 1.0;
  s.tactics.front_effort = 2.0;
  s.ride.start_speed_mps = start_mps;
  for (std::size_t k = 0; k < power_W.size(); ++k) {
    RiderSettings rider;
    rider.name = std::string(1, static_cast<char>('a' + k));
    rider.body_mass_kg = load.mass_kg - rider.kit_mass_kg - rider.bike_mass_kg;
    rider.drag_area_hoods_m2 = rider.drag_area_drops_m2 = rider.drag_area_upright_m2 = load.drag_area_m2;
    rider.wheel_drag_area_m2 = load.wheel_drag_area_m2;
    rider.wheel_inertia_kgm2 = 0.0;
    rider.drivetrain_efficiency = load.efficiency;
    rider.critical_power_W = power_W[k];
    rider.w_prime_J = w_prime_J;
    rider.target_effort = 1.0;
    s.riders.push_back(rider);
  }
  return s;
}

/// One in front at a steady power and one on the wheel whose strength is front_W over `strength_ratio`.
struct Two {
  RoadLoad load;
  double front_W, length_m;

  Scenario scenario(double front_over_strength) const {
    Scenario s = line_of(load, {front_W, front_W / front_over_strength}, 100.0, length_m, steady_speed_mps(load, front_W));
    s.ride.kind = RideKind::free;
    s.ride.formation = Formation::one_in_front;
    s.ride.start_order = {"a", "b"};
    s.tactics.passing_margin_mps = 0.05;
    s.tactics.wprime_reserve = 0.0;
    return s;
  }
  /// Seconds by which the second finishes behind the first; below 0 ahead.
  double behind_s(double front_over_strength) const {
    const RideResult result = ride_to_end(scenario(front_over_strength));
    return result.riders[1].finish_time_s - result.riders[0].finish_time_s;
  }
  bool holds_or_passes(double front_over_strength) const { return behind_s(front_over_strength) < 4.0; }
  bool passes(double front_over_strength) const { return behind_s(front_over_strength) < 0.0; }

  /// Power on the wheel over power in front, by the drag factor that the ride gives to a follower as strong as the front.
  double hold_fraction() const {
    Ride ride(scenario(1.0));
    constexpr double settled_s = 200.0;
    double drag_factor = 1.0;
    watch(ride, {settled_s, [](const Ride& now) { return now.time_s() < settled_s; }},
          [&](const RideView& view) { drag_factor = view.now.drag_factor[1]; });
    RoadLoad behind = load;
    behind.drag_factor *= drag_factor;
    return road_power(behind, steady_speed_mps(load, front_W)).crank_W /
           road_power(load, steady_speed_mps(load, front_W)).crank_W;
  }
};

/// Largest value between `low` (where it is so) and `high` (where it is not).
template <class Holds>
double border(double low, double high, Holds holds, int rounds = 9) {
  for (int round = 0; round < rounds; ++round) {
    const double middle = 0.5 * (low + high);
    (holds(middle) ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

/// r = P_front d / strength, d the share of the front's power that the wheel asks. The borders are found by rides of two.
Work read_convergence(YamlMap& given) {
  const Two two{read_load(given), needed(given, "front_power_W", {0.0, 1e4, true}),
                needed(given, "length_m", {1000.0, 1e5})};
  return [=](const WakeLaw&) -> Quantities {
    const double d = two.hold_fraction();
    const double off = border(1.0, 1.8 / d, [&](double ratio) { return two.holds_or_passes(ratio); });
    const double by = border(0.6, 1.1, [&](double ratio) { return two.passes(ratio); });
    Quantity behind{"behind_s", {}};  // in the midst of each zone and just beside its borders
    for (const double r : {0.8 * d, 0.93 * d, 0.5 * (d + 1.0), 0.985, 1.015, 1.1})
      behind.values.push_back(two.behind_s(r / d));
    return {{"hold_fraction", {d}},
            {"comes_off_above_ratio", {off * d}},
            {"passes_below_ratio_over_d", {by}},
            {"comes_apart_percent", {100.0 * (1.0 - 1.0 / off)}},
            behind};
  };
}

/// The fastest speed at which, with L in front and F behind, every x = (CP - F)/(L - F) is at least 0 and min(1, x) add up to 1.
double feasible_mps(const RoadLoad& load, double behind_factor, const std::vector<double>& power_W) {
  RoadLoad behind = load;
  behind.drag_factor *= behind_factor;
  return border(
      0.5, 25.0,
      [&](double v) {
        const double front_W = road_power(load, v).crank_W, behind_W = road_power(behind, v).crank_W;
        double sum = 0.0;
        for (const double cp_W : power_W) {
          if (cp_W < behind_W) return false;
          sum += std::min(1.0, (cp_W - behind_W) / std::max(1e-9, front_W - behind_W));
        }
        return sum >= 1.0;
      },
      40);
}

/// Speed of riders of mixed strength who ride together and share the front.
Work read_group_speed(YamlMap& given) {
  const RoadLoad load = read_load(given);
  const std::vector<double> power_W = number_list(given.require("strength_W", "numbers"), {0.0, 1e4, true});
  const double behind_percent = needed(given, "drag_percent", {0.0, 110.0}),
               length_m = needed(given, "length_m", {2000.0, 1e5});
  return [=](const WakeLaw&) -> Quantities {
    const double feasible = feasible_mps(load, behind_percent / 100.0, power_W);
    Scenario s = line_of(load, power_W, 20000.0, length_m, feasible);
    s.ride.kind = RideKind::together;
    s.tactics.spend_horizon_s = 7200.0;  // W' is for the turns in front
    s.tactics.wprime_reserve = 0.0;
    RoadProfile profile = s.road.profile();
    profile.landmarks = {{"half", 0.5 * length_m}};
    s.road = Road(std::move(profile));
    const RideResult result = ride_to_end(s);
    double time_s = 0.0, used = 0.0;
    for (std::size_t k = 0; k < power_W.size(); ++k) {
      const std::vector<Passage>& past = result.riders[k].landmarks;
      time_s = std::max(time_s, past.back().time_s - past.front().time_s);
      used = std::max(used, result.riders[k].mean_power_W / power_W[k]);
    }
    return {{"feasible_speed_kmh", {kmh_from_mps(feasible)}},
            {"ride_speed_kmh", {kmh_from_mps(0.5 * length_m / time_s)}},
            {"ride_share_percent", {100.0 * 0.5 * length_m / time_s / feasible}},
            {"hardest_effort_percent", {100.0 * used}}};
  };
}

}  // namespace

std::vector<Kind> group_ride_kinds() {
  return {{"convergence",
           "rides of two across the convergence ratio: who passes, holds, comes off",
           {"hold_fraction", "comes_off_above_ratio", "passes_below_ratio_over_d", "comes_apart_percent", "behind_s"},
           read_convergence},
          {"group_speed",
           "speed that riders of mixed strength can hold together, and do",
           {"feasible_speed_kmh", "ride_speed_kmh", "ride_share_percent", "hardest_effort_percent"},
           read_group_speed}};
}

}  // namespace leewheel::evidence
