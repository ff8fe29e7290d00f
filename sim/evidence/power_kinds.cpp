/// One rider's road power and the speeds it holds, by motion.hpp.

#include <cmath>

#include "evidence/given.hpp"
#include "evidence/kinds.hpp"
#include "leewheel/units.hpp"
#include "leewheel/wind.hpp"

namespace leewheel::evidence {
namespace {

double sin_slope(const RoadLoad& load) { return std::sin(std::atan(load.grade)); }

/// Change of kinetic energy over a stretch, wheels included (W).
struct Acceleration {
  double start_mps = 0.0, end_mps = 0.0, duration_s = 1.0, wheel_inertia_kgm2 = 0.0, wheel_radius_m = 0.311;
  double power_W(double mass_kg) const {
    const double moving_kg = mass_kg + wheel_inertia_kgm2 / (wheel_radius_m * wheel_radius_m);
    return 0.5 * moving_kg * (end_mps * end_mps - start_mps * start_mps) / duration_s;
  }
};

Acceleration read_acceleration(YamlMap& given) {
  Acceleration a;
  a.start_mps = optional(given, "start_speed_mps", {0.0, 60.0}, 0.0);
  a.end_mps = optional(given, "end_speed_mps", {0.0, 60.0}, a.start_mps);
  a.duration_s = optional(given, "duration_s", positive, 1.0);
  a.wheel_inertia_kgm2 = optional(given, "wheel_inertia_kgm2", not_negative, 0.0);
  a.wheel_radius_m = optional(given, "wheel_radius_m", positive, 0.311);
  return a;
}

Work read_road_power(YamlMap& given) {
  const RoadLoad load = read_load(given);
  const double asked_mps = optional(given, "speed_mps", {0.0, 60.0, true}, 0.0);
  const double ascent_mph = optional(given, "ascent_m_per_h", {0.0, 1e5, true}, 0.0);
  given.one_of("speed_mps", "ascent_m_per_h");
  const Acceleration acceleration = read_acceleration(given);
  return [=](const WakeLaw&) -> Quantities {
    const double speed_mps = asked_mps > 0.0 ? asked_mps : ascent_mph / 3600.0 / sin_slope(load);
    const PowerSplit split = road_power(load, speed_mps);
    const double kinetic_W = acceleration.power_W(load.mass_kg);
    const double wheel_W = split.air_W + split.rolling_W + split.bearings_W + split.gravity_W + kinetic_W;
    const double crank_W = wheel_W > 0.0 ? wheel_W / load.efficiency : wheel_W;
    RoadLoad alone = load;
    alone.drag_factor = 1.0;
    const double alone_W = road_power(alone, speed_mps).crank_W;
    const ApparentWind air = apparent_wind(speed_mps, {load.wind_along_mps, load.wind_cross_mps});
    return {{"air_W", {split.air_W}},
            {"rolling_W", {split.rolling_W}},
            {"bearings_W", {split.bearings_W}},
            {"gravity_W", {split.gravity_W}},
            {"kinetic_W", {kinetic_W}},
            {"wheel_W", {wheel_W}},
            {"crank_W", {crank_W}},
            {"saved_percent", {100.0 * (1.0 - split.crank_W / alone_W)}},
            {"headwind_mps", {-load.wind_along_mps}},
            {"crosswind_mps", {std::abs(load.wind_cross_mps)}},
            {"air_along_mps", {air.along_mps}},
            {"air_speed_mps", {air.speed_mps}},
            {"yaw_deg", {deg_from_rad(air.yaw_rad)}}};
  };
}

Work read_steady_speed(YamlMap& given) {
  const RoadLoad load = read_load(given);
  const double power_W = needed(given, "power_W", {0.0, 1e6});
  const std::vector<double> cuts_percent = number_list(given["drag_cut_percent"], {0.0, 100.0});
  return [=](const WakeLaw&) -> Quantities {
    const double speed_mps = steady_speed_mps(load, power_W);
    const PowerSplit split = road_power(load, speed_mps);
    const double wheel_W = split.air_W + split.rolling_W + split.bearings_W + split.gravity_W;
    const double body_share =
        load.drag_area_m2 * load.drag_factor / (load.drag_area_m2 * load.drag_factor + load.wheel_drag_area_m2);
    Quantity saved{"saved_percent", {}}, gained{"gained_percent", {}}, identity{"identity_error_percent", {}};
    for (const double cut_percent : cuts_percent) {
      RoadLoad less = load;
      less.drag_factor *= 1.0 - cut_percent / 100.0;
      saved.values.push_back(100.0 * (1.0 - road_power(less, speed_mps).crank_W / split.crank_W));
      gained.values.push_back(100.0 * (steady_speed_mps(less, power_W) / speed_mps - 1.0));
      identity.values.push_back(saved.values.back() - cut_percent * body_share * split.air_W / wheel_W);
    }
    constexpr double h = 1e-4;  // central difference in ln P; its error is of order 1e-9
    const double exponent =
        power_W > 0.0
            ? std::log(steady_speed_mps(load, power_W * std::exp(h)) / steady_speed_mps(load, power_W * std::exp(-h))) /
                  (2.0 * h)
            : 0.0;
    return {{"speed_mps", {speed_mps}},
            {"speed_kmh", {kmh_from_mps(speed_mps)}},
            {"air_share_percent", {100.0 * split.air_W / wheel_W}},
            {"rolling_share_percent", {100.0 * split.rolling_W / wheel_W}},
            {"gravity_share_percent", {100.0 * split.gravity_W / wheel_W}},
            {"ascent_m_per_h", {3600.0 * speed_mps * sin_slope(load)}},
            {"speed_exponent", {exponent}},
            saved,
            gained,
            identity};
  };
}

/// Seconds a kilometre gained by a draft at the power that holds `speed_mps` alone.
Work read_time_gain(YamlMap& given) {
  const RoadLoad load = read_load(given);
  const double speed_kmh = needed(given, "alone_kmh", {1.0, 200.0});
  const std::vector<double> drag_percent = number_list(given.require("drag_percent", "numbers"), {0.0, 110.0});
  return [=](const WakeLaw&) -> Quantities {
    const double alone_mps = mps_from_kmh(speed_kmh), power_W = road_power(load, alone_mps).crank_W;
    Quantity gain{"time_gain_s_per_km", {}};
    for (const double percent : drag_percent) {
      RoadLoad sheltered = load;
      sheltered.drag_factor = percent / 100.0;
      gain.values.push_back(1000.0 / alone_mps - 1000.0 / steady_speed_mps(sheltered, power_W));
    }
    return {gain};
  };
}

}  // namespace

std::vector<Kind> power_kinds() {
  return {{"road_power",
           "power at a given speed, by cause",
           {"air_W", "rolling_W", "bearings_W", "gravity_W", "kinetic_W", "wheel_W", "crank_W", "saved_percent",
            "headwind_mps", "crosswind_mps", "air_along_mps", "air_speed_mps", "yaw_deg"},
           read_road_power},
          {"steady_speed",
           "the speed a power holds, where the power goes, what less drag saves (same speed) or gains (same power)",
           {"speed_mps", "speed_kmh", "air_share_percent", "rolling_share_percent", "gravity_share_percent",
            "ascent_m_per_h", "speed_exponent", "saved_percent", "gained_percent", "identity_error_percent"},
           read_steady_speed},
          {"time_gain",
           "seconds per kilometre gained by drafting at the power that holds a speed alone",
           {"time_gain_s_per_km"},
           read_time_gain}};
}

}  // namespace leewheel::evidence
