#include "after/ways.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leewheel {

namespace {

// All assumed.
constexpr double start_near_m = 80.0;  // who is first seen farther on began to record late
constexpr double set_off_mps = 1.5;
constexpr double one_ride_s = 900.0;  // who sets off later rode another ride

std::size_t set_off(const RiddenWay& way) {
  std::size_t k = 0;
  while (k < way.size() && way.speed_mps[k] < set_off_mps) ++k;
  return k < way.size() ? k : 0;  // who is never so fast walks, from the first point on
}

double fastest_mps(const RiddenWay& way) {
  constexpr std::size_t over_s = 30;
  double fastest = 0.0;
  for (std::size_t k = over_s; k < way.size(); ++k)
    fastest = std::max(fastest, (way.distance_m[k] - way.distance_m[k - over_s]) / static_cast<double>(over_s));
  return fastest;
}

void drop_front(RiddenWay& way, std::size_t count) {
  const auto cut = [count](auto& values) {
    values.erase(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(count));
  };
  cut(way.distance_m), cut(way.speed_mps), cut(way.power_W), cut(way.heart_rate_bpm), cut(way.known);
  way.begin_s += static_cast<double>(count);
}

/// Standing at the place of the first value for so long before it.
void stand_before(RiddenWay& way, std::size_t seconds) {
  const auto put = [seconds](auto& values, auto value) { values.insert(values.begin(), seconds, value); };
  put(way.distance_m, way.distance_m.front());
  put(way.speed_mps, 0.0);
  put(way.power_W, 0.0);
  put(way.heart_rate_bpm, not_recorded);
  put(way.known, true);
  way.begin_s -= static_cast<double>(seconds);
}

bool begins_at_start(const RiddenWay& way) { return way.distance_m.front() <= start_near_m; }

/// Everyone's time counts from when the first sets off.
void count_from_zero(RiddenWays& all) {
  all.zero_s = std::numeric_limits<double>::infinity();
  for (const RiddenWay& way : all.ways)
    if (begins_at_start(way)) all.zero_s = std::min(all.zero_s, way.time_s(set_off(way)));
  if (!std::isfinite(all.zero_s)) all.zero_s = all.ways.front().begin_s;
  for (std::size_t r = 0; r < all.ways.size(); ++r) {
    RiddenWay& way = all.ways[r];
    double zero_s = all.zero_s;
    if (begins_at_start(way)) {
      const double delay_s = way.time_s(set_off(way)) - zero_s;
      all.notes[r].own_zero = delay_s > one_ride_s;
      if (all.notes[r].own_zero) zero_s += delay_s;
      all.notes[r].start_delay_s = all.notes[r].own_zero ? 0.0 : delay_s;
    } else {
      all.notes[r].own_zero = way.begin_s - zero_s > 24.0 * 3600.0 || way.begin_s < zero_s;
      if (all.notes[r].own_zero) zero_s = way.begin_s;
    }
    way.begin_s -= zero_s;
    if (way.begin_s < 0.0) drop_front(way, static_cast<std::size_t>(-way.begin_s));
    if (way.begin_s > 0.0 && begins_at_start(way)) stand_before(way, static_cast<std::size_t>(way.begin_s));
  }
}

RecordingNotes notes_of(const Recording& recording, const Match& match) {
  RecordingNotes notes;
  notes.facts = facts_of(recording);
  notes.on_road_share = match.on_road_share;
  notes.off_points = match.off_points, notes.first_off = match.first_off;
  notes.elevation_offset_m = match.elevation_offset_m, notes.elevation_drift_mph = match.elevation_drift_mph;
  notes.elevation_worst_m = match.elevation_worst_m, notes.elevation_worst_at_m = match.elevation_worst_at_m;
  notes.teaches = notes.facts.interval_s <= coarse_interval_s && notes.facts.power_missing_share < most_power_missing;
  return notes;
}

}  // namespace

std::optional<NotOnRoad> not_on_road(const DebriefInput& input) {
  const RoadMap map(input.scenario.road, input.recordings);
  for (std::size_t k = 0; k < input.recordings.size(); ++k) {
    const Match match = match_to_road(input.scenario.road, map, input.recordings[k]);
    if (match.fault == MatchFault::other_way) return NotOnRoad{k, RoadFault::other_way, match.on_road_share};
    if (match.fault != MatchFault::none) return NotOnRoad{k, RoadFault::off_road, match.on_road_share};
  }
  return std::nullopt;
}

RiddenWays ways_of(const DebriefInput& input) {
  RiddenWays all;
  const RoadMap map(input.scenario.road, input.recordings);
  std::vector<Match> matches;
  for (const Recording& recording : input.recordings) {
    matches.push_back(match_to_road(input.scenario.road, map, recording));
    all.ways.push_back(matches.back().way);
    all.notes.push_back(notes_of(recording, matches.back()));
  }
  const std::vector<ClockCheck> clocks = check_clocks(all.ways);
  for (std::size_t r = 0; r < all.ways.size(); ++r) {
    all.notes[r].clock_compared = clocks[r].compared;
    all.notes[r].clock_shift_s = clocks[r].shift_s;
    if (clocks[r].shift_s == 0.0) continue;
    Recording moved = input.recordings[r];  // again on whole seconds of the common clock
    for (RecordedPoint& point : moved.points) point.time_s -= clocks[r].shift_s;
    all.ways[r] = smooth_way(moved, matches[r].distance_m, input.scenario.road.length_m());
  }
  for (std::size_t r = 0; r < all.ways.size(); ++r) all.notes[r].fastest_mps = fastest_mps(all.ways[r]);
  for (std::size_t r = 0; r < all.ways.size(); ++r)
    all.notes[r].lost_s = static_cast<double>(std::count(all.ways[r].known.begin(), all.ways[r].known.end(), false));
  count_from_zero(all);
  return all;
}

}  // namespace leewheel
