#include "leewheel/further_rider.hpp"

#include <algorithm>

namespace leewheel {

BunchRider in_bunch(const SeenRider& r, const RiderSettings& settings, const WakeBase& law, double land_turbulence) {
  const double along_mps = r.speed_mps - r.wind_along_mps, cross2 = r.wind_cross_mps * r.wind_cross_mps;
  const double turbulence =
      wake_turbulence(law, land_turbulence, r.wind_along_mps * r.wind_along_mps + cross2, along_mps * along_mps + cross2);
  // What the others' wakes took off: only CdA, not the drag of the wheels.
  const double open_air_W = r.air_W * r.drag_area_m2 / (r.drag_area_m2 * r.drag_factor + settings.wheel_drag_area_m2) /
                            settings.drivetrain_efficiency;
  return {r.distance_m, r.lateral_m, r.drag_area_m2, along_mps, r.wind_cross_mps, turbulence, open_air_W, r.alone_W};
}

void FurtherRider::join(const WakeLaw& law, const std::vector<BunchRider>& riders) {
  law_ = &law;
  for (auto* column : {&x_m_, &y_m_, &area_m2_, &along_mps_, &cross_mps_, &turbulence_, &open_air_W_, &alone_W_})
    column->clear();
  for (const BunchRider& r : riders) {
    x_m_.push_back(r.distance_m), y_m_.push_back(r.lateral_m), area_m2_.push_back(r.drag_area_m2);
    along_mps_.push_back(r.along_mps), cross_mps_.push_back(r.cross_mps), turbulence_.push_back(r.turbulence);
    open_air_W_.push_back(r.open_air_W), alone_W_.push_back(r.alone_W);
  }
  reach_ = wake_reach_m(law, {x_m_, y_m_, area_m2_, along_mps_, cross_mps_, turbulence_});
}

std::size_t FurtherRider::like(double distance_m) const {
  const auto behind = std::ranges::partition_point(x_m_, [&](double x) { return x >= distance_m; }) - x_m_.begin();
  return static_cast<std::size_t>(behind > 0 ? behind - 1 : 0);
}

double FurtherRider::drag_share(double distance_m, double lateral_m) {
  if (nobody()) return 1.0;
  const auto before = [&](double limit_m) {  // riders at or ahead of that place
    return std::ranges::partition_point(x_m_, [&](double x) { return x >= limit_m; }) - x_m_.begin();
  };
  const auto from = before(distance_m + reach_.behind_m), here = before(distance_m),
             to = before(distance_m - reach_.ahead_m);
  const std::size_t same = like(distance_m);
  const auto fill = [&](std::vector<double>& into, const std::vector<double>& all, double own) {
    into.assign(all.begin() + from, all.begin() + here);
    into.push_back(own);
    into.insert(into.end(), all.begin() + here, all.begin() + to);
  };
  fill(near_x_, x_m_, distance_m), fill(near_y_, y_m_, lateral_m), fill(near_area_, area_m2_, area_m2_[same]);
  fill(near_along_, along_mps_, along_mps_[same]), fill(near_cross_, cross_mps_, cross_mps_[same]);
  fill(near_turbulence_, turbulence_, turbulence_[same]);
  factor_.resize(near_x_.size()), side_.resize(near_x_.size());
  wake_factors(*law_, {near_x_, near_y_, near_area_, near_along_, near_cross_, near_turbulence_}, {factor_, side_});
  return factor_[static_cast<std::size_t>(here - from)];
}

double FurtherRider::saved_W(double distance_m, double share) const {
  if (nobody()) return 0.0;
  const std::size_t same = like(distance_m);
  return std::min((1.0 - share) * open_air_W_[same], alone_W_[same]);
}

WorthBehind worth_behind(FurtherRider& further, double rider_distance_m, double rider_lateral_m) {
  constexpr double aside_m = 1.2, step_m = 0.1;
  const double distance_m = rider_distance_m - bicycle_length_m - close_gap_m;
  const auto at = [&](double lateral_m) {
    return WorthBehind{distance_m, lateral_m, further.saved_W(distance_m, further.drag_share(distance_m, lateral_m))};
  };
  WorthBehind best = at(rider_lateral_m);
  for (int k = 1; k * step_m < aside_m; ++k)
    for (const double side : {-1.0, 1.0})
      if (const WorthBehind tried = at(rider_lateral_m + side * k * step_m); tried.saved_W > best.saved_W) best = tried;
  return best;
}

}  // namespace leewheel
