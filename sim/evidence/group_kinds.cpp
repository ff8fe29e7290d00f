/// What holds a group together, worked out from the power equation and the gap law.

#include <cmath>
#include <complex>

#include "evidence/given.hpp"
#include "evidence/kinds.hpp"
#include "leewheel/units.hpp"

namespace leewheel::evidence {
namespace {

/// Power to follow over the power of the front, at the front's steady speed.
Work read_hold_fraction(YamlMap& given) {
  const RoadLoad load = read_load(given);
  const double front_W = needed(given, "front_power_W", {0.0, 1e4, true});
  const double drag_percent = needed(given, "follower_drag_percent", {0.0, 110.0});
  return [=](const WakeLaw&) -> Quantities {
    RoadLoad behind = load;
    behind.drag_factor *= drag_percent / 100.0;
    const double fraction = road_power(behind, steady_speed_mps(load, front_W)).crank_W / front_W;
    return {{"hold_fraction", {fraction}}, {"comes_apart_percent", {100.0 * (1.0 - fraction)}}};
  };
}

/// Equal riders who share the front evenly: each spends the same time in every place, power is linear in the drag factor.
Work read_line_speed(YamlMap& given) {
  const RoadLoad load = read_load(given);
  const double mean_W = needed(given, "mean_power_W", {0.0, 1e4, true});
  const std::vector<double> drag_percent = number_list(given.require("drag_percent", "numbers"), {0.0, 110.0});
  return [=](const WakeLaw&) -> Quantities {
    Quantity speed{"speed_kmh", {}};
    double sum = 0.0;
    for (std::size_t riders = 1; riders <= drag_percent.size(); ++riders) {
      sum += drag_percent[riders - 1] / 100.0;
      RoadLoad shared = load;
      shared.drag_factor = sum / static_cast<double>(riders);
      speed.values.push_back(kmh_from_mps(steady_speed_mps(shared, mean_W)));
    }
    return {speed};
  };
}

/// Extra work for each metre of gap closed, riding faster than the group by a little.
Work read_bridging(YamlMap& given) {
  const RoadLoad load = read_load(given);
  const double power_W = needed(given, "power_W", {0.0, 1e4, true}),
               closing_mps = needed(given, "closing_mps", {0.0, 10.0, true});
  return [=](const WakeLaw&) -> Quantities {
    const double v = steady_speed_mps(load, power_W);
    return {{"cost_J_per_m", {(road_power(load, v + closing_mps).crank_W - power_W) / closing_mps}}};
  };
}

/// A line under a = k1 (s - s0 - T v) + k2 (v_ahead - v): from rider to rider a disturbance of speed is carried by
/// G(w) = (k1 + i w k2) / (k1 - w^2 + i w (k2 + k1 T)); it grows nowhere iff k1 T^2/2 + k2 T >= 1.
Work read_string_stability(YamlMap& given) {
  const double k1 = needed(given, "gap_stiffness_1ps2", {0.0, 10.0, true}),
               k2 = needed(given, "speed_damping_1ps", {0.0, 10.0});
  const double T_s = needed(given, "headway_s", {0.0, 10.0});
  long riders = 2;
  given["riders"].whole(2, 1000, riders);
  return [=](const WakeLaw&) -> Quantities {
    double peak = 1.0, at_radps = 0.0;
    for (int step = 1; step <= 100000; ++step) {
      const double w = 1e-4 * step;
      const std::complex<double> gain = std::complex(k1, w * k2) / std::complex(k1 - w * w, w * (k2 + k1 * T_s));
      if (std::abs(gain) > peak) {
        peak = std::abs(gain);
        at_radps = w;
      }
    }
    return {{"stability", {0.5 * k1 * T_s * T_s + k2 * T_s}},
            {"peak_gain", {peak}},
            {"peak_at_rad_per_s", {at_radps}},
            {"last_over_first", {std::pow(peak, static_cast<double>(riders - 1))}}};
  };
}

}  // namespace

std::vector<Kind> group_kinds() {
  return {
      {"hold_fraction", "power to follow over power in front", {"hold_fraction", "comes_apart_percent"}, read_hold_fraction},
      {"line_speed", "speed of a line of 1, 2, 3 ... equal riders who share the front", {"speed_kmh"}, read_line_speed},
      {"bridging", "work for a metre of gap closed", {"cost_J_per_m"}, read_bridging},
      {"string_stability",
       "what a line makes of a disturbance, without the front-rider term",
       {"stability", "peak_gain", "peak_at_rad_per_s", "last_over_first"},
       read_string_stability}};
}

}  // namespace leewheel::evidence
