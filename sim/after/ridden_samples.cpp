#include "after/ridden_samples.hpp"

#include <algorithm>
#include <cmath>

#include "leewheel/tactics.hpp"

namespace leewheel {

namespace {

constexpr double finish_near_m = 60.0;  // a recording that ends so near the finish reached it (assumed)

/// Riders who are together in pairs are one group, named by its first rider; -1 alone.
std::vector<float> groups_at(double time_s, std::size_t riders, std::span<const TogetherSpan> spans) {
  std::vector<std::size_t> group(riders);
  for (std::size_t k = 0; k < riders; ++k) group[k] = k;
  for (const TogetherSpan& span : spans) {
    if (time_s < span.from_s || time_s > span.to_s || group[span.a] == group[span.b]) continue;
    const std::size_t keep = std::min(group[span.a], group[span.b]), drop = std::max(group[span.a], group[span.b]);
    std::replace(group.begin(), group.end(), drop, keep);
  }
  std::vector<float> ids;
  for (const std::size_t id : group)
    ids.push_back(std::count(group.begin(), group.end(), id) > 1 ? static_cast<float>(id) : -1.0f);
  return ids;
}

class Sampler {
 public:
  Sampler(const RideAir& air, std::span<const RecordedRider> riders, const WindChange& change)
      : air_(air), riders_(riders), change_(change), pedal_J_(riders.size(), 0.0) {
    for (const RecordedRider& one : riders) wbal_J_.push_back(one.rider->w_prime_J);
  }

  RideSample at(double time_s, std::span<const TogetherSpan> spans) {
    RideSample sample;
    sample.time_s = time_s;
    for (const SampleColumn& column : sample_columns()) (sample.*column.values).assign(riders_.size(), 0.0f);
    for (std::size_t i = 0; i < riders_.size(); ++i) fill(i, time_s, sample);
    sample.group_id = groups_at(time_s, riders_.size(), spans);
    return sample;
  }

 private:
  void fill(std::size_t i, double time_s, RideSample& s) {
    const RiddenWay& way = *riders_[i].way;
    const RiderSettings& rider = *riders_[i].rider;
    const auto k = static_cast<std::size_t>(std::clamp(time_s - way.begin_s, 0.0, static_cast<double>(way.size() - 1)));
    const bool over = time_s > way.end_s(), riding = !over && time_s >= way.begin_s;
    const double at_m = way.distance_m[k], v = riding ? way.speed_mps[k] : 0.0;
    const double power_W = riding && !std::isnan(way.power_W[k]) ? way.power_W[k] : 0.0;
    const double length_m = air_.scenario().road.length_m();
    const bool finished = over && at_m > length_m - finish_near_m;
    pedal_J_[i] += power_W;
    wbal_J_[i] = std::clamp(wbal_after_J(air_.scenario().ride.recovery_law, rider.strength(), wbal_J_[i], power_W, 1.0), 0.0,
                            rider.w_prime_J);
    const RideAir::Place place = air_.place(at_m, time_s);
    const RoadWind wind = air_.wind(at_m, air_.forecast_enu_mps(at_m, time_s) + change_.at(time_s));
    const Lane lane = lane_at(air_.scenario(), at_m);
    const auto put = [i](std::vector<float>& column, double value) { column[i] = static_cast<float>(value); };
    put(s.distance_m, finished ? length_m : at_m), put(s.lateral_m, 0.5 * (lane.low_m + lane.high_m));
    put(s.speed_mps, v), put(s.power_W, power_W), put(s.alone_power_W, power_W), put(s.drag_factor, 1.0);
    put(s.wbal_J, wbal_J_[i]), put(s.pedal_J, pedal_J_[i]), put(s.wheel_of, -1.0), put(s.gap_m, -1.0);
    const Role role = finished ? Role::finished : v < waiting_mps ? Role::waiting : Role::alone;
    put(s.role, static_cast<double>(role));
    put(s.wind_along_mps, wind.along_mps), put(s.wind_cross_mps, wind.cross_mps);
    put(s.drag_area_m2, posture_area_m2(rider, place.climbing, v));
  }

  const RideAir& air_;
  std::span<const RecordedRider> riders_;
  const WindChange& change_;
  std::vector<double> pedal_J_, wbal_J_;
};

}  // namespace

std::vector<RideSample> ridden_samples(const RideAir& air, std::span<const RecordedRider> riders,
                                       std::span<const TogetherSpan> spans, const WindChange& change) {
  double end_s = 0.0;
  for (const RecordedRider& one : riders) end_s = std::max(end_s, one.way->end_s());
  Sampler sampler(air, riders, change);
  std::vector<RideSample> samples;
  for (double t = 0.0; t <= end_s + 1.0; t += 1.0) samples.push_back(sampler.at(t, spans));
  return samples;
}

}  // namespace leewheel
