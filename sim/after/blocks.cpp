#include "after/blocks.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel {

namespace {

// All assumed.
constexpr double slowest_mps = 2.0;
constexpr double freewheel_W = 10.0;
constexpr std::size_t freewheel_s = 2;  // so long, and who brakes freewheels; a second is a pause between two strokes
constexpr std::size_t shortest_block_s = 15;
constexpr double speed_noise_share = 0.25;  // standard deviation of speed over the root of that of single places
constexpr double slow_place_noise_m = 2.5;  // places wander by so much within a block
constexpr double model_noise_W = 4.0, model_noise_share = 0.02;
constexpr double company_noise_share = 0.15;  // of the drag: who rides ahead is not known

double moving_mass_kg(const RiderSettings& r) { return r.wheel_inertia_kgm2 / (r.wheel_radius_m * r.wheel_radius_m); }

/// By second: ridden, with power, pedalling and not about to brake or just off the brakes.
std::vector<bool> usable(const RiddenWay& way) {
  std::vector<bool> good(way.size());
  std::size_t freewheels = 0;
  for (std::size_t k = 0; k < way.size(); ++k)
    good[k] = way.known[k] && !std::isnan(way.power_W[k]) && way.speed_mps[k] > slowest_mps;
  for (std::size_t k = 0; k < way.size(); ++k) {
    freewheels = way.power_W[k] < freewheel_W ? freewheels + 1 : 0;
    if (freewheels < freewheel_s) continue;
    for (std::size_t j = k - std::min(k, freewheel_s); j <= std::min(k + 1, way.size() - 1); ++j) good[j] = false;
  }
  return good;
}

/// Power over the second that begins at k. Devices write the mean of the second before, a model the value of the moment; the mean
/// of both ends serves either to half a second.
double power_W(const RiddenWay& way, std::size_t k) { return 0.5 * (way.power_W[k] + way.power_W[k + 1]); }

void add_second(const RideAir& air, const RiddenForFit& ridden, std::size_t k, Block& block) {
  const RiddenWay& way = *ridden.way;
  const double way_m = way.distance_m[k + 1] - way.distance_m[k], middle_m = way.distance_m[k] + 0.5 * way_m;
  const double time_s = way.time_s(k) + 0.5, speed_mps = 0.5 * (way.speed_mps[k] + way.speed_mps[k + 1]);
  const RideAir::Place place = air.place(middle_m, time_s);
  const RiderSettings& rider = ridden.rider;
  block.span_s += 1.0;
  block.wheel_J += rider.drivetrain_efficiency * power_W(way, k);
  block.rolling_J_per_kg[surface_of(air.scenario().road.rolling(middle_m))] +=
      air.scenario().gravity_mps2 * rider.rolling_multiplier * place.rolling_cos * way_m;
  block.bearings_J += bearing_force_N(speed_mps) * way_m;
  const double saved = ridden.saved_share[k];
  block.company = block.company || saved > 0.0;
  block.alone = block.alone && (ridden.alone.empty() || ridden.alone[k]);
  block.seconds.push_back({middle_m, time_s, way_m, speed_mps, posture_area_m2(rider, place.climbing, speed_mps),
                           place.half_density, rider.wheel_drag_area_m2, air.forecast_enu_mps(middle_m, time_s), saved});
}

void close_block(const RideAir& air, const RiddenForFit& ridden, std::size_t from, std::size_t to, Block& block) {
  const RiddenWay& way = *ridden.way;
  const Road& road = air.scenario().road;
  const double v0 = way.speed_mps[from], v1 = way.speed_mps[to], g = air.scenario().gravity_mps2;
  block.kinetic_J_per_kg = 0.5 * (v1 * v1 - v0 * v0);
  block.kinetic_J = moving_mass_kg(ridden.rider) * block.kinetic_J_per_kg;
  block.rise_J_per_kg = g * (road.elevation_m(way.distance_m[to]) - road.elevation_m(way.distance_m[from]));
  block.at_m = 0.5 * (way.distance_m[from] + way.distance_m[to]);
  const double mass_kg = ridden.rider.total_mass_kg(), speed_sd_mps = speed_noise_share * std::sqrt(way.place_noise_m);
  const double place_sd_m = slow_place_noise_m * std::min(1.0, way.place_noise_m / 0.3);
  const auto end_W = [&](double speed_mps, double distance_m) {
    return mass_kg * std::hypot(speed_sd_mps * speed_mps, g * place_sd_m * road.grade(distance_m)) / block.span_s;
  };
  block.from_W = end_W(v0, way.distance_m[from]), block.to_W = end_W(v1, way.distance_m[to]);
  const double wheel_W = block.wheel_J / block.span_s;
  double company_W = 0.0;
  for (const BlockSecond& s : block.seconds)
    if (s.saved_share > 0.0)
      company_W += company_noise_share * s.half_density * s.area_m2 * s.speed_mps * s.speed_mps * s.speed_mps / block.span_s;
  block.model_W = std::hypot(model_noise_W + model_noise_share * wheel_W, company_W);
}

}  // namespace

std::size_t surface_of(double rolling) {
  std::size_t best = 0;
  for (std::size_t k = 1; k < surface_names.size(); ++k)
    if (std::abs(rolling_coefficient(static_cast<Surface>(k)) - rolling) <
        std::abs(rolling_coefficient(static_cast<Surface>(best)) - rolling))
      best = k;
  return best;
}

std::vector<Block> blocks_of(const RideAir& air, const RiddenForFit& ridden, std::size_t rider) {
  const RiddenWay& way = *ridden.way;
  const std::vector<bool> good = usable(way);
  std::vector<Block> blocks;
  for (std::size_t k = 0, end = 0; k < way.size(); k = std::max(end, k + 1)) {
    for (end = k; end + 1 < way.size() && good[end] && good[end + 1] && end < k + static_cast<std::size_t>(block_s);) ++end;
    if (end < k + shortest_block_s) continue;
    Block block{.rider = rider, .from_s = way.time_s(k)};
    block.follows = !blocks.empty() && blocks.back().from_s + blocks.back().span_s == block.from_s;
    for (std::size_t i = k; i < end; ++i) add_second(air, ridden, i, block);
    close_block(air, ridden, k, end, block);
    blocks.push_back(std::move(block));
  }
  return blocks;
}

}  // namespace leewheel
