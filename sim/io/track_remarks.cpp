/// What is possible in a track and seldom meant.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/track_steps.hpp"

namespace leewheel {

namespace {

// Limits (assumed; docs/road_import.md tells what each is for).
constexpr double standing_mps = 0.5;
constexpr double walking_mps = 7.0 / 3.6;
constexpr double least_timed_s = 300.0;
constexpr double level_worth_a_word_m = 500.0;
constexpr double steep_for_a_paved_road = 0.22;  // over 100 m; common practice, no source

void remark_on_pace(Track& track) {
  double moving_m = 0.0, moving_s = 0.0, all_s = 0.0;
  for (std::size_t i = 1; i < track.points.size(); ++i) {
    const double passed_s = track.points[i].time_s - track.points[i - 1].time_s;
    if (!(passed_s > 0.0)) continue;  // nor where a time is missing
    const double step_m = gap_m(track.points[i - 1], track.points[i]);
    all_s += passed_s;
    if (step_m < standing_mps * passed_s) continue;
    moving_m += step_m;
    moving_s += passed_s;
  }
  if (moving_s >= least_timed_s && moving_m < walking_mps * moving_s)
    track.remark(
        fmt::format("caution: by its times this was done at {:.1f} km/h while moving, in {}:{:02} h in all: a walk? A "
                    "path that is walked may be no road to ride",
                    3.6 * moving_m / moving_s, static_cast<int>(all_s) / 3600, static_cast<int>(all_s) / 60 % 60));
}

void remark_on_level(Track& track) {
  const auto [lowest, highest] =
      std::minmax_element(track.points.begin(), track.points.end(),
                          [](const TrackPoint& a, const TrackPoint& b) { return a.elevation_m < b.elevation_m; });
  const double length_m = std::abs(track.along_m(track.points.back()) - track.along_m(track.points.front()));
  if (highest->elevation_m - lowest->elevation_m < 0.1 && length_m > level_worth_a_word_m)
    track.remark(
        fmt::format("caution: every elevation is {:g} m: a road is never so level. The device or the export had none; "
                    "let a route planner put in those of a map",
                    lowest->elevation_m));
}

}  // namespace

void remark_on_recording(Track& track) {
  remark_on_pace(track);
  remark_on_level(track);
}

void remark_on_road(Track& track, const RoadProfile& profile) {
  if (const RoadFacts facts = Road(profile).facts(); facts.steepest_100m_grade > steep_for_a_paved_road)
    track.remark(
        fmt::format("caution: {:.0f} % over the 100 m from {:.2f} km is steep for a paved road; look at the track there "
                    "or smooth over a longer length",
                    100.0 * facts.steepest_100m_grade, facts.steepest_at_m / 1e3));
}

}  // namespace leewheel
