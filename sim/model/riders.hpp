#pragma once
/// The riders of a ride: one array a quantity, riders in the order of their names, so that the order of a file never
/// matters. Each part is written by the phase of the step that its comment names, and read by all.

#include <array>
#include <cstdint>
#include <vector>

#include "leewheel/event.hpp"
#include "leewheel/integral_wbal.hpp"
#include "leewheel/ledger.hpp"
#include "leewheel/rider.hpp"
#include "leewheel/wake.hpp"
#include "model/columns.hpp"
#include "model/power_limit.hpp"
#include "model/track.hpp"

namespace leewheel {

using RiderIndex = std::uint32_t;
inline constexpr RiderIndex nobody = no_rider;
inline constexpr double beside_m = 0.5;  ///< riders side by side are at least this far apart (assumed)

/// What riders and their bicycles are; written once, at the start.
#define LEEWHEEL_BODY(column)                                                                                         \
  column(weight_N, 1.0, "of rider, kit and bicycle") column(moving_mass_kg, 1.0, "mass and the wheels' inertia")      \
      column(per_moving_mass, 1.0, "1 / moving_mass_kg") column(efficiency, 1.0, "of the drivetrain")                 \
          column(per_efficiency, 1.0, "1 / efficiency") column(wheel_area_m2, 0.0, "drag area of the turning wheels") \
              column(rolling_multiplier, 0.0, "of the road's rolling coefficient")                                    \
                  column(pedal_limit_N, 0.0, "largest mean force at the wheel's rim in the lowest gear")              \
                      column(area_hoods_m2, 0.0, "drag area with the hands on the hoods")                             \
                          column(area_drops_m2, 0.0, "drag area in the drops")                                        \
                              column(area_upright_m2, 0.0, "drag area sitting up")                                    \
                                  column(own_gap_m, 0.0, "wheel gap that the rider likes")
struct Bodies {
  LEEWHEEL_COLUMNS(LEEWHEEL_BODY)
  std::vector<RiderSettings> settings;
  std::vector<std::vector<PlanStep>> plans;
  std::vector<std::uint64_t> name_hash;  ///< for the rider's own random numbers
  std::vector<std::uint8_t> squad;       ///< which of two groups by strength
};

/// Place, speed and power; written by `advance` and `steer`.
#define LEEWHEEL_MOTION(column)                                                                                             \
  column(x_m, 0.0, "front wheel's distance from the start")                                                                 \
      column(y_m, 0.0, "place across the road, > 0 left of its middle") column(v_mps, 0.0, "speed along the road")          \
          column(x_before_m, 0.0, "x_m at the start of the step") column(elevation_m, 0.0, "of the road at x_m")            \
              column(area_m2, 0.0, "drag area in the present posture") column(power_W, 0.0, "at the cranks")                \
                  column(alone_W, 0.0, "what the same motion would cost without the others' wakes")                         \
                      column(wish_mps2, 0.0, "acceleration wished in this step")                                            \
                          column(accel_mps2, 0.0, "acceleration reached in the last step")                                  \
                              column(rides_freely, 0.0, "1: at `free_W`, holding neither a wheel nor a pace; 0: otherwise") \
                                  column(sheltered_s, 0.0, "time in the wakes of others")                                   \
                                      column(on_road, 0.0, "1 while riding, 0 once finished")
struct Motion {
  LEEWHEEL_COLUMNS(LEEWHEEL_MOTION)
  std::vector<std::uint8_t> riding;  ///< `on_road` as a flag
  std::vector<float> past_mps;       ///< speeds of the last moments, a row of `count` for each step of reaction time
};

/// What a rider meets; written by `Airflow` and held until the next time.
#define LEEWHEEL_AIR(column)                                                                                              \
  column(wind_along_mps, 0.0, "gust included, > 0 pushes on")                                                             \
      column(wind_cross_mps, 0.0, "gust included, > 0 towards the left") column(half_density, 0.0, "rho / 2 (kg/m3)")     \
          column(rolling_N, 0.0, "rolling resistance on this surface")                                                    \
              column(climbing, 0.0, "0 on the flat, 1 where a rider sits up to climb")                                    \
                  column(drag_factor, 1.0, "drag over drag alone") column(side_factor, 1.0, "side force over that alone") \
                      column(yaw_factor, 1.0, "of the drag area, by the angle of the air")
struct Air {
  LEEWHEEL_COLUMNS(LEEWHEEL_AIR)
};

/// Who is near; written by `look_around`.
#define LEEWHEEL_NEAR(column)                                                                                   \
  column(y_low_m, 0.0, "room sideways left by the lane, to the right") column(y_high_m, 0.0, "and to the left") \
      column(overlap_s, 0.0, "time with a wheel beside another's: a hazard, counted")
struct Near {
  LEEWHEEL_COLUMNS(LEEWHEEL_NEAR)
  std::vector<RiderIndex> blocker;  ///< nearest rider ahead in the way, or nobody
};

/// What a rider means to do; written by the decisions alone, once a second.
#define LEEWHEEL_COMMAND(column)                                                                                   \
  column(free_W, 0.0, "power when riding freely") column(most_W, 0.0, "never more than this now")                  \
      column(pace_mps, 0.0, "speed to hold in front; 0 = ride free_W")                                             \
          column(stop_at_m, never_m, "comes to rest here; beyond the road = never")                                \
              column(y_target_m, 0.0, "wished place across the road") column(wish_gap_m, 0.0, "wheel gap to hold") \
                  column(most_mps2, 0.5, "speeds up no faster than this behind a wheel or going back")
struct Commands {
  LEEWHEEL_COLUMNS(LEEWHEEL_COMMAND)
  std::vector<RiderIndex> wheel_of;  ///< whose wheel is held, or nobody
  std::vector<RiderIndex> front_of;  ///< first rider of the line that the rider is in
};

/// W' (J) that the same powers leave under each published law.
using WbalByLaw = std::array<double, recovery_law_names.size()>;

/// What a rider can give; written by `recover` and `beat`.
#define LEEWHEEL_STRENGTH(column)                                                                                   \
  column(critical_W, 0.0, "critical power now") column(peak_per_J, 0.0, "power above it for each joule of W' left") \
      column(wbal_J, 0.0, "W' left") column(wbal_least_J, 0.0, "the least so far")                                  \
          column(pedal_before_J, 0.0, "work when W' was last brought up to date")                                   \
              column(heavy_s, 0.0, "time ridden hard, for fatigue")                                                 \
                  column(heat_share, 0.0, "share of critical power that heat takes")                                \
                      column(heart_share, 0.5, "heart rate as a share of the highest")
struct Strengths {
  LEEWHEEL_COLUMNS(LEEWHEEL_STRENGTH)
  std::vector<WbalByLaw>
      wbal_by_law_J;  ///< what the same powers leave, by laws that are neither the ride's nor the integral
  std::vector<IntegralWbal> spent;
};

/// The columns of `EnergyLedger`; written by `advance` and `keep_apart`.
#define LEEWHEEL_LEDGER(column)                                                                  \
  column(pedal_J, 0.0, "work at the cranks") column(drivetrain_J, 0.0, "lost in the drivetrain") \
      column(air_J, 0.0, "into the air") column(rolling_J, 0.0, "into the tyres")                \
          column(bearings_J, 0.0, "into the bearings") column(braking_J, 0.0, "into the brakes") \
              column(potential_J, 0.0, "into height") column(kinetic_J, 0.0, "into speed")       \
                  column(alone_J, 0.0, "work the same motion would have cost without the others' wakes")
struct Ledgers {
  LEEWHEEL_COLUMNS(LEEWHEEL_LEDGER)
  EnergyLedger of(std::size_t i) const {
    return {pedal_J[i],   drivetrain_J[i], air_J[i],     rolling_J[i], bearings_J[i],
            braking_J[i], potential_J[i],  kinetic_J[i], alone_J[i],   alone_J[i] - pedal_J[i]};
  }
  /// Takes back all but `share` of what was booked since `before`. Height stays, for a road ends level; speed closes the books.
  void keep_share_since(const EnergyLedger& before, double share, std::size_t i);
};

struct Riders : Bodies, Motion, Air, Near, Commands, Strengths {
  std::size_t count = 0;
  Ledgers ledgers;

  void resize(std::size_t n);
  /// What is known of a rider at the start.
  void set(RiderIndex i, const RiderSettings& settings, double gravity_mps2, const HandlingSettings& handling);

  /// Wheel gap from `behind` to `ahead`, front wheel to rear wheel; < 0 while they overlap.
  double gap_m(RiderIndex behind, RiderIndex ahead) const { return wheel_gap_m(x_m[ahead], x_m[behind]); }
  double power_limit_W(RiderIndex i) const { return leewheel::power_limit_W(critical_W[i], peak_per_J[i], wbal_J[i]); }
};

}  // namespace leewheel
