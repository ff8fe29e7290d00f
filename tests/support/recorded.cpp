#include "support/recorded.hpp"

#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <random>

#include "leewheel/units.hpp"
#include "leewheel/wind.hpp"
#include "ride/watch.hpp"

namespace leewheel::recorded {

namespace {

/// A first-order process of standard deviation 1.
class Wander {
 public:
  Wander(std::uint64_t seed, double time_s) : draw_(seed), keep_(std::exp(-1.0 / time_s)), now_(normal_(draw_)) {}
  double next() { return now_ = keep_ * now_ + std::sqrt(1.0 - keep_ * keep_) * normal_(draw_); }

 private:
  std::mt19937_64 draw_;
  std::normal_distribution<double> normal_;
  double keep_, now_;
};

struct Ways {
  std::vector<double> wander_m[2];
};

Ways ways_of(std::uint64_t seed, double time_s, std::size_t seconds) {
  Ways ways;
  for (int axis = 0; axis < 2; ++axis) {
    Wander wander(2 * seed + static_cast<std::uint64_t>(axis), time_s);
    for (std::size_t k = 0; k < seconds; ++k) ways.wander_m[axis].push_back(wander.next());
  }
  return ways;
}

}  // namespace

Noise usual() {
  Noise noise;
  noise.place_m = 3.5, noise.jitter_m = 0.4, noise.elevation_mph = 3.0, noise.power_scale_sd = 0.03, noise.power_W = 8.0;
  noise.speed = false;
  return noise;
}
Noise none() { return {}; }

Recorded record(const Scenario& scenario, const Noise& noise, std::uint64_t seed, double time_zero_s) {
  Recorded out;
  const std::size_t n = scenario.riders.size();
  std::vector<std::vector<double>> speed(n), power(n);
  out.distance_m.resize(n);
  Ride ride(scenario);
  out.ride = watch(ride, {}, [&](const RideView& view) {
    for (std::size_t r = 0; r < n; ++r) {
      if (!view.on_road(r) && !out.distance_m[r].empty()) continue;
      out.distance_m[r].push_back(view.now.distance_m[r]);
      speed[r].push_back(view.now.speed_mps[r]);
      power[r].push_back(view.now.power_W[r]);
    }
  });
  const std::vector<Eigen::Vector2d> places_m = road_places_enu_m(scenario.road);
  const std::size_t seconds = static_cast<std::size_t>(out.ride.time_s) + 400;
  const Ways common = ways_of(1000 * seed + 1, noise.place_time_s, seconds);
  std::mt19937_64 draw(77 * seed + 5);
  std::normal_distribution<double> normal;
  constexpr double latitude_deg = 50.0, longitude_deg = 6.0;
  const double per_lat = 111229.0, per_lon = 71696.0;  // metres a degree at 50 degrees north (WGS84)
  for (std::size_t r = 0; r < n; ++r) {
    const Ways own = ways_of(1000 * seed + 10 + r, noise.place_time_s, seconds);
    out.power_scale.push_back(1.0 + noise.power_scale_sd * normal(draw));
    Recording recording{scenario.riders[r].name, scenario.riders[r].name + ".gpx", true, {}};
    for (std::size_t k = 0; k < out.distance_m[r].size(); ++k) {
      const auto t = static_cast<double>(k);
      if (r == 0 && t >= noise.lost_from_s && t < noise.lost_from_s + noise.lost_s) continue;
      const double at = out.distance_m[r][k] / scenario.road.spacing_m();
      const auto cell = std::min(static_cast<std::size_t>(at), places_m.size() - 2);
      Eigen::Vector2d place = places_m[cell] + (at - static_cast<double>(cell)) * (places_m[cell + 1] - places_m[cell]);
      for (int axis = 0; axis < 2; ++axis)
        place[axis] += noise.place_m * std::sqrt(0.5) * (common.wander_m[axis][k] + own.wander_m[axis][k]) +
                       noise.jitter_m * normal(draw);
      RecordedPoint point{.time_s = time_zero_s + t + (r < noise.clock_s.size() ? noise.clock_s[r] : 0.0),
                          .latitude_deg = latitude_deg + noise.stretched * place.y() / per_lat,
                          .longitude_deg = longitude_deg + noise.stretched * place.x() / per_lon};
      point.elevation_m = scenario.road.elevation_m(out.distance_m[r][k]) + noise.elevation_mph * t / 3600.0;
      if (noise.speed) point.speed_mps = std::max(0.0, speed[r][k] + noise.speed_mps * normal(draw));
      const double power_W = power[r][k] * out.power_scale[r];
      point.power_W = power_W > 0.0 ? std::max(0.0, std::round(power_W + noise.power_W * normal(draw))) : 0.0;
      if (noise.power_W == 0.0) point.power_W = power_W;
      recording.points.push_back(point);
    }
    out.recordings.push_back(std::move(recording));
  }
  return out;
}

std::string gpx_of(const Recording& recording) {
  std::string text = "<?xml version=\"1.0\"?>\n<gpx version=\"1.1\" creator=\"test\"><trk><trkseg>\n";
  for (const RecordedPoint& p : recording.points) {
    const auto second = static_cast<long long>(p.time_s);
    const std::chrono::sys_seconds time{std::chrono::seconds(second)};
    const auto day = std::chrono::floor<std::chrono::days>(time);
    const std::chrono::year_month_day date(day);
    const long long of_day = (time - day).count();
    text += fmt::format(
        "<trkpt lat=\"{:.7f}\" lon=\"{:.7f}\"><ele>{:.1f}</ele><time>{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z</time>",
        p.latitude_deg, p.longitude_deg, p.elevation_m, static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
        static_cast<unsigned>(date.day()), of_day / 3600, of_day / 60 % 60, of_day % 60);
    if (!std::isnan(p.power_W)) text += fmt::format("<extensions><x:power>{:.0f}</x:power></extensions>", p.power_W);
    text += "</trkpt>\n";
  }
  return text + "</trkseg></trk></gpx>\n";
}

Road loop(double length_m, double hill_grade) {
  const double quarter_m = length_m / 8.0;
  std::vector<Stretch> stretches;
  const double grades[] = {0.0, hill_grade, 0.01, 0.0, -0.01, -0.2 * hill_grade, -0.8 * hill_grade, 0.0};
  for (std::size_t k = 0; k < 8; ++k) {
    Stretch s;
    s.length_m = quarter_m, s.grade = grades[k], s.heading_rad = rad_from_deg(45.0 * static_cast<double>(k)),
    s.has_heading = true;
    s.surface = Surface::smooth_asphalt;
    stretches.push_back(s);
  }
  return Road(profile_from_stretches(stretches, 200.0));
}

}  // namespace leewheel::recorded
