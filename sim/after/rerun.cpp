#include "after/rerun.hpp"

#include <algorithm>
#include <cmath>

#include "after/blocks.hpp"

namespace leewheel {

namespace {

constexpr double step_s = 0.5;
constexpr double slowest_mps = 0.6;  // whoever cannot ride walks (assumed)
constexpr double stop_near_m = 60.0;

class Rerun {
 public:
  Rerun(const RideAir& air, const RiderSettings& rider, const RerunParts& parts, double to_m)
      : air_(air), rider_(rider), parts_(parts), to_m_(to_m) {
    mass_kg_ = parts.numbers->mass_kg;
    moving_kg_ = mass_kg_ + rider.wheel_inertia_kgm2 / (rider.wheel_radius_m * rider.wheel_radius_m);
    brake_mps2_ = air.scenario().tactics.comfort_braking_mps2;
  }

  std::vector<double> from(double from_m, double start_mps, double start_s) {
    const std::size_t edges = parts_.drag_factor->size() + 1;
    std::vector<double> at_s(edges, 0.0);
    at_m_ = from_m, speed_mps_ = start_mps, time_s_ = 0.0, start_s_ = start_s;
    std::size_t edge = static_cast<std::size_t>(std::floor(from_m / cell_length_m)) + 1;
    while (next_stand_ < parts_.waits->stands.size() && parts_.waits->stands[next_stand_].at_m < from_m - 1.0) ++next_stand_;
    constexpr double longest_s = 48.0 * 3600.0;
    while (at_m_ < to_m_ - 1e-6 && time_s_ < longest_s) {
      const double before_m = at_m_, before_s = time_s_;
      step();
      stand();
      const double passed_s = ridden_s_, way_m = at_m_ - before_m;
      for (; edge < edges && std::min(to_m_, cell_length_m * static_cast<double>(edge)) <= at_m_ + 1e-9; ++edge) {
        const double edge_m = std::min(to_m_, cell_length_m * static_cast<double>(edge));
        at_s[edge] = before_s + passed_s * std::clamp((edge_m - before_m) / way_m, 0.0, 1.0);
      }
    }
    for (; edge < edges; ++edge) at_s[edge] = time_s_;
    return at_s;
  }

 private:
  double against_N(double at_m, double v) const {
    const double moment_s = start_s_ + time_s_;
    const RideAir::Place place = air_.place(at_m, moment_s);
    const RoadWind wind = air_.wind(at_m, air_.forecast_enu_mps(at_m, moment_s) + parts_.wind->at(moment_s));
    const double factor = (*parts_.drag_factor)[cell(at_m)];
    const double area_m2 =
        parts_.numbers->drag_area * posture_area_m2(rider_, place.climbing, v) * factor + rider_.wheel_drag_area_m2;
    const double g = air_.scenario().gravity_mps2;
    const double rolling =
        parts_.numbers->rolling[surface_of(air_.scenario().road.rolling(at_m))] * rider_.rolling_multiplier;
    return air_force_N(place.half_density, area_m2, v - wind.along_mps, wind.cross_mps) +
           mass_kg_ * g * rolling * place.rolling_cos + bearing_force_N(v) +
           mass_kg_ * g * slope_sine(air_.scenario().road.grade(at_m));
  }
  std::size_t cell(double at_m) const {
    return std::min(static_cast<std::size_t>(std::max(0.0, at_m) / cell_length_m), parts_.drag_factor->size() - 1);
  }
  double gain_mps2(double at_m, double v) const {
    const double power_W = parts_.power_share * parts_.effort->power_W[cell(at_m)] * rider_.drivetrain_efficiency;
    return (power_W / std::max(v, 1.0) - against_N(at_m, v)) / moving_kg_;
  }

  /// Heun's step: slope at the start and at the guessed end.
  void step() {
    const double a0 = gain_mps2(at_m_, speed_mps_), guess_mps = std::max(slowest_mps, speed_mps_ + a0 * step_s);
    const double a1 = gain_mps2(at_m_ + 0.5 * (speed_mps_ + guess_mps) * step_s, guess_mps);
    double v = std::max(slowest_mps, speed_mps_ + 0.5 * (a0 + a1) * step_s);
    v = std::min(v, parts_.effort->limit_mps[cell(at_m_)]);
    if (next_stand_ < parts_.waits->stands.size()) {
      const double left_m = std::max(0.0, parts_.waits->stands[next_stand_].at_m - at_m_);
      if (left_m < stop_near_m) v = std::min(v, std::max(slowest_mps, std::sqrt(2.0 * brake_mps2_ * left_m)));
    }
    double way_m = 0.5 * (speed_mps_ + v) * step_s;
    ridden_s_ = step_s;
    if (at_m_ + way_m > to_m_) ridden_s_ *= (to_m_ - at_m_) / way_m, way_m = to_m_ - at_m_;
    at_m_ += way_m, time_s_ += ridden_s_, speed_mps_ = v;
  }

  void stand() {
    while (next_stand_ < parts_.waits->stands.size() && parts_.waits->stands[next_stand_].at_m <= at_m_ + 0.5) {
      time_s_ += parts_.waits->stands[next_stand_].stood_s();
      speed_mps_ = slowest_mps;
      ++next_stand_;
    }
  }

  const RideAir& air_;
  const RiderSettings& rider_;
  const RerunParts& parts_;
  double to_m_, mass_kg_ = 0.0, moving_kg_ = 0.0, brake_mps2_ = 1.0;
  double at_m_ = 0.0, speed_mps_ = 0.0, time_s_ = 0.0, start_s_ = 0.0, ridden_s_ = 0.0;
  std::size_t next_stand_ = 0;
};

}  // namespace

std::vector<double> rerun_s(const RideAir& air, const RiderSettings& rider, const RerunParts& parts, double from_m,
                            double to_m, double start_s) {
  return Rerun(air, rider, parts, to_m).from(from_m, parts.effort->start_mps, start_s);
}

}  // namespace leewheel
