/// From matched points to a steady way on whole seconds.

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "after/match.hpp"

namespace leewheel {

namespace {

constexpr double longest_gap_s = 10.0;      // between points, for what lies between to count as known (assumed)
constexpr double acceleration_mps2 = 0.35;  // white over a second: road, wind and rider together (assumed)
constexpr double paused_mps = 0.5;          // who moves on more slowly over a gap stood there (assumed)
constexpr double speed_noise_mps = 0.3;     // of a recorded speed (assumed)

struct Seen {
  std::size_t point;
  double time_s, distance_m, speed_mps;
};

std::vector<Seen> seen_of(const Recording& recording, const std::vector<double>& distance_m) {
  std::vector<Seen> seen;
  for (std::size_t i = 0; i < distance_m.size(); ++i)
    if (!std::isnan(distance_m[i]))
      seen.push_back({i, recording.points[i].time_s, distance_m[i], recording.points[i].speed_mps});
  return seen;
}

/// Of single places, from how much three in a row miss a straight line; what riders do themselves is far less.
double place_noise_m(const std::vector<Seen>& seen) {
  std::vector<double> misses_m;
  for (std::size_t k = 2; k < seen.size(); ++k) {
    const double whole_s = seen[k].time_s - seen[k - 2].time_s;
    if (whole_s > longest_gap_s) continue;
    const double share = (seen[k - 1].time_s - seen[k - 2].time_s) / whole_s;
    misses_m.push_back(std::abs(seen[k - 1].distance_m - std::lerp(seen[k - 2].distance_m, seen[k].distance_m, share)));
  }
  if (misses_m.size() < 10) return 1.0;
  const auto middle = misses_m.begin() + static_cast<std::ptrdiff_t>(misses_m.size() / 2);
  std::nth_element(misses_m.begin(), middle, misses_m.end());
  return std::clamp(*middle / (0.6745 * std::sqrt(1.5)), 0.05, 5.0);
}

using State = Eigen::Vector2d;  // distance, speed
using Spread = Eigen::Matrix2d;

struct Step {
  State before, now;
  Spread before_spread, now_spread;
  Eigen::Matrix2d on;
};

Spread drift(double dt) {
  Spread q;
  q << dt * dt * dt / 3.0, dt * dt / 2.0, dt * dt / 2.0, dt;
  return acceleration_mps2 * acceleration_mps2 * q;
}

void look(State& state, Spread& spread, const Eigen::RowVector2d& what, double value, double noise) {
  const Eigen::Vector2d gain = spread * what.transpose() / ((what * spread * what.transpose()).value() + noise * noise);
  state += gain * (value - (what * state).value());
  spread = (Eigen::Matrix2d::Identity() - gain * what) * spread;
}

std::vector<State> smoothed(const std::vector<Seen>& seen, double noise_m) {
  std::vector<Step> steps(seen.size());
  State state(seen[0].distance_m, 3.0);
  Spread spread = Eigen::Vector2d(noise_m * noise_m + 1.0, 9.0).asDiagonal();
  for (std::size_t k = 0; k < seen.size(); ++k) {
    const double dt = k > 0 ? seen[k].time_s - seen[k - 1].time_s : 0.0;
    steps[k].on << 1.0, dt, 0.0, 1.0;
    steps[k].before = steps[k].on * state;
    steps[k].before_spread = steps[k].on * spread * steps[k].on.transpose() + drift(dt);
    state = steps[k].before, spread = steps[k].before_spread;
    look(state, spread, {1.0, 0.0}, seen[k].distance_m, noise_m);
    if (!std::isnan(seen[k].speed_mps)) look(state, spread, {0.0, 1.0}, seen[k].speed_mps, speed_noise_mps);
    steps[k].now = state, steps[k].now_spread = spread;
  }
  std::vector<State> out(seen.size());
  out.back() = steps.back().now;
  for (std::size_t k = seen.size() - 1; k-- > 0;) {
    const Eigen::Matrix2d gain = steps[k].now_spread * steps[k + 1].on.transpose() * steps[k + 1].before_spread.inverse();
    out[k] = steps[k].now + gain * (out[k + 1] - steps[k + 1].before);
  }
  return out;
}

/// Between two points the way is the cubic with their places and speeds; over a gap speeds are held so low that it never turns back
/// (Fritsch & Carlson 1980, SIAM J. Numer. Anal. 17:238).
void lay_second(State a, State b, double span_s, double share, RiddenWay& way) {
  if (span_s > longest_gap_s)
    for (State* end : {&a, &b}) (*end)[1] = std::clamp((*end)[1], 0.0, 3.0 * std::max(0.0, b[0] - a[0]) / span_s);
  const double s = share, s2 = s * s, s3 = s2 * s;
  way.distance_m.push_back((2 * s3 - 3 * s2 + 1) * a[0] + (s3 - 2 * s2 + s) * span_s * a[1] + (3 * s2 - 2 * s3) * b[0] +
                           (s3 - s2) * span_s * b[1]);
  way.speed_mps.push_back(((6 * s2 - 6 * s) * (a[0] - b[0])) / span_s + (3 * s2 - 4 * s + 1) * a[1] +
                          (3 * s2 - 2 * s) * b[1]);
}

/// The value at a second from the points about it: that of the point at this time or next after it, as devices write them.
double value_at(const Recording& recording, std::size_t before, std::size_t after, double share,
                double RecordedPoint::*value) {
  const double a = recording.points[before].*value, b = recording.points[after].*value;
  if (std::isnan(a) || std::isnan(b)) return share < 0.5 ? a : b;
  return std::lerp(a, b, share);
}

}  // namespace

RiddenWay smooth_way(const Recording& recording, const std::vector<double>& distance_m, double length_m) {
  RiddenWay way;
  const std::vector<Seen> seen = seen_of(recording, distance_m);
  if (seen.size() < 2) return way;
  way.place_noise_m = place_noise_m(seen);
  const std::vector<State> states = smoothed(seen, way.place_noise_m);
  way.begin_s = std::ceil(seen.front().time_s);
  std::size_t k = 0;
  double reached_m = 0.0;
  for (double t = way.begin_s; t <= seen.back().time_s; t += 1.0) {
    while (k + 2 < seen.size() && seen[k + 1].time_s <= t) ++k;
    const double span_s = seen[k + 1].time_s - seen[k].time_s, share = (t - seen[k].time_s) / span_s;
    lay_second(states[k], states[k + 1], span_s, share, way);
    way.distance_m.back() = std::clamp(way.distance_m.back(), reached_m, std::max(reached_m, length_m));
    reached_m = way.distance_m.back();
    way.speed_mps.back() = std::max(0.0, way.speed_mps.back());
    const bool paused = span_s > longest_gap_s && states[k + 1][0] - states[k][0] < paused_mps * span_s;
    const bool near = span_s <= longest_gap_s, use = near || share < 1e-9;
    way.known.push_back(near || paused);  // a device that pauses knows its place
    const auto value = [&](double RecordedPoint::*what) {
      return use ? value_at(recording, seen[k].point, seen[k + 1].point, share, what) : not_recorded;
    };
    way.power_W.push_back(paused && !use ? 0.0 : value(&RecordedPoint::power_W));
    way.heart_rate_bpm.push_back(value(&RecordedPoint::heart_rate_bpm));
  }
  return way;
}

double RiddenWay::distance_at_m(double time_s) const {
  const double position = std::clamp(time_s - begin_s, 0.0, static_cast<double>(size() - 1));
  const auto before = std::min(static_cast<std::size_t>(position), size() - 2);
  return std::lerp(distance_m[before], distance_m[before + 1], position - static_cast<double>(before));
}

double RiddenWay::arrival_s(double at_m) const {
  const auto found = std::lower_bound(distance_m.begin(), distance_m.end(), at_m);
  if (found == distance_m.end()) return not_recorded;
  const auto k = static_cast<std::size_t>(found - distance_m.begin());
  if (k == 0) return begin_s;
  const double step_m = distance_m[k] - distance_m[k - 1];
  return time_s(k - 1) + (step_m > 0.0 ? (at_m - distance_m[k - 1]) / step_m : 0.0);
}

}  // namespace leewheel
