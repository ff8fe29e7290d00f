/// What the riders of a ride do, against what is said of groups: rides of two across the convergence ratio, and the speed that
/// riders of mixed strength hold.

#include <algorithm>
#include <cmath>

#include "evidence/given.hpp"
#include "evidence/kinds.hpp"
#include "evidence/ride_setup.hpp"
#include "leewheel/ride.hpp"
#include "leewheel/units.hpp"
#include "ride/watch.hpp"

namespace leewheel::evidence {
namespace {

/// One in front who gives `front_W` and one on the wheel whose strength is front_W over `strength_ratio`.
struct Two {
  RideSetup setup;
  double front_W;

  Scenario scenario(double front_over_strength) const {
    Scenario s = ride_of(setup, {front_W, front_W / front_over_strength});
    s.ride.kind = RideKind::free;
    s.ride.formation = Formation::one_in_front;
    s.ride.start_speed_mps = steady_speed_mps(setup.load, front_W);
    return s;
  }
  /// Seconds by which the second finishes behind the first; below 0 ahead.
  double behind_s(double front_over_strength) const {
    const RideResult result = ride_to_end(scenario(front_over_strength), {.notes_debts = false});
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
    RoadLoad behind = setup.load;
    behind.drag_factor *= drag_factor;
    return road_power(behind, steady_speed_mps(setup.load, front_W)).crank_W / front_W;
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
  const Two two{read_ride_setup(given, 1000.0), needed(given, "front_power_W", {0.0, 1e4, true})};
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

/// Share of the time between two places in which each rider was the first of them all.
std::vector<double> front_percent(const Scenario& s, double from_m) {
  std::vector<double> first_s(s.riders.size(), 0.0);
  double all_s = 0.0;
  Ride ride(s, {.notes_debts = false});
  watch(ride, {1.0, [&](const Ride& now) { return now.first_distance_m() < s.road.length_m() - 1.0; }},
        [&](const RideView& view) {
          if (view.ride.first_distance_m() < from_m) return;
          const std::vector<float>& at_m = view.now.distance_m;
          first_s[static_cast<std::size_t>(std::ranges::max_element(at_m) - at_m.begin())] += 1.0;
          all_s += 1.0;
        });
  for (double& seconds : first_s) seconds *= 100.0 / all_s;
  return first_s;
}

/// Speed of riders of mixed strength who ride together and share the front, over the second half.
Work read_group_speed(YamlMap& given) {
  const RideSetup setup = read_ride_setup(given, 2000.0);
  const std::vector<double> power_W = number_list(given.require("strength_W", "numbers"), {0.0, 1e4, true});
  const double behind_percent = needed(given, "drag_percent", {0.0, 110.0}), half_m = 0.5 * setup.length_m;
  return [=](const WakeLaw&) -> Quantities {
    const double feasible = feasible_mps(setup.load, behind_percent / 100.0, power_W);
    Scenario s = ride_of(setup, power_W);
    s.ride.start_speed_mps = feasible;
    const RideResult result = ride_to_end(s, {.notes_debts = false, .timing_points_m = {half_m}});
    double time_s = 0.0, used = 0.0;
    for (std::size_t k = 0; k < power_W.size(); ++k) {
      const RiderResult& rider = result.riders[k];
      time_s = std::max(time_s, rider.finish_time_s - rider.timing.front().time_s);
      used = std::max(used, rider.mean_power_W / power_W[k]);
    }
    return {{"feasible_speed_kmh", {kmh_from_mps(feasible)}},
            {"ride_speed_kmh", {kmh_from_mps(half_m / time_s)}},
            {"ride_share_percent", {100.0 * half_m / time_s / feasible}},
            {"hardest_effort_percent", {100.0 * used}},
            {"front_percent", front_percent(s, half_m)}};
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
           {"feasible_speed_kmh", "ride_speed_kmh", "ride_share_percent", "hardest_effort_percent", "front_percent"},
           read_group_speed}};
}

}  // namespace leewheel::evidence
